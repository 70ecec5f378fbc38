package compare

import (
	"testing"

	"panelyard/export/exporttest"
	"panelyard/kerf"
)

// schemaFile is the published schema of compare.json.
const schemaFile = "compare.schema.json"

func TestSchemaIsOurs(t *testing.T) {
	exporttest.Schema(t, schemaFile, &document{}, "compare.json of panelyard, version 1",
		"Lengths are in metres, areas in square metres, masses in kilograms, shares between 0 and 1, money in the currency of the row; "+
			"where priced is false, it is that of what has a price. A plan, a mass, fence settings and minutes are null where there is none, or it is unknown. More keys may be added.")
}

func TestSchemaHolds(t *testing.T) {
	routed := New([]Entry{planned(t, "routed", leaflets(1090*mm), leaflets(1090*mm), kerf.Router)}, Conditions{Seed: 1, Budget: "1 round a plan"})
	list := [][]byte{written(t, JSON, nasty(t)), written(t, JSON, routed), written(t, JSON, New(nil, Conditions{}))}
	exporttest.SchemaHolds(t, schemaFile, list, map[string]string{
		`"version": 1`: `"version": "one"`, `"rows": [`: `"row": [`, `"yield": `: `"yields": `, `"plan": null`: `"plan": 0`, `"copies": `: `"copies": "all", "n": `, `"fence_settings": null`: `"fence_settings": "none"`,
	})
}

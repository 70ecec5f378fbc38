package nearmiss

import (
	"testing"

	"panelyard/export/exporttest"
	"panelyard/nest/near"
)

// schemaFile is the published schema of nearmiss.json.
const schemaFile = "nearmiss.schema.json"

func TestSchemaIsOurs(t *testing.T) {
	exporttest.Schema(t, schemaFile, &document{}, "nearmiss.json of panelyard, version 1",
		"Lengths are in millimetres; costs and savings in the currency where priced is true, and in square metres of board where it is false. More keys may be added.")
}

func TestSchemaHolds(t *testing.T) {
	unpriced := report()
	unpriced.Priced = false
	unpriced.Suggestions = []near.Suggestion{saving(near.Change{Kind: near.Grain, Of: "shelf", Copies: 1})}
	list := [][]byte{written(t, JSON, nasty()), written(t, JSON, New(report())), written(t, JSON, New(unpriced))}
	exporttest.SchemaHolds(t, schemaFile, list, map[string]string{
		`"version": 1`: `"version": "one"`, `"boards": [`: `"board": [`, `"saved_per_mm": `: `"saved_per": `, `"verdict": `: `"verdicts": `, `"follows": [`: `"follows": null, "x": [`, `"kind": `: `"kinds": `,
	})
}

package batch

import (
	"testing"

	"panelyard/export/exporttest"
	"panelyard/kerf"
)

// schemaFile is the published schema of batch.json.
const schemaFile = "batch.schema.json"

func TestSchemaIsOurs(t *testing.T) {
	exporttest.Schema(t, schemaFile, &document{}, "batch.json of panelyard, version 1",
		"Lengths are in millimetres, areas in square metres, shares between 0 and 1, money in the currency; where priced is false, "+
			"it is that of what has a price. least is what board and edge band cost at least; best, fullest and least are null where they are unknown. More keys may be added.")
}

func TestSchemaHolds(t *testing.T) {
	list := [][]byte{
		written(t, JSON, nasty(t)), written(t, JSON, planned(t, shelves(), kerf.Saw, 4)),
		written(t, JSON, planned(t, shelves(), kerf.Router, 2)), written(t, JSON, New(shelves(), kerf.Saw, Conditions{}, nil)),
	}
	exporttest.SchemaHolds(t, schemaFile, list, map[string]string{
		`"version": 1`: `"version": "one"`, `"numbers": [`: `"number": [`, `"cost_each": `: `"cost_every": `, `"best": null`: `"best": "none"`, `"unplaced": [`: `"unplaced": null, "x": [`,
	})
}

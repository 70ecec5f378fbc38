package tolerance

import (
	"testing"

	"panelyard/export/exporttest"
	"panelyard/kerf"
)

// schemaFile is the published schema of tolerance.json.
const schemaFile = "tolerance.schema.json"

func TestSchemaIsOurs(t *testing.T) {
	exporttest.Schema(t, schemaFile, &document{}, "tolerance.json of panelyard, version 1",
		"Lengths are in millimetres. kerf_extra is null when any kerf will do; standard is empty for a piece from the rack. More keys may be added.")
}

func TestSchemaHolds(t *testing.T) {
	list := [][]byte{
		written(t, JSON, nasty(t)), written(t, JSON, report(t, doors(1218*mm, 0), kerf.Saw)), written(t, JSON, report(t, doors(1218*mm, 0), kerf.Router)),
	}
	exporttest.SchemaHolds(t, schemaFile, list, map[string]string{
		`"version": 1`: `"version": "one"`, `"sheets": [`: `"sheet": [`, `"smallest": {`: `"least": {`, `"kerf_extra": `: `"kerf_extra": "", "x": `, `"panels": [`: `"panels": null, "x": [`,
	})
}

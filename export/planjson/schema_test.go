package planjson_test

import (
	"bytes"
	"testing"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/export/planjson"
	"panelyard/kerf"
)

// schemaFile is the published schema of plan.json.
const schemaFile = "plan.schema.json"

func TestSchemaIsOurs(t *testing.T) {
	exporttest.Schema(t, schemaFile, &planjson.Document{}, "plan.json of panelyard, version 1",
		"Lengths are exact decimals of millimetres, areas square millimetres, money whole units of the currency. "+
			"Origin at the sheet's lower left seen from the good face, x along the length. More keys may be added.")
}

func TestSchemaHolds(t *testing.T) {
	var list [][]byte
	on, _ := goneOn(t)
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		for _, d := range []*export.Dossier{exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), cut), exporttest.Dossier(t, exporttest.Stands(), cut), on} {
			var b bytes.Buffer
			if err := planjson.Write(&b, d); err != nil {
				t.Fatal(err)
			}
			list = append(list, b.Bytes())
		}
	}
	exporttest.SchemaHolds(t, schemaFile, list, map[string]string{
		`"taken": [`: `"took": [`, `"version": 1`: `"version": "one"`, `"format":`: `"formats":`, `"sheets": [`: `"sheet": [`, `"copy": 1,`: `"copy": "first",`, `"blank": {`: `"blank_": {`,
	})
}

package planjson_test

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	reflected "github.com/invopop/jsonschema"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"panelyard/export/exporttest"
	"panelyard/export/planjson"
	"panelyard/kerf"
	"panelyard/parts/partstest"
)

// schemaFile is the published schema of plan.json: JSON Schema, draft 2020-12.
const schemaFile = "plan.schema.json"

// The published schema is that of the types that are written; run with -update to
// write it anew, and read the difference.
func TestSchemaIsOurs(t *testing.T) {
	number := func(t reflect.Type) *reflected.Schema {
		if t == reflect.TypeFor[json.Number]() {
			return &reflected.Schema{Type: "number"}
		}
		return nil
	}
	r := reflected.Reflector{AllowAdditionalProperties: true, Anonymous: true, Mapper: number}
	if err := r.AddGoComments("panelyard/export/planjson", "."); err != nil {
		t.Fatal(err)
	}
	s := r.Reflect(&planjson.Document{})
	s.Title = "plan.json of panelyard, version 1"
	s.Description = "Lengths are exact decimals of millimetres, areas square millimetres, money whole units of the currency. " +
		"Origin at the sheet's lower left seen from the good face, x along the length. More keys may be added."
	src, err := json.MarshalIndent(s, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	partstest.Golden(t, schemaFile, string(src)+"\n")
}

// What is written is as the published schema says, by a library that we did not
// write; and the schema is not one that accepts anything.
func TestSchemaHolds(t *testing.T) {
	c := jsonschema.NewCompiler()
	schema, err := c.Compile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		for _, job := range []string{"kiosk", "stands"} {
			d := exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), cut)
			if job == "stands" {
				d = exporttest.Dossier(t, exporttest.Stands(), cut)
			}
			var b bytes.Buffer
			if err := planjson.Write(&b, d); err != nil {
				t.Fatal(err)
			}
			valid := func(src string) error {
				v, err := jsonschema.UnmarshalJSON(strings.NewReader(src))
				if err != nil {
					t.Fatal(err)
				}
				return schema.Validate(v)
			}
			if err := valid(b.String()); err != nil {
				t.Errorf("%s, %v: %v", job, cut, err)
			}
			for from, to := range map[string]string{
				`"version": 1`: `"version": "one"`, `"format":`: `"formats":`, `"sheets": [`: `"sheet": [`, `"copy": 1,`: `"copy": "first",`, `"blank": {`: `"blank_": {`,
			} {
				if bad := strings.Replace(b.String(), from, to, 1); bad == b.String() || valid(bad) == nil {
					t.Errorf("%s, %v: %s in the place of %s is accepted", job, cut, to, from)
				}
			}
		}
	}
}

package exporttest

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	reflected "github.com/invopop/jsonschema"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"panelyard/parts/partstest"
)

// Schema compares the published schema of a document (JSON Schema, draft 2020-12) with
// that of the type that is written; document points to a value of it. With -update the
// file is written anew: read the difference.
func Schema(t *testing.T, file string, document any, title, description string) {
	t.Helper()
	r := reflected.Reflector{
		AllowAdditionalProperties: true, Anonymous: true,
		Mapper: func(t reflect.Type) *reflected.Schema {
			if t == reflect.TypeFor[json.Number]() {
				return &reflected.Schema{Type: "number"}
			}
			return nil
		},
		Namer: func(t reflect.Type) string {
			name := strings.TrimPrefix(t.Name(), "json")
			if name == "" { // a list, say: it has no definition of its own
				return ""
			}
			return strings.ToUpper(name[:1]) + name[1:]
		},
	}
	if err := r.AddGoComments(reflect.TypeOf(document).Elem().PkgPath(), "."); err != nil {
		t.Fatal(err)
	}
	s := r.Reflect(document)
	s.Title, s.Description = title, description
	src, err := json.MarshalIndent(s, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	partstest.Golden(t, file, string(src)+"\n")
}

// SchemaHolds wants documents to be as their published schema says, by a library that
// we did not write; and none with one of the faults, texts and what is put in their
// place, so that the schema is not one that accepts anything.
func SchemaHolds(t *testing.T, file string, documents [][]byte, faults map[string]string) {
	t.Helper()
	schema, err := jsonschema.NewCompiler().Compile(file)
	if err != nil {
		t.Fatal(err)
	}
	valid := func(src string) error {
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(src))
		if err != nil {
			t.Fatal(err)
		}
		return schema.Validate(v)
	}
	tried := map[string]bool{}
	for i, d := range documents {
		if err := valid(string(d)); err != nil {
			t.Errorf("document %d: %v", i+1, err)
		}
		for from, to := range faults {
			bad := strings.Replace(string(d), from, to, 1)
			if bad == string(d) {
				continue
			}
			tried[from] = true
			if valid(bad) == nil {
				t.Errorf("document %d: %s in the place of %s is accepted", i+1, to, from)
			}
		}
	}
	for from := range faults {
		if !tried[from] {
			t.Errorf("no document holds %s", from)
		}
	}
}

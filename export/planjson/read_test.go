package planjson_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/export/planjson"
	"panelyard/kerf"
	"panelyard/nest/check"
	"panelyard/parts"
	"panelyard/parts/length"
)

func reread(t *testing.T, d *export.Dossier) *planjson.Document {
	t.Helper()
	var b bytes.Buffer
	if err := planjson.Write(&b, d); err != nil {
		t.Fatal(err)
	}
	doc, err := planjson.Read(&b)
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// What was written reads back to the same plan, shared blanks, free turns and
// offcuts included, and the judge accepts it.
func TestReadBack(t *testing.T) {
	turns := exporttest.Job(exporttest.Nasty...)
	for i := range turns.Materials {
		turns.Materials[i].Grained = false
		turns.Materials[i].Turn = 15
	}
	for i := range turns.Stock {
		turns.Stock[i].Grain = parts.NoAxis
	}
	for i := range turns.Panels {
		turns.Panels[i].Grain = parts.NoAxis
	}
	for name, job := range map[string]*parts.Job{"kiosk": exporttest.Job(exporttest.Nasty...), "shared blanks": exporttest.Stands(), "free turns": turns} {
		for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
			d := exporttest.Dossier(t, job, cut)
			doc := reread(t, d)
			plan, err := doc.Plan(d.Problem)
			if err != nil {
				t.Fatalf("%s, %v: %v", name, cut, err)
			}
			if err := check.Plan(d.Problem, plan); err != nil {
				t.Errorf("%s, %v: %v", name, cut, err)
			}
			for i := range plan.Sheets {
				if got, want := plan.Sheets[i], d.Plan.Sheets[i]; !reflect.DeepEqual(got, want) {
					t.Errorf("%s, %v, sheet %d:\n%+v\nwant\n%+v", name, cut, i+1, got, want)
				}
			}
		}
	}
}

func TestReadRefuses(t *testing.T) {
	for src, want := range map[string]error{
		"": planjson.ErrNoPlan, "{}": planjson.ErrNoPlan, "[1, 2": planjson.ErrNoPlan, `{"format": "other"}`: planjson.ErrNoPlan,
		`{"format": "panelyard-plan", "version": 2}`: planjson.ErrVersion,
	} {
		if _, err := planjson.Read(strings.NewReader(src)); !errors.Is(err, want) {
			t.Errorf("%q: %v, want %v", src, err, want)
		}
	}
	var b bytes.Buffer
	if err := planjson.Write(&b, exporttest.Dossier(t, exporttest.Job(), kerf.Saw)); err != nil {
		t.Fatal(err)
	}
	if _, err := planjson.Read(bytes.NewReader(b.Bytes()[:b.Len()/2])); err == nil || !strings.Contains(err.Error(), "damaged") {
		t.Errorf("half a plan: %v", err)
	}
}

func TestLengthExact(t *testing.T) {
	for s, want := range map[string]length.Length{"0": 0, "-1.5": -12000, "0.000125": 1, "2440": 2440 * length.Millimetre} {
		if got, err := planjson.Length(json.Number(s)); err != nil || got != want {
			t.Errorf("%s: %d, %v, want %d", s, got, err, want)
		}
	}
	for _, s := range []string{"", "x", "1e9", "0.0001", "99999999", "1/2", "1.0000000000000000000000000000001"} {
		if got, err := planjson.Length(json.Number(s)); err == nil {
			t.Errorf("%q is taken for %v", s, got)
		}
	}
}

// A plan for another job is told apart, with all that is amiss.
func TestPlanOfAnotherJob(t *testing.T) {
	doc := reread(t, exporttest.Dossier(t, exporttest.Job(), kerf.Saw))
	other := exporttest.Dossier(t, exporttest.Stands(), kerf.Saw)
	_, err := doc.Plan(other.Problem)
	if err == nil || !strings.Contains(err.Error(), `sheet S1: there is no panel "side-left"`) || strings.Count(err.Error(), "\n") < 3 {
		t.Errorf("error %v", err)
	}
}

// Whatever is read, the plan that is made of it does not panic, nor does the judge.
func FuzzRead(f *testing.F) {
	d := exporttest.Dossier(f, exporttest.Stands(), kerf.Saw)
	var b bytes.Buffer
	if err := planjson.Write(&b, d); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Add([]byte(`{"format":"panelyard-plan","version":1,"sheets":[{"id":"S1","placements":[{"part":"gusset","outline":[["1"]],"rotation_deg":91}]}]}`))
	f.Fuzz(func(t *testing.T, src []byte) {
		doc, err := planjson.Read(bytes.NewReader(src))
		if err != nil {
			return
		}
		plan, err := doc.Plan(d.Problem)
		if err == nil {
			_ = check.Plan(d.Problem, plan)
		}
	})
}

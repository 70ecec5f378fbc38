package planjson_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"panelyard/export/exporttest"
	"panelyard/export/planjson"
	"panelyard/kerf"
)

// Two placements have the rectangle of a shared blank, and say that it is shared; no
// others have one rectangle.
func TestSharedBlanks(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Stands(), kerf.Saw)
	var b bytes.Buffer
	if err := planjson.Write(&b, d); err != nil {
		t.Fatal(err)
	}
	var plan struct {
		Sheets []struct {
			Placements []struct {
				Blank  map[string]float64
				Shared bool
			}
		}
	}
	if err := json.Unmarshal(b.Bytes(), &plan); err != nil {
		t.Fatal(err)
	}
	shared := 0
	for i, s := range plan.Sheets {
		on := map[[2]float64][]bool{}
		for _, p := range s.Placements {
			at := [2]float64{p.Blank["x"], p.Blank["y"]}
			on[at] = append(on[at], p.Shared)
			if p.Shared {
				shared++
			}
		}
		for at, list := range on {
			if list[0] && len(list) != 2 || !list[0] && len(list) != 1 {
				t.Errorf("sheet %d: %v share the blank at %v", i+1, list, at)
			}
		}
	}
	want := 0
	for i := range d.Panels {
		want += d.Panels[i].Sharing
	}
	if shared != want || shared == 0 {
		t.Errorf("%d placements share blanks, want %d", shared, want)
	}
}

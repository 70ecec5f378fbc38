package export_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// A job in which shared blanks save sheets: every panel lies in what is sawn for it, two
// to a shared blank, and what is listed is what the maps show.
func TestSharedBlanks(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Stands(), kerf.Saw)
	alone := exporttest.Stands()
	alone.Saw.OwnBlanks = true
	without := exporttest.Dossier(t, alone, kerf.Saw)
	if d.Totals.Sheets >= without.Totals.Sheets || d.Totals.Cost >= without.Totals.Cost || len(without.Shared) != 0 {
		t.Fatalf("%d sheets for %v, %d for %v without shared blanks", d.Totals.Sheets, d.Totals.Cost, without.Totals.Sheets, without.Totals.Cost)
	}
	blanks, sharing := 0, map[*export.PanelRow]int{}
	for i := range d.Sheets {
		m := &d.Sheets[i]
		a := m.Areas
		if got := a.Panels + a.Kept + a.KerfTrim + a.Waste; math.Abs(got-a.Sheet) > 0.01 {
			t.Errorf("%s: areas sum to %.3f of %.3f", m.ID, got, a.Sheet)
		}
		for k := range m.Placements {
			p := &m.Placements[k]
			if !p.Blank.Contains(p.Outline.Box()) || p.Outline.Box() != p.Shape.Box() {
				t.Errorf("%s: outline %v, blank %v", p.Row.Name, p.Outline.Box(), p.Blank)
			}
			if p.With == nil {
				if size := p.BlankSize(); size != p.Row.Blank {
					t.Errorf("%s: blank of %v, its own is %v", p.Row.Name, size, p.Row.Blank)
				}
				continue
			}
			sharing[p.Row]++
			if p.With.With != p || p.With.Blank != p.Blank || p.Second == p.With.Second {
				t.Errorf("%s copy %d and %s copy %d do not share one blank", p.Row.Name, p.Copy, p.With.Row.Name, p.With.Copy)
			}
			if p.Second {
				blanks++
			}
		}
		for k := range m.Steps {
			for n, p := range m.Steps[k].Panels {
				if p.Second && (n == 0 || m.Steps[k].Panels[n-1] != p.With) {
					t.Errorf("%s, cut %d: the panels of a shared blank do not follow one another", m.ID, k+1)
				}
			}
		}
	}
	for i := range d.Panels {
		r := &d.Panels[i]
		if r.Sharing != sharing[r] {
			t.Errorf("%s: %d copies share, the row says %d", r.Name, sharing[r], r.Sharing)
		}
	}
	if g := &d.Panels[0]; g.Sharing != 12 {
		t.Errorf("%d of 13 gussets share a blank", g.Sharing)
	}
	listed := 0
	for _, r := range d.Shared {
		listed += r.Count
		if len(r.Sheets) != r.Count || r.Panels[0].Material != r.Panels[1].Material {
			t.Errorf("%+v", r)
		}
	}
	if listed != blanks || blanks == 0 {
		t.Errorf("%d shared blanks are listed, %d lie on sheets", listed, blanks)
	}
	if !strings.Contains(topics(d), "shared blanks") || strings.Contains(topics(without), "shared blanks") || strings.Contains(topics(d), "UNSOURCED") {
		t.Errorf("cautions: %s", topics(d))
	}
}

// Panels that interlock on a router share no blank, though their boxes are the same.
func TestRouterHasNoSharedBlanks(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Stands(), kerf.Router)
	for i := range d.Sheets {
		if slices.ContainsFunc(d.Sheets[i].Placements, func(p export.PlacedPanel) bool { return p.With != nil }) {
			t.Errorf("%s: panels share a blank", d.Sheets[i].ID)
		}
	}
	if len(d.Shared) != 0 {
		t.Errorf("%+v", d.Shared)
	}
}

// Blanks in which a copy lies across another are described alike, however they lie on
// the sheet and whichever copy is listed first.
func TestSharedAcross(t *testing.T) {
	j := exporttest.Stands()
	j.Panels = j.Panels[2:3]
	j.Panels[0].Quantity = 4
	demand, list := kerf.Build(j, kerf.Saw)
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	blank := func(l, w length.Length) geom.Box { return geom.BoxFromSize(geom.Point{}, geom.Pt(l*mm, w*mm)) }
	plan := &nest.Plan{Sheets: []nest.Sheet{
		{Stock: 1, Placements: []nest.Placement{{Copy: 1, Shared: blank(500, 600)}, {Copy: 2, Turn: 90, Shared: blank(500, 600)}}},
		{Stock: 1, Placements: []nest.Placement{{Copy: 3, Turn: 180, Shared: blank(600, 500)}, {Copy: 4, Turn: 90, Shared: blank(600, 500)}}},
	}}
	d := export.New(demand, nest.FromDemand(demand), &nest.Result{Plan: plan}, 0)
	if len(d.Shared) != 1 {
		t.Fatalf("rows %+v, want one", d.Shared)
	}
	r := d.Shared[0]
	if want := [2]geom.Point{geom.Pt(500*mm, 600*mm), geom.Pt(600*mm, 500*mm)}; r.Count != 2 || r.Blank != want || strings.Join(r.Sheets, " ") != "S1 S2" {
		t.Errorf("%d of %v on %v", r.Count, r.Blank, r.Sheets)
	}
}

package export_test

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/choose"
	"panelyard/parts"
	"panelyard/parts/jobfile"
	"panelyard/parts/length"
	"panelyard/parts/money"
	"panelyard/parts/outline"
)

const mm = length.Millimetre

// oneSheet is a job of one panel as large as its sheet.
func oneSheet(l, w, t length.Length, density float64) *parts.Job {
	j := exporttest.Job()
	j.Materials = []parts.Material{{Name: "board", Nominal: t, Measured: t, Density: density, GoodFaces: 1}}
	j.Stock = []parts.Stock{{Name: "sheet", Material: "board", Length: l, Width: w, Available: parts.Unlimited}}
	o := outline.Rectangle(l, w)
	j.Panels = []parts.Panel{{Name: "panel", Quantity: 1, Material: "board", Outline: o, Edging: make([]string, 4)}}
	return j
}

// Sheet masses published by mills: a birch plywood data sheet (18, 4 and 12 mm,
// at the density it prints), and computed ones for MDF.
func TestSheetMass(t *testing.T) {
	for _, c := range []struct {
		name    string
		l, w    length.Length
		t       float64
		density float64
		want    float64 // kg, one decimal as printed
	}{
		{"birch 18, data sheet", 2440, 1220, 18, 685, 36.7},
		{"birch 18 large, data sheet", 3050, 1525, 18, 685, 57.3},
		{"birch 4, data sheet", 2440, 1220, 4, 660, 7.9},
		{"birch 12, data sheet", 2440, 1220, 12, 695, 24.8},
		{"birch 18 square, computed", 1525, 1525, 18, 685, 28.7},
		{"MDF 18, computed", 2440, 1220, 18, 750, 40.2},
		{"MDF 25, computed", 2440, 1220, 25, 720, 53.6},
		{"MDF 12, computed", 2440, 1220, 12, 760, 27.2},
		{"MDF 6, computed", 2440, 1220, 6, 820, 14.7},
		{"poplar 15, computed", 2500, 1220, 15, 450, 20.6},
	} {
		t.Run(c.name, func(t *testing.T) {
			th, err := length.FromMM(c.t)
			if err != nil {
				t.Fatal(err)
			}
			d := exporttest.Dossier(t, oneSheet(c.l*mm, c.w*mm, th, c.density), kerf.Saw)
			if got := d.Sheets[0].MassKG; math.Abs(got-c.want) > 0.06 {
				t.Errorf("%.2f kg, want %.1f", got, c.want)
			}
		})
	}
}

// Areas add up, and so do the sheets.
func TestAreasAddUp(t *testing.T) {
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		d := exporttest.Dossier(t, exporttest.Job(), cut)
		var sum export.Areas
		for i := range d.Sheets {
			a := d.Sheets[i].Areas
			if got := a.Panels + a.Kept + a.KerfTrim + a.Waste; math.Abs(got-a.Sheet) > 0.01 {
				t.Errorf("%v, %s: %.3f + %.3f + %.3f + %.3f is not %.3f", cut, d.Sheets[i].ID, a.Panels, a.Kept, a.KerfTrim, a.Waste, a.Sheet)
			}
			if a.Kerf < 0 || a.Kerf > a.KerfTrim || a.Waste < 0 {
				t.Errorf("%v, %s: kerf %.1f of %.1f, waste %.1f", cut, d.Sheets[i].ID, a.Kerf, a.KerfTrim, a.Waste)
			}
			sum.Sheet += a.Sheet
			sum.Panels += a.Panels
		}
		if sum.Sheet != d.Totals.Areas.Sheet || d.Totals.Yield != sum.Panels/sum.Sheet {
			t.Errorf("%v: totals %v, yield %v do not follow from the sheets", cut, d.Totals.Areas, d.Totals.Yield)
		}
		panels := 0.0
		for i := range d.Panels {
			panels += d.Panels[i].AreaMM2 * float64(d.Panels[i].Copies)
		}
		if math.Abs(panels-sum.Panels) > 0.01 {
			t.Errorf("%v: panels on sheets %.1f mm2, in the list %.1f", cut, sum.Panels, panels)
		}
	}
}

// The true outline of each placed panel has the area of its row and lies in its
// blank and on the polyline the judge saw.
func TestPlacedOutlines(t *testing.T) {
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		d := exporttest.Dossier(t, exporttest.Job(), cut)
		n := 0
		for i := range d.Sheets {
			for k := range d.Sheets[i].Placements {
				p := &d.Sheets[i].Placements[k]
				n++
				area := p.Outline.AreaMM2()
				for _, o := range p.Openings {
					area -= o.AreaMM2()
				}
				if math.Abs(area-p.Row.AreaMM2) > 0.001 {
					t.Errorf("%s: %.4f mm2 on the sheet, %.4f in the list", p.Row.Name, area, p.Row.AreaMM2)
				}
				if !p.Blank.Contains(p.Outline.Box()) || p.Outline.Box() != p.Shape.Box() {
					t.Errorf("%s: outline %v, shape %v, blank %v", p.Row.Name, p.Outline.Box(), p.Shape.Box(), p.Blank)
				}
				if id := p.Row.Sheets[p.Copy-1]; id != d.Sheets[i].ID {
					t.Errorf("%s copy %d is on %s, the row says %s", p.Row.Name, p.Copy, d.Sheets[i].ID, id)
				}
			}
		}
		if n != d.Totals.Panels || n != d.Problem.Copies() {
			t.Errorf("%d panels on maps, %d in totals, %d asked", n, d.Totals.Panels, d.Problem.Copies())
		}
	}
}

// Three shelves with one banded long edge of 664 mm, at 0.85 a metre.
func TestBands(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Saw)
	if len(d.Bands) != 1 || d.Bands[0].Length != 3*664*mm {
		t.Fatalf("bands %+v, want 1,992 mm of one", d.Bands)
	}
	want, err := money.Parse("1.69")
	if err != nil {
		t.Fatal(err)
	}
	if d.Bands[0].Cost != want || d.Totals.Edging != want || d.Totals.Cost != d.Totals.Board+want {
		t.Errorf("edging %v, total %v of board %v; want edging 1.992 m at 0.85 = 1.69", d.Bands[0].Cost, d.Totals.Cost, d.Totals.Board)
	}
}

// topics returns the topics of the cautions.
func topics(d *export.Dossier) string {
	var list []string
	for _, c := range d.Cautions {
		if c.Source == "" || c.Text == "" {
			list = append(list, "UNSOURCED "+c.Topic)
		}
		list = append(list, c.Topic)
	}
	return strings.Join(list, ", ")
}

func TestCautions(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job("small"), kerf.Saw)
	for _, want := range []string{"heavy sheet", "narrow rip", "guards", "dust", "shaped panels", "good face"} {
		if !strings.Contains(topics(d), want) {
			t.Errorf("no caution about %q in: %s", want, topics(d))
		}
	}
	if strings.Contains(topics(d), "UNSOURCED") {
		t.Error(topics(d))
	}
	light := oneSheet(1000*mm, 400*mm, 6*mm, 500)
	d = exporttest.Dossier(t, light, kerf.Saw)
	for _, not := range []string{"heavy sheet", "narrow rip", "shaped panels"} {
		if strings.Contains(topics(d), not) {
			t.Errorf("a needless caution about %q: %s", not, topics(d))
		}
	}
	if !strings.Contains(topics(d), "little trim") {
		t.Errorf("an untrimmed sheet is not mentioned: %s", topics(d))
	}
	d = exporttest.Dossier(t, exporttest.Job("small"), kerf.Router)
	for _, want := range []string{"small panels", "hold-down", "inside corners"} {
		if !strings.Contains(topics(d), want) {
			t.Errorf("router: no caution about %q in: %s", want, topics(d))
		}
	}
}

func TestNothingToCut(t *testing.T) {
	j := exporttest.Job()
	j.Panels = nil
	d := exporttest.Dossier(t, j, kerf.Saw)
	if len(d.Sheets) != 0 || len(d.Cautions) != 0 || d.Totals.Yield != 0 || d.Bound.Text != "nothing to cut" {
		t.Errorf("an empty job gave %d sheets, bound %q", len(d.Sheets), d.Bound.Text)
	}
}

// What is unplaced is listed, and nothing is said to be proved.
func TestUnplaced(t *testing.T) {
	j := exporttest.Job()
	for i := range j.Stock {
		j.Stock[i].Available = 0
	}
	demand, list := kerf.Build(j, kerf.Saw)
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	p := nest.FromDemand(demand)
	r, err := choose.Plan(context.Background(), p, nest.Settings{Budget: 1})
	if err != nil {
		t.Fatal(err)
	}
	d := export.New(demand, p, r, 0)
	n := 0
	for _, u := range d.Unplaced {
		n += u.Copies
	}
	if n != p.Copies() || d.Bound.Proved || r.Status != nest.Incomplete {
		t.Errorf("%d of %d unplaced, proved %v", n, p.Copies(), d.Bound.Proved)
	}
}

// A panel that lies at a free angle is drawn where it was judged: its outline stays
// within the shape that was nested, and within a tolerance of it.
func TestFreeAngles(t *testing.T) {
	j, list := jobfile.ReadFile("../testdata/jobs/good/turns.yaml")
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	for _, cut := range []kerf.Cut{kerf.Router, kerf.Saw} {
		if cut == kerf.Saw { // fits only askew
			j.Panels = slices.DeleteFunc(j.Panels, func(p parts.Panel) bool { return p.Name == "long batten" })
		}
		d := exporttest.Dossier(t, j, cut)
		free := 0
		for i := range d.Sheets {
			for _, p := range d.Sheets[i].Placements {
				m := j.Material(p.Row.Material)
				switch {
				case p.Turn%90 != 0:
					free++
					if m.Turn != 15 || p.Turn%15 != 0 {
						t.Errorf("%v: %s is turned by %d degrees", cut, p.Row.Name, p.Turn)
					}
				case m.Turn == parts.OneWay && p.Turn > 90, m.Turn == parts.HalfTurn && p.Turn%180 != 0:
					t.Errorf("%v: %s is turned by %d degrees", cut, p.Row.Name, p.Turn)
				}
				box, shape := p.Outline.Box(), p.Shape.Box()
				if diff := box.Min.Sub(shape.Min); max(diff.X.Abs(), diff.Y.Abs()) > mm/100 || box.Size().Sub(shape.Size()).X.Abs() > mm/50 {
					t.Errorf("%v: %s is drawn on %v, was nested on %v", cut, p.Row.Name, box, shape)
				}
			}
		}
		if (free > 0) != (cut == kerf.Router) {
			t.Errorf("%v: %d panels at free angles", cut, free)
		}
		if len(d.Unplaced) != 0 {
			t.Errorf("%v: %d kinds unplaced", cut, len(d.Unplaced))
		}
	}
}

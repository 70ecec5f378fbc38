package export_test

import (
	"fmt"
	"math"
	"testing"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// openings writes the openings of a plan, one a line.
func openings(d *export.Dossier) []string {
	w := d.Lengths()
	var list []string
	for _, o := range d.Openings {
		s := fmt.Sprintf("%s %s: %s, %s at %s", o.Panel.Name, o.Title(), w.Form(o), w.Across(o), w.Place(o.At))
		if o.Form == export.Round {
			s += ", centre " + w.Place(o.Middle)
		}
		if o.Shut {
			s += ", shut"
		}
		list = append(list, s)
	}
	return list
}

func compare(t *testing.T, got, want []string) {
	t.Helper()
	for i := range max(len(got), len(want)) {
		g, w := "", ""
		if i < len(got) {
			g = got[i]
		}
		if i < len(want) {
			w = want[i]
		}
		if g != w {
			t.Errorf("got  %s\nwant %s", g, w)
		}
	}
}

// The openings of a front, as they are drawn in exporttest: 700 x 500 with a display
// opening at 100, 180 and two loudspeakers of 90.
func TestOpenings(t *testing.T) {
	want := []string{
		"front display: rectangle, corners of radius 8, 500 × 280 at 100; 180",
		"front loudspeaker left: round, ⌀ 90 at 80; 50, centre 125; 95",
		"front loudspeaker right: round, ⌀ 90 at 530; 50, centre 575; 95",
	}
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		compare(t, openings(exporttest.Dossier(t, exporttest.Job(), cut)), want)
	}
}

// Places are those of the panel as cut: an edge band on the left and one at the bottom
// take their thickness off. The other hand has its places seen from its own good face.
func TestOpeningsOfPair(t *testing.T) {
	const mm = length.Millimetre
	j := exporttest.Job()
	hole := outline.Circle(40 * mm).Translate(geom.Pt(100*mm, 50*mm))
	slot := outline.RoundedRectangle(120*mm, 30*mm, [4]length.Length{15 * mm, 15 * mm, 15 * mm, 15 * mm}).Translate(geom.Pt(200*mm, 60*mm))
	p := parts.Panel{
		Name: "wing-left", Quantity: 1, Material: "birch 18", Grain: parts.AlongLength, Hand: parts.Left, PairOf: "wing",
		Outline: outline.Rectangle(400*mm, 200*mm), Edging: []string{"oak 1", "", "", "oak 1"},
		Openings: []parts.Opening{{Outline: hole, Component: "horn"}, {Name: "slot", Outline: slot}},
	}
	q := p
	q.Name, q.Hand, q.Mirrored = "wing-right", parts.Right, true
	flip := func(o outline.Outline) outline.Outline { return o.Flipped().Translate(geom.Pt(400*mm, 0)) }
	q.Outline = flip(p.Outline)
	q.Openings = []parts.Opening{{Outline: flip(hole), Component: "horn"}, {Name: "slot", Outline: flip(slot)}}
	// A flipped outline runs from its last segment: the same two edges are banded.
	q.Edging = make([]string, 4)
	for i, v := range q.Outline {
		w := q.Outline[(i+1)%4].At
		if v.At.Y == 0 && w.Y == 0 || v.At.X == 400*mm && w.X == 400*mm {
			q.Edging[i] = "oak 1"
		}
	}
	j.Panels = []parts.Panel{p, q}
	compare(t, openings(exporttest.Dossier(t, j, kerf.Saw)), []string{
		"wing-left opening 1, for horn: round, ⌀ 40 at 99; 49, centre 119; 69",
		"wing-left slot: rectangle, corners of radius 15, 120 × 30 at 199; 59",
		"wing-right opening 1, for horn: round, ⌀ 40 at 260; 49, centre 280; 69",
		"wing-right slot: rectangle, corners of radius 15, 120 × 30 at 80; 59",
	})
}

// What an opening is called follows from its outline alone.
func TestFormOfOpening(t *testing.T) {
	const mm = length.Millimetre
	quarter := math.Tan(math.Pi / 8)
	four := outline.Outline{{At: geom.Pt(20*mm, 0), Bulge: quarter}, {At: geom.Pt(40*mm, 20*mm), Bulge: quarter}, {At: geom.Pt(20*mm, 40*mm), Bulge: quarter}, {At: geom.Pt(0, 20*mm), Bulge: quarter}}
	for _, c := range []struct {
		what string
		o    outline.Outline
		want string
	}{
		{"circle", outline.Circle(40 * mm), "round"},
		{"circle of an odd number of units", outline.Circle(40*mm + 1), "round"},
		{"circle of four arcs", four, "round"},
		{"lens of two arcs", outline.Outline{{At: geom.Pt(0, 20*mm), Bulge: quarter}, {At: geom.Pt(40*mm, 20*mm), Bulge: quarter}}, "shaped: size of its box"},
		{"square", outline.Rectangle(40*mm, 40*mm), "rectangle"},
		{"turned square", outline.Outline{{At: geom.Pt(20*mm, 0)}, {At: geom.Pt(40*mm, 20*mm)}, {At: geom.Pt(20*mm, 40*mm)}, {At: geom.Pt(0, 20*mm)}}, "shaped: size of its box"},
		{"slot with half arcs", outline.Outline{{At: geom.Pt(10*mm, 0)}, {At: geom.Pt(50*mm, 0), Bulge: 1}, {At: geom.Pt(50*mm, 20*mm)}, {At: geom.Pt(10*mm, 20*mm), Bulge: 1}}, "rectangle, corners of radius 10"},
		{"one corner rounded", outline.RoundedRectangle(50*mm, 40*mm, [4]length.Length{10 * mm, 0, 0, 0}), "shaped: size of its box"},
		{"two radii", outline.RoundedRectangle(50*mm, 40*mm, [4]length.Length{10 * mm, 5 * mm, 10 * mm, 5 * mm}), "shaped: size of its box"},
	} {
		j := exporttest.Job()
		j.Panels = j.Panels[2:3]
		j.Panels[0].Openings = []parts.Opening{{Outline: c.o.Translate(geom.Pt(100*mm, 100*mm))}}
		d := exporttest.Dossier(t, j, kerf.Saw)
		if got := d.Lengths().Form(d.Openings[0]); got != c.want {
			t.Errorf("%s: %s, want %s", c.what, got, c.want)
		}
	}
}

// A bit of 6 mm enters a hole of its own width, but not one of 5 mm; a slit of 4 mm is
// none to drill. A saw says nothing of it.
func TestShut(t *testing.T) {
	const mm = length.Millimetre
	j := exporttest.Job()
	j.Panels = j.Panels[3:4]
	at := func(o outline.Outline, x, y length.Length) parts.Opening {
		return parts.Opening{Name: "pin", Outline: o.Translate(geom.Pt(x*mm, y*mm))}
	}
	j.Panels[0].Openings = []parts.Opening{
		at(outline.Circle(5*mm), 50, 50), at(outline.Circle(6*mm), 100, 50), at(outline.Circle(5*mm), 150, 50),
		at(outline.Rectangle(4*mm, 80*mm), 200, 50), at(outline.Circle(20*mm), 300, 50),
	}
	if n := len(exporttest.Dossier(t, j, kerf.Saw).Shut()); n != 0 {
		t.Errorf("%d for the saw", n)
	}
	d := exporttest.Dossier(t, j, kerf.Router)
	var got []string
	for _, r := range d.Shut() {
		got = append(got, fmt.Sprintf("%s %d %s %v", r.Verb(), r.Each, d.Lengths().Across(r.OpeningRow), r.Middles))
	}
	compare(t, got, []string{
		fmt.Sprintf("drill 2 ⌀ 5 %v", []geom.Point{geom.Pt(52500*length.Micrometre, 51500*length.Micrometre), geom.Pt(152500*length.Micrometre, 51500*length.Micrometre)}),
		fmt.Sprintf("cut by hand 1 4 × 80 %v", []geom.Point{geom.Pt(202*mm, 89*mm)}),
	})
}

package kerf

import (
	"strings"
	"testing"

	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// job returns a job of one board on 2440 x 1220 trimmed by 5.
func job(panels ...parts.Panel) *parts.Job {
	for i := range panels {
		p := &panels[i]
		p.Material, p.Quantity = "birch", max(p.Quantity, 1)
		if p.Edging == nil {
			p.Edging = make([]string, len(p.Outline))
		}
	}
	return &parts.Job{
		Tolerance: parts.DefaultTolerance,
		Materials: []parts.Material{{Name: "birch", Nominal: 18 * mm, Measured: 18 * mm, Grained: true, GoodFaces: 1}},
		Stock: []parts.Stock{{
			Name: "sheet", Material: "birch", Length: 2440 * mm, Width: 1220 * mm, Grain: parts.AlongLength,
			Available: parts.Unlimited, Trim: parts.Trim{Left: 5 * mm, Right: 5 * mm, Bottom: 5 * mm, Top: 5 * mm},
		}},
		Bands:  []parts.Band{{Name: "oak", Thickness: mm}},
		Saw:    parts.Saw{Kerf: 3*mm + 1, Allowance: 6 * mm},
		Router: parts.Router{Bit: 6 * mm, Gap: mm / 2, Margin: 12 * mm},
		Panels: panels,
	}
}

func TestBuildSizes(t *testing.T) {
	j := job(
		parts.Panel{Name: "shelf", Outline: outline.Rectangle(600*mm, 300*mm), Edging: []string{"oak", "", "", ""}},
		parts.Panel{Name: "disc", Outline: outline.Circle(200 * mm)},
		parts.Panel{Name: "bowed", Outline: bowed(600*mm, 300*mm)},
		parts.Panel{Name: "soft", Outline: outline.RoundedRectangle(600*mm, 300*mm, [4]length.Length{20 * mm, 20 * mm, 20 * mm, 20 * mm})},
	)
	d, list := Build(j, Saw)
	if len(list) > 0 {
		t.Fatal(list)
	}
	if d.Kerf != 3*mm+2 || d.Gap != d.Kerf {
		t.Errorf("kerf %d units, gap %d: want the next even number above %d", d.Kerf, d.Gap, 3*mm+1)
	}
	if want := (geom.Box{Min: geom.Pt(5*mm, 5*mm), Max: geom.Pt(2435*mm, 1215*mm)}); d.Sheets[0].Usable != want {
		t.Errorf("usable %v, want %v", d.Sheets[0].Usable, want)
	}
	for i, want := range []struct{ blank, inset geom.Point }{
		{geom.Pt(600*mm, 299*mm), geom.Point{}},        // square: exact, band deducted
		{geom.Pt(212*mm, 212*mm), geom.Pt(6*mm, 6*mm)}, // shaped all round
		{geom.Pt(600*mm, (300+20+6)*mm), geom.Point{}}, // shaped on top only
		{geom.Pt(600*mm, 300*mm), geom.Point{}},        // most of each side is sawn
	} {
		it := &d.Items[i]
		if it.Blank != want.blank || it.Inset != want.inset {
			t.Errorf("%s: blank %v inset %v, want %v and %v", it.Panel.Name, it.Blank, it.Inset, want.blank, want.inset)
		}
		if it.Shape.Box() != it.CutOutline.Box() || it.Shape.Box().Min != (geom.Point{}) {
			t.Errorf("%s: box of the shape %v, of the outline %v", it.Panel.Name, it.Shape.Box(), it.CutOutline.Box())
		}
	}

	r, list := Build(j, Router)
	if len(list) > 0 {
		t.Fatal(list)
	}
	if r.Gap != 6*mm+mm/2 || r.Kerf != 6*mm {
		t.Errorf("router: kerf %v gap %v", r.Kerf, r.Gap)
	}
	if want := (geom.Box{Min: geom.Pt(12*mm, 12*mm), Max: geom.Pt(2428*mm, 1208*mm)}); r.Sheets[0].Usable != want {
		t.Errorf("router: usable %v, want the larger of trim and margin, %v", r.Sheets[0].Usable, want)
	}
	if it := &r.Items[1]; it.Blank != it.Shape.Box().Size() || it.Inset != (geom.Point{}) {
		t.Errorf("router: blank %v inset %v, want the box of the shape", it.Blank, it.Inset)
	}
}

// bowed is a rectangle with a top that rises by 20 mm.
func bowed(l, w length.Length) outline.Outline {
	o := outline.Rectangle(l, w)
	o[2].Bulge, _ = outline.BulgeFromRise(o[2].At, o[3].At, 20*mm)
	return o
}

func TestBuildOpenings(t *testing.T) {
	j := job(parts.Panel{
		Name: "front", Outline: outline.Rectangle(600*mm, 400*mm), Edging: []string{"oak", "oak", "oak", "oak"},
		Openings: []parts.Opening{{Name: "speaker", Outline: outline.Circle(90 * mm).Translate(geom.Pt(50*mm, 60*mm))}},
	})
	d, list := Build(j, Router)
	if len(list) > 0 {
		t.Fatal(list)
	}
	it := &d.Items[0]
	// The band on left and bottom moves the panel's corner by 1 mm.
	if got, want := it.CutOpenings[0].Box().Min, geom.Pt(49*mm, 59*mm); got != want {
		t.Errorf("opening at %v from the cut corner, want %v", got, want)
	}
	hole := it.Shape.Holes[0]
	if hole.Area2() >= 0 {
		t.Error("the hole does not run clockwise")
	}
	if b := it.CutOpenings[0].Box(); !b.Contains(hole.Box()) {
		t.Errorf("hole %v reaches beyond its opening %v", hole.Box(), b)
	}
}

func TestBuildFits(t *testing.T) {
	for _, c := range []struct {
		name string
		p    parts.Panel
		cut  Cut
		want []string // in fact or remedy; none when it fits
	}{
		{"fits exactly", parts.Panel{Outline: outline.Rectangle(2430*mm, 1210*mm), Grain: parts.AlongLength}, Saw, nil},
		{"fits turned", parts.Panel{Outline: outline.Rectangle(600*mm, 2000*mm)}, Saw, nil},
		{
			"too long",
			parts.Panel{Outline: outline.Rectangle(2500*mm, 300*mm), Grain: parts.AlongLength},
			Saw,
			[]string{"2500 x 300 mm is larger than every sheet", "2430 x 1210 mm as drawn"},
		},
		{
			"too long either way",
			parts.Panel{Outline: outline.Rectangle(2500*mm, 300*mm)},
			Saw,
			[]string{"2430 x 1210 mm as drawn", "1210 x 2430 mm turned"},
		},
		{
			"grain forbids",
			parts.Panel{Outline: outline.Rectangle(600*mm, 2000*mm), Grain: parts.AlongLength},
			Saw,
			[]string{"only across the grain", "grain: free"},
		},
		{
			"margin",
			parts.Panel{Outline: outline.Rectangle(2430*mm, 300*mm), Grain: parts.AlongLength},
			Router,
			[]string{"hold-down margin", "2416 x 1196 mm as drawn"},
		},
		{"blank", parts.Panel{Outline: outline.Circle(1200 * mm)}, Saw, []string{"its blank of 1212 x 1212 mm"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.p.Name = "panel"
			d, list := Build(job(c.p), c.cut)
			if (d == nil) != (len(c.want) > 0) {
				t.Fatalf("demand %v, findings %v", d != nil, list)
			}
			for _, w := range c.want {
				if !strings.Contains(list.Error(), w) {
					t.Errorf("%q does not say %q", list.Error(), w)
				}
			}
		})
	}
}

// All panels that cannot be cut are named at once.
func TestBuildListsAll(t *testing.T) {
	_, list := Build(job(
		parts.Panel{Name: "a", Outline: outline.Rectangle(3000*mm, 300*mm)},
		parts.Panel{Name: "b", Outline: outline.Rectangle(2*mm, 2*mm), Edging: []string{"oak", "oak", "oak", "oak"}},
		parts.Panel{Name: "c", Outline: outline.Rectangle(3000*mm, 300*mm)},
	), Saw)
	if len(list) != 3 {
		t.Errorf("%d findings, want 3:\n%v", len(list), list)
	}
}

// Where the bit does not get to is said: the opening it does not enter, the curve
// that is tighter than it. Half the bit is its least inside radius (geometry).
func TestReach(t *testing.T) {
	notch := outline.Rectangle(600*mm, 400*mm)
	notch = append(notch[:2:2], append(outline.Outline{
		{At: geom.Pt(600*mm, 197*mm), Bulge: -1}, {At: geom.Pt(600*mm, 202*mm)},
	}, notch[2:]...)...)
	j := job(parts.Panel{
		Name: "front", Outline: notch,
		Openings: []parts.Opening{
			{Name: "small", Outline: outline.Circle(5 * mm).Translate(geom.Pt(50*mm, 60*mm))},
			{Name: "tight", Outline: outline.RoundedRectangle(90*mm, 40*mm, [4]length.Length{2 * mm, 2 * mm, 2 * mm, 2 * mm}).Translate(geom.Pt(150*mm, 60*mm))},
			{Name: "fits", Outline: outline.RoundedRectangle(90*mm, 40*mm, [4]length.Length{3 * mm, 3 * mm, 3 * mm, 3 * mm}).Translate(geom.Pt(300*mm, 60*mm))},
		},
	})
	d, list := Build(j, Router)
	if d == nil || len(list) != 3 {
		t.Fatalf("%d findings, want 3 warnings:\n%v", len(list), list)
	}
	for i, want := range []string{"does not enter", "curve of radius 2", "inside curve of radius 2.6"} {
		if !strings.Contains(list[i].Fact, want) {
			t.Errorf("%q does not say %q", list[i].Fact, want)
		}
	}
	if _, list := Build(j, Saw); len(list) != 0 {
		t.Errorf("the saw has nothing to do with a bit: %v", list)
	}
}

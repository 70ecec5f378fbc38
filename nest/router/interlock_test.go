package router

import (
	"slices"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
)

// Two triangles of 600 x 400, 10 apart, blanks without allowance: moved by dx and dy
// from a common rectangle their long edges are (400 dx + 600 dy)/721.1 apart. That is 10
// at dy = 12.02 with dx = 0, a blank of 600 x 412.02, and at dx = 18.03 with dy = 0.
func TestInterlock(t *testing.T) {
	tri := part("half", 2, geom.Polygon{Outer: geom.Ring{{}, {X: 600 * mm}, {Y: 400 * mm}}})
	p := &nest.Problem{Cut: kerf.Saw, Apart: 10 * mm, Parts: []nest.Part{tri}}
	in, ok := Interlock(p, 0, 0)
	if !ok {
		t.Fatal("nothing was found")
	}
	const step = mm / 10
	if z := in.Size; z != geom.Pt(600*mm, 412*mm+step) && z != geom.Pt(618*mm+step, 400*mm) {
		t.Errorf("a blank of %v x %v", z.X, z.Y)
	}
	for _, pl := range in.Places {
		if _, blank := p.Place(pl); !geom.BoxFromSize(geom.Point{}, in.Size).Contains(blank) {
			t.Errorf("%+v lies on %v, not in the shared blank", pl, blank)
		}
	}
	if in.Places[0].Turn != 0 || in.Places[1].Turn != 180 {
		t.Errorf("turned by %d and %d degrees", in.Places[0].Turn, in.Places[1].Turn)
	}
	p.Parts[0].OneWay = true
	if in, ok := Interlock(p, 0, 0); ok {
		t.Errorf("two that may not be turned: %+v", in)
	}
	p.Parts[0].OneWay, p.Apart = false, 0
	if _, ok := Interlock(p, 0, 0); ok {
		t.Error("blanks are shared though none may be")
	}
}

// The second panel is turned against the first only as leaves both a turn they may have.
func TestAgainst(t *testing.T) {
	free, along := nest.Part{}, nest.Part{Grain: parts.AlongLength}
	one := nest.Part{OneWay: true}
	half, quarter := nest.Part{Turns: []int{0, 180}}, nest.Part{Turns: []int{0, 90, 180, 270, 15}}
	for _, c := range []struct {
		name string
		a, b nest.Part
		want []int
	}{
		{"no grain", free, free, []int{0, 90, 180, 270}},
		{"grain", along, along, []int{0, 180}},
		{"one way", one, one, []int{0}},
		{"half turns", half, half, []int{0, 180}},
		{"quarter turns, a free angle left out", quarter, quarter, []int{0, 90, 180, 270}},
		{"grain and none", along, free, nil},
		{"turns and grain", half, along, nil},
	} {
		got := against(&c.a, &c.b)
		slices.Sort(got)
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// A blank between the places of the grid of tenths is made larger, never smaller; one
// that is flush with the other stays so.
func TestRounded(t *testing.T) {
	f := fitting{blanks: [2]geom.Point{geom.Pt(100*mm, 50*mm), geom.Pt(80*mm, 50*mm)}}
	for _, c := range []struct{ at, want geom.Point }{
		{geom.Pt(0, 0), geom.Pt(0, 0)},
		{geom.Pt(7, 0), geom.Pt(7, 0)}, // within the length of the first
		{geom.Pt(30*mm+1, 0), geom.Pt(30*mm+tenth, 0)},
		{geom.Pt(-1, 0), geom.Pt(-tenth, 0)},
		{geom.Pt(0, 3*tenth), geom.Pt(0, 3*tenth)},
		{geom.Pt(0, -3*tenth-1), geom.Pt(0, -4*tenth)},
	} {
		if got := f.rounded(c.at); got != c.want {
			t.Errorf("%v: %v, want %v", c.at, got, c.want)
		}
	}
}

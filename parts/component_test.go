package parts

import (
	"testing"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

const mm = length.Millimetre

// A placeholder is what was measured and its clearance, rounded up to whole
// millimetres; a hole for a panel button is taken as the standard gives it.
func TestOpeningOfComponent(t *testing.T) {
	um := length.Micrometre
	for _, c := range []struct {
		name string
		c    Component
		want geom.Point
	}{
		{"measured 540.3 x 321.1", Component{Body: geom.Pt(540300*um, 321100*um), Clearance: mm, Whole: true}, geom.Pt(543*mm, 324*mm)},
		{"whole already", Component{Body: geom.Pt(92*mm, 92*mm), Clearance: mm, Whole: true}, geom.Pt(94*mm, 94*mm)},
		{"not rounded", Component{Body: geom.Pt(540300*um, 321100*um), Clearance: 500 * um}, geom.Pt(541300*um, 322100*um)},
		// 22.3 mm: hole of a 22 mm panel button, IEC 60947-5-1 as the trade notes give it.
		{"button", Component{Body: geom.Pt(22300*um, 22300*um), Round: true}, geom.Pt(22300*um, 22300*um)},
	} {
		if got := c.c.Opening(); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
		if got := c.c.Shape().Box().Size(); got.Sub(c.want).X.Abs() > 1 {
			t.Errorf("%s: shape %v, want %v", c.name, got, c.want)
		}
	}
}

// The rise of a curved face is the sagitta r - sqrt(r^2 - (w/2)^2): school geometry,
// so a check by the formula the other way round, r = w^2/8h + h/2.
func TestRise(t *testing.T) {
	for _, c := range []struct{ radius, width length.Length }{{1500, 540}, {1000, 700}, {1800, 800}, {300, 600}} {
		comp := Component{Body: geom.Pt(c.width*mm, 300*mm), Curve: c.radius * mm, Depth: 40 * mm}
		h := comp.Rise().MM()
		w := float64(c.width)
		if r := w*w/(8*h) + h/2; r > float64(c.radius)+0.001 || r < float64(c.radius)-0.01 {
			t.Errorf("%d wide: a rise of %.4f mm is that of a radius of %.4f, want %d", c.width, h, r, c.radius)
		}
		if comp.Room() != 40*mm+comp.Rise() {
			t.Error("the room is not body and rise")
		}
	}
	if flat := (&Component{Body: geom.Pt(540*mm, 300*mm), Depth: 40 * mm}); flat.Rise() != 0 || flat.Room() != 40*mm {
		t.Error("a flat face rises")
	}
}

// How much of the edge of its opening a flange hides.
func TestCover(t *testing.T) {
	for _, c := range []struct {
		c    Component
		want length.Length
	}{
		{Component{Body: geom.Pt(92*mm, 92*mm), Round: true, Clearance: mm, Flange: geom.Pt(112*mm, 112*mm), RoundFlange: true}, 9 * mm},
		{Component{Body: geom.Pt(40*mm, 30*mm), Flange: geom.Pt(48*mm, 34*mm)}, 2 * mm},
		{Component{Body: geom.Pt(40*mm, 30*mm), Flange: geom.Pt(38*mm, 34*mm)}, -mm},
		{Component{Body: geom.Pt(30*mm, 40*mm), Flange: geom.Pt(60*mm, 60*mm), RoundFlange: true}, 5 * mm}, // over the diagonal of 50
		{Component{Body: geom.Pt(30*mm, 40*mm)}, 0},
	} {
		if got := c.c.Cover(); got != c.want {
			t.Errorf("%v in %v: %v, want %v", c.c.Body, c.c.Flange, got, c.want)
		}
	}
}

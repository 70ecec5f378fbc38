package dxf

import (
	"math"
	"testing"

	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// What is a circle is one, and nothing else is.
func TestLoop(t *testing.T) {
	// four is arcs of a quarter circle each over the corners of a diamond.
	four := func(rx, ry length.Length) outline.Outline {
		var o outline.Outline
		for _, p := range []geom.Point{geom.Pt(rx, 0), geom.Pt(0, ry), geom.Pt(-rx, 0), geom.Pt(0, -ry)} {
			o = append(o, outline.Vertex{At: p, Bulge: math.Tan(math.Pi / 8)})
		}
		return o
	}
	straight := four(50*mm, 50*mm)
	for i := range straight {
		straight[i].Bulge = 0
	}
	wavy := four(50*mm, 50*mm)
	wavy[1].Bulge = -wavy[1].Bulge
	lens := outline.Circle(100 * mm)
	lens[0].Bulge = 0.999999
	moved := four(50*mm, 50*mm)
	moved[1].At.X++
	// Corners 1 and 3 a unit to the right, all arcs of the same radius.
	apart := four(50*mm, 50*mm)
	apart[1].At.X++
	apart[3].At.X++
	for i := range apart {
		var err error
		if apart[i].Bulge, err = outline.BulgeFromRadius(apart[i].At, apart[(i+1)%4].At, 50*mm, true, false); err != nil {
			t.Fatal(err)
		}
	}
	twice := append(outline.Circle(100*mm), outline.Circle(100*mm)...)
	for _, c := range []struct {
		name string
		o    outline.Outline
		want bool
	}{
		{"two arcs", outline.Circle(100 * mm), true},
		{"two arcs over an odd diameter", outline.Circle(100*mm + 1).Translate(geom.Pt(7, -9)), true},
		{"two arcs, turned", outline.Circle(100*mm + 1).Turned(15), true},
		{"two arcs, mirrored", outline.Circle(100 * mm).Flipped(), true},
		{"four arcs", four(50*mm, 50*mm), true},
		{"four arcs of an ellipse", four(50*mm, 90*mm), false},
		{"four lines", straight, false},
		{"one arc inwards", wavy, false},
		{"not quite half a circle", lens, false},
		{"a corner a unit off", moved, false},
		{"two centres a unit apart", apart, false},
		{"run twice", twice, false},
		{"run the other way", outline.Circle(100 * mm).Reversed(), false},
		{"a rectangle", outline.Rectangle(100*mm, 50*mm), false},
		{"three corners", four(50*mm, 50*mm)[:3], false},
		{"nothing", nil, false},
	} {
		c0, ok := Loop(c.o).(Circle)
		if ok != c.want {
			t.Errorf("%s: circle %v", c.name, ok)
			continue
		}
		if !ok {
			continue
		}
		x, y, r := c0.middle()
		b := boxOf(c.o.Box())
		if math.Abs(x-(b.x0+b.x1)/2) > 1 || math.Abs(y-(b.y0+b.y1)/2) > 1 || math.Abs(2*r-(b.x1-b.x0)) > 2 {
			t.Errorf("%s: %v %v %v in %v", c.name, x, y, r, b)
		}
	}
}

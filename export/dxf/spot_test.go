package dxf

import (
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// polygonOf returns the nesting polygon of a panel.
func polygonOf(o outline.Outline, openings ...outline.Outline) geom.Polygon {
	const within = 100 * length.Micrometre
	p := geom.Polygon{Outer: o.Cover(within)}
	for _, h := range openings {
		p.Holes = append(p.Holes, h.Core(within).Reversed())
	}
	return p
}

// on reports whether a point is on the board.
func on(p geom.Polygon, at geom.Point) bool {
	if p.Outer.Locate(at) == geom.Outside {
		return false
	}
	for _, h := range p.Holes {
		if h.Locate(at) == geom.Inside {
			return false
		}
	}
	return true
}

func TestLabelled(t *testing.T) {
	square := func(x, y, side length.Length) outline.Outline {
		return outline.Rectangle(side*mm, side*mm).Translate(geom.Pt(x*mm, y*mm))
	}
	for _, c := range []struct {
		name   string
		p      geom.Polygon
		text   string
		height length.Length
		turn   int
	}{
		{"room enough", polygonOf(outline.Rectangle(600*mm, 300*mm)), "shelf", 10 * mm, 0},
		{"upright", polygonOf(outline.Rectangle(40*mm, 300*mm)), "side-left", 10 * mm, 90},
		{"small", polygonOf(outline.Rectangle(40*mm, 40*mm)), "side-left", 3 * mm, 0},
		{"a frame", polygonOf(square(0, 0, 400), square(15, 15, 370)), "frame", 10 * mm, 0},
		{"a narrow frame", polygonOf(square(0, 0, 400), square(4, 4, 392)), "frame", 3 * mm, 0},
		{"room at a side", polygonOf(outline.Rectangle(400*mm, 386*mm), square(15, 1, 384)), "frame", 10 * mm, 90},
		{"no room", polygonOf(outline.Rectangle(20*mm, 20*mm)), strings.Repeat("x", 99), 2 * mm, 0},
	} {
		got := labelled(c.text, c.p)
		if got.Height != c.height || got.Turn != c.turn || got.Content != c.text || !on(c.p, got.At) {
			t.Errorf("%s: %+v, want height %v, turn %d", c.name, got, c.height, c.turn)
		}
	}
}

// A label stands on the board. One that is higher than the least has room there:
// each place of a grid over it is on the board, whatever openings are about.
func TestLabelledAnywhere(t *testing.T) {
	tall := 0
	rapid.Check(t, func(t *rapid.T) {
		size := func(name string, most int) length.Length {
			return length.Length(rapid.IntRange(30, most).Draw(t, name)) * mm / 10
		}
		l, w := size("length", 9000), size("width", 9000)
		o := outline.Outline{{At: geom.Pt(0, 0)}, {At: geom.Pt(l, 0)}, {At: geom.Pt(l, w)}, {At: geom.Pt(0, w)}}
		o[rapid.IntRange(0, 3).Draw(t, "edge")].Bulge = rapid.Float64Range(-0.2, 0.4).Draw(t, "bulge")
		if o.Validate() != nil {
			return
		}
		var openings []outline.Outline
		for range rapid.IntRange(0, 12).Draw(t, "openings") {
			h := outline.Circle(size("diameter", 400)).Translate(geom.Pt(size("x", 9000), size("y", 9000)))
			ok := o.Trace().Contains(h.Trace()) == nil
			for _, other := range openings {
				ok = ok && h.Trace().Apart(other.Trace()) == nil
			}
			if ok {
				openings = append(openings, h)
			}
		}
		p := polygonOf(o, openings...).Turned(rapid.SampledFrom([]int{0, 15, 90, 200}).Draw(t, "turn"))
		const letters = 8
		got := labelled(strings.Repeat("x", letters), p)
		if !on(p, got.At) {
			t.Fatalf("%+v is off the board %v", got, p)
		}
		if got.Height <= 2*mm {
			return
		}
		tall++
		for i := range length.Length(17) {
			for k := range length.Length(9) {
				d := geom.Pt(got.Height*letters*i/16, got.Height*k/8).Turned(got.Turn)
				if !on(p, got.At.Add(d)) {
					t.Fatalf("%+v reaches off the board at %v: %v", got, got.At.Add(d), p)
				}
			}
		}
	})
	if tall < 20 {
		t.Errorf("%d labels are no fair test", tall)
	}
}

// A panel of as many corners as a file may give takes no time to speak of.
func TestLabelledLadder(t *testing.T) {
	var r geom.Ring
	for i := range length.Length(5000) {
		r = append(r, geom.Pt(i*mm/10, i%2*mm))
	}
	for i := range length.Length(5000) {
		r = append(r, geom.Pt((5000-i)*mm/10, 400*mm+i%2*mm))
	}
	start := time.Now()
	if got := labelled(strings.Repeat("long", 60), geom.Polygon{Outer: r}); got.Height != 2*mm {
		t.Errorf("height %v", got.Height)
	}
	if d := time.Since(start); d > 5*time.Second { // a loaded machine
		t.Errorf("took %v", d)
	} else {
		t.Log(d)
	}
}

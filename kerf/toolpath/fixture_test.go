package toolpath

import (
	"math"
	"math/rand/v2"
	"testing"

	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

const unit = length.Millimetre

// item returns an item of an outline and openings, named a, b, ...
func item(relief parts.Relief, o outline.Outline, openings ...outline.Outline) *kerf.Item {
	p := &parts.Panel{Name: "panel", Outline: o, Relief: relief}
	for i, op := range openings {
		p.Openings = append(p.Openings, parts.Opening{Name: string(rune('a' + i)), Outline: op, Relief: relief})
	}
	return &kerf.Item{Panel: p, Copies: 1, CutOutline: o, CutOpenings: openings}
}

// loopOf returns an outline of x, y, bulge triples in mm.
func loopOf(xyb ...float64) outline.Outline {
	var o outline.Outline
	for i := 0; i < len(xyb); i += 3 {
		o = append(o, outline.Vertex{At: at(xyb[i], xyb[i+1]), Bulge: xyb[i+2]})
	}
	return o
}

func at(x, y float64) geom.Point {
	return geom.Pt(length.Length(math.Round(x*float64(unit))), length.Length(math.Round(y*float64(unit))))
}

func bulgeOf(degrees float64) float64 { return math.Tan(degrees * math.Pi / 720) }

// slot returns a slot with round ends along x.
func slot(x, y, long, wide float64) outline.Outline {
	return loopOf(x+wide/2, y, 0, x+long-wide/2, y, 1, x+long-wide/2, y+wide, 0, x+wide/2, y+wide, 1)
}

// rect returns a rectangle.
func rect(x, y, l, w float64) outline.Outline {
	return loopOf(x, y, 0, x+l, y, 0, x+l, y+w, 0, x, y+w, 0)
}

func circle(x, y, d float64) outline.Outline {
	return loopOf(x-d/2, y, 1, x+d/2, y, 1)
}

// named is a case of the tests that look at paths from outside.
type named struct {
	name   string
	item   *kerf.Item
	router parts.Router
}

func bit(d float64) parts.Router {
	return parts.Router{Bit: length.Length(math.Round(d * float64(unit))), Hold: parts.HoldNone, Direction: parts.Conventional}
}

// shapes returns one of each kind of trouble.
func shapes() []named {
	board := rect(0, 0, 400, 300)
	no := parts.NoRelief
	return []named{
		{"rectangle", item(no, board), bit(6)},
		{"L", item(no, loopOf(0, 0, 0, 300, 0, 0, 300, 100, 0, 100, 100, 0, 100, 250, 0, 0, 250, 0)), bit(6)},
		{"rounded", item(no, loopOf(20, 0, 0, 180, 0, bulgeOf(90), 200, 20, 0, 200, 80, bulgeOf(90), 180, 100, 0, 20, 100, bulgeOf(90), 0, 80, 0, 0, 20, bulgeOf(90))), bit(6)},
		{"disc", item(no, circle(60, 60, 120), circle(60, 60, 50)), bit(6.35)},
		{"rising top", item(no, loopOf(0, 0, 0, 300, 0, 0, 300, 200, 0.2, 0, 200, 0)), bit(6)},
		{"hollow top", item(no, loopOf(0, 0, 0, 300, 0, 0, 300, 200, -0.2, 0, 200, 0)), bit(6)},
		{"fillets tangent", item(no, loopOf(0, 0, 0, 300, 0, 0, 300, 100, 0, 110, 100, -bulgeOf(90), 100, 110, 0, 100, 250, 0, 0, 250, 0)), bit(6)},
		{"fillet just the bit", item(no, loopOf(0, 0, 0, 300, 0, 0, 300, 100, 0, 103, 100, -bulgeOf(90), 100, 103, 0, 100, 250, 0, 0, 250, 0)), bit(6)},
		{"fillet under the bit", item(no, loopOf(0, 0, 0, 300, 0, 0, 300, 100, 0, 102, 100, -bulgeOf(90), 100, 102, 0, 100, 250, 0, 0, 250, 0)), bit(6)},
		{"slot as wide as the bit", item(no, board, slot(50, 50, 100, 6)), bit(6)},
		{"square slot as wide as the bit", item(no, board, rect(50, 50, 100, 6)), bit(6)},
		{"curved slot as wide as the bit", item(no, board, loopOf(47, 100, bulgeOf(90), 100, 47, 1, 100, 53, -bulgeOf(90), 53, 100, 1)), bit(6)},
		{"hole as wide as the bit", item(no, board, circle(100, 100, 6)), bit(6)},
		{"hole under the bit", item(no, board, circle(100, 100, 5)), bit(6)},
		{"hole a little over the bit", item(no, board, circle(100, 100, 6.01)), bit(6)},
		{"window", item(no, board, rect(50, 50, 100, 60), loopOf(200, 50, 0, 300, 50, 0, 250, 120, 0)), bit(6)},
		{"dumbbell", item(no, board, loopOf(50, 50, 0, 90, 50, 0, 90, 68, 0, 150, 68, 0, 150, 50, 0, 190, 50, 0, 190, 90, 0, 150, 90, 0, 150, 72, 0, 90, 72, 0, 90, 90, 0, 50, 90, 0)), bit(6)},
		{"dumbbell just passed", item(no, board, loopOf(50, 50, 0, 90, 50, 0, 90, 67, 0, 150, 67, 0, 150, 50, 0, 190, 50, 0, 190, 90, 0, 150, 90, 0, 150, 73, 0, 90, 73, 0, 90, 90, 0, 50, 90, 0)), bit(6)},
		{"bay behind a throat", item(no, loopOf(0, 0, 0, 200, 0, 0, 200, 45, 0, 150, 45, 0, 150, 20, 0, 100, 20, 0, 100, 80, 0, 150, 80, 0, 150, 49, 0, 200, 49, 0, 200, 100, 0, 0, 100, 0)), bit(6)},
		{"V notch", item(no, loopOf(0, 0, 0, 200, 0, 0, 200, 100, 0, 110, 100, 0, 100, 40, 0, 90, 100, 0, 0, 100, 0)), bit(6)},
		{"scallops", item(no, loopOf(0, 0, 0, 200, 0, 0, 200, 60, 1, 150, 60, 1, 100, 60, 1, 50, 60, 1, 0, 60, 0)), bit(6)},
		{"spikes between hollows", item(no, loopOf(0, 0, 0, 200, 0, 0, 200, 90, -1, 150, 90, -1, 100, 90, -1, 50, 90, -1, 0, 90, 0)), bit(6)},
		{"half hollow", item(no, loopOf(0, 0, 0, 200, 0, 0, 200, 90, 0, 104, 90, -1, 96, 90, 0, 0, 90, 0)), bit(6)},
		{"key hole", item(no, board, loopOf(100, 100, 0, 108, 100, 0, 108, 140, bulgeOf(300), 100, 140, 0)), bit(6)},
		{"thick bit", item(no, board, loopOf(50, 50, 0, 200, 50, 0, 200, 90, 0, 130, 90, -0.5, 120, 100, 0, 50, 120, 0)), bit(25)},
		{"star", item(no, star(9, 80, 30)), bit(12.7)},
		{"thin bit", item(no, star(30, 120, 100)), bit(1)},
	}
}

// star returns a star about a middle that keeps its box at the origin.
func star(points int, outer, inner float64) outline.Outline {
	var xyb []float64
	for i := range 2 * points {
		r := outer
		if i%2 == 1 {
			r = inner
		}
		sin, cos := math.Sincos(float64(i) * math.Pi / float64(points))
		xyb = append(xyb, outer+r*cos, outer+r*sin, 0)
	}
	return loopOf(xyb...)
}

// random returns a seeded outline of lines and arcs that is star-shaped about its
// middle, where its arcs leave it valid.
func random(rng *rand.Rand, n int, size float64) outline.Outline {
	for {
		var xyb []float64
		for i := range n {
			sin, cos := math.Sincos((float64(i) + 0.8*rng.Float64()) * 2 * math.Pi / float64(n))
			r := size * (0.4 + 0.6*rng.Float64())
			b := 0.0
			if rng.IntN(2) == 0 {
				b = rng.Float64()*1.2 - 0.6
			}
			xyb = append(xyb, size+r*cos, size+r*sin, b)
		}
		o := loopOf(xyb...)
		if o.Validate() == nil && o.Area2() > 0 && !spiked(o) {
			return o
		}
	}
}

// spiked reports whether a corner of an outline is so thin that where its tip ends
// depends on how arcs are drawn as polylines.
func spiked(o outline.Outline) bool {
	w := newWall(o)
	for i := range o {
		if math.Abs(w.turn(i)) > 3 {
			return true
		}
	}
	return false
}

// randoms returns seeded cases, as panels and as openings.
func randoms(n int) []named {
	var list []named
	rng := rand.New(rand.NewPCG(1, 2))
	bits := []float64{3.175, 6, 6.35, 12.7, 20}
	for i := range n {
		o := random(rng, 3+rng.IntN(14), 30+rng.Float64()*150)
		c := named{"random", nil, bit(bits[rng.IntN(len(bits))])}
		if i%2 == 0 {
			c.item = item(parts.NoRelief, o)
		} else {
			c.item = item(parts.NoRelief, rect(-20, -20, 500, 500), o)
		}
		list = append(list, c)
	}
	return list
}

func mustOf(t *testing.T, c named) Paths {
	t.Helper()
	ps, list := Of(c.item, c.router, 18*unit)
	if err := list.Err(); err != nil {
		t.Fatalf("%s: %v", c.name, err)
	}
	return ps
}

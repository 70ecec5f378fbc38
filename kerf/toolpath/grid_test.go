package toolpath

import (
	"math/rand/v2"
	"strings"
	"testing"

	"panelyard/parts"
	"panelyard/parts/outline"
)

// rectilinear returns a seeded outline on a grid of 3 mm, so that slots are often just
// as wide as a bit of 6 mm and walls often stand in line: columns of random heights
// above and below a middle.
func rectilinear(rng *rand.Rand, columns int) outline.Outline {
	var low, high []float64
	x := 0.0
	for range columns {
		next := x + 3*float64(1+rng.IntN(4))
		y, h := 60-3*float64(1+rng.IntN(20)), 60+3*float64(1+rng.IntN(20))
		low = append(low, x, y, 0, next, y, 0)
		high = append([]float64{next, h, 0, x, h, 0}, high...)
		x = next
	}
	var o outline.Outline
	for _, v := range loopOf(append(low, high...)...) {
		n := len(o)
		if n > 1 && (o[n-1].At.Y == v.At.Y && o[n-2].At.Y == v.At.Y || o[n-1].At == v.At) {
			o = o[:n-1]
		}
		o = append(o, v)
	}
	return o
}

func grids(n int) []named {
	var list []named
	rng := rand.New(rand.NewPCG(3, 4))
	for i := range n {
		o := rectilinear(rng, 2+rng.IntN(12))
		c := named{"grid", item(parts.NoRelief, o), bit(6)}
		if i%2 == 0 {
			c.item = item(parts.NoRelief, rect(-10, -10, 300, 200), o)
		}
		list = append(list, c)
	}
	return list
}

// Walls at exactly the bit's width, in line, and corners that its edge just touches.
func TestGrid(t *testing.T) {
	cases := grids(30)
	for i, c := range cases {
		_, list := Of(c.item, c.router, 18*unit)
		if list.Err() != nil || strings.Contains(list.Error(), "could not be joined") {
			t.Errorf("%d: %v\n%v", i, list, plain(c.item.CutOutline))
		}
	}
	for i, r := range sweep(t, cases) {
		for _, s := range r.Found {
			t.Errorf("%d: %s", i, s)
		}
	}
}

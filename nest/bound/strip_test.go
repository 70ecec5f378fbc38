package bound

import (
	"math"
	"math/rand/v2"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

func TestStripByHand(t *testing.T) {
	const any, g = parts.NoAxis, parts.AlongLength
	triangle := part(2, 100*mm, 100*mm, g)
	triangle.Shape.Outer = geom.Ring{geom.Pt(0, 0), geom.Pt(100*mm, 0), geom.Pt(0, 100*mm)}
	diamond := part(1, 100*mm, 100*mm, g)
	diamond.Turns = []int{45}
	for _, c := range []struct {
		name  string
		gap   length.Length
		parts []nest.Part
		want  float64 // mm, in a strip 100 wide
	}{
		{"area", 0, []nest.Part{part(4, 100*mm, 50*mm, any)}, 200},
		{"the longest as it may lie", 0, []nest.Part{part(1, 300*mm, 10*mm, g)}, 300},
		{"turned it is shorter", 0, []nest.Part{part(1, 90*mm, 10*mm, any)}, 10},
		{"a turn that is too wide does not count", 0, []nest.Part{part(1, 110*mm, 10*mm, any)}, 110},
		{"too wide to lie side by side", 0, []nest.Part{part(3, 80*mm, 60*mm, g)}, 240},
		{"two side by side, and a third", 0, []nest.Part{part(3, 80*mm, 50*mm, g)}, 120},
		{"too wide, with a kerf", 10 * mm, []nest.Part{part(3, 80*mm, 60*mm, g)}, 260},
		{"a kerf keeps them from lying side by side", 10 * mm, []nest.Part{part(2, 80*mm, 50*mm, g)}, 170},
		{"two triangles make a square", 0, []nest.Part{triangle}, 100},
		{"a diamond fits no strip as narrow", 0, []nest.Part{diamond}, 0},
		{"nothing", 0, nil, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := &nest.Problem{Cut: kerf.Router, Strip: true, Gap: c.gap, Parts: c.parts, Stocks: []nest.Stock{stock(1000*mm, 100*mm, 0, 1, 1)}}
			if c.gap > 0 {
				p.Cut, p.Kerf = kerf.Saw, c.gap
			}
			if got := StripLength(p).MM(); math.Abs(got-c.want) > 1e-3 {
				t.Errorf("%v mm, want %v", got, c.want)
			}
		})
	}
}

// No bound exceeds the length of a strip that was cut up, with some waste.
func TestStripNeverAboveALayout(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 6))
	tight := 0
	const n = 1000
	for i := range n {
		k := length.Length(rng.IntN(3)) * 2 * mm
		long, wide := length.Length(200+rng.IntN(800))*mm, length.Length(100+rng.IntN(400))*mm
		p := &nest.Problem{Cut: kerf.Saw, Kerf: k, Gap: k, Strip: true, Stocks: []nest.Stock{stock(4000*mm, wide, 0, 1, 1)}}
		var cut func(w, h length.Length, depth int)
		cut = func(w, h length.Length, depth int) {
			least := 10*mm + k
			switch {
			case depth > 0 && rng.IntN(8) == 0: // waste
			case depth == 0 || max(w, h) < 2*least:
				grain := parts.Axis(rng.IntN(2))
				if grain != parts.AlongLength {
					grain = parts.NoAxis
				}
				p.Parts = append(p.Parts, part(1, w, h, grain))
			case (rng.IntN(2) == 0 || h < 2*least) && w >= 2*least:
				a := least + length.Length(rng.Int64N(int64(w-2*least)+1))
				cut(a, h, depth-1)
				cut(w-a-k, h, depth-1)
			default:
				a := least + length.Length(rng.Int64N(int64(h-2*least)+1))
				cut(w, a, depth-1)
				cut(w, h-a-k, depth-1)
			}
		}
		cut(long, wide, rng.IntN(5))
		got := StripLength(p)
		if got > long {
			t.Fatalf("instance %d: bound %v, a layout is %v long", i, got, long)
		}
		if got == long {
			tight++
		}
		p.Cut = kerf.Router
		if got := StripLength(p); got > long {
			t.Fatalf("instance %d, router: bound %v, a layout is %v long", i, got, long)
		}
	}
	t.Logf("%d of %d lengths proved", tight, n)
	if tight < n/10 {
		t.Errorf("%d of %d lengths proved: weaker than it was", tight, n)
	}
}

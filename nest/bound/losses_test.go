package bound

import (
	"math/rand/v2"
	"testing"

	"panelyard/parts/length"
)

// lost works out what is lost on the way to a point by following each way back to the sheet: from a
// point that is one wider or higher, or that is cut into this one and another.
func lost(c corner, x, y int32, memo map[[2]int32]int32) int32 {
	if x == c.x && y == c.y {
		return 0
	}
	if v, ok := memo[[2]int32{x, y}]; ok {
		return v
	}
	f := func(x, y int32) int32 { return c.t.row(x)[y] }
	least := int32(unreached)
	way := func(u, v, rest int32) { least = min(least, lost(c, u, v, memo)+f(u, v)-f(x, y)-rest) }
	if x < c.x {
		way(x+1, y, 0)
	}
	if y < c.y {
		way(x, y+1, 0)
	}
	wholes(c.t.x, x, c.x, func(u, rest int32) { way(u, y, f(rest, y)) })
	wholes(c.t.y, y, c.y, func(v, rest int32) { way(x, v, f(x, rest)) })
	memo[[2]int32{x, y}] = least
	return least
}

// wholes calls do for each point up to a last one that is cut into a point and a rest.
func wholes(r *raster, point, last int32, do func(whole, rest int32)) {
	for u := point + 1; u <= last; u++ {
		for _, cut := range r.cuts[u] {
			if cut.a == point {
				do(u, cut.b)
			}
			if cut.b == point {
				do(u, cut.a)
			}
		}
	}
}

// What is lost on the way to each point is what following all ways back says, as far as it was asked
// for; asking for less takes nothing.
func TestLosses(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 27))
	within := 0
	for i := range 400 {
		w, h := 4+rng.IntN(30), 4+rng.IntN(30)
		tb, _, kinds := small(rng, w, h, 1+rng.IntN(2))
		weight, _ := weighed(rng, kinds)
		tb.fill(weight)
		c := corner{tb, tb.x.at(length.Length(w)), tb.y.at(length.Length(h)), length.Length(w), length.Length(h)}
		l := &losses{corner: c}
		memo := map[[2]int32]int32{}
		for _, slack := range []int32{int32(rng.IntN(20)), int32(20 + rng.IntN(400))} {
			l.spread(slack)
			for x := int32(1); x <= c.x; x++ {
				for y := int32(1); y <= c.y; y++ {
					want := lost(c, x, y, memo)
					got := l.at(x, y)
					if want <= slack && got != want || want > slack && got <= slack {
						t.Fatalf("case %d: %d is lost on the way to %d, %d, want %d; asked for %d", i, got, x, y, want, slack)
					}
					if want <= slack {
						within++
					}
				}
			}
			if work := l.spread(slack / 2); work != 0 {
				t.Errorf("case %d: %d additions for what is known", i, work)
			}
		}
	}
	if within < 5000 {
		t.Errorf("only %d points were looked at", within)
	}
}

// The losses of a job without grain, as far as a fiftieth of what a sheet holds.
func BenchmarkLosses(b *testing.B) {
	q, areas := boards(88, 164, 4, columnWork/fillings)
	_, most := q.fill(areas)
	for b.Loop() {
		l := &losses{corner: q.corner(1)}
		l.spread(int32(most[1] / 50 / farther))
	}
}

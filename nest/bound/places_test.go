package bound

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/length"
)

// A sheet holds two doors, or as many shelves in their places: with one of each wanted, the
// pattern of two doors is laid out as one of each, however they may lie. Where the shelf is larger
// one way, it has no place.
func TestLaysInPlaces(t *testing.T) {
	for _, grain := range []parts.Axis{parts.AlongLength, parts.NoAxis} {
		for _, c := range []struct {
			w, h length.Length
			ok   bool
		}{{600 * mm, 400 * mm, true}, {590 * mm, 380 * mm, true}, {590 * mm, 401 * mm, false}} {
			p := &nest.Problem{Cut: kerf.Saw, Stocks: []nest.Stock{stock(1210*mm, 405*mm, 0, 70, parts.Unlimited)}}
			p.Parts = []nest.Part{part(1, 600*mm, 400*mm, grain), part(1, c.w, c.h, grain)}
			m := p.Materials()[0]
			sheets, index := sheetsOf(p, m)
			kinds := rectanglesOf(panelsOf(p, m, sheets, index, make([]bool, 2)))
			work := 0
			w := &whole{ctx: context.Background(), mix: []int{1}, until: 1 << 40, work: &work}
			q := newPricing(kinds, sheets, 1_000_000)
			areas := []float64{600 * 400}
			if len(kinds) == 2 {
				areas = append(areas, float64(c.w/mm*c.h/mm))
			}
			a, _, _ := w.question(q, areas, 100)
			pattern := make([]uint64, a.lister.stride())
			setCopies(pattern, 0, 2)
			a.add(0, pattern)
			a.found = []pick{{0, 1}}
			plan, ok := a.fill(p, index)
			if ok != c.ok {
				t.Fatalf("a shelf of %v x %v: %v", c.w, c.h, ok)
			}
			if ok {
				judged(t, p, plan)
			}
		}
	}
}

// What is exchanged was too many, has room, and nothing is lost.
func TestExchange(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 1))
	exchanged := 0
	for range 500 {
		n := 2 + rng.IntN(8)
		p, weights := randomKinds(rng, n)
		q := asked([]int{1, 1}, make([]int, n), nil)
		q.p, q.weight = p, weights
		places := q.placesOf()
		lacks := make([]int32, n)
		for k := range lacks {
			lacks[k] = rng.Int32N(9) - 4
		}
		was := slices.Clone(lacks)
		exchange(lacks, places, func(kind, other int, copies int32) {
			a, b := p.kinds[kind], p.kinds[other]
			if was[kind] <= 0 || was[other] >= 0 || a.w > b.w || a.h > b.h || b.ways[1]&^a.ways[1] != 0 {
				t.Fatalf("%d of %+v in place of %+v", copies, a, b)
			}
			was[kind] -= copies
			was[other] += copies
			exchanged++
		})
		if !slices.Equal(was, lacks) {
			t.Fatalf("%v, want %v", lacks, was)
		}
		for k, l := range lacks {
			for _, u := range places[k] {
				if l > 0 && lacks[u] < 0 {
					t.Fatalf("%v: kind %d has still a place", lacks, k)
				}
			}
		}
	}
	if exchanged < 100 {
		t.Errorf("only %d exchanges", exchanged)
	}
}

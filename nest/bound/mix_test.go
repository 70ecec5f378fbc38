package bound

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
)

// priceOf returns what the sheets of a mix cost.
func priceOf(p *nest.Problem, mix []int) int64 {
	var sum int64
	for j, n := range mix {
		sum += int64(n) * p.Stocks[j].Cost
	}
	return sum
}

// Solved by hand: a sheet of 100 x 100 for 10 holds one panel of 100 x 60 or four of
// 50 x 50, one of 100 x 50 for 3 holds two of 50 x 50. Three large ones and three small
// ones take three large sheets and two small ones, 36. In fractions of sheets they take
// 34.5, and weights of 10 and 1.5 alone allow two large sheets and five small ones for 35,
// which cannot hold the large panels.
func TestMixByHand(t *testing.T) {
	p := &nest.Problem{
		Cut:    kerf.Saw,
		Parts:  []nest.Part{part(3, 100*mm, 60*mm, parts.AlongLength), part(3, 50*mm, 50*mm, parts.AlongLength)},
		Stocks: []nest.Stock{stock(100*mm, 100*mm, 0, 10, parts.Unlimited), stock(100*mm, 50*mm, 0, 3, parts.Unlimited)},
	}
	known := Study(context.Background(), p, Wishes{Above: 8, Most: 200})
	b := known.Bound()
	if b.Cost != 36 || b.Sheets != 4 {
		t.Errorf("%+v, want 4 sheets (three large and one for all small ones), or 36", b)
	}
	for _, l := range known {
		list := l.Mixes
		if len(list) == 0 || !slices.Equal(list[0], []int{3, 2}) {
			t.Errorf("the cheapest mixes are %v, want three large and two small ones first", list)
		}
	}
}

// The cheapest mix, and the list of those within a limit, are what trying all gives.
func TestMixesAsTryingAll(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 62))
	found := 0
	for n := range 2000 {
		kinds := 1 + rng.IntN(3)
		var list covers
		for range 1 + rng.IntN(5) {
			c := make([]float64, kinds)
			for j := range c {
				c[j] = float64(rng.IntN(6)) / 7
			}
			list.add(c)
		}
		cost, have := make([]int64, kinds), make([]int, kinds)
		for j := range cost {
			cost[j] = int64(rng.IntN(20))
			if have[j] = parts.Unlimited; rng.IntN(3) == 0 {
				have[j] = rng.IntN(4)
			}
		}
		mix := make([]int, kinds)
		var barred [][]int
		for range rng.IntN(3) {
			b := make([]int, kinds)
			for j := range b {
				b[j] = rng.IntN(6)
			}
			barred = append(barred, b)
		}
		inside := func(b []int) bool {
			for j := range b {
				if mix[j] > b[j] {
					return false
				}
			}
			return true
		}
		const most = 8 // sheets of a kind; a seventh is the least share
		limit := int64(rng.IntN(60))
		best, within := int64(math.MaxInt64), 0
		var try func(j int, spent int64)
		try = func(j int, spent int64) {
			if j < kinds {
				for k := 0; k <= most && (have[j] == parts.Unlimited || k <= have[j]); k++ {
					mix[j] = k
					try(j+1, spent+int64(k)*cost[j])
				}
				return
			}
			if slices.ContainsFunc(list, func(c []float64) bool { return broken(c, mix) }) || slices.ContainsFunc(barred, inside) {
				return
			}
			best = min(best, spent)
			if spent <= limit {
				within++
			}
		}
		try(0, 0)
		got, total, ok := leastMix(list, barred, cost, have)
		if ok != (best < math.MaxInt64) || ok && total != best {
			t.Fatalf("case %d: %v for %d, %v; trying all gives %d", n, got, total, ok, best)
		}
		if ok {
			found++
		}
		if slices.Contains(cost, 0) {
			continue // any number of them is within the limit
		}
		all := mixesWithin(list, barred, cost, have, limit)
		few := 0
		for _, m := range all {
			if slices.Max(m) <= most {
				few++
			}
		}
		if few != min(within, mostMixes) && len(all) < mostMixes {
			t.Fatalf("case %d: %d mixes within %d, trying all gives %d", n, few, limit, within)
		}
	}
	if found < 1000 {
		t.Errorf("only %d cases had a mix", found)
	}
}

// What follows from another condition is not kept.
func TestCovers(t *testing.T) {
	var l covers
	for _, c := range []struct {
		share []float64
		keeps bool
		left  int
	}{
		{[]float64{0.5, 0.2}, true, 1},
		{[]float64{0.5, 0.2}, false, 1},
		{[]float64{0.6, 0.2}, false, 1}, // easier to keep
		{[]float64{0.3, 0.4}, true, 2},
		{[]float64{0.3, 0.2}, true, 1}, // harder than both
	} {
		if got := l.add(c.share); got != c.keeps || len(l) != c.left {
			t.Errorf("%v: %v, %d conditions; want %v, %d", c.share, got, len(l), c.keeps, c.left)
		}
	}
}

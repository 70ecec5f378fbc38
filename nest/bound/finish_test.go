package bound

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// Of a plan some sheets get any other patterns: they are finished again, with nothing missing.
// Where one panel more is wanted than the plan has and its patterns are the heaviest there are,
// they cannot be. A try may take too long.
func TestFinish(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 5))
	halted := 0
	for i := range 300 {
		kinds, sheets := 2+rng.IntN(12), 1+rng.IntN(6)
		p, weights := randomKinds(rng, kinds)
		patterns := randomPatterns(rng, kinds, 5+rng.IntN(60))
		wanted, plan := make([]int, kinds), make([]int, sheets)
		for s := range plan {
			plan[s] = rng.IntN(len(patterns))
			for k, n := range patterns[plan[s]] {
				wanted[k] += n
			}
		}
		seek := func(wanted []int) (*annealer, bool) {
			q := asked([]int{sheets}, wanted, map[int][][]int{0: patterns})
			q.p, q.weight = p, weights
			a := annealerOf(q, uint64(i))
			for s, c := range plan {
				a.put(s, int32(c))
			}
			others := rng.Perm(sheets)[:1+rng.IntN(min(sheets, mostFinished))]
			for _, s := range others {
				a.put(s, int32(rng.IntN(len(patterns))))
			}
			f := newFinisher(a)
			ok := f.finish(others)
			if !ok && f.done > f.halt {
				halted++
				return nil, false
			}
			return a, ok
		}
		a, ok := seek(wanted)
		if a != nil && (!ok || slices.Max(a.lacks) > 0) {
			t.Fatalf("case %d: %v, of kinds so many are missing: %d", i, ok, a.lacks)
		}
		heaviest := 0
		weigh := func(pattern []int) (sum int) {
			for k, n := range pattern {
				sum += n * int(weights[k])
			}
			return sum
		}
		for c := range patterns {
			if weigh(patterns[c]) > weigh(patterns[heaviest]) {
				heaviest = c
			}
		}
		for k, n := range patterns[heaviest] {
			wanted[k] = n * sheets
		}
		for s := range plan {
			plan[s] = heaviest
		}
		wanted[rng.IntN(kinds)]++
		if _, ok := seek(wanted); ok {
			t.Errorf("case %d: sheets hold more than they can", i)
		}
	}
	if halted > 1 {
		t.Errorf("%d tries took too long", halted)
	}
}

// Each byte that is not 0 has its bit.
func TestKindsOf(t *testing.T) {
	rng := rand.New(rand.NewPCG(64, 8))
	for range 2000 {
		words := make([]uint64, 1+rng.IntN(10))
		want := uint64(0)
		for k := range 8 * len(words) {
			if n := rng.IntN(64); rng.IntN(3) == 0 && n > 0 {
				words[k/8] |= uint64(n) << (k % 8 * 8)
				want |= 1 << (k % 64)
			}
		}
		if got := kindsOf(words); got != want {
			t.Fatalf("%x has %b, want %b", words, got, want)
		}
	}
}

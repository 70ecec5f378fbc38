package bound

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"panelyard/nest/bound/cabinets"
	"panelyard/parts/length"
)

// Of random patterns some are taken, and what they hold is wanted, with nothing to spare: they
// or others are found, and hold it on the sheets there are. With one more of each kind wanted
// than any patterns have, nothing is found.
func TestAnneal(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 196))
	for i := range 40 {
		kinds, mix := 3+rng.IntN(8), []int{1 + rng.IntN(4), rng.IntN(4)}
		p := &pricing{sheets: []sheet{{w: 2440 * mm, h: 1220 * mm}, {w: 1525 * mm, h: 1525 * mm}}}
		for range kinds {
			p.kinds = append(p.kinds, rectangle{w: length.Length(200+rng.IntN(900)) * mm, h: length.Length(90+rng.IntN(400)) * mm})
		}
		wanted, most := make([]int, kinds), 0
		patterns := map[int][][]int{}
		for j := range mix {
			for range 30 + rng.IntN(200) {
				pattern := make([]int, kinds)
				for range 1 + rng.IntN(9) {
					pattern[rng.IntN(kinds)]++
				}
				patterns[j] = append(patterns[j], pattern)
				most = max(most, slices.Max(pattern))
			}
			for range mix[j] {
				for k, n := range patterns[j][rng.IntN(len(patterns[j]))] {
					wanted[k] += n
				}
			}
		}
		seek := func() *choice {
			q := asked(mix, wanted, patterns)
			q.p = p
			a := newAnnealer(q, uint64(i))
			for range 8 {
				if a.run() {
					q.found = a.picks()
					break
				}
				a.learn()
			}
			return q
		}
		if q := seek(); q.found == nil || !q.enough() {
			t.Errorf("case %d: %v does not hold %v on %v sheets", i, q.found, wanted, mix)
		}
		for k := range wanted {
			wanted[k] = most*(mix[0]+mix[1]) + 1
		}
		if q := seek(); q.found != nil {
			t.Errorf("case %d: %v is said to hold more than there can be", i, q.found)
		}
	}
	// A kind of sheet without a pattern.
	q := asked([]int{1, 1}, []int{1}, map[int][][]int{0: {{1}}})
	q.p = &pricing{sheets: make([]sheet, 2), kinds: make([]rectangle, 1)}
	if newAnnealer(q, 1) != nil {
		t.Error("a sheet without patterns has one")
	}
}

// Of a list that is cut short patterns of the whole list are left, mostly the heaviest among
// them, which may be made of lighter ones; a list that need not be cut short is the same.
func TestBeam(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 40))
	shortened, lost := 0, 0
	for i := range 600 {
		w, h := 6+rng.IntN(9), 6+rng.IntN(9)
		tb, _, kinds := small(rng, w, h)
		weight, wanted := make([]int32, len(kinds)), make([]int, len(kinds))
		for k := range weight {
			weight[k], wanted[k] = int32(1+rng.IntN(60)), int(kinds[k].copies)
		}
		tb.fill(weight)
		x, y := tb.x.at(length.Length(w)), tb.y.at(length.Length(h))
		list := func(most int, beam bool) (found map[string]uint64, top uint64) {
			l := newLister(wanted, most)
			l.beam = beam
			all, ok := l.near(context.Background(), tb, x, y, tb.row(x)[y], columnWork)
			if !ok {
				t.Fatalf("case %d: too many patterns", i)
			}
			found = map[string]uint64{}
			for at := 0; at < len(all); at += l.stride() {
				found[fmt.Sprint(all[at+1:at+l.stride()])] = all[at]
				top = max(top, all[at])
			}
			return found, top
		}
		all, top := list(5000, false)
		for _, most := range []int{1, 4, 20} {
			some, best := list(most, true)
			if len(some) > most || len(some) == 0 && len(all) > 0 {
				t.Fatalf("case %d: %d of %d patterns, at most %d", i, len(some), len(all), most)
			}
			for pattern, w := range some {
				if all[pattern] != w {
					t.Fatalf("case %d: a pattern of %d that is none", i, w)
				}
			}
			if len(all) > most {
				shortened++
			}
			if most == 20 && best < top {
				lost++
			}
		}
		if same, _ := list(5000, true); len(same) != len(all) {
			t.Errorf("case %d: %d patterns of %d", i, len(same), len(all))
		}
	}
	if shortened < 100 || lost > 6 {
		t.Errorf("%d lists were cut short, and %d times the heaviest pattern was not left", shortened, lost)
	}
}

// A job of which branching does not find the plan in this time: its patterns are put together,
// the plan costs what the bound says, and the judge accepts it.
func TestAnnealsPlan(t *testing.T) {
	p := cabinets.New(196, cabinets.Wishes{Panels: 30 + 195*67%271, Stocks: 4})
	const m = "board 18"
	sub, _, _ := p.Subset(m)
	l := Study(context.Background(), sub, Wishes{Effort: Patient})[m]
	if l.Plan == nil {
		t.Fatal("no plan was found")
	}
	if cost := spent(sub, l.Plan); cost != l.Cost {
		t.Errorf("a plan for %d, the bound is %d", cost, l.Cost)
	}
	judged(t, sub, l.Plan)
}

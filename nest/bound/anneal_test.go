package bound

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"panelyard/nest/bound/cabinets"
	"panelyard/parts/length"
)

// randomKinds returns kinds of blanks for two kinds of sheet, and weights of them: their areas.
func randomKinds(rng *rand.Rand, n int) (*pricing, []int32) {
	p := &pricing{sheets: []sheet{{w: 2440 * mm, h: 1220 * mm}, {w: 1525 * mm, h: 1525 * mm}}}
	var weights []int32
	for range n {
		w, h := 200+rng.IntN(900), 90+rng.IntN(400)
		ways := []byte{lyingLevel, lyingLevel | byte(rng.IntN(2))*lyingUpright}
		p.kinds = append(p.kinds, rectangle{w: length.Length(w) * mm, h: length.Length(h) * mm, ways: ways})
		weights = append(weights, int32(w*h))
	}
	return p, weights
}

// randomPatterns returns n patterns of up to nine blanks of kinds.
func randomPatterns(rng *rand.Rand, kinds, n int) [][]int {
	list := make([][]int, n)
	for i := range list {
		list[i] = make([]int, kinds)
		for range 1 + rng.IntN(9) {
			list[i][rng.IntN(kinds)]++
		}
	}
	return list
}

// annealerOf returns an annealer of all patterns of a question.
func annealerOf(t *choice, seed uint64) *annealer { return newAnnealer(evenOdds(t), seed) }

// holdsAll reports whether patterns that were found hold what is wanted on the sheets there are,
// where a blank may lie in the place of one that is too many, larger, and turned no other way:
// whether there is a place for each is tried one after the other.
func holdsAll(t *choice) bool {
	sheets := make([]int, len(t.mix))
	var spare, short []int // kinds, by copies
	for k, n := range t.wanted {
		have := 0
		for _, f := range t.found {
			have += f.sheets * int(t.copies[f.column*len(t.wanted)+k])
		}
		for ; have > n; have-- {
			spare = append(spare, k)
		}
		for ; have < n; have++ {
			short = append(short, k)
		}
	}
	for _, f := range t.found {
		sheets[t.columns[f.column].sheet] += f.sheets
	}
	for j, n := range sheets {
		if n > t.mix[j] {
			return false
		}
	}
	used := make([]bool, len(spare))
	var all func(short []int) bool
	all = func(short []int) bool {
		if len(short) == 0 {
			return true
		}
		a := t.p.kinds[short[0]]
		for i, u := range spare {
			b := t.p.kinds[u]
			if used[i] || a.w > b.w || a.h > b.h || b.ways[0]&^a.ways[0] != 0 && t.mix[0] > 0 || b.ways[1]&^a.ways[1] != 0 && t.mix[1] > 0 {
				continue
			}
			used[i] = true
			if all(short[1:]) {
				return true
			}
			used[i] = false
		}
		return false
	}
	return all(short)
}

// Of random patterns some are taken, and what they hold is wanted, with nothing to spare: they
// or others are found, and hold it on the sheets there are. With one more of each kind wanted
// than any patterns have, nothing is found.
func TestAnneal(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 196))
	exchanged := 0
	for i := range 40 {
		kinds, mix := 3+rng.IntN(8), []int{1 + rng.IntN(4), rng.IntN(4)}
		q := hidden(rng, kinds, 30+rng.IntN(200), mix)
		q.p, q.weight = randomKinds(rng, kinds)
		seek := func() {
			q.found = nil
			a := annealerOf(q, uint64(i))
			for range 8 {
				if a.run() {
					q.found = a.picks()
					break
				}
				a.reprice()
			}
		}
		seek()
		if q.found == nil || !holdsAll(q) {
			t.Errorf("case %d: %v does not hold %v on %v sheets", i, q.found, q.wanted, mix)
		}
		if q.found != nil && !q.enough() {
			exchanged++
		}
		most := int(slices.Max(q.copies))
		for k := range q.wanted {
			q.wanted[k] = most*(mix[0]+mix[1]) + 1
		}
		if seek(); q.found != nil {
			t.Errorf("case %d: %v is said to hold more than there can be", i, q.found)
		}
	}
	if exchanged == 0 {
		t.Error("no panel lies in the place of a larger one")
	}
}

// Of a list that is cut short the heaviest patterns are left; one that need not be is the same.
func TestHeaviestLeft(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 40))
	shortened := 0
	for i := range 600 {
		w, h := 6+rng.IntN(9), 6+rng.IntN(9)
		tb, _, kinds := small(rng, w, h, 1)
		weight, wanted := weighed(rng, kinds)
		tb.fill(weight)
		c := &losses{corner: corner{tb, tb.x.at(length.Length(w)), tb.y.at(length.Length(h)), length.Length(w), length.Length(h)}}
		list := func(most int, best bool) []uint64 {
			l := newLister(kinds, true, wanted, most)
			l.best = best
			all, ok := l.near(context.Background(), c, tb.row(c.x)[c.y], columnWork)
			if !ok {
				t.Fatalf("case %d: too many patterns", i)
			}
			return all
		}
		all := list(5000, false)
		for _, most := range []int{1, 4, 20, 5000} {
			want := all[:min(len(all), 2*most)]
			if some := list(most, true); !slices.Equal(some, want) {
				t.Fatalf("case %d: of %d patterns %v are left, want %v", i, len(all)/2, some, want)
			}
			if len(want) < len(all) {
				shortened++
			}
		}
	}
	if shortened < 100 {
		t.Errorf("only %d lists were cut short", shortened)
	}
}

// Jobs of which branching does not find the plan in this time: their patterns are put together, the
// plan costs what the bound says, and the judge accepts it. Of the last one the heaviest patterns
// cannot hold everything, and others are listed.
func TestAnnealsPlan(t *testing.T) {
	for _, job := range []struct {
		seed           uint64
		panels, stocks int
	}{{196, 87, 4}, {158, 251, 2}} {
		p := cabinets.New(job.seed, cabinets.Wishes{Panels: job.panels, Stocks: job.stocks})
		const m = "board 18"
		sub, _, _ := p.Subset(m)
		l := Study(context.Background(), sub, Wishes{Effort: Patient})[m]
		if l.Plan == nil {
			t.Errorf("job %d: no plan was found", job.seed)
			continue
		}
		if cost := spent(sub, l.Plan); cost != l.Cost {
			t.Errorf("job %d: a plan for %d, the bound is %d", job.seed, cost, l.Cost)
		}
		judged(t, sub, l.Plan)
	}
}

package bound

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/bound/cabinets"
	"panelyard/parts"
)

// asked returns the question whether patterns of some copies, of one kind of sheet or of
// more, hold what is wanted on the sheets of a mix.
func asked(mix, wanted []int, patterns map[int][][]int) *choice {
	t := &choice{whole: &whole{ctx: context.Background(), mix: mix, until: 1 << 40, work: new(int)}, wanted: wanted}
	sheets := 0
	for _, n := range mix {
		sheets += n
	}
	for j := range mix {
		t.areas = append(t.areas, 1/float64(sheets))
		for _, copies := range patterns[j] {
			words := make([]uint64, 1+(len(wanted)+7)/8)
			for k, n := range copies {
				setCopies(words, k, n)
			}
			t.add(j, words)
		}
	}
	return t
}

// root returns the twig of all patterns, and the solution of its program.
func root(t *choice) (*twig, []float64, float64, verdict) {
	w := &twig{}
	for c := range t.columns {
		w.list, w.likely = append(w.list, int32(c)), append(w.likely, int32(c))
	}
	x, value, v := t.relax(w)
	return w, x, value, v
}

// Three panels of which any two share a sheet, and three others: by halves of patterns each
// three need a sheet and a half. A cut says that each need two, without branching; the odd
// cycle of three is the textbook example of the subset-row inequalities that Jepsen et al.
// name (from memory).
func TestCutsOfThree(t *testing.T) {
	pairs := [][]int{{1, 1, 0, 0, 0, 0}, {1, 0, 1, 0, 0, 0}, {0, 1, 1, 0, 0, 0}, {0, 0, 0, 1, 1, 0}, {0, 0, 0, 1, 0, 1}, {0, 0, 0, 0, 1, 1}}
	all := []int{1, 1, 1, 1, 1, 1}
	q := asked([]int{3}, all, map[int][][]int{0: pairs})
	w, x, value, v := root(q)
	if v != undecided || value > 1+1e-5 {
		t.Fatalf("%v, %v: fractions of patterns fill three sheets", v, value)
	}
	if x, _, v := q.sharpen(w, x, value); v != ruledOut || x != nil {
		t.Errorf("%v with cuts, want it ruled out", v)
	}
	if q := asked([]int{4}, all, map[int][][]int{0: pairs}); q.decide() != held || !q.enough() {
		t.Error("four sheets hold all")
	}
	// Two kinds of sheet, one of each: the same three panels, and pairs on either.
	q = asked([]int{1, 1}, []int{1, 1, 1}, map[int][][]int{0: {{1, 1, 0}, {0, 1, 1}}, 1: {{1, 0, 1}}})
	if q.decide() != held {
		t.Error("two sheets hold three panels")
	}
}

// What whole patterns hold keeps every cut: those that are found for random solutions of
// programs, and random ones.
func TestCutsKeepPlans(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 58))
	met := 0
	for n := range 300 {
		kinds, mix := 2+rng.IntN(5), make([]int, 1+rng.IntN(3))
		patterns := map[int][][]int{}
		wanted := make([]int, kinds)
		taken := map[int][]int{}
		for j := range mix {
			mix[j] = rng.IntN(4)
			for range 2 + rng.IntN(8) {
				p := make([]int, kinds)
				for k := range p {
					p[k] = rng.IntN(4)
				}
				patterns[j] = append(patterns[j], p)
			}
			for range mix[j] {
				c := rng.IntN(len(patterns[j]))
				taken[j] = append(taken[j], c)
				for k, m := range patterns[j][c] {
					wanted[k] += m
				}
			}
		}
		if slices.Max(wanted) == 0 {
			continue
		}
		q := asked(mix, wanted, patterns)
		w, x, _, v := root(q)
		if v == ruledOut {
			t.Fatalf("case %d: there is a plan", n)
		}
		cuts := q.broken(w, x)
		met += len(cuts)
		for range 20 {
			c := &cut{over: 2 + rng.IntN(3), sheets: uint(rng.IntN(8))}
			c.shift = rng.IntN(c.over)
			for k := range kinds {
				if rng.IntN(2) == 0 {
					c.kinds, c.times = append(c.kinds, int32(k)), append(c.times, int32(1+rng.IntN(c.over)))
				}
			}
			cuts = append(cuts, c)
		}
		for _, c := range cuts {
			f := q.count(w, c)
			sum, at := 0, 0
			for j := range mix {
				for _, i := range taken[j] {
					sum += q.times(&f, at+i)
				}
				at += len(patterns[j])
			}
			if sum < f.wanted {
				t.Fatalf("case %d: %+v breaks %+v: %d of %d", n, taken, c, sum, f.wanted)
			}
		}
		if v := q.decide(); v != held || !q.enough() {
			t.Fatalf("case %d: %v, there is a plan", n, v)
		}
	}
	if met < 50 {
		t.Errorf("only %d cuts were met", met)
	}
}

// Where few patterns may be listed bounds are never more than trying all finds, and plans are
// plans.
func TestFewListed(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	plans := 0
	for i := range 120 {
		p := fewPanels(rng)
		size := p.Stocks[0].Size
		least := fewest(p, int(size.X/mm), int(size.Y/mm))
		m := p.Materials()[0]
		for _, most := range []int{1, 3, 10} {
			got := ofMaterial(context.Background(), p, m, Wishes{Effort: Patient, patterns: most}, 20*someWork)
			if got.sheets > least {
				t.Fatalf("case %d: %d sheets with %d patterns, trying all finds %d: %+v", i, got.sheets, most, least, p)
			}
			if got.plan == nil {
				continue
			}
			plans++
			if len(got.plan.Sheets) < least {
				t.Fatalf("case %d: a plan of %d sheets, trying all finds %d", i, len(got.plan.Sheets), least)
			}
			judged(t, p, got.plan)
		}
	}
	if plans < 50 {
		t.Errorf("only %d plans", plans)
	}
}

// Panels that patterns leave out are put beside and above what lies there, wherever the sheets
// have room, and nowhere else.
func TestSqueeze(t *testing.T) {
	s := sheet{w: 100 * mm, h: 60 * mm}
	q := &choice{p: &pricing{sheets: []sheet{s}, kinds: []rectangle{
		{w: 60 * mm, h: 40 * mm}, {w: 40 * mm, h: 20 * mm, ways: []byte{lyingLevel}}, {w: 60 * mm, h: 40 * mm, ways: []byte{lyingUpright}},
	}}}
	roots := []*piece{{kind: 0, w: 60 * mm, h: 40 * mm}}
	for n := range 3 {
		if !q.squeeze(roots, []int{0}, 1) {
			t.Fatalf("%d of 40 x 20 have room beside 60 x 40 in 100 x 60, want 3 and more", n)
		}
	}
	n := 3
	for q.squeeze(roots, []int{0}, 1) {
		n++
	}
	if n > 4 || roots[0].w > s.w || roots[0].h > s.h {
		t.Errorf("%d on %v x %v", n, roots[0].w, roots[0].h)
	}
	w, h := roots[0].w, roots[0].h
	if roots[0].measure(); roots[0].w != w || roots[0].h != h {
		t.Errorf("%v x %v are %v x %v when they are measured", w, h, roots[0].w, roots[0].h)
	}
	roots = []*piece{{kind: 0, w: 60 * mm, h: 40 * mm}}
	if !q.squeeze(roots, []int{0}, 2) || roots[0].w != 100*mm || roots[0].h != 60*mm {
		t.Errorf("a blank 40 x 60 beside 60 x 40 needs %v x %v", roots[0].w, roots[0].h)
	}
}

// A plan that whole patterns make has all panels, those that weigh nothing by the weights
// among them: narrow ones that find room in any case.
func TestLeftOut(t *testing.T) {
	p := &nest.Problem{Cut: kerf.Saw, Stocks: []nest.Stock{stock(100*mm, 100*mm, 0, 70, parts.Unlimited)}}
	p.Parts = []nest.Part{part(6, 60*mm, 45*mm, parts.AlongLength), part(3, 30*mm, 8*mm, parts.AlongLength)}
	for i := range p.Parts {
		p.Parts[i].Turns = []int{0}
	}
	_, usual := ask(p)
	if usual.sheets != 3 || usual.plan == nil {
		t.Fatalf("%d sheets, plan %v; want 3 with a plan", usual.sheets, usual.plan)
	}
	judged(t, p, usual.plan)
}

// What is found out is told at once, never less than before, and in the end what is returned.
func TestTold(t *testing.T) {
	p := cabinets.New(12, cabinets.Wishes{Panels: 60, Stocks: 3})
	last := map[string]Limits{}
	known := Study(context.Background(), p, Wishes{Effort: Usual, Above: 8, Most: 100, Told: func(m string, l Limits) {
		if l.Cost <= last[m].Cost && (l.Plan == nil || l.Cost < last[m].Cost || last[m].Plan != nil) {
			t.Errorf("%s: %d after %d", m, l.Cost, last[m].Cost)
		}
		last[m] = l
	}})
	for _, m := range p.Materials() {
		if last[m].Cost == 0 || last[m].Cost > known[m].Cost {
			t.Errorf("%s: %d was told, it is %d", m, last[m].Cost, known[m].Cost)
		}
	}
	if len(last["board 18"].Mixes) == 0 {
		t.Error("no mixes were told")
	}
}

package choose

import (
	"context"
	"encoding/json"
	"math/rand/v2"
	"slices"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/check"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// batch plans for 1 to n.
func batch(t *testing.T, p *nest.Problem, n int, s nest.Settings) []Numbered {
	t.Helper()
	b := NewBatch(p)
	for range n {
		if err := b.Next(context.Background(), 0, s); err != nil {
			t.Fatal(err)
		}
	}
	list, err := b.Plans()
	if err != nil {
		t.Fatal(err)
	}
	for i := range list {
		x := &list[i]
		if err := check.Plan(x.Problem, x.Result.Plan); err != nil {
			t.Errorf("for %d: %v", x.Number, err)
		}
		if x.Number != i+1 || x.Problem.Copies() != (i+1)*p.Copies() {
			t.Errorf("place %d is for %d with %d panels", i, x.Number, x.Problem.Copies())
		}
	}
	return list
}

func costs(list []Numbered) []int64 {
	var out []int64
	for i := range list {
		out = append(out, cost(list[i].Problem, list[i].Result.Plan))
	}
	return out
}

// shelves returns a problem of three shelves of 1000 x 480 on sheets of 2200 x 1000 at
// 40, without trim and with a kerf of 4. A sheet holds four: 2 x 1000 + 4 of 2200, 2 x
// 480 + 4 of 1000, and five are 2.4 m2 of 2.2.
func shelves() *nest.Problem {
	size := geom.Pt(2200*mm, 1000*mm)
	return &nest.Problem{
		Cut: kerf.Saw, Kerf: 4 * mm, Gap: 4 * mm,
		Parts: []nest.Part{part("shelf", "ply", 3, 1000, 480)},
		Stocks: []nest.Stock{{
			Name: "sheet", Material: "ply", Size: size, Usable: geom.BoxFromSize(geom.Point{}, size), Cost: 40, Available: parts.Unlimited,
		}},
		Keep: parts.KeepRule{Short: 100 * mm, Long: 400 * mm},
	}
}

// Solved by hand: n times three shelves are ceil(3n/4) sheets, and all are proved.
func TestBatchByHand(t *testing.T) {
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		p := shelves()
		p.Cut = cut
		list := batch(t, p, 9, nest.Settings{Budget: 1})
		if got, want := costs(list), []int64{40, 80, 120, 120, 160, 200, 240, 240, 280}; !slices.Equal(got, want) {
			t.Errorf("%v: cost %v, want %v", cut, got, want)
		}
		for _, x := range list {
			if x.Result.Status != nest.Proved {
				t.Errorf("%v: the plan for %d is not proved: %v", cut, x.Number, x.Result.Bound)
			}
		}
	}
}

// Stock that runs out: of three sheets, twelve shelves come, which is four times three.
// Five and six lack what is left, and those before have all.
func TestBatchRunsOut(t *testing.T) {
	p := shelves()
	p.Stocks[0].Available = 3
	for i, x := range batch(t, p, 6, nest.Settings{Budget: 1}) {
		missing := 0
		for _, u := range x.Result.Plan.Unplaced {
			missing += u.Copies
			if u.Reason == "" {
				t.Errorf("for %d: no reason", x.Number)
			}
		}
		if want := []int{0, 0, 0, 0, 3, 6}[i]; missing != want {
			t.Errorf("for %d: %d without a place, want %d", x.Number, missing, want)
		}
	}
}

// A sheet from the rack counts once: the first is free, and what it takes away is the
// same for every number.
func TestBatchRack(t *testing.T) {
	p := shelves()
	free := p.Stocks[0]
	free.Name, free.Cost, free.Available, free.Offcut = "kept", 0, 1, true
	p.Stocks = append(p.Stocks, free)
	got := costs(batch(t, p, 5, nest.Settings{Budget: 1}))
	if want := []int64{0, 40, 80, 80, 120}; !slices.Equal(got, want) {
		t.Errorf("cost %v, want %v", got, want)
	}
}

// What the type promises holds for problems at random, under a budget too small for
// plans that would keep it by themselves.
func TestBatchPromises(t *testing.T) {
	const n, seeds = 5, 16
	var shrunk, summed int
	for seed := range uint64(seeds) {
		rng := rand.New(rand.NewPCG(seed, 5))
		p := problem([]kerf.Cut{kerf.Saw, kerf.Router}[seed%2])
		p.Parts = nil
		for _, m := range []string{"ply", "mdf"} {
			for i := range 3 + rng.IntN(5) {
				p.Parts = append(p.Parts, part(string(rune('a'+i)), m, 1+rng.IntN(2), length.Length(150+rng.IntN(700)), length.Length(100+rng.IntN(450))))
			}
		}
		limited := seed%5 == 4
		if limited {
			p.Stocks[2].Available = 2
		}
		list := batch(t, p, n, nest.Settings{Seed: seed, Budget: 1})
		c := costs(list)
		for i := range list {
			if len(list[i].Result.Plan.Unplaced) > 0 {
				t.Fatalf("seed %d: no place in the plan for %d", seed, i+1)
			}
			if c[i] < list[i].Result.Bound.Cost {
				t.Errorf("seed %d: the plan for %d costs %d, the bound is %d", seed, i+1, c[i], list[i].Result.Bound.Cost)
			}
			if i > 0 && c[i] < c[i-1] {
				t.Errorf("seed %d: %d for %d, and %d for one more", seed, c[i-1], i, c[i])
			}
			for k := 1; k <= i && !limited; k++ {
				if c[i] > c[k-1]+c[i-k] {
					t.Errorf("seed %d: the plan for %d costs %d, those for %d and %d cost %d", seed, i+1, c[i], k, i+1-k, c[k-1]+c[i-k])
				}
			}
		}
		// The promises are worth their name only where plans alone do not keep them.
		var own []int64
		for i := range list {
			r, err := Plan(context.Background(), list[i].Problem, nest.Settings{Seed: seed, Budget: 1})
			if err != nil {
				t.Fatal(err)
			}
			own = append(own, cost(p, r.Plan))
			if c[i] > own[i] {
				t.Errorf("seed %d: the plan for %d costs %d, its own %d", seed, i+1, c[i], own[i])
			}
			if i > 0 && own[i] < own[i-1] {
				shrunk++
			}
			if c[i] < own[i] {
				summed++
			}
		}
	}
	t.Logf("of %d plans %d are better than their own, %d cost more than for one more", seeds*n, summed, shrunk)
	if summed == 0 {
		t.Error("no plan was better than its own: the test does not try the promises")
	}
}

// A plan without the panels of one is accepted by the judge, for either way to cut.
func TestWithout(t *testing.T) {
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		p := problem(cut)
		b := NewBatch(p)
		for range 2 {
			if err := b.Next(context.Background(), 0, nest.Settings{Budget: 1}); err != nil {
				t.Fatal(err)
			}
		}
		for _, m := range b.every {
			sub, partOf, _ := p.Subset(m)
			less := b.without(b.best[1][m], m)
			if less == nil {
				t.Fatalf("%v: nothing could be left out", cut)
			}
			renumber(less, len(p.Parts))
			if got := less.Placed(); got != sub.Copies() {
				t.Errorf("%v: %d panels, want %d", cut, got, sub.Copies())
			}
			// The judge wants all panels of the problem: those of the other material
			// are listed as unplaced.
			for i := range p.Parts {
				if !slices.Contains(partOf, i) {
					less.Unplaced = append(less.Unplaced, nest.Unplaced{Part: i, Copies: p.Parts[i].Copies, Reason: "not asked for"})
				}
			}
			if err := check.Plan(p, less); err != nil {
				t.Errorf("%v: %v", cut, err)
			}
		}
	}
}

// An interrupt leaves the batch as it was; any number of workers, the same plans.
func TestBatchInterrupted(t *testing.T) {
	b := NewBatch(shelves())
	if err := b.Next(context.Background(), 0, nest.Settings{Budget: 1}); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if err := b.Next(ctx, 0, nest.Settings{Budget: 1}); err == nil || b.Len() != 1 {
		t.Errorf("error %v, %d plans", err, b.Len())
	}
	var first []byte
	for _, workers := range []int{1, 3} {
		var plans []*nest.Plan
		for _, x := range batch(t, problem(kerf.Saw), 3, nest.Settings{Seed: 2, Budget: 2, Workers: workers}) {
			plans = append(plans, x.Result.Plan)
		}
		text, err := json.Marshal(plans)
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = text
		}
		if string(text) != string(first) {
			t.Errorf("%d workers: another batch", workers)
		}
	}
}

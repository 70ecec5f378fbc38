package bound

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/bound/cabinets"
	"panelyard/nest/check"
	"panelyard/nest/order"
	"panelyard/parts"
	"panelyard/parts/length"
)

// ask bounds a problem of one material with and without whole patterns.
func ask(p *nest.Problem) (quick, usual single) {
	m := p.Materials()[0]
	return ofMaterial(context.Background(), p, m, Wishes{Effort: Quick}, someWork), ofMaterial(context.Background(), p, m, Wishes{Effort: Usual}, 100*someWork)
}

// spent returns what the sheets of a plan cost.
func spent(p *nest.Problem, plan *nest.Plan) int64 {
	var sum int64
	for _, s := range plan.Sheets {
		sum += p.Stocks[s.Stock].Cost
	}
	return sum
}

// judged cuts a plan that was found on the way and has it judged.
func judged(t *testing.T, p *nest.Problem, plan *nest.Plan) {
	t.Helper()
	if plan.Placed() != p.Copies() {
		t.Fatalf("the plan has %d of %d panels", plan.Placed(), p.Copies())
	}
	if err := order.Plan(p, plan); err != nil {
		t.Fatal(err)
	}
	if err := check.Plan(p, plan); err != nil {
		t.Fatal(err)
	}
}

// The instance of one dimension with the least numbers known for which the program of
// fractions of patterns, rounded up, is one too few: 44, 33 and 12, two, three and six of
// them, in 132. Rietz, Scheithauer & Terno, "Families of non-IRUP instances of the
// one-dimensional cutting stock problem", Discrete Applied Mathematics 121, 2002 (from
// memory). Two have the length (259 of 264), three are needed, as trying all shows.
func TestWholePublished(t *testing.T) {
	p := &nest.Problem{Cut: kerf.Saw, Stocks: []nest.Stock{stock(132*mm, 10*mm, 0, 70, parts.Unlimited)}}
	for _, q := range [][2]int{{44, 2}, {33, 3}, {12, 6}} {
		p.Parts = append(p.Parts, part(q[1], length.Length(q[0])*mm, 10*mm, parts.AlongLength))
	}
	quick, usual := ask(p)
	if quick.sheets != 2 || usual.sheets != 3 || usual.cost != 210 || usual.method != wholePatterns {
		t.Errorf("%d sheets by fractions, %d by whole patterns for %d (%v); want 2, 3, 210", quick.sheets, usual.sheets, usual.cost, usual.method)
	}
	if usual.plan == nil {
		t.Fatal("no plan of three sheets was found on the way")
	}
	judged(t, p, usual.plan)
	p.Parts[2].Copies = 5 // and without one of 12 two are enough
	if _, usual := ask(p); usual.sheets != 2 || usual.plan == nil {
		t.Errorf("%d sheets, plan %v", usual.sheets, usual.plan)
	}
}

// On small problems whole patterns never bound more than trying all finds, nearly always as
// much, and more often than fractions; their plans are plans.
func TestWholeAsTryingAll(t *testing.T) {
	rng := rand.New(rand.NewPCG(20, 26))
	exact, better, plans := 0, 0, 0
	const n = 250
	for i := range n {
		p := fewPanels(rng)
		size := p.Stocks[0].Size
		least := fewest(p, int(size.X/mm), int(size.Y/mm))
		quick, usual := ask(p)
		if quick.sheets > least || usual.sheets > least {
			t.Fatalf("case %d: %d and %d sheets, trying all finds %d: %+v", i, quick.sheets, usual.sheets, least, p)
		}
		if usual.sheets < quick.sheets || usual.cost < quick.cost {
			t.Fatalf("case %d: whole patterns bound %d sheets, fractions %d", i, usual.sheets, quick.sheets)
		}
		if usual.sheets == least {
			exact++
		}
		if usual.sheets > quick.sheets {
			better++
		}
		if usual.plan != nil {
			plans++
			if len(usual.plan.Sheets) < least {
				t.Fatalf("case %d: a plan of %d sheets, trying all finds %d", i, len(usual.plan.Sheets), least)
			}
			judged(t, p, usual.plan)
		}
	}
	t.Logf("of %d: %d exact, %d better than fractions, %d plans", n, exact, better, plans)
	if exact < n*95/100 || better < 5 || plans < n/2 {
		t.Errorf("of %d: %d exact, %d better than fractions, %d plans", n, exact, better, plans)
	}
}

// Plans that are found on the way to the bounds of cabinets, several kinds of sheet and
// panels that turn among them, pass the judge and cost no less than the bound.
func TestWholeCabinets(t *testing.T) {
	plans, raised := 0, 0
	for seed := range uint64(6) {
		p := cabinets.New(seed, cabinets.Wishes{Panels: 25 + 5*int(seed), Stocks: 1 + int(seed)%3})
		for _, m := range p.Materials() {
			quick := ofMaterial(context.Background(), p, m, Wishes{Effort: Quick}, 10_000_000)
			usual := ofMaterial(context.Background(), p, m, Wishes{Effort: Usual}, 100_000_000)
			if usual.cost > quick.cost {
				raised++
			}
			if usual.plan == nil {
				continue
			}
			plans++
			sub, partOf, stockOf := p.Subset(m)
			if cost := spent(p, usual.plan); cost < usual.cost {
				t.Errorf("seed %d: a plan for %d, the bound is %d", seed, cost, usual.cost)
			}
			judged(t, sub, usual.plan.Within(partOf, stockOf))
		}
	}
	t.Logf("%d plans, %d bounds raised", plans, raised)
	if plans < 5 || raised < 1 {
		t.Errorf("%d plans, %d bounds raised", plans, raised)
	}
}

// A bottom and a shelf of nearly its size become one, others do not, and patterns that were
// found are those of the smaller panels.
func TestAlike(t *testing.T) {
	ways := []byte{lyingLevel}
	kinds := []rectangle{
		{w: 600 * mm, h: 400 * mm, copies: 4, ways: ways, parts: []int{0}},
		{w: 900 * mm, h: 560 * mm, copies: 6, ways: ways, parts: []int{1}},
		{w: 598 * mm, h: 395 * mm, copies: 8, ways: ways, parts: []int{2}},
	}
	p := newPricing(kinds, []sheet{{w: 1200 * mm, h: 800 * mm, cost: 1, available: parts.Unlimited}}, 1_000_000)
	p.found = []layout{{0, []float64{3, 0, 1}}, {0, []float64{0, 1, 0}}}
	duals := []float64{1, 4, 1}
	mix := []int{9}
	slack := slackOf(p, mix, duals)
	if slack != 0 {
		t.Fatalf("the slack is %v: nine sheets hold what is wanted to the last", slack)
	}
	q := alike(p, mix, duals, slack, func() bool { return false })
	if len(q.kinds) != 2 || q.kinds[0].w != 900*mm {
		t.Fatalf("%+v", q.kinds)
	}
	if k := q.kinds[1]; k.w != 598*mm || k.h != 395*mm || k.copies != 12 || k.parts != nil {
		t.Errorf("%+v, want twelve of 598 x 395", k)
	}
	if want := []float64{0, 4}; !slices.Equal(q.found[0].counts, want) || !slices.Equal(q.found[1].counts, []float64{1, 0}) {
		t.Errorf("%+v", q.found)
	}
	// In 1194 x 790 only the smaller one makes four.
	p = newPricing(kinds, []sheet{{w: 1196 * mm, h: 790 * mm, cost: 1, available: parts.Unlimited}}, 1_000_000)
	duals = []float64{2, 4, 1}
	if q := alike(p, mix, duals, slackOf(p, mix, duals), func() bool { return false }); len(q.kinds) != 3 {
		t.Errorf("%+v: kinds became one, and the sheets hold more by it", q.kinds)
	}
	if q := alike(p, mix, duals, 99, func() bool { return true }); q != p {
		t.Error("kinds became one when there was no time for it")
	}
}

package bound

import (
	"context"
	"slices"

	"panelyard/parts"
	"panelyard/parts/length"
)

const (
	// columnWork is how many additions all tables of patterns of a material may take
	// together.
	columnWork = 3_200_000_000
	// fillings is how often that is enough to fill them; the rasters are as fine as it
	// allows.
	fillings = 400
	// maxKinds is how many kinds of blanks a master problem may have.
	maxKinds = 250
	// perSheet is how many patterns of a kind of sheet a round may add.
	perSheet = 6
)

// The ways in which a blank may lie on a sheet, as bits.
const (
	lyingLevel = 1 << iota
	lyingUpright
)

// rectangle is a kind of blank in the master problem: panels of one size that may lie
// alike.
type rectangle struct {
	w, h   length.Length // w >= h
	copies float64       // wanted; two panels in a shared blank count half
	ways   []byte        // on each kind of sheet
	parts  []int         // that have such blanks, indices of Problem.Parts
}

// rectanglesOf returns the kinds of blanks of panels.
func rectanglesOf(panels []panel) []rectangle {
	var list []rectangle
	for i := range panels {
		q := &panels[i]
		r := rectangle{w: q.w, h: q.h, copies: q.copies, ways: slices.Clone(q.ways), parts: []int{q.part}}
		if r.w < r.h {
			r.w, r.h = r.h, r.w
			for j, w := range r.ways {
				r.ways[j] = w>>1&1 | w&1<<1
			}
		}
		k := slices.IndexFunc(list, func(o rectangle) bool { return o.w == r.w && o.h == r.h && slices.Equal(o.ways, r.ways) })
		if k < 0 {
			list = append(list, r)
			continue
		}
		list[k].copies += r.copies
		list[k].parts = append(list[k].parts, q.part)
	}
	return list
}

// columns raises b by column generation, for straight cuts only: it reports false when
// the stock cannot hold the panels.
func (b *single) columns(ctx context.Context, panels []panel, sheets []sheet, limit int) bool {
	kinds := rectanglesOf(panels)
	if limit == 0 || len(kinds) == 0 || len(kinds) > maxKinds || ctx.Err() != nil {
		return true
	}
	p := newPricing(kinds, sheets, min(limit, columnWork)/fillings)
	work := 0
	prices := b.measures()
	for i, price := range prices {
		until := limit
		if i+1 < len(prices) {
			until = limit / 8 * 7
		}
		if !b.generate(ctx, p, price, until, &work) || !b.settle(ctx, p, price, until, &work) {
			return false
		}
	}
	return b.above == 0 || b.winnow(ctx, p, work+limit/8, &work)
}

// measures returns what is to be bounded, what counts most first. Where all sheets cost the
// same, their number is all there is.
func (b *single) measures() []measure {
	if slices.ContainsFunc(b.kinds, func(s sheet) bool { return s.cost != b.kinds[0].cost }) {
		return []measure{byCost, bySheets}
	}
	return []measure{bySheets}
}

// measure is what a master problem has least of.
type measure int

const (
	bySheets measure = iota
	byCost
)

// of returns what a sheet counts.
func (m measure) of(s *sheet) int64 {
	if m == byCost {
		return s.cost
	}
	return 1
}

// bounded returns what b bounds of it.
func (m measure) bounded(b *single) int64 {
	if m == byCost {
		return b.cost
	}
	return int64(b.sheets)
}

// generate solves the master problem of Gilmore & Gomory, "A linear programming approach
// to the cutting stock problem", parts I and II, Operations Research 9 and 11, 1961 and
// 1963 (from memory): the cheapest sheets, each with a pattern, in fractions, so that
// there is enough of each kind of blank.
//
//  1. The simplex method gives each kind a dual value over the patterns there are.
//  2. These, mixed with those of the best bound so far, are weights, and the tables
//     tell what a sheet can weigh at most: a bound, whatever the weights are worth.
//  3. Patterns that weigh more than their sheet costs are added.
//
// The end is when there is none, when the bound cannot become better, or when the work
// is done. Mixing is from Wentges, "Weighted Dantzig-Wolfe decomposition for linear
// mixed-integer programming", International Transactions in Operational Research 4,
// 1997; that any weights bound, from Farley, "A note on bounding a class of linear
// programming problems, including cutting stock problems", Operations Research 38, 1990
// (both from memory).
func (b *single) generate(ctx context.Context, p *pricing, price measure, limit int, work *int) bool {
	costs, have := make([]float64, len(p.sheets)), make([]int, len(p.sheets))
	for j := range p.sheets {
		costs[j], have[j] = float64(price.of(&p.sheets[j])), p.sheets[j].available
	}
	m, err := newMaster(p, costs, have)
	if err != nil {
		return true // no weights are proposed, and nothing is lost
	}
	return b.iterate(ctx, m, limit, work, question{
		worth:   func(t *trial) (float64, bool) { return t.least(p, price), false },
		settled: func() bool { return b.settled(m, price) },
	})
}

// question is what the weights of a master problem are sought for.
type question struct {
	fits    func() bool                        // whether the solution leaves nothing to seek; may be nil
	worth   func(*trial) (z float64, all bool) // what weights are worth, and whether they are all that is sought
	settled func() bool                        // whether the bound cannot become better; may be nil
	reached float64                            // what weights must be worth at least
}

// trial is weights that were tried.
type trial struct {
	duals  []float64
	weight []int32   // whole, in proportion to duals
	most   []float64 // that a sheet of each kind weighs
	demand float64   // what all blanks weigh
}

// iterate solves a master problem by steps 1 to 3 of generate, and raises b by all weights
// that it tries.
func (b *single) iterate(ctx context.Context, m *master, limit int, work *int, q question) bool {
	p := m.p
	var best []float64
	mixing := true
	for *work < limit {
		if m.lp.Solve(ctx) != nil && ctx.Err() != nil || q.fits != nil && q.fits() {
			return true
		}
		t := trial{duals: m.weights()}
		if mixing && best != nil {
			t.duals = mixed(best, t.duals)
		}
		t.weight, t.most = p.fill(t.duals)
		*work += p.work()
		t.demand = sumOf(p, t.weight)
		if !b.cover(t.demand, t.most, columnGeneration) {
			return false
		}
		z, all := q.worth(&t)
		if (all || z > q.reached) && !b.refine(p, t.weight, t.most) {
			return false
		}
		if z > q.reached {
			q.reached, best = z, t.duals
		}
		if all || q.settled != nil && q.settled() {
			return true
		}
		added := m.extend()
		if p.coarse > 0 {
			added += m.drop(&t, added == 0 && !mixing)
		}
		if added == 0 && (!mixing || best == nil) {
			return true
		}
		mixing = added > 0
	}
	return true
}

// least returns what weights bound in fractions of sheets, the cheapest for what they hold
// first.
func (t *trial) least(p *pricing, price measure) float64 {
	var kinds []kind
	for j := range p.sheets {
		if t.most[j] > 0 {
			kinds = append(kinds, kind{t.most[j], price.of(&p.sheets[j]), p.sheets[j].available})
		}
	}
	cost, demand := 0.0, t.demand
	for _, k := range sorted(kinds) {
		n := demand / k.capacity
		if k.available != parts.Unlimited {
			n = min(n, float64(k.available))
		}
		cost += n * float64(k.cost)
		demand -= n * k.capacity
	}
	return cost
}

// refine raises b by whole weights put through functions: weights of panels on a sheet
// are like lengths in a row.
func (b *single) refine(p *pricing, weight []int32, most []float64) bool {
	whole := length.Length(slices.Max(most))
	if whole == 0 {
		return true
	}
	values := make([]length.Length, len(weight))
	for i, w := range weight {
		values[i] = length.Length(w)
	}
	capacity := make([]float64, len(most))
	for _, f := range family(slices.Clone(values), whole) {
		demand := 0.0
		for i, v := range values {
			demand += p.kinds[i].copies * f.at(v, whole)
		}
		for j, v := range most {
			capacity[j] = f.at(length.Length(v), whole)
		}
		if !b.cover(demand, capacity, columnGeneration) {
			return false
		}
	}
	return true
}

// settled reports whether b is what the solution of a master problem rounds up to.
func (b *single) settled(m *master, price measure) bool {
	var kinds []kind
	for j := range m.p.sheets {
		s := &m.p.sheets[j]
		if c := price.of(s); c > 0 {
			kinds = append(kinds, kind{float64(c), c, s.available})
		}
	}
	if len(kinds) == 0 {
		return true
	}
	z := m.lp.Value() * (1 - 1e-6)
	if z <= 0 {
		return true
	}
	return price.bounded(b) >= leastCost(z, kinds)
}

// mixed returns the mean of two sets of weights.
func mixed(a, b []float64) []float64 {
	c := make([]float64, len(a))
	for i := range c {
		c[i] = (a[i] + b[i]) / 2
	}
	return c
}

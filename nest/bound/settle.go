package bound

import (
	"context"
	"fmt"
	"math"
	"slices"
)

// settle raises b by looking at the cheapest mix of sheets that is not ruled out, again
// and again: conditions that rule it out are sought, until there are none, or the work
// is done. Conditions from the dual values of a lesser problem are those of Benders,
// "Partitioning procedures for solving mixed-variables programming problems", Numerische
// Mathematik 4, 1962 (from memory).
func (b *single) settle(ctx context.Context, p *pricing, price measure, limit int, work *int) bool {
	for *work < limit && ctx.Err() == nil && b.mix[price] != nil {
		if b.tell != nil && b.cost > b.told {
			b.told = b.cost
			b.tell()
		}
		mix := b.mix[price]
		stands := func() bool { return b.mix[price] != nil && slices.Equal(mix, b.mix[price]) }
		if !b.refute(ctx, p, mix, limit, work) {
			return false
		}
		if !stands() {
			continue
		}
		// The panels fit it in fractions of patterns.
		if price != b.measures()[0] || b.whole == nil || len(p.kinds) > mostWhole {
			return true
		}
		if b.until == 0 {
			b.until = *work + b.wholeWork
		}
		fine := b.finer(p, b.until-*work)
		if fine != p && !b.refute(ctx, fine, mix, limit, work) {
			return false
		}
		if !stands() {
			continue
		}
		if !b.ask(ctx, fine, mix, min(limit, b.until), work) {
			return true
		}
		b.barred = append(b.barred, mix)
		b.remix(wholePatterns, func(n []int) bool { return slices.Equal(n, mix) })
	}
	return true
}

// ask tells whether a mix that has enough in fractions of patterns is ruled out. A plan that
// it finds is kept.
func (b *single) ask(ctx context.Context, p *pricing, mix []int, limit int, work *int) bool {
	w := &whole{ctx: ctx, b: b, mix: mix, until: limit, work: work}
	return w.decide(p) == ruledOut
}

// finer returns the pricing that whole patterns are asked about: one with finer rasters,
// where lengths were rounded and there is work left for it.
func (b *single) finer(p *pricing, left int) *pricing {
	if b.fine == nil {
		b.fine = p
		if most := finer * p.most; !p.exact && most*leastTables < left {
			b.fine = newPricing(p.kinds, p.sheets, most)
			b.fine.found, b.fine.coarse = slices.Clone(p.found), len(p.found)
		}
	}
	return b.fine
}

// refute seeks weights with which the sheets of a mix hold too little. The master problem
// has those sheets for nothing, and pays for blanks that are missing.
func (b *single) refute(ctx context.Context, p *pricing, mix []int, limit int, work *int) bool {
	m, err := newMaster(p, make([]float64, len(mix)), mix)
	if err != nil {
		return true
	}
	return b.iterate(ctx, m, limit, work, question{
		fits: func() bool { return m.lp.Value() < 1e-7 },
		worth: func(t *trial) (float64, bool) {
			held := holds(mix, t.most)
			sum, whole := 0.0, 0.0
			for i, w := range t.weight {
				sum += t.duals[i]
				whole += float64(w)
			}
			return (t.demand - held) * sum / max(whole, 1), held < t.demand*(1-slack)
		},
		reached: math.Inf(-1),
	})
}

// mostWinnowed is how many mixes are looked at that cost more than the cheapest.
const mostWinnowed = 40

// winnow seeks conditions that rule out mixes of sheets that cost a little more than the
// cheapest: who looks for plans of them would do so in vain.
func (b *single) winnow(ctx context.Context, p *pricing, limit int, work *int) bool {
	seen := map[string]bool{}
	for range mostWinnowed {
		list := b.open()
		i := slices.IndexFunc(list, func(mix []int) bool { return !seen[fmt.Sprint(mix)] })
		if i < 0 || *work >= limit || ctx.Err() != nil {
			return true
		}
		seen[fmt.Sprint(list[i])] = true
		if !b.refute(ctx, p, list[i], limit, work) {
			return false
		}
	}
	return true
}

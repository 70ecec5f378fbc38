package bound

import (
	"cmp"
	"slices"

	"panelyard/parts/length"
)

// nearlyAlike is how many hundredths of the larger of two kinds a rectangle has at least
// that both hold, for them to be looked at as one.
const nearlyAlike = 85

// alike returns a pricing in which pairs of kinds that are nearly alike became one, as small
// as each of the two, as long as the weights prove as much of the sheets of a mix: their
// slack grows to most at most. Panels that became smaller fit wherever they fitted, so what
// such kinds rule out is ruled out. They are fewer, and so are their patterns: a shelf and a
// bottom in each other's place make one.
//
// Cost: a table for each pair that is tried, those of least loss first.
func alike(p *pricing, mix []int, duals []float64, most float64, spent func() bool) *pricing {
	kinds, duals := p.kinds, slices.Clone(duals)
	best := p
	type pair struct {
		i, k int
		loss float64
	}
	sizes := func(i, k int) [4]length.Length {
		a, b := &kinds[i], &kinds[k]
		return [4]length.Length{a.w, a.h, b.w, b.h}
	}
	tried := map[[4]length.Length]bool{}
	for !spent() {
		var list []pair
		for i := range kinds {
			for k := range i {
				a, b := &kinds[i], &kinds[k]
				if !slices.Equal(a.ways, b.ways) || tried[sizes(i, k)] {
					continue
				}
				both := boxArea(min(a.w, b.w), min(a.h, b.h))
				if 100*both < nearlyAlike*max(boxArea(a.w, a.h), boxArea(b.w, b.h)) {
					continue
				}
				list = append(list, pair{i, k, a.copies*(boxArea(a.w, a.h)-both) + b.copies*(boxArea(b.w, b.h)-both)})
			}
		}
		slices.SortStableFunc(list, func(a, b pair) int { return cmp.Compare(a.loss, b.loss) })
		found := false
		for _, c := range list {
			a, b := kinds[c.i], kinds[c.k]
			tried[sizes(c.i, c.k)] = true
			one := a
			one.w, one.h, one.copies, one.parts = min(a.w, b.w), min(a.h, b.h), a.copies+b.copies, nil
			worth := (duals[c.i]*a.copies + duals[c.k]*b.copies) / one.copies
			less := append(without(kinds, c.i, c.k), one)
			worths := append(without(duals, c.i, c.k), worth)
			q := best.like(less)
			if slackOf(q, mix, worths) <= most {
				// Patterns of the larger panels are patterns of the smaller ones.
				for _, f := range best.found {
					counts := append(without(f.counts, c.i, c.k), f.counts[c.i]+f.counts[c.k])
					q.found = append(q.found, layout{f.sheet, counts})
				}
				best, kinds, duals, found = q, less, worths, true
				break
			}
			if spent() {
				break
			}
		}
		if !found {
			break
		}
	}
	return best
}

func boxArea(w, h length.Length) float64 { return float64(w) * float64(h) }

// without returns a list without two of its elements.
func without[T any](list []T, i, k int) []T {
	var rest []T
	for n, v := range list {
		if n != i && n != k {
			rest = append(rest, v)
		}
	}
	return rest
}

// slackOf returns by how much the sheets of a mix hold more than what is wanted, in weights
// in proportion to some, as a share of that.
func slackOf(p *pricing, mix []int, duals []float64) float64 {
	weight, most := p.fill(duals)
	wanted := sumOf(p, weight)
	return (holds(mix, most) - wanted) / max(wanted, 1)
}

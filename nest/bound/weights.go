package bound

import (
	"math"
	"slices"
)

// weights seeks weights of least slack. They are of the master problem in which what a
// sheet costs is its area. It returns a slack below 0 when the mix holds too little, and
// no weights when none are found.
func (w *whole) weights(p *pricing) (duals []float64, slack float64) {
	m, err := newMaster(p, areasOf(p, w.mix), w.mix)
	slack = math.Inf(1)
	if err != nil {
		return nil, slack
	}
	type tried struct {
		duals []float64
		slack float64
	}
	var all []tried
	w.b.iterate(w.ctx, m, w.until, w.work, question{
		worth: func(t *trial) (float64, bool) {
			if t.demand > 0 {
				s := (holds(w.mix, t.most) - t.demand) / t.demand
				all = append(all, tried{slices.Clone(t.duals), s})
				if s < slack {
					slack, duals = s, all[len(all)-1].duals
				}
			}
			return -slack, slack < 0
		},
		reached: math.Inf(-1),
	})
	if slack < 0 || duals == nil {
		return duals, slack
	}
	// The mean of good weights is good, and fewer patterns are worth as much by all.
	mean := make([]float64, len(duals))
	for _, t := range all {
		if t.slack <= slack+max(slack/20, leastMore) {
			sum := sumOf(p, t.duals)
			for k, v := range t.duals {
				mean[k] += v / sum
			}
		}
	}
	most := slack + max(slack/10, leastMore)
	if s := slackOf(p, w.mix, mean); s < most {
		duals, slack = mean, s
	}
	*w.work += p.work()
	return duals, slack
}

// areasOf returns the areas of sheets as shares of all the area that a mix has.
func areasOf(p *pricing, mix []int) []float64 {
	list := make([]float64, len(mix))
	sum := 0.0
	for j := range list {
		list[j] = boxArea(p.sheets[j].w, p.sheets[j].h)
		sum += list[j] * float64(mix[j])
	}
	for j := range list {
		list[j] /= sum
	}
	return list
}

// sumOf returns what all panels weigh together.
func sumOf[T int32 | float64](p *pricing, weights []T) float64 {
	sum := 0.0
	for k, w := range weights {
		sum += float64(w) * p.kinds[k].copies
	}
	return sum
}

// leaning returns weights with a fiftieth of them in proportion to areas, so that there are none
// of zero: who seeks a plan needs to know of all panels.
func leaning(p *pricing, duals []float64) []float64 {
	return leanedTo(p, duals, p.boxAreas(), 0.02)
}

// boxAreas returns the areas of the kinds of blanks.
func (p *pricing) boxAreas() []float64 {
	areas := make([]float64, len(p.kinds))
	for k := range areas {
		areas[k] = boxArea(p.kinds[k].w, p.kinds[k].h)
	}
	return areas
}

const (
	// leanTilt is which part of weights at most is tilts that they lean to, and moreSlack how many
	// times the slack may be then.
	leanTilt, moreSlack = 0.02, 1.3
)

// towards returns weights that lean to tilts, as far as their slack hardly grows: the more it is, the
// farther the heaviest patterns are from what a sheet is said to hold, and take longer to list.
func (w *whole) towards(p *pricing, weights, tilt []float64) []float64 {
	most := max(moreSlack*slackOf(p, w.mix, weights), leastMore)
	*w.work += p.work()
	part := leanTilt
	for ; part > leanTilt/1024; part /= 2 {
		leaned := leanedTo(p, weights, tilt, part)
		*w.work += p.work()
		if slackOf(p, w.mix, leaned) <= most || w.spent() {
			return leaned
		}
	}
	return leanedTo(p, weights, tilt, part)
}

// leanedTo returns weights of which others have a part.
func leanedTo(p *pricing, weights, others []float64, part float64) []float64 {
	sum, all := sumOf(p, weights), sumOf(p, others)
	list := make([]float64, len(weights))
	for k := range list {
		list[k] = (1-part)*weights[k]/sum + part*others[k]/all
	}
	return list
}

package bound

import (
	"cmp"
	"slices"

	"panelyard/nest/bound/simplex"
)

// relax solves the program of a twig, drops patterns that cannot be in a solution, and
// returns how often the program takes the others. It returns nothing when it finds out that
// there is no solution, or cannot solve the program.
func (t *choice) relax(w *twig) (x []float64, value float64, v verdict) {
	lp, err := t.program(w)
	if err != nil {
		return nil, 0, undecided
	}
	kinds := len(t.wanted)
	first := lp.Columns()
	in := make(map[int32]int, 2*mostLikely)
	put := func(c int32) {
		in[c] = lp.Columns() - first
		q := &t.columns[c]
		var col simplex.Column
		for _, s := range q.shares {
			col.Put(int(s.kind), float64(s.copies))
		}
		for i := range w.features {
			if n := t.times(&w.features[i], int(c)); n > 0 {
				col.Put(kinds+i, float64(n))
			}
		}
		col.Put(kinds+len(w.features)+q.sheet, 1)
		lp.Add(t.areas[q.sheet], col)
	}
	for _, c := range w.likely {
		put(c)
	}
	gain := make([]float64, len(w.list))
	for {
		before := lp.Pivots()
		err := lp.Solve(t.ctx)
		*t.work += (lp.Pivots() - before) * (3*lp.Rows()*lp.Rows() + 20*lp.Columns())
		if err != nil {
			return nil, 0, undecided
		}
		duals := lp.Duals()
		worst := t.gains(w, duals, gain)
		*t.work += len(w.list) * (10 + len(w.features))
		if worst > -1e-9 {
			break
		}
		added := 0
		for _, i := range worstOf(gain) {
			if _, ok := in[w.list[i]]; !ok {
				put(w.list[i])
				added++
			}
		}
		if added == 0 {
			break
		}
	}
	w.worth = slices.Clone(lp.Duals()[kinds : kinds+len(w.features)])
	if !t.prune(w, lp.Duals()) {
		return nil, lp.Value(), ruledOut
	}
	all := lp.X(first)
	x = make([]float64, len(w.list))
	for i, c := range w.list {
		if n, ok := in[c]; ok {
			x[i] = all[n]
		}
	}
	w.likely = nil
	type likely struct {
		column int32
		gain   float64
	}
	var near []likely
	for _, c := range w.list {
		if n, ok := in[c]; ok {
			near = append(near, likely{c, lp.Reduced(t.areas[t.columns[c].sheet], lp.Column(first+n))})
		}
	}
	slices.SortStableFunc(near, func(a, b likely) int { return cmp.Compare(a.gain, b.gain) })
	for _, l := range near[:min(len(near), mostLikely)] {
		w.likely = append(w.likely, l.column)
	}
	return x, lp.Value(), undecided
}

// program returns the program of a twig without patterns: what a miss costs is more than
// any area.
func (t *choice) program(w *twig) (*simplex.Master, error) {
	var rows, unit []float64
	for k, n := range t.wanted {
		rows, unit = append(rows, float64(n)*(1+1e-7*float64(1+k*7%13))), append(unit, 2)
	}
	for i := range w.features {
		rows, unit = append(rows, float64(w.features[i].wanted)), append(unit, 2)
	}
	for _, n := range t.mix {
		rows, unit = append(rows, float64(n)), append(unit, 0)
	}
	lp, err := simplex.New(rows, unit)
	if err != nil {
		return nil, err
	}
	for i := range len(t.wanted) + len(w.features) {
		lp.Add(0, simplex.Column{Rows: []int{i}, Values: []float64{-1}})
	}
	return lp, nil
}

// gains works out the reduced costs of all patterns of a twig, and returns the least.
func (t *choice) gains(w *twig, duals, gain []float64) float64 {
	kinds := len(t.wanted)
	var worth []int // features that are
	for i := range w.features {
		if duals[kinds+i] != 0 {
			worth = append(worth, i)
		}
	}
	worst := 0.0
	for i, c := range w.list {
		q := &t.columns[c]
		g := t.areas[q.sheet] - duals[kinds+len(w.features)+q.sheet]
		for _, s := range q.shares {
			g -= duals[s.kind] * float64(s.copies)
		}
		for _, f := range worth {
			if n := t.times(&w.features[f], int(c)); n > 0 {
				g -= duals[kinds+f] * float64(n)
			}
		}
		gain[i] = g
		worst = min(worst, g)
	}
	return worst
}

// prune drops the patterns that weigh too little, by weights in proportion to dual values.
// It reports false when the sheets of the mix hold too little.
func (t *choice) prune(w *twig, duals []float64) bool {
	kinds := len(t.wanted)
	wanted := slices.Clone(t.wanted)
	for i := range w.features {
		wanted = append(wanted, w.features[i].wanted)
	}
	all := 0.0
	for i, n := range wanted {
		all += max(0, duals[i]) * float64(n)
	}
	if all == 0 {
		return true
	}
	weight := make([]int64, len(wanted))
	for i := range wanted {
		weight[i] = int64(max(0, duals[i]) / all * (1 << 45))
	}
	most := make([]int64, len(t.mix))
	value := make([]int64, len(w.list))
	for i, c := range w.list {
		q := &t.columns[c]
		v := int64(0)
		for _, s := range q.shares {
			v += weight[s.kind] * int64(s.copies)
		}
		for f := range w.features {
			if weight[kinds+f] > 0 {
				v += weight[kinds+f] * int64(t.times(&w.features[f], int(c)))
			}
		}
		value[i] = v
		most[q.sheet] = max(most[q.sheet], v)
	}
	slack := int64(0)
	for j, n := range t.mix {
		slack += int64(n) * most[j]
	}
	for i, n := range wanted {
		slack -= int64(n) * weight[i]
	}
	if slack < 0 {
		return false
	}
	kept := w.list[:0]
	for i, c := range w.list {
		if value[i] >= most[t.columns[c].sheet]-slack {
			kept = append(kept, c)
		}
	}
	w.list = kept
	return true
}

// worstOf returns the places of the mostAdded reduced costs that are farthest below zero.
func worstOf(gain []float64) []int {
	var at []int
	for i, g := range gain {
		if g < -1e-9 {
			at = append(at, i)
		}
	}
	slices.SortFunc(at, func(a, b int) int { return cmp.Or(cmp.Compare(gain[a], gain[b]), cmp.Compare(a, b)) })
	return at[:min(len(at), mostAdded)]
}

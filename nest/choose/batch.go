package choose

import (
	"context"
	"fmt"
	"slices"
	"time"

	"panelyard/nest"
	"panelyard/nest/check"
	"panelyard/parts"
)

// Batch is the plans for 1, 2, 3 and more of what a problem asks for, each as good as
// those beside it allow. Materials do not share sheets, so each takes the best of
//
//   - a plan of its own, as [Plan] makes it;
//   - the plan for one less with its fullest sheets kept and the others planned again,
//     with what one more asks for;
//   - the sum of the plans for a and b, where a + b is the number and the stock suffices;
//   - the plan for one less and a plan for one on stock that never runs out;
//   - the plan for one more without the panels of one.
//
// So of two plans in which every panel has a place, [Batch.Plans] promises:
//
//  1. none costs more than the plan for one more;
//  2. none costs more than those for a and b together, where no stock is limited; in
//     particular not more than so many single plans;
//  3. where some is limited, none costs more than the plan for one less and the plan for
//     one on the stock that is not, if there is one.
//
// Where sheets cost together other than their sum ([nest.Problem.Bill]), a number takes the
// plan of its own, and nothing is promised: what is cheapest for one need not be for two.
//
// 1 has an exception: a shared blank of a saw is not taken apart, so that a plan may
// have no panels of one to be left out. The method is ours.
type Batch struct {
	one     *nest.Problem
	every   []string                // the materials
	best    []map[string]*nest.Plan // by number less one and material
	bounds  []nest.Bound
	stats   []nest.Stats
	endless *nest.Plan // for one, on stock that is not limited; nil when there is none
}

// NewBatch returns a batch of a problem without plans yet.
func NewBatch(p *nest.Problem) *Batch { return &Batch{one: p, every: p.Materials()} }

// Len returns how many numbers have plans.
func (b *Batch) Len() int { return len(b.best) }

// Next plans for one more. The settings are for each search; a limit above 0 is one of
// time, which the searches share. When the context ends, its error is returned and the
// batch is as before: a plan with less than its budget does not count. Other errors are
// those of [Plan]. Cost: a plan for all of them and one for about two.
func (b *Batch) Next(ctx context.Context, limit time.Duration, s nest.Settings) error {
	until := ctx
	if limit > 0 {
		limited, cancel := context.WithTimeout(ctx, limit)
		defer cancel()
		until = limited
	}
	best, r, err := b.next(until, s)
	switch {
	case err != nil:
		return err
	case ctx.Err() != nil:
		return ctx.Err()
	}
	b.best = append(b.best, best)
	b.bounds = append(b.bounds, r.Bound)
	b.stats = append(b.stats, r.Stats)
	n := b.Len()
	if n > 1 && b.one.Bill == nil {
		// What the panels of fewer need, those of more need as well.
		last, bound := b.bounds[n-2], &b.bounds[n-1]
		bound.Sheets, bound.Cost = max(bound.Sheets, last.Sheets), max(bound.Cost, last.Cost)
	}
	for _, m := range b.every {
		if b.one.Bill == nil {
			b.sums(n, m)
		}
	}
	return nil
}

// next searches for the plans for one more, a material each.
func (b *Batch) next(ctx context.Context, s nest.Settings) (map[string]*nest.Plan, *nest.Result, error) {
	n := b.Len() + 1
	p := b.one.Times(n)
	own, cancel := share(ctx, 2, 3)
	r, err := Plan(own, p, s)
	cancel()
	if err != nil {
		return nil, nil, err
	}
	if n == 1 && b.one.Bill == nil {
		if err := b.planEndless(ctx, s); err != nil {
			return nil, nil, err
		}
	}
	best := map[string]*nest.Plan{}
	for _, m := range b.every {
		best[m] = only(p, r.Plan, m)
		if n == 1 || b.one.Bill != nil {
			continue
		}
		again, err := b.again(ctx, m, s)
		if err != nil {
			return nil, nil, err
		}
		if better(p, again, best[m]) {
			best[m] = again
		}
	}
	return best, r, nil
}

// planEndless plans for one on stock that is not limited, if some of it is.
func (b *Batch) planEndless(ctx context.Context, s nest.Settings) error {
	q := *b.one
	q.Stocks = slices.Clone(q.Stocks)
	limited := false
	for i := range q.Stocks {
		if st := &q.Stocks[i]; st.Available != parts.Unlimited {
			st.Available, limited = 0, true
		}
	}
	if !limited {
		return nil
	}
	r, err := Plan(ctx, &q, s)
	if err != nil {
		return err
	}
	b.endless = r.Plan
	return nil
}

// again returns the plan for one more than there are plans for with the fullest sheets
// of the last one kept, and the others planned again with what one more asks for.
func (b *Batch) again(ctx context.Context, material string, s nest.Settings) (*nest.Plan, error) {
	last := b.best[b.Len()-1][material]
	sub, partOf, stockOf := b.one.Subset(material)
	index := map[int]int{} // of parts, in sub
	for i, part := range partOf {
		index[part] = i
	}
	keep := slices.Clone(last.Sheets)
	slices.SortStableFunc(keep, func(x, y nest.Sheet) int {
		// Per thousand: sheets about as full keep their order.
		return int(1000*b.fill(&y)) - int(1000*b.fill(&x))
	})
	open := sub.Copies() // how many panels are taken off their sheets
	for _, u := range last.Unplaced {
		sub.Parts[index[u.Part]].Copies += u.Copies
	}
	for open > 0 && len(keep) > 0 {
		end := &keep[len(keep)-1]
		for _, pl := range end.Placements {
			sub.Parts[index[pl.Part]].Copies++
		}
		open -= len(end.Placements)
		keep = keep[:len(keep)-1]
	}
	for i := range sub.Stocks {
		if st := &sub.Stocks[i]; st.Available != parts.Unlimited {
			st.Available -= taken(keep, stockOf[i])
		}
	}
	s.Watch = nil // its plans are of a few sheets
	c, err := one(ctx, sub, s)
	if err != nil {
		return nil, err
	}
	out := &nest.Plan{Sheets: keep}
	join(out, c.Plan, partOf, stockOf)
	return out, nil
}

// fill returns the share of a sheet that lies in panels.
func (b *Batch) fill(sh *nest.Sheet) float64 {
	sum := 0.0
	for _, pl := range sh.Placements {
		sum += float64(b.one.Parts[pl.Part].Shape.Area2()) / 2
	}
	size := b.one.Stocks[sh.Stock].Size
	return sum / (float64(size.X) * float64(size.Y))
}

// sums puts the best sum of two plans in the place of that for n where it is better, and
// reports whether it did.
func (b *Batch) sums(n int, material string) bool {
	found := false
	try := func(x, y *nest.Plan) {
		sum := &nest.Plan{Sheets: slices.Concat(x.Sheets, y.Sheets), Unplaced: slices.Concat(x.Unplaced, y.Unplaced)}
		if b.inStock(sum) && better(b.one, sum, b.best[n-1][material]) {
			b.best[n-1][material], found = sum, true
		}
	}
	for k := 1; k <= n/2; k++ {
		try(b.best[n-k-1][material], b.best[k-1][material])
	}
	if b.endless != nil && n > 1 {
		try(b.best[n-2][material], only(b.one, b.endless, material))
	}
	return found
}

// inStock reports whether there are as many sheets as a plan takes.
func (b *Batch) inStock(plan *nest.Plan) bool {
	for i := range b.one.Stocks {
		if most := b.one.Stocks[i].Available; most != parts.Unlimited && taken(plan.Sheets, i) > most {
			return false
		}
	}
	return true
}

// taken returns how many of the sheets are of a stock.
func taken(sheets []nest.Sheet, stock int) int {
	n := 0
	for i := range sheets {
		if sheets[i].Stock == stock {
			n++
		}
	}
	return n
}

// only returns what of a plan is of a material.
func only(p *nest.Problem, plan *nest.Plan, material string) *nest.Plan {
	out := &nest.Plan{}
	for _, sh := range plan.Sheets {
		if p.Stocks[sh.Stock].Material == material {
			out.Sheets = append(out.Sheets, sh)
		}
	}
	for _, u := range plan.Unplaced {
		if p.Parts[u.Part].Material == material {
			out.Unplaced = append(out.Unplaced, u)
		}
	}
	return out
}

// Numbered is the plan for a number of what a problem asks for.
type Numbered struct {
	Number  int
	Problem *nest.Problem // for so many
	Result  *nest.Result
}

// Plans returns the plans for 1, 2, 3 and more with what the type promises. The error is
// for a plan the judge refused, which is a defect of ours.
func (b *Batch) Plans() ([]Numbered, error) {
	for changed := b.one.Bill == nil; changed; {
		changed = false
		for n := b.Len() - 1; n >= 1; n-- {
			for _, m := range b.every {
				changed = b.lessOne(n, m) || changed
			}
		}
		for n := 2; n <= b.Len(); n++ {
			for _, m := range b.every {
				changed = b.sums(n, m) || changed
			}
		}
	}
	var list []Numbered
	for i, best := range b.best {
		x := Numbered{i + 1, b.one.Times(i + 1), &nest.Result{Plan: &nest.Plan{}, Bound: b.bounds[i], Stats: b.stats[i]}}
		plan := x.Result.Plan
		for _, m := range b.every {
			plan.Sheets = append(plan.Sheets, best[m].Sheets...)
			plan.Unplaced = append(plan.Unplaced, best[m].Unplaced...)
		}
		renumber(plan, len(b.one.Parts))
		if err := check.Plan(x.Problem, plan); err != nil {
			return nil, fmt.Errorf("the plan for %d was refused by the judge, a defect of panelyard: %w", x.Number, err)
		}
		x.Result.Status = status(x.Problem, plan, x.Result.Bound)
		list = append(list, x)
	}
	return list, nil
}

// renumber numbers the copies of each part in the order of the sheets, and lists those
// without a place once. What is changed is no longer shared with other plans.
func renumber(plan *nest.Plan, kinds int) {
	last := make([]int, kinds)
	for i := range plan.Sheets {
		sh := &plan.Sheets[i]
		sh.Placements = slices.Clone(sh.Placements)
		for k := range sh.Placements {
			pl := &sh.Placements[k]
			last[pl.Part]++
			pl.Copy = last[pl.Part]
		}
	}
	var list []nest.Unplaced
	for _, u := range plan.Unplaced {
		if n := slices.IndexFunc(list, func(x nest.Unplaced) bool { return x.Part == u.Part }); n >= 0 {
			list[n].Copies += u.Copies
			continue
		}
		list = append(list, u)
	}
	plan.Unplaced = list
}

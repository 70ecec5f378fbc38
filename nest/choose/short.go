package choose

import (
	"cmp"
	"context"
	"slices"

	"panelyard/nest"
)

const (
	// shortKinds is how many kinds of panel are tried to be left out.
	shortKinds = 6
	// shortRounds is the rounds of such a try.
	shortRounds = 8
)

// short betters a plan in which panels lack a place because the stock is short: it plans
// without a copy of one of the largest panels, as the search of a router likes to place
// what is large first, and goes on while less area lacks a place. Cost: six plans of a
// few rounds, for each panel that is left out.
func short(ctx context.Context, p *nest.Problem, best *candidate, s nest.Settings) (*candidate, error) {
	if s.Budget <= 0 || s.Budget > shortRounds {
		s.Budget = shortRounds
	}
	s.Watch = nil
	q := *p
	q.Parts = slices.Clone(p.Parts)
	for range p.Copies() {
		if !slices.ContainsFunc(best.Plan.Unplaced, func(u nest.Unplaced) bool { return u.Reason == nest.RanOut }) {
			break
		}
		gained := -1
		for _, i := range largest(&q) {
			if ctx.Err() != nil {
				return best, nil
			}
			q.Parts[i].Copies--
			next, err := plain(ctx, &q, s)
			q.Parts[i].Copies++
			if err != nil {
				return nil, err
			}
			// Copies are numbered from 1 on, so the last one is the one left out.
			leave(next.Plan, i, 1)
			for k := range p.Parts {
				if n := p.Parts[k].Copies - q.Parts[k].Copies; n > 0 {
					leave(next.Plan, k, n)
				}
			}
			if better(p, next.Plan, best.Plan) {
				best, gained = next, i
			}
		}
		if gained < 0 {
			break
		}
		q.Parts[gained].Copies--
	}
	return best, nil
}

// largest returns the parts with copies that have the largest areas.
func largest(p *nest.Problem) []int {
	var list []int
	for i := range p.Parts {
		if p.Parts[i].Copies > 0 {
			list = append(list, i)
		}
	}
	slices.SortStableFunc(list, func(a, b int) int {
		return -cmp.Compare(p.Parts[a].Shape.Area2(), p.Parts[b].Shape.Area2())
	})
	return list[:min(len(list), shortKinds)]
}

// leave adds copies of a part to those without a place.
func leave(plan *nest.Plan, part, copies int) {
	for i := range plan.Unplaced {
		if plan.Unplaced[i].Part == part {
			plan.Unplaced[i].Copies += copies
			return
		}
	}
	plan.Unplaced = append(plan.Unplaced, nest.Unplaced{Part: part, Copies: copies, Reason: nest.RanOut})
}

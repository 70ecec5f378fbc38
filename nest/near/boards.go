package near

import (
	"context"
	"reflect"

	"panelyard/nest"
	"panelyard/nest/bound"
	"panelyard/nest/choose"
)

// board is the problem of one material with the best plan so far.
type board struct {
	problem *nest.Problem
	Board
	seeds int // used
}

// newBoard returns a board without a plan.
func newBoard(ctx context.Context, p *nest.Problem, material string) *board {
	b := &board{problem: p}
	b.Material = material
	b.Least = bound.Of(ctx, p).Cost
	b.Missing = p.Copies() + 1 // worse than any plan
	return b
}

// boards divides a problem by material.
func boards(ctx context.Context, p *nest.Problem) []*board {
	var list []*board
	for _, m := range p.Materials() {
		sub, _, _ := p.Subset(m)
		list = append(list, newBoard(ctx, sub, m))
	}
	return list
}

// differing returns the boards of a problem that differ from those of the job, without
// plans, and the boards of the job that they take the place of.
func (s *search) differing(p *nest.Problem) (from, to []*board) {
	for _, b := range s.boards {
		if sub, _, _ := p.Subset(b.Material); !reflect.DeepEqual(sub, b.problem) {
			from = append(from, b)
			to = append(to, newBoard(s.ctx, sub, b.Material))
		}
	}
	return from, to
}

// again plans a board with its next seed and keeps the better plan. The error is of the
// context, of the plans that may be made, or of the planner.
func (s *search) again(b *board) error {
	if s.report.Plans >= s.set.MostPlans {
		return errSpent
	}
	set := nest.Settings{Seed: s.set.Seed + uint64(b.seeds), Budget: s.set.Rounds, Workers: s.set.Workers}
	r, err := choose.Plan(s.ctx, b.problem, set)
	if s.ctx.Err() != nil {
		return s.ctx.Err() // the plan has had less than its rounds
	}
	if err != nil {
		return err
	}
	s.report.Plans++
	s.progress()
	b.seeds++
	b.Plans++
	missing := 0
	for _, u := range r.Plan.Unplaced {
		missing += u.Copies
	}
	var cost int64
	var kinds []Sheets
	count := map[int]int{}
	for i := range r.Plan.Sheets {
		st := r.Plan.Sheets[i].Stock
		cost += b.problem.Stocks[st].Cost
		count[st]++
	}
	for i := range b.problem.Stocks {
		if st := &b.problem.Stocks[i]; count[i] > 0 {
			kinds = append(kinds, Sheets{st.Name, count[i], st.Offcut})
		}
	}
	if missing < b.Missing || missing == b.Missing && cost < b.Cost {
		b.Missing, b.Cost, b.Sheets = missing, cost, kinds
	}
	return nil
}

// total sums boards.
type total struct {
	missing, bought int
	cost, least     int64
	proved          bool
}

func sum(list []*board) total {
	t := total{proved: true}
	for _, b := range list {
		t.missing += b.Missing
		t.bought += b.Bought()
		t.cost += b.Cost
		t.least += b.Least
		t.proved = t.proved && b.Proved()
	}
	return t
}

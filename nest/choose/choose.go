// Package choose runs solvers on a problem, has every plan judged, and keeps the
// best one the judge accepts.
//
//	nest.Problem -> a problem a material -> solvers -> nest/check -> nest.Result
//
// Materials do not share sheets, so each is solved by itself and the plans are
// joined. For the router the saw's solver is run as well, on the boxes of the
// shapes: on square panels straight cuts are often the better plan. For the saw,
// congruent panels that interlock are tried in blanks they share; such a plan is
// kept when it costs less. With a counted budget the choice is repeatable; under a
// deadline each material gets a share of the time by its number of panels, and the
// tries share that. The easiest material comes first: what it leaves of its share is for
// the others. The bound comes before the search, or goes on beside it (study.go).
package choose

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/check"
	"panelyard/nest/router"
	"panelyard/nest/saw"
	"panelyard/parts"
	"panelyard/parts/length"
)

// Plan returns the best plan for p that the judge accepts, with its bound and
// status. Panels that found no place are listed in the plan and are no error.
// The error is for problems no solver can take, or for a plan the judge refused,
// which is a defect of ours: such a plan is never returned.
//
// Where the problem has a bill, what sheets cost together is what counts: every choice of
// yards is planned (see buying.go).
func Plan(ctx context.Context, p *nest.Problem, s nest.Settings) (*nest.Result, error) {
	if p.Bill != nil {
		return buying(ctx, p, s)
	}
	return single(ctx, p, s)
}

// aboveBound is up to how many per cent above a bound mixes of sheets are tried, and
// mostTried how many.
const aboveBound, mostTried = 8, 3000

// single is Plan with a cost for each sheet.
func single(ctx context.Context, p *nest.Problem, s nest.Settings) (*nest.Result, error) {
	start := time.Now()
	res := &nest.Result{}
	sctx, stop := context.WithCancel(ctx)
	defer stop()
	known := startStudy(sctx, p, s)
	left := p.Copies()
	found, done := map[string]*candidate{}, &nest.Plan{}
	for _, m := range p.EasiestFirst() {
		sub, partOf, stockOf := p.Subset(m)
		n := sub.Copies()
		mctx, cancel := share(ctx, n, left)
		part, err := one(mctx, sub, known.tell(watching(s, done, p, start), m, partOf, stockOf))
		cancel()
		if err != nil {
			return nil, fmt.Errorf("material %q: %w", m, err)
		}
		left -= n
		found[m] = &candidate{&nest.Plan{}, part.Stats, part.Solver}
		join(found[m].Plan, part.Plan, partOf, stockOf)
		done.Sheets = append(done.Sheets, found[m].Plan.Sheets...)
		done.Unplaced = append(done.Unplaced, found[m].Plan.Unplaced...)
	}
	for _, m := range p.Materials() {
		res.Stats.Rounds += found[m].Stats.Rounds
		res.Solver = found[m].Solver
	}
	all := known.end(p, done, stop)
	res.Plan = orStudied(p, found, all)
	if err := check.Plan(p, res.Plan); err != nil {
		return nil, fmt.Errorf("the joined plan was refused by the judge, a defect of panelyard: %w", err)
	}
	res.Bound = all.Bound()
	res.Stats.Elapsed = time.Since(start)
	res.Status = status(p, res.Plan, res.Bound)
	return res, nil
}

// status says how a plan stands to its bound.
func status(p *nest.Problem, plan *nest.Plan, b nest.Bound) nest.Status {
	switch {
	case len(plan.Unplaced) > 0:
		return nest.Incomplete
	case paid(p, plan) <= b.Cost:
		return nest.Proved
	}
	return nest.Heuristic
}

// paid returns what the sheets of a plan cost together.
func paid(p *nest.Problem, plan *nest.Plan) int64 {
	if p.Bill != nil {
		return p.Bill(p.Count(plan))
	}
	return cost(p, plan)
}

// candidate is a plan of one solver.
type candidate struct {
	Plan   *nest.Plan
	Stats  nest.Stats
	Solver string
}

// one returns the best accepted plan for a problem of one material.
func one(ctx context.Context, p *nest.Problem, s nest.Settings) (*candidate, error) {
	if list := couples(ctx, p); len(list) > 0 {
		return sharing(ctx, p, list, s)
	}
	best, err := plain(ctx, p, s)
	if err != nil || p.Cut != kerf.Router || p.Strip {
		return best, err
	}
	return short(ctx, p, best, s)
}

// plain returns the best accepted plan in which no panels share a blank.
func plain(ctx context.Context, p *nest.Problem, s nest.Settings) (*candidate, error) {
	type run struct {
		solver nest.Solver
		boxes  bool
	}
	runs := []run{{solver: saw.New()}}
	if p.Cut == kerf.Router {
		runs = []run{{solver: saw.New(), boxes: true}, {solver: router.New()}}
		if p.Strip {
			runs = runs[1:]
		}
	}
	var best *candidate
	var refused error
	for i, r := range runs {
		q := p
		rctx, cancel := ctx, context.CancelFunc(func() {})
		if r.boxes {
			q = boxes(p)
			rctx, cancel = share(ctx, 1, 4)
		}
		plan, stats, err := r.solver.Solve(rctx, q, s)
		cancel()
		if err != nil {
			if i == len(runs)-1 && best == nil {
				return nil, err
			}
			continue
		}
		if r.boxes {
			plan = unbox(plan)
		}
		if err := check.Plan(p, plan); err != nil {
			refused = fmt.Errorf("a plan of %s was refused by the judge, a defect of panelyard: %w", r.solver.Name(), err)
			continue
		}
		if best == nil || better(p, plan, best.Plan) {
			best = &candidate{plan, stats, r.solver.Name()}
		}
	}
	if best == nil {
		return nil, refused
	}
	return best, nil
}

// boxes returns p as a problem for the saw: the boxes of the shapes, a gap apart, in
// quarter turns.
func boxes(p *nest.Problem) *nest.Problem {
	q := *p
	q.Cut = kerf.Saw
	q.Saw = parts.Saw{} // straight cuts in any number of stages
	q.Parts = slices.Clone(p.Parts)
	for i := range q.Parts {
		if t := &q.Parts[i]; t.Turns != nil {
			t.Turns = slices.DeleteFunc(slices.Clone(t.Turns), func(deg int) bool { return deg%90 != 0 })
		}
	}
	q.Gap = p.Gap.EvenUp()
	q.Kerf = q.Gap
	return &q
}

// unbox makes a plan for boxes one for shapes: a router makes no straight cuts.
func unbox(plan *nest.Plan) *nest.Plan {
	for i := range plan.Sheets {
		plan.Sheets[i].Cuts = nil
	}
	return plan
}

// better reports whether plan a is better than b: more area placed, then less
// cost, then fewer sheets, then the larger offcut to keep.
func better(p *nest.Problem, a, b *nest.Plan) bool {
	return cmp.Or(
		cmp.Compare(unplacedArea(p, a), unplacedArea(p, b)),
		cmp.Compare(cost(p, a), cost(p, b)),
		cmp.Compare(bought(p, a), bought(p, b)),
		-cmp.Compare(largestKept(a), largestKept(b)),
	) < 0
}

// bought returns how many sheets of a plan are not kept offcuts.
func bought(p *nest.Problem, plan *nest.Plan) int {
	n := 0
	for i := range plan.Sheets {
		if !p.Stocks[plan.Sheets[i].Stock].Offcut {
			n++
		}
	}
	return n
}

func unplacedArea(p *nest.Problem, plan *nest.Plan) float64 {
	sum := 0.0
	for _, u := range plan.Unplaced {
		sum += float64(p.Parts[u.Part].Shape.Area2()) * float64(u.Copies)
	}
	return sum
}

func cost(p *nest.Problem, plan *nest.Plan) int64 {
	var sum int64
	for i := range plan.Sheets {
		sum += p.Stocks[plan.Sheets[i].Stock].Cost
	}
	return sum
}

func largestKept(plan *nest.Plan) int64 {
	var most int64
	for i := range plan.Sheets {
		for _, o := range plan.Sheets[i].Offcuts {
			if o.Keep {
				// In square hundredths of a millimetre, which cannot overflow.
				const unit = length.Millimetre / 100
				most = max(most, int64(o.Box.Dx()/unit)*int64(o.Box.Dy()/unit))
			}
		}
	}
	return most
}

// join appends the sheets and unplaced panels of a material's plan.
func join(to, from *nest.Plan, partOf, stockOf []int) {
	for _, sh := range from.Sheets {
		sh.Stock = stockOf[sh.Stock]
		for i := range sh.Placements {
			sh.Placements[i].Part = partOf[sh.Placements[i].Part]
		}
		to.Sheets = append(to.Sheets, sh)
	}
	for _, u := range from.Unplaced {
		u.Part = partOf[u.Part]
		to.Unplaced = append(to.Unplaced, u)
	}
}

// share returns a context that ends after the share n/of of the time ctx has
// left; ctx itself when it has no deadline.
func share(ctx context.Context, n, of int) (context.Context, context.CancelFunc) {
	end, ok := ctx.Deadline()
	if !ok || n >= of {
		return context.WithCancel(ctx)
	}
	return context.WithTimeout(ctx, time.Duration(float64(time.Until(end))*float64(n)/float64(of)))
}

// watching returns s with progress counted over the materials that are done.
func watching(s nest.Settings, done *nest.Plan, p *nest.Problem, start time.Time) nest.Settings {
	if s.Watch == nil {
		return s
	}
	watch, sheets, spent := s.Watch, len(done.Sheets), cost(p, done)
	s.Watch = func(pr nest.Progress) {
		pr.Sheets += sheets
		pr.Cost += spent
		pr.Elapsed = time.Since(start)
		watch(pr)
	}
	return s
}

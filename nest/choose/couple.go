package choose

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/bound"
	"panelyard/nest/check"
	"panelyard/nest/router"
	"panelyard/nest/saw"
	"panelyard/parts/geom"
)

// couple is two panels that may share a blank: how they lie in it, how many such
// blanks there are to be, and what share of the two blanks one of them saves.
type couple struct {
	router.Interlocked
	copies int
	saved  float64
}

// maxCouples is how many pairs of parts are looked at, those with the most board first.
const maxCouples = 16

// couples returns the couples of a problem of one material for the saw, those that
// save the largest share first. Each takes as many copies as those before it leave.
func couples(ctx context.Context, p *nest.Problem) []couple {
	if p.Cut != kerf.Saw || p.Apart <= 0 || p.Strip {
		return nil
	}
	type pair struct {
		a, b  int
		board float64
	}
	var open []int
	for i := range p.Parts {
		if p.Parts[i].Copies > 0 && p.Parts[i].MayShare() {
			open = append(open, i)
		}
	}
	var tries []pair
	for i, a := range open {
		for _, b := range open[i:] {
			n := together(a, b, p.Parts[a].Copies, p.Parts[b].Copies)
			if n > 0 && router.Congruent(&p.Parts[a], &p.Parts[b]) {
				tries = append(tries, pair{a, b, float64(n) * (blankArea(p, a) + blankArea(p, b))})
			}
		}
	}
	slices.SortStableFunc(tries, func(s, t pair) int { return -cmp.Compare(s.board, t.board) })
	var list []couple
	for _, t := range tries[:min(len(tries), maxCouples)] {
		if ctx.Err() != nil {
			return nil
		}
		in, ok := router.Interlock(p, t.a, t.b)
		if !ok {
			continue
		}
		saved := 1 - float64(in.Size.X)*float64(in.Size.Y)/(blankArea(p, t.a)+blankArea(p, t.b))
		if 100*saved >= nest.LeastSaved+1e-6 && fitsSheet(p, &in) {
			list = append(list, couple{Interlocked: in, saved: saved})
		}
	}
	slices.SortStableFunc(list, func(s, t couple) int { return -cmp.Compare(s.saved, t.saved) })
	return dealt(p, list)
}

// dealt returns the couples with the copies they take, without those that get none.
func dealt(p *nest.Problem, list []couple) []couple {
	left := make([]int, len(p.Parts))
	for i := range left {
		left[i] = p.Parts[i].Copies
	}
	var out []couple
	for _, c := range list {
		a, b := c.Places[0].Part, c.Places[1].Part
		if c.copies = together(a, b, left[a], left[b]); c.copies > 0 {
			left[a] -= c.copies
			left[b] -= c.copies
			out = append(out, c)
		}
	}
	return out
}

// together returns how many blanks two parts, or the copies of one, can share.
func together(a, b, copiesA, copiesB int) int {
	if a == b {
		return copiesA / 2
	}
	return min(copiesA, copiesB)
}

func blankArea(p *nest.Problem, part int) float64 {
	b := p.Parts[part].Blank
	return float64(b.X) * float64(b.Y)
}

// fitsSheet reports whether the shared blank fits a sheet.
func fitsSheet(p *nest.Problem, in *router.Interlocked) bool {
	q := *p
	q.Parts = []nest.Part{blankPart(p, in)}
	for j := range q.Stocks {
		room := q.Stocks[j].Usable.Size()
		for _, t := range q.Turns(0, j) {
			size := in.Size
			if t%180 == 90 {
				size = geom.Pt(size.Y, size.X)
			}
			if size.X <= room.X && size.Y <= room.Y {
				return true
			}
		}
	}
	return false
}

// blankPart returns a shared blank as a part, without copies: a rectangle, turned as
// both panels may be.
func blankPart(p *nest.Problem, in *router.Interlocked) nest.Part {
	a, b := &p.Parts[in.Places[0].Part], &p.Parts[in.Places[1].Part]
	q := nest.Part{
		Name: a.Name + " and " + b.Name, Material: a.Material, Blank: in.Size, Grain: a.Grain, OneWay: a.OneWay,
		Shape: geom.Polygon{Outer: geom.BoxFromSize(geom.Point{}, in.Size).Ring()},
	}
	for _, t := range a.Turns {
		if t%90 == 0 && slices.Contains(b.Turns, (t+in.Places[1].Turn)%360) {
			q.Turns = append(q.Turns, t)
		}
	}
	return q
}

// withBlanks returns the problem in which couples are parts of their own, after the
// others, of which fewer copies are left, and nothing else is shared.
func withBlanks(p *nest.Problem, list []couple) *nest.Problem {
	q := *p
	q.Apart = 0
	q.Parts = slices.Clone(p.Parts)
	for i := range list {
		c := &list[i]
		for _, pl := range c.Places {
			q.Parts[pl.Part].Copies -= c.copies
		}
		t := blankPart(p, &c.Interlocked)
		t.Copies = c.copies
		q.Parts = append(q.Parts, t)
	}
	return &q
}

// panelsOf makes a plan of q, which is p with couples for parts, a plan of p.
func panelsOf(p, q *nest.Problem, list []couple, plan *nest.Plan) *nest.Plan {
	out := &nest.Plan{Sheets: slices.Clone(plan.Sheets)}
	copies := make([]int, len(p.Parts))
	for i := range out.Sheets {
		var all []nest.Placement
		for _, pl := range plan.Sheets[i].Placements {
			members := []nest.Placement{pl}
			if n := pl.Part - len(p.Parts); n >= 0 {
				members = parted(p, q, &list[n].Interlocked, pl)
			}
			for _, m := range members {
				copies[m.Part]++
				m.Copy = copies[m.Part]
				all = append(all, m)
			}
		}
		out.Sheets[i].Placements = all
	}
	unplaced := make([]nest.Unplaced, len(p.Parts))
	for _, u := range plan.Unplaced {
		members := []int{u.Part}
		if n := u.Part - len(p.Parts); n >= 0 {
			members = []int{list[n].Places[0].Part, list[n].Places[1].Part}
		}
		for _, part := range members {
			unplaced[part] = nest.Unplaced{Part: part, Copies: unplaced[part].Copies + u.Copies, Reason: u.Reason}
		}
	}
	for _, u := range unplaced {
		if u.Copies > 0 {
			out.Unplaced = append(out.Unplaced, u)
		}
	}
	return out
}

// parted returns the panels of a shared blank that lies on a sheet.
func parted(p, q *nest.Problem, in *router.Interlocked, pl nest.Placement) []nest.Placement {
	whole, blank := q.Place(pl)
	shift := whole.Box().Min.Sub(geom.BoxFromSize(geom.Point{}, in.Size).Ring().Turned(pl.Turn).Box().Min)
	list := make([]nest.Placement, 0, len(in.Places))
	for _, m := range in.Places {
		_, own := p.Place(m)
		at := own.Ring().Turned(pl.Turn).Box().Min.Add(shift)
		list = append(list, nest.Placement{Part: m.Part, Turn: (m.Turn + pl.Turn) % 360, Flip: m.Flip, At: at, Shared: blank})
	}
	return list
}

// sharing returns the best plan for the saw, with shared blanks where they make it
// place more or cost less; else without, which is less work. First all couples are
// taken, then, where there are others, only the one that saves most board; neither when
// its bound says that it cannot be better. Under a deadline each gets its share of the
// time, and what is left over goes to the plan without.
func sharing(ctx context.Context, p *nest.Problem, list []couple, s nest.Settings) (*candidate, error) {
	tries := [][]couple{list}
	if len(list) > 1 {
		most := slices.MaxFunc(list, func(a, b couple) int { return cmp.Compare(a.board(p), b.board(p)) })
		tries = append(tries, dealt(p, []couple{most}))
	}
	sctx, cancel := share(ctx, 1, 1+len(tries))
	best, err := plain(sctx, p, s)
	cancel()
	if err != nil {
		return nil, err
	}
	rounds := best.Stats.Rounds
	tries = slices.DeleteFunc(tries, func(list []couple) bool {
		return len(best.Plan.Unplaced) == 0 && cost(p, best.Plan) <= bound.Study(ctx, withBlanks(p, list), bound.Wishes{}).Bound().Cost
	})
	if _, timed := ctx.Deadline(); timed && len(tries) == 0 && ctx.Err() == nil {
		again, err := plain(ctx, p, s)
		if err != nil {
			return nil, err
		}
		rounds += again.Stats.Rounds
		if better(p, again.Plan, best.Plan) {
			best = again
		}
	}
	for i, list := range tries {
		if ctx.Err() != nil {
			break
		}
		q := withBlanks(p, list)
		sctx, cancel := share(ctx, 1, len(tries)-i)
		plan, stats, err := saw.New().Solve(sctx, q, beating(s, cost(p, best.Plan)))
		cancel()
		if err != nil {
			return nil, err
		}
		rounds += stats.Rounds
		plan = panelsOf(p, q, list, plan)
		if err := check.Plan(p, plan); err != nil {
			return nil, fmt.Errorf("a plan with shared blanks was refused by the judge, a defect of panelyard: %w", err)
		}
		if cmp.Or(cmp.Compare(unplacedArea(p, plan), unplacedArea(p, best.Plan)), cmp.Compare(cost(p, plan), cost(p, best.Plan))) < 0 {
			best = &candidate{plan, stats, best.Solver}
		}
	}
	best.Stats.Rounds = rounds
	return best, nil
}

// board returns the area that the blanks of a couple save.
func (c *couple) board(p *nest.Problem) float64 {
	return float64(c.copies) * c.saved * (blankArea(p, c.Places[0].Part) + blankArea(p, c.Places[1].Part))
}

// beating returns s with only the progress that costs less than a plan there is.
func beating(s nest.Settings, cost int64) nest.Settings {
	if watch := s.Watch; watch != nil {
		s.Watch = func(pr nest.Progress) {
			if pr.Cost < cost {
				watch(pr)
			}
		}
	}
	return s
}

package check

import (
	"fmt"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// Limit is the largest absolute value of a coordinate that is judged, twice
// what a job may hold. The package comment says what rests on it.
const Limit length.Length = 1 << 29

// Plan judges a plan. It returns nil when the plan is accepted and a
// [*Violations] otherwise; the package comment lists the rules, what is exact
// and what it costs. It never panics, whatever is in the plan, and changes
// neither argument.
func Plan(p *nest.Problem, plan *nest.Plan) error {
	j := &judge{p: p, plan: plan}
	switch {
	case p == nil:
		j.report(&Violation{Kind: BadProblem, Sheet: -1, Index: -1, Fact: "there is no problem"})
	case plan == nil:
		j.report(&Violation{Kind: WrongCount, Sheet: -1, Index: -1, Fact: "there is no plan"})
	default:
		j.problem()
		j.copies()
		j.stocks()
		for i := range plan.Sheets {
			j.sheet(i)
		}
	}
	if j.found.Found == 0 {
		return nil
	}
	return &j.found
}

// judge is one run of Plan.
type judge struct {
	p     *nest.Problem
	plan  *nest.Plan
	found Violations
	// count is the violations found of each kind.
	count [kinds + 1]int
	// partOK and stockOK say which parts and stocks are sound enough to be
	// placed; cutOK, whether kerf, gap and the way to cut are.
	partOK, stockOK []bool
	cutOK           bool
	meet            meeter
}

// report takes a violation down.
func (j *judge) report(v *Violation) {
	j.found.Found++
	j.count[v.Kind]++
	if j.count[v.Kind] <= MaxListed {
		j.found.List = append(j.found.List, v)
	}
}

// crowded reports whether so many pairs were found that looking for more tells
// nobody anything.
func (j *judge) crowded() bool {
	for _, k := range []Kind{Overlap, TooClose, OffcutOverlap, OffcutTooClose} {
		if j.count[k] >= MaxListed {
			j.found.Stopped = true
			return true
		}
	}
	return false
}

// sheet judges one sheet.
func (j *judge) sheet(i int) {
	s := &j.plan.Sheets[i]
	if s.Stock < 0 || s.Stock >= len(j.p.Stocks) {
		j.report(&Violation{
			Kind: NoSuchStock, Sheet: i, Index: -1,
			Fact: fmt.Sprintf("stock %d of %d", s.Stock, len(j.p.Stocks)),
		})
		return
	}
	if !j.stockOK[s.Stock] || !j.cutOK {
		return // BadProblem has been reported, and nothing can be measured
	}
	stock := &j.p.Stocks[s.Stock]
	laid := j.lay(i, s, stock)
	offcuts := j.offcuts(i, s, stock)
	switch j.p.Cut {
	case kerf.Saw:
		blanks := j.blanks(i, laid)
		j.blanksApart(i, blanks)
		j.replay(i, s, stock, blanks, offcuts)
	case kerf.Router:
		if n := len(s.Cuts); n > 0 {
			j.report(&Violation{Kind: CutsOnRouter, Sheet: i, Index: 0, At: s.Cuts[0].From, Fact: fmt.Sprintf("%d cuts", n)})
		}
		j.shapesApart(i, laid, offcuts)
	}
}

// panel is a placement, or an offcut, that could be laid on its sheet.
type panel struct {
	index  int      // in Placements or Offcuts
	part   string   // empty for an offcut
	copy   int      // 0 for an offcut
	box    geom.Box // of the blank, for the router of the shape
	shape  *region  // for the router, and in a shared blank
	shared bool     // box is a blank that the panel shares
	own    geom.Box // then its own blank
	offcut bool
}

// violation starts a violation about a panel.
func (q *panel) violation(k Kind, sheet int) *Violation {
	return &Violation{Kind: k, Sheet: sheet, Index: q.index, Part: q.part, Copy: q.copy, At: q.box.Min}
}

// lay judges the placements of a sheet one by one and returns those that could
// be laid.
func (j *judge) lay(sheet int, s *nest.Sheet, stock *nest.Stock) []panel {
	laid := make([]panel, 0, len(s.Placements))
	for i, pl := range s.Placements {
		if pl.Part < 0 || pl.Part >= len(j.p.Parts) {
			continue // reported with the copies
		}
		part := &j.p.Parts[pl.Part]
		v := func(k Kind, format string, args ...any) {
			j.report(&Violation{
				Kind: k, Sheet: sheet, Index: i, Part: part.Name, Copy: pl.Copy,
				At: pl.At, Fact: fmt.Sprintf(format, args...),
			})
		}
		if part.Material != stock.Material {
			v(WrongMaterial, "made of %q, the sheet is %q", part.Material, stock.Material)
		}
		if why := j.turnFault(part, stock, pl.Turn); why != "" {
			v(WrongTurn, "%s", why)
		}
		if pl.Flip && !part.CanFlip {
			v(WrongFace, "laid face down, it has one good face")
		}
		if !inRange(pl.At) {
			v(OutOfRange, "placed at (%d, %d) units", int64(pl.At.X), int64(pl.At.Y))
			continue
		}
		if !j.partOK[pl.Part] || pl.Turn < 0 || pl.Turn >= 360 || j.p.Cut == kerf.Saw && pl.Turn%90 != 0 {
			continue // reported above, and there is nothing to measure
		}
		q := panel{index: i, part: part.Name, copy: pl.Copy}
		if j.p.Cut == kerf.Saw {
			q.box = blankBox(part, pl)
			if pl.Shared != (geom.Box{}) {
				if why := j.shareFault(part); why != "" {
					v(NotToShare, "%s", why)
				}
				if !inRange(pl.Shared.Min) || !inRange(pl.Shared.Max) {
					v(OutOfRange, "shares a blank beyond %d units", int64(Limit))
					continue
				}
				if !holds(pl.Shared, q.box) {
					v(OutsideShared, "its blank is %s, the shared one %s", spread(q.box), spread(pl.Shared))
					continue
				}
				q.shared, q.own, q.box, q.shape = true, q.box, pl.Shared, shapeRegion(part, pl)
			}
		} else {
			if pl.Shared != (geom.Box{}) {
				v(NotToShare, "a router saws no blanks")
			}
			q.shape = shapeRegion(part, pl)
			q.box = q.shape.box
		}
		if !inRange(q.box.Max) {
			v(OutOfRange, "reaches to (%d, %d) units", int64(q.box.Max.X), int64(q.box.Max.Y))
			continue
		}
		if !holds(stock.Usable, q.box) {
			v(OutsideUsable, "lies on %s, usable is %s", spread(q.box), spread(stock.Usable))
		}
		laid = append(laid, q)
	}
	return laid
}

// inRange reports whether both coordinates can be judged.
func inRange(p geom.Point) bool {
	return p.X >= -Limit && p.X <= Limit && p.Y >= -Limit && p.Y <= Limit
}

// holds reports whether b lies in a, edges included.
func holds(a, b geom.Box) bool {
	return b.Min.X >= a.Min.X && b.Min.Y >= a.Min.Y && b.Max.X <= a.Max.X && b.Max.Y <= a.Max.Y
}

// clearance returns how far apart two boxes are along x and along y; negative
// is how deep they overlap.
func clearance(a, b geom.Box) (dx, dy length.Length) {
	return max(a.Min.X-b.Max.X, b.Min.X-a.Max.X), max(a.Min.Y-b.Max.Y, b.Min.Y-a.Max.Y)
}

package order

import (
	"errors"
	"fmt"

	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// ErrNotThrough is the error of a sheet whose blanks no straight cuts from edge to
// edge can free.
var ErrNotThrough = errors.New("no cut runs through")

// Plan puts the cuts of all sheets of a plan in order; see [Sheet].
func Plan(p *nest.Problem, plan *nest.Plan) error {
	for i := range plan.Sheets {
		if err := Sheet(p, &plan.Sheets[i]); err != nil {
			return fmt.Errorf("sheet %d: %w", i+1, err)
		}
	}
	return nil
}

// Sheet gives s the cuts that free its blanks and kept offcuts, in the order in
// which the saw of p makes them, and all offcuts that they leave. Of s it reads
// Stock, Placements and the kept Offcuts. The error is [ErrNotThrough]; s is then as
// it was.
func Sheet(p *nest.Problem, s *nest.Sheet) error {
	st := &p.Stocks[s.Stock]
	o := &sawyer{p: p, stock: st, half: p.Kerf / 2}
	root := &piece{box: geom.Box{Max: st.Size}}
	for _, pl := range s.Placements {
		b := pl.Shared
		if !pl.IsShared() {
			_, b = p.Place(pl)
		}
		root.add(item{box: b, blank: true})
	}
	for _, f := range s.Offcuts {
		if f.Keep {
			root.add(item{box: f.Box})
		}
	}
	if err := o.saw(root); err != nil {
		return err
	}
	s.Cuts, s.Offcuts = o.cuts, o.offcuts
	return nil
}

// sawyer cuts one sheet.
type sawyer struct {
	p       *nest.Problem
	stock   *nest.Stock
	half    length.Length // of the kerf
	cuts    []nest.Cut
	offcuts []nest.Offcut
	stages  int
}

// saw makes all cuts, beginning with a piece. Stage by stage it makes the cut that
// leaves the fence where it is, and if there is none the one with the widest setting.
func (o *sawyer) saw(root *piece) error {
	var inHand []*piece // those that are still to be cut
	take := func(pc *piece) error {
		c, err := o.next(pc)
		switch {
		case err != nil:
			return err
		case c == nil:
			o.leave(pc)
		default:
			pc.cut = c
			inHand = append(inHand, pc)
		}
		return nil
	}
	if err := take(root); err != nil {
		return err
	}
	fence := length.Length(-1)
	for len(inHand) > 0 {
		best := 0
		for i := 1; i < len(inHand); i++ {
			if inHand[i].cut.before(inHand[best].cut, fence) {
				best = i
			}
		}
		pc := inHand[best]
		inHand = append(inHand[:best], inHand[best+1:]...)
		fence = pc.cut.Fence
		o.cuts = append(o.cuts, pc.cut.Cut)
		o.stages = max(o.stages, pc.cut.Stage)
		for _, part := range o.divide(pc) {
			if err := take(part); err != nil {
				return err
			}
		}
	}
	return nil
}

// before reports whether a cut is made before another when the fence stands at a
// setting.
func (c *cut) before(d *cut, fence length.Length) bool {
	switch {
	case c.BreakDown != d.BreakDown:
		return c.BreakDown
	case c.Stage != d.Stage:
		return c.Stage < d.Stage
	case (c.Fence == fence) != (d.Fence == fence):
		return c.Fence == fence
	}
	return c.Fence > d.Fence
}

// leave takes a piece down that is not cut any more: what holds no blank and is no
// sliver is an offcut.
func (o *sawyer) leave(pc *piece) {
	for _, it := range pc.items {
		if it.blank {
			return
		}
	}
	b := pc.box.Meet(o.stock.Usable)
	if min(b.Dx(), b.Dy()) < nest.Sliver {
		return
	}
	o.offcuts = append(o.offcuts, nest.Offcut{Box: b, Keep: o.p.Keep.Keeps(b.Size())})
}

// Effort returns how often the fence is moved when the cuts of a plan are made one
// after the other, and how long they are together.
func Effort(plan *nest.Plan) (settings int, long length.Length) {
	last := length.Length(-1)
	for i := range plan.Sheets {
		for _, c := range plan.Sheets[i].Cuts {
			long += (c.To.X - c.From.X).Abs() + (c.To.Y - c.From.Y).Abs()
			if c.Fence != last {
				settings++
				last = c.Fence
			}
		}
	}
	return settings, long
}

package order

import (
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// next returns the next cut of a piece, nil when it is as wanted.
func (o *sawyer) next(pc *piece) (*cut, error) {
	if pc.done() {
		return nil, nil
	}
	if pc.dir == undecided {
		if c := o.breakDown(pc); c != nil {
			return c, nil
		}
		if c := o.square(pc); c != nil {
			return c, nil
		}
		pc.dir, pc.stage = o.firstDirection(pc), 1
	}
	for pc.idle < 2 {
		if pc.groups == nil {
			pc.groups = parted(pc.items, pc.dir, o.p.Kerf)
		}
		if c := o.through(pc); c != nil {
			return c, nil
		}
		pc.dir, pc.stage, pc.groups = pc.dir.other(), pc.stage+1, nil
		pc.idle++
	}
	return nil, ErrNotThrough
}

// through returns the next cut of a piece in its direction, or nil when there is
// none left: what stands before the first group goes, then the group comes off.
func (o *sawyer) through(pc *piece) *cut {
	lo, hi := pc.dir.span(pc.box)
	n := len(pc.groups)
	first, last := &pc.groups[0], &pc.groups[n-1]
	fromTop := o.p.Saw.Kind == parts.TrackSaw && n > 1 && last.wide() < first.wide()
	switch {
	case fromTop && last.hiBlank && last.hi < hi:
		return o.cut(pc, pc.dir, last.hi+o.half, lowSide)
	case fromTop:
		return o.cut(pc, pc.dir, o.between(&pc.groups[n-2], last), highSide)
	case first.loBlank && first.lo > lo:
		return o.cut(pc, pc.dir, first.lo-o.half, highSide)
	case n > 1:
		return o.cut(pc, pc.dir, o.between(first, &pc.groups[1]), lowSide)
	case first.hiBlank && first.hi < hi:
		return o.cut(pc, pc.dir, first.hi+o.half, lowSide)
	}
	return nil
}

// between returns the line of a cut between two groups: along the lower one, or
// along the upper one when only that ends with a blank there.
func (o *sawyer) between(a, b *group) length.Length {
	if !a.hiBlank && b.loBlank {
		return b.lo - o.half
	}
	return a.hi + o.half
}

// The sides of a cut; the fence is set to the size of one.
const (
	lowSide = iota
	highSide
)

// cut returns a cut of a piece at a line. The fence is set to the size of the
// wanted side, or to the other one when it cannot be set so wide and the other is no
// mere strip, which would be caught beside the blade.
func (o *sawyer) cut(pc *piece, d axis, line length.Length, wanted int) *cut {
	lo, hi := d.span(pc.box)
	sizes := [2]length.Length{line - o.half - lo, hi - line - o.half}
	fence, rest := sizes[wanted], sizes[1-wanted]
	if most := o.p.Saw.Fence; most > 0 && fence > most && rest >= least && rest <= most || fence <= 0 {
		fence = rest
	}
	c := &cut{dir: d, line: line}
	c.Fence, c.Stage = fence, pc.stage
	if d == upright {
		c.From, c.To = geom.Pt(line, pc.box.Min.Y), geom.Pt(line, pc.box.Max.Y)
	} else {
		c.From, c.To = geom.Pt(pc.box.Min.X, line), geom.Pt(pc.box.Max.X, line)
	}
	c.Trim = !o.holdsOnBothSides(pc, c)
	return c
}

// holdsOnBothSides reports whether wanted pieces lie on both sides of a cut.
func (o *sawyer) holdsOnBothSides(pc *piece, c *cut) bool {
	var sides [2]bool
	for _, it := range pc.items {
		if lo, _ := c.dir.span(it.box); lo >= c.line+o.half {
			sides[1] = true
		} else {
			sides[0] = true
		}
	}
	return sides[0] && sides[1]
}

// least is the width that a piece must have on either side of a cut for it to break
// the piece down, and that a fence is set to on the side of the waste: common
// practice, no source.
const least = 100 * length.Millimetre

// breakDown returns the cut that breaks a piece down which cannot be carried, or nil
// when it can be, or when no cut helps.
func (o *sawyer) breakDown(pc *piece) *cut {
	if o.movable(pc.box) {
		return nil
	}
	var best *cut
	var heavy int
	var far float64
	for _, d := range [2]axis{upright, level} {
		lo, hi := d.span(pc.box)
		groups := parted(pc.items, d, o.p.Kerf)
		lines := []length.Length{groups[0].lo - o.half, groups[len(groups)-1].hi + o.half}
		for i := 1; i < len(groups); i++ {
			lines = append(lines, o.between(&groups[i-1], &groups[i]))
		}
		for _, line := range lines {
			a, b := line-o.half, line+o.half
			if a-lo < least || hi-b < least {
				continue
			}
			n := 0
			for _, side := range [2]geom.Box{d.below(pc.box, a), d.above(pc.box, b)} {
				if !o.movable(side) {
					n++
				}
			}
			off := float64((2*line - lo - hi).Abs()) / float64(hi-lo)
			if best == nil || n < heavy || n == heavy && off < far {
				best, heavy, far = o.cut(pc, d, line, lowSide), n, off
			}
		}
	}
	if best != nil {
		best.BreakDown, best.Trim = true, false
	}
	return best
}

func (o *sawyer) movable(b geom.Box) bool {
	return o.p.Saw.Movable(b.Size(), b.Dx().MM()*b.Dy().MM()/1e6*o.stock.KGPerM2)
}

// square returns the cut that takes a factory edge off the left or the bottom of a
// piece before it is divided, or nil. A beam saw does that stage by stage.
func (o *sawyer) square(pc *piece) *cut {
	if o.p.Saw.Kind == parts.BeamSaw {
		return nil
	}
	for _, d := range [2]axis{level, upright} {
		lo, _ := d.span(pc.box)
		if lo != 0 {
			continue
		}
		if g := &parted(pc.items, d, o.p.Kerf)[0]; g.loBlank && g.lo > 0 {
			return o.cut(pc, d, g.lo-o.half, highSide)
		}
	}
	return nil
}

// firstDirection returns the direction in which a piece is divided first.
func (o *sawyer) firstDirection(pc *piece) axis {
	x, y := len(parted(pc.items, upright, o.p.Kerf)), len(parted(pc.items, level, o.p.Kerf))
	rip := level
	if pc.box.Dy() > pc.box.Dx() {
		rip = upright
	}
	switch {
	case x > 1 && y == 1:
		return upright
	case y > 1 && x == 1:
		return level
	case o.p.Saw.Kind == parts.TrackSaw:
		return rip.other()
	case o.p.Saw.Kind == parts.BeamSaw && o.stagesFrom(pc, rip.other()) < o.stagesFrom(pc, rip):
		return rip.other()
	}
	return rip
}

// stagesFrom returns the stages that a piece is cut in when they begin with a
// direction.
func (o *sawyer) stagesFrom(pc *piece, d axis) int {
	try := &sawyer{p: o.p, stock: o.stock, half: o.half}
	if try.saw(&piece{box: pc.box, items: pc.items, dir: d, stage: 1}) != nil {
		return len(pc.items) + 2 // more than any that can be cut
	}
	return try.stages
}

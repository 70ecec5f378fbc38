package order

import (
	"cmp"
	"slices"

	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// axis is a direction of cuts.
type axis int

// An upright cut divides a piece along x, a level cut along y.
const (
	undecided axis = iota
	upright
	level
)

// other returns the other direction.
func (d axis) other() axis { return upright + level - d }

// span returns the extent of a box that cuts of a direction divide.
func (d axis) span(b geom.Box) (lo, hi length.Length) {
	if d == upright {
		return b.Min.X, b.Max.X
	}
	return b.Min.Y, b.Max.Y
}

// below and above return the parts of a box on either side of a strip.
func (d axis) below(b geom.Box, at length.Length) geom.Box {
	if d == upright {
		b.Max.X = at
	} else {
		b.Max.Y = at
	}
	return b
}

func (d axis) above(b geom.Box, at length.Length) geom.Box {
	if d == upright {
		b.Min.X = at
	} else {
		b.Min.Y = at
	}
	return b
}

// item is a wanted piece: a blank, to be freed exactly, or an offcut, which may
// come out larger.
type item struct {
	box   geom.Box
	blank bool
}

// piece is a piece of the sheet in hand.
type piece struct {
	box    geom.Box
	items  []item
	dir    axis // of the cuts through it that are being made
	stage  int
	groups []group // of its items in dir; nil when they are to be found
	idle   int     // directions in which nothing is left to be cut
	cut    *cut    // the next
}

// cut is a cut of a piece.
type cut struct {
	nest.Cut
	dir  axis
	line length.Length // of its middle
}

func (pc *piece) add(it item) { pc.items = append(pc.items, it) }

// group is items that no cut of a direction can part.
type group struct {
	lo, hi           length.Length
	loBlank, hiBlank bool // a blank, not only an offcut, lies at lo or hi
	items            []item
}

// wide returns the extent of g.
func (g *group) wide() length.Length { return g.hi - g.lo }

// parted returns the groups of items in a direction in order.
func parted(items []item, d axis, kerf length.Length) []group {
	sorted := slices.Clone(items)
	slices.SortStableFunc(sorted, func(a, b item) int {
		al, _ := d.span(a.box)
		bl, _ := d.span(b.box)
		return cmp.Compare(al, bl)
	})
	var list []group
	for _, it := range sorted {
		lo, hi := d.span(it.box)
		n := len(list) - 1
		if n < 0 || lo < list[n].hi+kerf {
			if n < 0 {
				list = append(list, group{lo: lo, hi: hi})
				n = 0
			}
		} else {
			list = append(list, group{lo: lo, hi: hi})
			n++
		}
		g := &list[n]
		g.items = append(g.items, it)
		g.loBlank = g.loBlank || it.blank && lo == g.lo
		switch {
		case hi > g.hi:
			g.hi, g.hiBlank = hi, it.blank
		case hi == g.hi:
			g.hiBlank = g.hiBlank || it.blank
		}
	}
	return list
}

// done reports whether a piece is as wanted.
func (pc *piece) done() bool {
	switch len(pc.items) {
	case 0:
		return true
	case 1:
		return !pc.items[0].blank || pc.items[0].box == pc.box
	}
	return false
}

// divide makes the cut of a piece and returns what is left of it on both sides.
// What comes off with a group of items is not cut in this direction again.
func (o *sawyer) divide(pc *piece) []*piece {
	c := pc.cut
	half := o.half
	parts := [2]*piece{
		{box: c.dir.below(pc.box, c.line-half)},
		{box: c.dir.above(pc.box, c.line+half)},
	}
	for _, it := range pc.items {
		side := 0
		if lo, _ := c.dir.span(it.box); lo >= c.line+half {
			side = 1
		}
		parts[side].add(it)
	}
	var left []*piece
	for side, q := range parts {
		if q.box.Empty() {
			continue
		}
		q.dir, q.stage = pc.dir, pc.stage
		if pc.groups != nil {
			n := 0 // groups below the line
			for n < len(pc.groups) && pc.groups[n].hi <= c.line-half {
				n++
			}
			if side == 0 {
				q.groups = pc.groups[:n:n]
			} else {
				q.groups = pc.groups[n:]
			}
		}
		left = append(left, q)
	}
	return left
}

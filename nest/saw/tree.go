package saw

import (
	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// kind says what a node of a cutting tree is.
type kind uint8

const (
	free   kind = iota // nothing in it yet
	blank              // an item as large as the node
	parted             // cut into two nodes
)

// node is a piece of a sheet. Sizes are enlarged by one kerf, as are items, so
// that pieces side by side add up exactly: the kerf of every cut belongs to the
// piece at its left or below it. A piece of true size s has size s+kerf, and a
// remainder of a kerf or less is no piece at all.
type node struct {
	x, y, w, h length.Length // enlarged
	kind       kind
	upright    bool  // parted by an upright cut: a is at the left, b at the right
	a, b       int32 // parted: the two nodes, b may be -1 when it is less than a kerf
	item       int32 // blank: the item
	turned     bool  // blank: the item lies a quarter turn
}

// tree is one sheet as it is cut: nodes[0] is the usable area.
type tree struct {
	stock int
	nodes []node
	free  []int32 // the nodes that are free
	area  float64 // of the items in it, for choosing which sheet to empty
}

func (t *tree) reset(stock int, w, h length.Length) {
	t.stock = stock
	t.nodes = append(t.nodes[:0], node{w: w, h: h})
	t.free = append(t.free[:0], 0)
	t.area = 0
}

// put places an item of enlarged size w x h into the lower left of free node
// number f of the list of free nodes, the first cut upright or level.
func (t *tree) put(f int, item int32, w, h length.Length, turned, uprightFirst bool, kerf length.Length) {
	n := t.free[f]
	t.free[f] = t.free[len(t.free)-1]
	t.free = t.free[:len(t.free)-1]
	n = t.split(n, uprightFirst, w, h, kerf)
	n = t.split(n, !uprightFirst, w, h, kerf)
	t.nodes[n].kind, t.nodes[n].item, t.nodes[n].turned = blank, item, turned
	t.area += float64(w-kerf) * float64(h-kerf)
}

// split cuts node n so that the piece at its left, or at its bottom, has the
// size wanted, and returns that piece; n itself when there is nothing to cut off.
func (t *tree) split(n int32, upright bool, w, h, kerf length.Length) int32 {
	c := t.nodes[n]
	a, b := c, c
	var rest length.Length
	if upright {
		rest = c.w - w
		a.w, b.w, b.x = w, rest, c.x+w
	} else {
		rest = c.h - h
		a.h, b.h, b.y = h, rest, c.y+h
	}
	if rest == 0 {
		return n
	}
	i := int32(len(t.nodes))
	t.nodes = append(t.nodes, a)
	second := int32(-1)
	if rest > kerf {
		second = i + 1
		t.nodes = append(t.nodes, b)
		t.free = append(t.free, second)
	}
	t.nodes[n].kind, t.nodes[n].upright, t.nodes[n].a, t.nodes[n].b = parted, upright, i, second
	return i
}

// sheet writes the tree as a sheet of a plan: trim cuts, then the cuts of the
// tree, large pieces before what is cut from them.
func (t *tree) sheet(p *nest.Problem, copyOf func(item int32) (part, copy int)) nest.Sheet {
	st := &p.Stocks[t.stock]
	s := nest.Sheet{Stock: t.stock}
	half := p.Kerf / 2
	raw := geom.Box{Max: st.Size}
	u := st.Usable
	if len(t.nodes) == 1 && t.nodes[0].kind == blank && u == raw {
		s.Placements = []nest.Placement{t.place(p, 0, u, copyOf)}
		return s
	}
	trim := func(from, to geom.Point, fence length.Length) {
		s.Cuts = append(s.Cuts, nest.Cut{From: from, To: to, Fence: fence, Trim: true})
	}
	// Each trim cut leaves the piece smaller for the next.
	if u.Min.Y > raw.Min.Y {
		y := u.Min.Y - half
		raw.Min.Y = u.Min.Y
		trim(geom.Pt(0, y), geom.Pt(st.Size.X, y), raw.Dy())
	}
	if u.Min.X > raw.Min.X {
		x := u.Min.X - half
		raw.Min.X = u.Min.X
		trim(geom.Pt(x, raw.Min.Y), geom.Pt(x, raw.Max.Y), raw.Dx())
	}
	if u.Max.Y < raw.Max.Y {
		y := u.Max.Y + half
		raw.Max.Y = u.Max.Y
		trim(geom.Pt(raw.Min.X, y), geom.Pt(raw.Max.X, y), raw.Dy())
	}
	if u.Max.X < raw.Max.X {
		x := u.Max.X + half
		raw.Max.X = u.Max.X
		trim(geom.Pt(x, raw.Min.Y), geom.Pt(x, raw.Max.Y), raw.Dx())
	}
	t.cut(p, 0, u, &s, copyOf)
	return s
}

// box returns the true box of node n: without the kerf at its right and top.
func (t *tree) box(n int32, u geom.Box, kerf length.Length) geom.Box {
	c := &t.nodes[n]
	return geom.BoxFromSize(u.Min.Add(geom.Pt(c.x, c.y)), geom.Pt(c.w-kerf, c.h-kerf))
}

func (t *tree) place(p *nest.Problem, n int32, u geom.Box, copyOf func(item int32) (part, copy int)) nest.Placement {
	c := &t.nodes[n]
	pl := nest.Placement{At: t.box(n, u, p.Kerf).Min}
	pl.Part, pl.Copy = copyOf(c.item)
	for _, turn := range p.Turns(pl.Part, t.stock) {
		if (turn%180 != 0) == c.turned {
			pl.Turn = turn
			break
		}
	}
	return pl
}

// smallest is the least width of a remainder that is called an offcut.
const smallest = 10 * length.Millimetre

// cut writes the cuts, blanks and offcuts of node n.
func (t *tree) cut(p *nest.Problem, n int32, u geom.Box, s *nest.Sheet, copyOf func(item int32) (part, copy int)) {
	c := &t.nodes[n]
	b := t.box(n, u, p.Kerf)
	switch c.kind {
	case blank:
		s.Placements = append(s.Placements, t.place(p, n, u, copyOf))
	case free:
		if short, long := min(b.Dx(), b.Dy()), max(b.Dx(), b.Dy()); short >= smallest {
			s.Offcuts = append(s.Offcuts, nest.Offcut{Box: b, Keep: short >= p.Keep.Short && long >= p.Keep.Long})
		}
	case parted:
		first := t.box(c.a, u, p.Kerf)
		half := p.Kerf / 2
		if c.upright {
			x := first.Max.X + half
			s.Cuts = append(s.Cuts, nest.Cut{From: geom.Pt(x, b.Min.Y), To: geom.Pt(x, b.Max.Y), Fence: first.Dx()})
		} else {
			y := first.Max.Y + half
			s.Cuts = append(s.Cuts, nest.Cut{From: geom.Pt(b.Min.X, y), To: geom.Pt(b.Max.X, y), Fence: first.Dy()})
		}
		t.cut(p, c.a, u, s, copyOf)
		if c.b >= 0 {
			t.cut(p, c.b, u, s, copyOf)
		}
	}
}

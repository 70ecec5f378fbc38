package outline

import (
	"math"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// fine is how far the polylines that are examined leave the arcs.
const fine = length.Millimetre / 100

// MaxPieces is how many straight pieces an outline may need when its arcs are
// drawn to 0.01 mm.
const MaxPieces = 500_000

// piece is a straight piece of a polyline of an outline.
type piece struct {
	a, b geom.Point
	seg  int
}

func (p piece) box() geom.Box {
	return geom.Box{
		Min: geom.Pt(min(p.a.X, p.b.X), min(p.a.Y, p.b.Y)),
		Max: geom.Pt(max(p.a.X, p.b.X), max(p.a.Y, p.b.Y)),
	}
}

// count returns how many pieces o needs, beyond [MaxPieces] perhaps less.
func (o Outline) count() int {
	n := 0
	for i, v := range o {
		if n++; v.curved() {
			p, q := o.ends(i)
			c := newArc(p, q, v.Bulge)
			n += c.pieces(c.theta, float64(fine)) + 5 // at most: one more a quadrant
		}
		if n > MaxPieces {
			break
		}
	}
	return n
}

// pieces returns a polyline within [fine] of o, each piece with its segment.
// Neighbours share their joint; none is without length. An arc has a corner where
// it runs parallel to an axis, so that an arc that just touches a line along x or
// y is found to touch it.
func (o Outline) pieces() []piece {
	var list []piece
	for i, v := range o {
		p, q := o.ends(i)
		from := p
		if v.curved() {
			c := newArc(p, q, v.Bulge)
			begin := 0.0
			for _, end := range append(c.quadrants(), c.theta) {
				n := c.pieces(end-begin, float64(fine))
				for k := 1; k <= n && (k < n || end != c.theta); k++ {
					x, y := c.point(begin + (end-begin)*float64(k)/float64(n))
					to := geom.Pt(length.Length(math.Round(x)), length.Length(math.Round(y)))
					if to != from && to != q {
						list = append(list, piece{from, to, i})
						from = to
					}
				}
				begin = end
			}
		}
		if from != q {
			list = append(list, piece{from, q, i})
		}
	}
	return list
}

// Trace is an outline made ready to be examined: a polyline within 0.01 mm of it
// and a tree of boxes over its pieces. Lines are held exactly. Pieces that follow
// each other lie near each other, so the tree halves the list where it is, and
// needs no sorting:
//
//	[      all pieces      ]
//	[ first    ][  second  ]
//	[    ][    ][    ][    ]   down to a handful
//
// A trace costs O(n) to make. Its questions cost about O(log n) and what they
// find; shapes of long slanting pieces side by side, whose boxes all overlap,
// cost up to n² cheap tests.
type Trace struct {
	list  []piece
	boxes []geom.Box // of the nodes, root first; the children of k are 2k+1 and 2k+2
}

// handful is how many pieces a leaf of the tree has at most.
const handful = 8

// Trace returns the trace of a valid outline.
func (o Outline) Trace() *Trace {
	t := &Trace{list: o.pieces()}
	t.build(t.root())
	return t
}

// node is a node of the tree: the pieces from lo up to hi.
type node struct{ k, lo, hi int }

func (t *Trace) root() node { return node{0, 0, len(t.list)} }

func (n node) leaf() bool { return n.hi-n.lo <= handful }

func (n node) halves() (node, node) {
	mid := (n.lo + n.hi) / 2
	return node{2*n.k + 1, n.lo, mid}, node{2*n.k + 2, mid, n.hi}
}

// build fills in the boxes below n.
func (t *Trace) build(n node) geom.Box {
	for len(t.boxes) <= n.k {
		t.boxes = append(t.boxes, geom.Box{})
	}
	var b geom.Box
	if n.leaf() {
		for i, p := range t.list[n.lo:n.hi] {
			if q := p.box(); i == 0 {
				b = q
			} else {
				b = union(b, q)
			}
		}
	} else {
		first, second := n.halves()
		b = t.build(first)
		b = union(b, t.build(second))
	}
	t.boxes[n.k] = b
	return b
}

func union(a, b geom.Box) geom.Box {
	return geom.Box{
		Min: geom.Pt(min(a.Min.X, b.Min.X), min(a.Min.Y, b.Min.Y)),
		Max: geom.Pt(max(a.Max.X, b.Max.X), max(a.Max.Y, b.Max.Y)),
	}
}

// touch reports whether two boxes, taken with their edges, have a common point.
func touch(a, b geom.Box) bool {
	return a.Min.X <= b.Max.X && b.Min.X <= a.Max.X && a.Min.Y <= b.Max.Y && b.Min.Y <= a.Max.Y
}

// pairs calls f with the pieces of two nodes whose boxes touch, until it returns
// a fault.
func pairs(t, u *Trace, m, n node, f func(i, j int) *Fault) *Fault {
	if !touch(t.boxes[m.k], u.boxes[n.k]) {
		return nil
	}
	switch {
	case m.leaf() && n.leaf():
		for i := m.lo; i < m.hi; i++ {
			for j := n.lo; j < n.hi; j++ {
				if fault := f(i, j); fault != nil {
					return fault
				}
			}
		}
		return nil
	case n.leaf() || !m.leaf() && m.hi-m.lo >= n.hi-n.lo:
		a, b := m.halves()
		if fault := pairs(t, u, a, n, f); fault != nil {
			return fault
		}
		return pairs(t, u, b, n, f)
	}
	a, b := n.halves()
	if fault := pairs(t, u, m, a, f); fault != nil {
		return fault
	}
	return pairs(t, u, m, b, f)
}

// meet reports whether two pieces have a point in common, exactly, and where,
// rounded.
func meet(p, q piece) (geom.Point, bool) {
	if !touch(p.box(), q.box()) {
		return geom.Point{}, false
	}
	d1, d2 := geom.Orient(p.a, p.b, q.a), geom.Orient(p.a, p.b, q.b)
	if d1*d2 > 0 {
		return geom.Point{}, false // q lies on one side of p
	}
	d3, d4 := geom.Orient(q.a, q.b, p.a), geom.Orient(q.a, q.b, p.b)
	if d1*d2 < 0 && d3*d4 < 0 {
		u, v := p.b.Sub(p.a), q.b.Sub(q.a)
		t := float64(q.a.Sub(p.a).Cross(v)) / float64(u.Cross(v))
		return geom.Pt(p.a.X+length.Length(math.Round(t*float64(u.X))), p.a.Y+length.Length(math.Round(t*float64(u.Y)))), true
	}
	on := func(a, b, c geom.Point) bool { // c is collinear with a-b: is it between them?
		return c.X >= min(a.X, b.X) && c.X <= max(a.X, b.X) && c.Y >= min(a.Y, b.Y) && c.Y <= max(a.Y, b.Y)
	}
	switch {
	case d1 == 0 && on(p.a, p.b, q.a):
		return q.a, true
	case d2 == 0 && on(p.a, p.b, q.b):
		return q.b, true
	case d3 == 0 && on(q.a, q.b, p.a):
		return p.a, true
	case d4 == 0 && on(q.a, q.b, p.b):
		return p.b, true
	}
	return geom.Point{}, false
}

// inside reports whether a point that is on no piece lies inside the loop: a ray
// from it to the right meets an odd number of pieces.
func (t *Trace) inside(n node, c geom.Point) bool {
	b := t.boxes[n.k]
	if c.Y < b.Min.Y || c.Y > b.Max.Y || c.X > b.Max.X {
		return false
	}
	if !n.leaf() {
		first, second := n.halves()
		return t.inside(first, c) != t.inside(second, c)
	}
	odd := false
	for _, p := range t.list[n.lo:n.hi] {
		lo, hi := p.a, p.b
		if lo.Y > hi.Y {
			lo, hi = hi, lo
		}
		// The upper end does not count, so that a corner counts once.
		if c.Y >= lo.Y && c.Y < hi.Y && geom.Orient(lo, hi, c) == geom.CounterClockwise {
			odd = !odd
		}
	}
	return odd
}

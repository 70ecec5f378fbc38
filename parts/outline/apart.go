package outline

import (
	"errors"
	"math"

	"panelyard/parts/geom"
)

// The ways in which an opening does not lie where it should.
var (
	ErrMeets   = errors.New("it crosses or touches the edge")
	ErrOutside = errors.New("it lies outside")
	ErrNested  = errors.New("one lies in the other")
)

// Contains returns nil when the loop u lies inside the loop t without touching
// it. Otherwise it is a *Fault: ErrMeets, with A the segment of t and B the one
// of u, or ErrOutside. Lines are examined exactly, arcs within 0.01 mm.
func (t *Trace) Contains(u *Trace) error {
	if f := t.meets(u); f != nil {
		return f
	}
	if p := u.list[0].a; !t.inside(t.root(), p) {
		return &Fault{ErrOutside, -1, -1, p}
	}
	return nil
}

// Apart returns nil when the loops t and u have no common point and neither lies
// in the other. Otherwise it is a *Fault: ErrMeets, with A the segment of t and B
// the one of u, or ErrNested.
func (t *Trace) Apart(u *Trace) error {
	if f := t.meets(u); f != nil {
		return f
	}
	if p := u.list[0].a; t.inside(t.root(), p) {
		return &Fault{ErrNested, -1, -1, p}
	}
	if p := t.list[0].a; u.inside(u.root(), p) {
		return &Fault{ErrNested, -1, -1, p}
	}
	return nil
}

// meets returns a fault when the loops have a point in common.
func (t *Trace) meets(u *Trace) *Fault {
	return pairs(t, u, t.root(), u.root(), func(i, j int) *Fault {
		p, q := t.list[i], u.list[j]
		if at, ok := meet(p, q); ok {
			return &Fault{ErrMeets, p.seg, q.seg, at}
		}
		return nil
	})
}

// Web returns the least distance, in units, between the loops t and u, which do
// not meet, when it is below limit; otherwise it is limit. It is right within
// 0.02 mm where arcs are concerned.
func (t *Trace) Web(u *Trace, limit float64) float64 {
	return web(t, u, t.root(), u.root(), limit)
}

// web returns the lesser of best and the distance of two nodes.
func web(t, u *Trace, m, n node, best float64) float64 {
	if gap(t.boxes[m.k], u.boxes[n.k]) >= best {
		return best
	}
	var a, b [2]node // the two pairs to look at next
	switch {
	case m.leaf() && n.leaf():
		for _, p := range t.list[m.lo:m.hi] {
			for _, q := range u.list[n.lo:n.hi] {
				// Two pieces that do not meet are nearest at an end of one of them.
				best = min(best, pointToPiece(p.a, q), pointToPiece(p.b, q), pointToPiece(q.a, p), pointToPiece(q.b, p))
			}
		}
		return best
	case n.leaf() || !m.leaf() && m.hi-m.lo >= n.hi-n.lo:
		first, second := m.halves()
		a, b = [2]node{first, n}, [2]node{second, n}
	default:
		first, second := n.halves()
		a, b = [2]node{m, first}, [2]node{m, second}
	}
	if gap(t.boxes[b[0].k], u.boxes[b[1].k]) < gap(t.boxes[a[0].k], u.boxes[a[1].k]) {
		a, b = b, a // the nearer first: it spares the other
	}
	best = web(t, u, a[0], a[1], best)
	return web(t, u, b[0], b[1], best)
}

// gap returns the distance between two boxes, 0 when they touch.
func gap(a, b geom.Box) float64 {
	dx := max(a.Min.X-b.Max.X, b.Min.X-a.Max.X, 0)
	dy := max(a.Min.Y-b.Max.Y, b.Min.Y-a.Max.Y, 0)
	return math.Hypot(float64(dx), float64(dy))
}

// pointToPiece returns the distance of a point from a piece.
func pointToPiece(c geom.Point, p piece) float64 {
	ux, uy := float64(p.b.X-p.a.X), float64(p.b.Y-p.a.Y)
	vx, vy := float64(c.X-p.a.X), float64(c.Y-p.a.Y)
	t := max(0, min(1, (ux*vx+uy*vy)/(ux*ux+uy*uy)))
	return math.Hypot(vx-t*ux, vy-t*uy)
}

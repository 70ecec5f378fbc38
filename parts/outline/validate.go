package outline

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// The faults of an outline.
var (
	ErrFewVertices = errors.New("an outline needs three corners, or two when an edge is an arc")
	ErrNoLength    = errors.New("two corners that follow each other are at the same place")
	ErrNoArea      = errors.New("the outline encloses nothing")
	ErrTooLarge    = errors.New("the outline is larger than 33.5 m")
	ErrCrosses     = errors.New("the outline crosses or touches itself")
)

// Fault is what is wrong with an outline, with the segments concerned, counted
// from 0, and the place. It unwraps to one of the errors above.
type Fault struct {
	Err  error
	A, B int // segments; B is -1 when one is concerned
	At   geom.Point
}

func (f *Fault) Error() string { return f.Err.Error() }

// Unwrap returns the kind of the fault.
func (f *Fault) Unwrap() error { return f.Err }

// fine is how far the polylines that are examined leave the arcs.
const fine = length.Millimetre / 100

// Validate returns nil when o is a simple loop with area: no segment without
// length, no crossing, no touching, no spike. Lines are examined exactly, arcs
// on a polyline within 0.01 mm. The orientation does not matter. The cost is
// that of a sweep over n pieces: n log n for outlines as people draw them.
func (o Outline) Validate() error {
	arcs := !o.Straight()
	if len(o) < 2 || len(o) < 3 && !arcs {
		return &Fault{Err: ErrFewVertices, B: -1}
	}
	for i := range o {
		a, b := o.ends(i)
		if a == b {
			return &Fault{ErrNoLength, i, -1, a}
		}
		if !(math.Abs(o[i].Bulge) < 1e6) {
			return &Fault{ErrTooLarge, i, -1, a}
		}
	}
	if b := o.Box(); max(b.Dx(), b.Dy(), b.Min.X.Abs(), b.Min.Y.Abs(), b.Max.X.Abs(), b.Max.Y.Abs()) > length.Max {
		return &Fault{Err: ErrTooLarge, B: -1}
	}
	flat := !arcs
	for i := 2; i < len(o) && flat; i++ {
		flat = geom.Orient(o[0].At, o[1].At, o[i].At) == geom.Collinear
	}
	if flat {
		return &Fault{Err: ErrNoArea, B: -1, At: o[0].At}
	}
	if err := crossing(o.pieces()); err != nil {
		return err
	}
	if math.Abs(o.Area2()) < 2 {
		return &Fault{Err: ErrNoArea, B: -1, At: o[0].At}
	}
	return nil
}

// piece is a straight piece of a polyline of an outline.
type piece struct {
	a, b geom.Point
	seg  int
}

// pieces returns a polyline within [fine] of o, each piece with its segment.
func (o Outline) pieces() []piece {
	var list []piece
	for i, v := range o {
		p, q := o.ends(i)
		from := p
		if v.Bulge != 0 {
			c := newArc(p, q, v.Bulge)
			n := max(c.pieces(c.theta, float64(fine)), 2)
			for k := 1; k < n; k++ {
				x, y := c.point(c.theta * float64(k) / float64(n))
				to := geom.Pt(length.Length(math.Round(x)), length.Length(math.Round(y)))
				if to != from && to != q {
					list = append(list, piece{from, to, i})
					from = to
				}
			}
		}
		if from != q {
			list = append(list, piece{from, q, i})
		}
	}
	return list
}

// crossing returns a fault when two pieces of a closed polyline meet elsewhere
// than at the joint of neighbours.
func crossing(list []piece) error {
	n := len(list)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	left := func(i int) length.Length { return min(list[i].a.X, list[i].b.X) }
	slices.SortFunc(order, func(i, j int) int { return int(left(i) - left(j)) })
	var active []int
	for _, i := range order {
		p := list[i]
		k := 0
		for _, j := range active {
			q := list[j]
			if max(q.a.X, q.b.X) < left(i) {
				continue
			}
			active[k] = j
			k++
			if max(q.a.Y, q.b.Y) < min(p.a.Y, p.b.Y) || max(p.a.Y, p.b.Y) < min(q.a.Y, q.b.Y) {
				continue
			}
			if at, ok := clash(list, i, j); ok {
				return &Fault{ErrCrosses, min(p.seg, q.seg), max(p.seg, q.seg), at}
			}
		}
		active = append(active[:k], i)
	}
	return nil
}

// clash reports whether pieces i and j meet where they may not.
func clash(list []piece, i, j int) (geom.Point, bool) {
	n := len(list)
	if j == (i+1)%n {
		i, j = j, i
	}
	p, q := list[i], list[j]
	if i == (j+1)%n { // q ends where p starts
		if n == 2 {
			return p.a, true
		}
		// Neighbours meet at their joint; a spike runs back over itself.
		back := geom.Orient(q.a, q.b, p.b) == geom.Collinear && q.b.Sub(q.a).Dot(p.b.Sub(p.a)) < 0
		return p.a, back
	}
	return meet(p, q)
}

// meet reports whether two pieces have a point in common, and where, nearly.
func meet(p, q piece) (geom.Point, bool) {
	d1, d2 := geom.Orient(p.a, p.b, q.a), geom.Orient(p.a, p.b, q.b)
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

// The ways in which an opening does not lie inside its panel.
var (
	ErrMeets   = errors.New("it crosses or touches the edge")
	ErrOutside = errors.New("it lies outside")
)

// Contains returns nil when the loop q lies inside the loop o without touching
// it, and a *Fault otherwise, with A the segment of o and B the one of q. Both
// are valid. Cost: the product of the pieces whose boxes meet.
func (o Outline) Contains(q Outline) error {
	mine, theirs := o.pieces(), q.pieces()
	if f := clashOf(mine, theirs); f != nil {
		return f
	}
	ring := make(geom.Ring, len(mine))
	for i, p := range mine {
		ring[i] = p.a
	}
	if ring.Locate(theirs[0].a) != geom.Inside {
		return &Fault{ErrOutside, -1, -1, theirs[0].a}
	}
	return nil
}

// Apart returns nil when the loops o and q have no common point and neither lies
// in the other.
func (o Outline) Apart(q Outline) error {
	mine, theirs := o.pieces(), q.pieces()
	if f := clashOf(mine, theirs); f != nil {
		return f
	}
	inside := func(a, b []piece) bool {
		ring := make(geom.Ring, len(a))
		for i, p := range a {
			ring[i] = p.a
		}
		return ring.Locate(b[0].a) == geom.Inside
	}
	if inside(mine, theirs) || inside(theirs, mine) {
		return &Fault{fmt.Errorf("one lies in the other"), -1, -1, theirs[0].a}
	}
	return nil
}

func clashOf(mine, theirs []piece) error {
	for _, p := range mine {
		for _, q := range theirs {
			if max(p.a.X, p.b.X) < min(q.a.X, q.b.X) || max(q.a.X, q.b.X) < min(p.a.X, p.b.X) ||
				max(p.a.Y, p.b.Y) < min(q.a.Y, q.b.Y) || max(q.a.Y, q.b.Y) < min(p.a.Y, p.b.Y) {
				continue
			}
			if at, ok := meet(p, q); ok {
				return &Fault{ErrMeets, p.seg, q.seg, at}
			}
		}
	}
	return nil
}

// Web returns the least distance between the loops o and q, which do not meet,
// in units, within the fineness of their polylines.
func (o Outline) Web(q Outline) float64 {
	mine, theirs := o.pieces(), q.pieces()
	best := math.Inf(1)
	for _, p := range mine {
		for _, r := range theirs {
			best = min(best, pointToPiece(p.a, r), pointToPiece(r.a, p))
		}
	}
	return best
}

func pointToPiece(c geom.Point, p piece) float64 {
	ux, uy := float64(p.b.X-p.a.X), float64(p.b.Y-p.a.Y)
	vx, vy := float64(c.X-p.a.X), float64(c.Y-p.a.Y)
	t := max(0, min(1, (ux*vx+uy*vy)/(ux*ux+uy*uy)))
	return math.Hypot(vx-t*ux, vy-t*uy)
}

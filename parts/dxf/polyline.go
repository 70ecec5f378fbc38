package dxf

import (
	"math"
	"strings"

	"panelyard/parts/drawing/curve"
	"panelyard/parts/outline"
)

// corner is a corner of a polyline and the bulge of the segment that leaves it.
type corner struct {
	at    vec
	bulge float64
}

// polyline is a run of lines and arcs.
type polyline struct {
	corners []corner
	closed  bool
}

const closedFlag = 1

// polyline reads an LWPOLYLINE: its corners are groups 10, 20 and 42 in turn.
func (r *record) polyline() (shape, error) {
	flags, err := r.whole(70, 0)
	if err != nil {
		return nil, err
	}
	p := &polyline{closed: flags&closedFlag != 0}
	for _, g := range r.groups {
		switch g.code {
		case 10, 20, 42:
		default:
			continue
		}
		v, err := g.number()
		if err != nil {
			return nil, err
		}
		n := len(p.corners)
		switch {
		case g.code == 10:
			p.corners = append(p.corners, corner{at: vec{X: v, Y: math.NaN()}})
		case n > 0 && g.code == 20:
			p.corners[n-1].at.Y = v
		case n > 0:
			p.corners[n-1].bulge = v
		}
	}
	return p, p.check()
}

// check returns an error when there is nothing to draw.
func (p *polyline) check() error {
	const again = "take it out of the drawing, or draw it again"
	if len(p.corners) < 2 {
		return fault(again, "has less than two corners")
	}
	for _, c := range p.corners {
		if !c.at.Finite() {
			return fault(again, "has a corner without y")
		}
		const most = 1e6 // beyond it the ends no longer say where the arc is
		if math.Abs(c.bulge) >= most {
			return fault(again, "has an arc with the bulge %g", c.bulge)
		}
	}
	return nil
}

// vertices reads the records after a POLYLINE up to its SEQEND.
func (r *reader) vertices(g *groups) ([]record, error) {
	var list []record
	for {
		h, err := g.next()
		if err != nil {
			return nil, err
		}
		word := strings.ToUpper(strings.TrimSpace(h.value))
		if h.code != 0 || word != "VERTEX" && word != "SEQEND" {
			g.back(h) // some programs leave the end out
			return list, nil
		}
		v, err := g.record(h)
		if err != nil {
			return nil, err
		}
		if word == "SEQEND" {
			return list, nil
		}
		list = append(list, v)
	}
}

// oldPolyline reads the vertices of a POLYLINE, without those of the frame of a
// spline.
func oldPolyline(flags int, bad error, vertices []record) (shape, error) {
	if bad != nil {
		return nil, bad
	}
	p := &polyline{closed: flags&closedFlag != 0}
	for i := range vertices {
		v := &vertices[i]
		kind, err := v.whole(70, 0)
		if err != nil {
			return nil, err
		}
		const frame = 16
		if kind&frame != 0 {
			continue
		}
		at, err := v.required(10, 20)
		if err != nil {
			return nil, err
		}
		bulge, err := v.reals([]int{42}, 0)
		if err != nil {
			return nil, err
		}
		p.corners = append(p.corners, corner{vec{X: at[0], Y: at[1]}, bulge[0]})
	}
	return p, p.check()
}

// straight is the bulge below which a segment in an uneven view is taken as a line:
// over the longest chord it rises by less than half a grid unit.
const straight = 1e-9

// draw draws the polyline: its arcs stay arcs if the view is even.
func (p *polyline) draw(x *expansion, e *entity, at place) error {
	v := at.view.Then(e.plane)
	similar, mirrors := even(v)
	t := trail{x: x}
	n := len(p.corners)
	for i, c := range p.corners {
		bulge := c.bulge
		if mirrors {
			bulge = -bulge
		}
		last := i == n-1 && !p.closed
		next := p.corners[(i+1)%n].at
		if last || similar || math.Abs(bulge) < straight || next == c.at {
			if err := t.add(v.Point(c.at), bulge); err != nil {
				return err
			}
			continue
		}
		arc, back := bulged(c.at, next, c.bulge)
		points, err := pointsOf(arc.Through(v), float64(x.r.opt.Tolerance))
		if err != nil {
			return err
		}
		t.within = x.r.opt.Tolerance
		for k := range len(points) - 1 {
			q := points[k]
			if back {
				q = points[len(points)-1-k]
			}
			if k == 0 {
				q = v.Point(c.at) // not computed by way of the arc
			}
			if err := t.add(q, 0); err != nil {
				return err
			}
		}
	}
	if n := len(t.path); !p.closed {
		t.path[n-1].Bulge = 0
	}
	return x.piece(e, at, t, p.closed)
}

// pointsOf returns points of c whose chords leave it by no more than the tolerance.
func pointsOf(c curve.Conic, tolerance float64) ([]vec, error) {
	cuts, err := c.Flat(tolerance)
	if err != nil {
		return nil, err
	}
	out := make([]vec, len(cuts))
	for i, t := range cuts {
		out[i] = c.At(t)
	}
	return out, nil
}

// draw draws an arc of a circle or an ellipse.
func (c *conic) draw(x *expansion, e *entity, at place) error {
	v := c.Through(at.view.Then(e.plane))
	t := trail{x: x}
	if round(v.U, v.V) {
		cuts, bulge := v.Arcs()
		for _, a := range cuts {
			if err := t.add(v.At(a), bulge); err != nil {
				return err
			}
		}
	} else {
		points, err := pointsOf(v, float64(x.r.opt.Tolerance))
		if err != nil {
			return err
		}
		t.within = x.r.opt.Tolerance
		for _, p := range points {
			if err := t.add(p, 0); err != nil {
				return err
			}
		}
	}
	if n := len(t.path) - 1; v.Whole() {
		t.path = t.path[:n]
	} else {
		t.path[n] = outline.Vertex{At: t.path[n].At}
	}
	return x.piece(e, at, t, v.Whole())
}

// draw draws a spline.
func (s *spline) draw(x *expansion, e *entity, at place) error {
	points, err := s.flat(at.view.Then(e.plane), float64(x.r.opt.Tolerance))
	if err != nil {
		return err
	}
	t := trail{x: x, within: x.r.opt.Tolerance}
	for _, p := range points {
		if err := t.add(p, 0); err != nil {
			return err
		}
	}
	return x.piece(e, at, t, false)
}

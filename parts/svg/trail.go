package svg

import (
	"fmt"
	"math"

	"panelyard/parts/drawing"
	"panelyard/parts/drawing/curve"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// farRemedy is what to do about a point beyond the lengths of a job.
const farRemedy = "check the size and the unit of the drawing, and move it to its origin"

// errFar returns the error of such a point.
func errFar() error { return &faulty{"lies further than 33.5 m from the origin", farRemedy} }

// trail is a run that is being drawn on the grid.
type trail struct {
	view      curve.View
	tolerance float64
	path      []outline.Vertex
	flat      bool // a curve became lines
	last      curve.Vec
}

// to adds a point, the end of a segment with a bulge.
func (t *trail) to(p curve.Vec, bulge float64) error {
	at, ok := p.OnGrid()
	if !ok {
		return errFar()
	}
	if n := len(t.path); n > 0 {
		t.path[n-1].Bulge = bulge
	}
	t.path = append(t.path, outline.Vertex{At: at})
	t.last = p
	return nil
}

// segment adds a segment.
func (t *trail) segment(s *segment) error {
	end := t.view.Point(s.to)
	switch {
	case s.arc != nil:
		return t.arc(s.arc.Through(t.view), end)
	case s.bend != nil:
		return t.bezier(s.bend, end)
	}
	return t.to(end, 0)
}

// arc adds an arc that ends at a point: an arc of a circle, or lines.
func (t *trail) arc(c curve.Conic, end curve.Vec) error {
	if !c.Centre.Finite() || !c.U.Finite() || !c.V.Finite() {
		return errFar()
	}
	cuts, bulge := c.Arcs()
	if !c.Round() {
		var err error
		if cuts, err = c.Flat(t.tolerance); err != nil {
			return err
		}
		bulge, t.flat = 0, true
	}
	for _, a := range cuts[1 : len(cuts)-1] {
		if err := t.to(c.At(a), bulge); err != nil {
			return err
		}
	}
	return t.to(end, bulge)
}

// bezier adds a Bézier curve. Its control points are no further than ten times the
// lengths of a job, so that it needs few points (see [curve.MaxPoints]) or is told
// to lie too far at once.
func (t *trail) bezier(bend []curve.Vec, end curve.Vec) error {
	const most = 10 * float64(length.Max)
	points := []curve.Weighted{{X: t.last.X, Y: t.last.Y, W: 1}}
	for _, p := range bend {
		p = t.view.Point(p)
		if !(math.Abs(p.X) <= most && math.Abs(p.Y) <= most) {
			return errFar()
		}
		points = append(points, curve.Weighted{X: p.X, Y: p.Y, W: 1})
	}
	if _, ok := end.OnGrid(); !ok {
		return errFar()
	}
	f := curve.Flattener{Tolerance: t.tolerance}
	for _, part := range curve.Monotone(append(points, curve.Weighted{X: end.X, Y: end.Y, W: 1})) {
		if err := f.Add(part); err != nil {
			return err
		}
	}
	t.flat = true
	for _, p := range f.Out {
		if err := t.to(p, 0); err != nil {
			return err
		}
	}
	return nil
}

// runs adds the runs of an element to the drawing.
func (x *expansion) runs(n *node, at place, runs []run) error {
	src, name, first := x.source(n, at), x.name(n, at), len(x.d.Pieces)
	for i := range runs {
		r := &runs[i]
		t := trail{view: at.view, tolerance: float64(x.r.opt.Tolerance)}
		if err := t.to(at.view.Point(r.start), 0); err != nil {
			return err
		}
		for k := range r.segments {
			if err := t.segment(&r.segments[k]); err != nil {
				return err
			}
		}
		if x.segments += len(t.path); x.segments > drawing.MaxSegments {
			x.stop(n, fmt.Sprintf("the drawing has more than %d segments", drawing.MaxSegments))
			return nil
		}
		p := drawing.Piece{
			Source: src, Layer: at.layer.name, Colour: at.style.colour(),
			Path: t.path, Closed: r.closed,
		}
		if k := len(t.path) - 1; r.closed && k > 1 && t.path[k].At == t.path[0].At {
			p.Path = t.path[:k]
		}
		if t.flat {
			p.Within = x.r.opt.Tolerance
		}
		x.d.Pieces = append(x.d.Pieces, p)
	}
	if own := x.d.Pieces[first:]; name != "" && len(own) > 0 {
		own[largest(own)].Name = name
	}
	return nil
}

// largest returns which of the pieces of an element has the largest box: it has the
// name of the element, the others are its openings.
func largest(own []drawing.Piece) int {
	at, best := 0, -1.0
	for i := range own {
		b := outline.Outline(own[i].Path).Box()
		if size := float64(b.Dx()) * float64(b.Dy()); size > best {
			at, best = i, size
		}
	}
	return at
}

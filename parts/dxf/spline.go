package dxf

import (
	"errors"
	"math"
)

// MaxPoints is how many points a curve may need.
const MaxPoints = 10_000

// errFine is the error of a curve that needs more.
var errFine = errors.New("too many points")

// maxDegree is the highest degree of a spline; CAD programs use 3, seldom 5.
const maxDegree = 15

// spline is a B-spline curve with weights (NURBS), which are all 1 when there are
// none in the file.
type spline struct {
	degree  int
	knots   []float64
	points  []vec
	weights []float64
}

// homogeneous is a control point times its weight, and the weight.
type homogeneous struct{ x, y, w float64 }

func (h homogeneous) flat() vec { return vec{h.x / h.w, h.y / h.w} }

func between(a, b homogeneous, t float64) homogeneous {
	return homogeneous{a.x + t*(b.x-a.x), a.y + t*(b.y-a.y), a.w + t*(b.w-a.w)}
}

// spline reads and checks the spline of a record.
func (r *record) spline() (*spline, error) {
	s := &spline{}
	var err error
	if s.degree, err = r.whole(71, 3); err != nil {
		return nil, err
	}
	fits := 0
	for _, g := range r.groups {
		var v float64
		switch g.code {
		case 10, 20, 40, 41:
			if v, err = g.number(); err != nil {
				return nil, err
			}
		}
		switch g.code {
		case 10:
			s.points = append(s.points, vec{v, math.NaN()})
		case 20:
			if n := len(s.points); n > 0 {
				s.points[n-1].y = v
			}
		case 40:
			s.knots = append(s.knots, v)
		case 41:
			s.weights = append(s.weights, v)
		case 11:
			fits++
		}
	}
	n := len(s.points)
	const again = "save the drawing again, or turn the spline into a polyline in the drawing program"
	if n == 0 && fits > 0 {
		return nil, fault("turn it into a spline with control points, or into a polyline, in the drawing program",
			"has %d points that it passes and no control points: what runs between them is not laid down", fits)
	}
	switch {
	case s.degree < 1 || s.degree > maxDegree:
		return nil, fault(again, "has degree %d; 1 to %d can be read", s.degree, maxDegree)
	case n <= s.degree:
		return nil, fault(again, "has %d control points; its degree, %d, needs more", n, s.degree)
	case len(s.knots) != n+s.degree+1:
		return nil, fault(again, "has %d knots; %d control points of degree %d need %d", len(s.knots), n, s.degree, n+s.degree+1)
	case s.weights != nil && len(s.weights) != n:
		return nil, fault(again, "has %d control points and not as many weights, but %d", n, len(s.weights))
	}
	for i := 1; i < len(s.knots); i++ {
		if s.knots[i] < s.knots[i-1] {
			return nil, fault(again, "has knots that do not ascend: %v after %v", s.knots[i], s.knots[i-1])
		}
	}
	if !(s.knots[s.degree] < s.knots[n]) {
		return nil, fault(again, "has knots that leave nothing to draw")
	}
	for _, p := range s.points {
		if !p.finite() {
			return nil, fault(again, "has a control point without y")
		}
	}
	for _, w := range s.weights {
		if w <= 0 {
			return nil, fault(again, "has a weight of %v; only weights above 0 can be drawn", w)
		}
	}
	return s, nil
}

// flat returns points of the spline, seen through a view, such that the lines
// between them and the curve are within the tolerance of each other.
//
// Each span between knots is turned into a Bézier curve by its blossom (L. Ramshaw,
// "Blossoms are polar forms", Computer Aided Geometric Design 6, 1989, pp. 323-358,
// doi:10.1016/0167-8396(89)90032-0, from memory); these are halved by de
// Casteljau's rule until all their control points are within the tolerance of the
// chord. As weights are positive the curve lies in the hull of the control points,
// so the bound holds. Time O(degree²) a span and a point.
func (s *spline) flat(v view, tolerance float64) ([]vec, error) {
	p := s.degree
	pts := make([]homogeneous, len(s.points))
	for i, q := range s.points {
		q = v.point(q)
		w := 1.0
		if s.weights != nil {
			w = s.weights[i]
		}
		pts[i] = homogeneous{q.x * w, q.y * w, w}
		if !q.finite() || !(vec{pts[i].x, pts[i].y}).finite() {
			return nil, errFar
		}
	}
	f := flattener{tolerance: tolerance}
	first := true
	for k := p; k < len(s.points); k++ {
		if !(s.knots[k] < s.knots[k+1]) {
			continue
		}
		span := s.bezier(pts, k)
		if first {
			f.out, first = append(f.out, span[0].flat()), false
		}
		if err := f.add(span, 0); err != nil {
			return nil, err
		}
	}
	return f.out, nil
}

// bezier returns the control points of the span from knot k to the next as a
// Bézier curve: point i is the blossom of the span with i times its end and else
// its beginning.
func (s *spline) bezier(pts []homogeneous, k int) []homogeneous {
	p := s.degree
	a, b := s.knots[k], s.knots[k+1]
	out := make([]homogeneous, p+1)
	d := make([]homogeneous, p+1)
	for i := range out {
		copy(d, pts[k-p:k+1])
		for r := 1; r <= p; r++ {
			t := a
			if r <= i {
				t = b
			}
			for j := p; j >= r; j-- {
				lo, hi := s.knots[k-p+j], s.knots[k+1+j-r]
				d[j] = between(d[j-1], d[j], (t-lo)/(hi-lo))
			}
		}
		out[i] = d[p]
	}
	return out
}

// flattener halves Bézier curves until they are flat.
type flattener struct {
	tolerance float64
	out       []vec
}

// add adds the points of a curve but its first.
func (f *flattener) add(c []homogeneous, depth int) error {
	const deepest = 40 // beyond it neighbouring points are the same
	if depth == deepest || f.isFlat(c) {
		end := c[len(c)-1].flat()
		if !end.finite() {
			return errFar
		}
		f.out = append(f.out, end)
		if len(f.out) > MaxPoints {
			return errFine
		}
		return nil
	}
	n := len(c)
	left, right := make([]homogeneous, n), append([]homogeneous(nil), c...)
	for i := range left {
		left[i] = right[0]
		for j := 0; j < n-1-i; j++ {
			right[j] = between(right[j], right[j+1], 0.5)
		}
	}
	if err := f.add(left, depth+1); err != nil {
		return err
	}
	return f.add(right, depth+1)
}

// isFlat reports whether all control points are within the tolerance of the chord.
func (f *flattener) isFlat(c []homogeneous) bool {
	a, b := c[0].flat(), c[len(c)-1].flat()
	d := b.sub(a)
	for _, h := range c[1 : len(c)-1] {
		p := h.flat().sub(a)
		t := 0.0
		if l := d.dot(d); l > 0 {
			t = max(0, min(1, p.dot(d)/l))
		}
		if !(p.sub(d.by(t)).long() <= f.tolerance) {
			return false
		}
	}
	return true
}

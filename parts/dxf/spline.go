package dxf

import (
	"errors"
	"math"

	"panelyard/parts/drawing/curve"
)

// MaxPoints is how many points a curve may need.
const MaxPoints = curve.MaxPoints

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
			s.points = append(s.points, vec{X: v, Y: math.NaN()})
		case 20:
			if n := len(s.points); n > 0 {
				s.points[n-1].Y = v
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
		if !p.Finite() {
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
	pts := make([]curve.Weighted, len(s.points))
	for i, q := range s.points {
		q = v.Point(q)
		w := 1.0
		if s.weights != nil {
			w = s.weights[i]
		}
		pts[i] = curve.Weighted{X: q.X * w, Y: q.Y * w, W: w}
		if !q.Finite() || !(vec{X: pts[i].X, Y: pts[i].Y}).Finite() {
			return nil, errFar
		}
	}
	f := curve.Flattener{Tolerance: tolerance}
	first := true
	for k := p; k < len(s.points); k++ {
		if !(s.knots[k] < s.knots[k+1]) {
			continue
		}
		span := s.bezier(pts, k)
		if first {
			f.Out, first = append(f.Out, span[0].Flat()), false
		}
		if err := f.Add(span); errors.Is(err, curve.ErrFar) {
			return nil, errFar
		} else if err != nil {
			return nil, err
		}
	}
	return f.Out, nil
}

// bezier returns the control points of the span from knot k to the next as a
// Bézier curve: point i is the blossom of the span with i times its end and else
// its beginning.
func (s *spline) bezier(pts []curve.Weighted, k int) []curve.Weighted {
	p := s.degree
	a, b := s.knots[k], s.knots[k+1]
	out := make([]curve.Weighted, p+1)
	d := make([]curve.Weighted, p+1)
	for i := range out {
		copy(d, pts[k-p:k+1])
		for r := 1; r <= p; r++ {
			t := a
			if r <= i {
				t = b
			}
			for j := p; j >= r; j-- {
				lo, hi := s.knots[k-p+j], s.knots[k+1+j-r]
				d[j] = curve.Between(d[j-1], d[j], (t-lo)/(hi-lo))
			}
		}
		out[i] = d[p]
	}
	return out
}

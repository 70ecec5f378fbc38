package kerf

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// The errors of an edge band that cannot be deducted.
var (
	ErrEdgeGone     = errors.New("the edge is shorter than the bands beside it are thick")
	ErrSmoothJoint  = errors.New("two edges that run smoothly into each other have bands of different thickness")
	ErrRadiusTooBig = errors.New("the band is thicker than the radius of the edge")
)

// Deduct returns o with each segment moved inwards by deduct[i], the thickness
// of the band that will be glued to it: the size the panel is cut to. Lines stay
// lines and arcs arcs about the same centre; corners are where the moved
// segments meet, rounded to the grid.
//
//	finished   +-----------+      cut   .-----------.   top banded:
//	           |           |            |           |   only the top moves
//	           +-----------+            +-----------+
//
// The error names the edge and wraps ErrEdgeGone, ErrSmoothJoint or
// ErrRadiusTooBig. Deduct costs O(n).
func Deduct(o outline.Outline, deduct []length.Length) (outline.Outline, error) {
	n := len(o)
	if !slices.ContainsFunc(deduct, func(d length.Length) bool { return d != 0 }) {
		return slices.Clone(o), nil
	}
	segs := make([]curve, n)
	for i := range o {
		var err error
		if segs[i], err = newCurve(o, i, deduct[i]); err != nil {
			return nil, fmt.Errorf("edge %s: %w", edgeName(o, i), err)
		}
	}
	cut := make(outline.Outline, n)
	at := make([][2]float64, n)
	for i := range o {
		prev, next := segs[(i+n-1)%n], segs[i]
		cut[i] = o[i]
		if deduct[i] == 0 && deduct[(i+n-1)%n] == 0 {
			at[i] = [2]float64{float64(o[i].At.X), float64(o[i].At.Y)}
			continue
		}
		p, err := meet(prev, next, o[i].At)
		if err != nil {
			return nil, fmt.Errorf("edges %s and %s: %w", edgeName(o, (i+n-1)%n), edgeName(o, i), err)
		}
		at[i] = p
		cut[i].At = geom.Pt(length.Length(math.Round(p[0])), length.Length(math.Round(p[1])))
	}
	for i := range o {
		bulge, err := segs[i].between(at[i], at[(i+1)%n])
		if err != nil {
			return nil, fmt.Errorf("edge %s: %w", edgeName(o, i), err)
		}
		cut[i].Bulge = bulge
	}
	return cut, nil
}

// edgeName returns the name of segment i in quotes, or its number from 1.
func edgeName(o outline.Outline, i int) string {
	if o[i].Edge != "" {
		return fmt.Sprintf("%q", o[i].Edge)
	}
	return fmt.Sprintf("%d", i+1)
}

// curve is a segment moved inwards: a line through (x, y) with unit direction
// (ux, uy), or a circle about (x, y).
type curve struct {
	x, y   float64
	ux, uy float64 // direction of travel; of a line only
	r      float64 // radius; 0 for a line
	ccw    bool    // the arc runs counter-clockwise
	bulge  float64 // of the segment before it was moved
	by     float64 // how far it was moved
	// in and out are the unit directions of travel at the ends before the move.
	in, out [2]float64
}

func newCurve(o outline.Outline, i int, by length.Length) (curve, error) {
	a, b := o[i].At, o[(i+1)%len(o)].At
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	chord := math.Hypot(dx, dy)
	ux, uy := dx/chord, dy/chord
	d := float64(by)
	c := curve{bulge: o[i].Bulge, by: d}
	if math.Abs(c.bulge)*chord/2 < 0.5 {
		// An arc that rises less than half a unit is a line on the grid.
		c.bulge = 0
		c.ux, c.uy = ux, uy
		c.x, c.y = float64(a.X)-uy*d, float64(a.Y)+ux*d // inwards is left
		c.in, c.out = [2]float64{ux, uy}, [2]float64{ux, uy}
		return c, nil
	}
	half := 2 * math.Atan(c.bulge) // half the signed angle
	r := chord / 2 / math.Abs(math.Sin(half))
	// The centre lies on the chord's bisector, left of it for an arc that runs
	// counter-clockwise through less than half a turn.
	h := chord / 2 / math.Tan(half)
	c.x = (float64(a.X)+float64(b.X))/2 - uy*h
	c.y = (float64(a.Y)+float64(b.Y))/2 + ux*h
	c.ccw = c.bulge > 0
	c.r = r + d
	if c.ccw {
		c.r = r - d
	}
	sin, cos := math.Sincos(half)
	c.in = [2]float64{ux*cos + uy*sin, -ux*sin + uy*cos}
	c.out = [2]float64{ux*cos - uy*sin, ux*sin + uy*cos}
	if c.r <= 0 {
		return c, ErrRadiusTooBig
	}
	return c, nil
}

// smooth is the sine of the largest angle between two edges that counts as a
// smooth joint: 0.1 degree.
const smooth = 0.00175

// meet returns where two moved segments meet, near the corner they had.
func meet(p, q curve, corner geom.Point) ([2]float64, error) {
	v := [2]float64{float64(corner.X), float64(corner.Y)}
	cross := p.out[0]*q.in[1] - p.out[1]*q.in[0]
	if dot := p.out[0]*q.in[0] + p.out[1]*q.in[1]; math.Abs(cross) < smooth && dot > 0 {
		if p.by != q.by {
			return v, ErrSmoothJoint
		}
		return [2]float64{v[0] - q.in[1]*q.by, v[1] + q.in[0]*q.by}, nil
	}
	switch {
	case p.r == 0 && q.r == 0:
		// p + s·u meets the line q: cross products with q's direction.
		s := ((q.x-p.x)*q.uy - (q.y-p.y)*q.ux) / (p.ux*q.uy - p.uy*q.ux)
		return [2]float64{p.x + s*p.ux, p.y + s*p.uy}, nil
	case p.r == 0:
		return lineCircle(p, q, v)
	case q.r == 0:
		return lineCircle(q, p, v)
	}
	return circleCircle(p, q, v)
}

// lineCircle returns the common point of a line and a circle that is nearest to v.
func lineCircle(l, c curve, v [2]float64) ([2]float64, error) {
	foot := (c.x-l.x)*l.ux + (c.y-l.y)*l.uy
	off := (c.x-l.x)*l.uy - (c.y-l.y)*l.ux
	s := c.r*c.r - off*off
	if s < 0 {
		return v, ErrEdgeGone
	}
	s = math.Sqrt(s)
	return nearest(v,
		[2]float64{l.x + (foot-s)*l.ux, l.y + (foot-s)*l.uy},
		[2]float64{l.x + (foot+s)*l.ux, l.y + (foot+s)*l.uy}), nil
}

// circleCircle returns the common point of two circles that is nearest to v.
func circleCircle(a, b curve, v [2]float64) ([2]float64, error) {
	dx, dy := b.x-a.x, b.y-a.y
	d := math.Hypot(dx, dy)
	if d == 0 {
		return v, ErrEdgeGone
	}
	along := (a.r*a.r - b.r*b.r + d*d) / (2 * d)
	s := a.r*a.r - along*along
	if s < 0 {
		return v, ErrEdgeGone
	}
	s = math.Sqrt(s)
	x, y := a.x+along*dx/d, a.y+along*dy/d
	return nearest(v, [2]float64{x - s*dy/d, y + s*dx/d}, [2]float64{x + s*dy/d, y - s*dx/d}), nil
}

func nearest(v, p, q [2]float64) [2]float64 {
	if math.Hypot(p[0]-v[0], p[1]-v[1]) <= math.Hypot(q[0]-v[0], q[1]-v[1]) {
		return p
	}
	return q
}

// between returns the bulge of the moved segment between its new ends, or
// ErrEdgeGone when nothing of it is left.
func (c curve) between(a, b [2]float64) (float64, error) {
	if c.r == 0 {
		if (b[0]-a[0])*c.ux+(b[1]-a[1])*c.uy <= 0 {
			return 0, ErrEdgeGone
		}
		return 0, nil
	}
	ax, ay, bx, by := a[0]-c.x, a[1]-c.y, b[0]-c.x, b[1]-c.y
	theta := math.Atan2(ax*by-ay*bx, ax*bx+ay*by)
	was := 4 * math.Atan(c.bulge)
	// The angle changes little; of the angles that differ by a whole turn the
	// nearest to the old one is meant.
	theta += 2 * math.Pi * math.Round((was-theta)/(2*math.Pi))
	if theta*was <= 0 || math.Abs(theta) >= 2*math.Pi {
		return 0, ErrEdgeGone
	}
	return math.Tan(theta / 4), nil
}

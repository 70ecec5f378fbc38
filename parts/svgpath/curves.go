package svgpath

import (
	"math"
	"slices"

	"github.com/tdewolff/canvas"
)

// A curve is a segment of path data that is neither a line nor a circular arc, as
// a function of a parameter from 0 to 1.
type curve struct {
	at     func(t float64) canvas.Point
	second float64   // a bound of the length of its second derivative
	level  []float64 // where it runs parallel to an axis, among others
}

// flatten adds points of a curved segment so that lines between them leave it by
// less than tolerance. A chord over a step h of the parameter leaves a curve by at
// most h²/8 times its greatest second derivative. Where it runs parallel to an
// axis there is a point, so that the box of the outline is that of the curve.
func flatten(sc *canvas.PathScanner, tolerance float64, add func(canvas.Point, float64) error) error {
	c := curveOf(sc)
	cuts := []float64{1}
	for _, t := range c.level {
		if t > 0 && t < 1 {
			cuts = append(cuts, t)
		}
	}
	slices.Sort(cuts)
	from := 0.0
	for _, to := range cuts {
		n := math.Ceil((to - from) * math.Sqrt(c.second/8/tolerance))
		if !(n <= MaxVertices) { // it may be no number at all
			return ErrTooLong
		}
		for k := 1.0; k <= n && from+(to-from)*k/n < 1; k++ {
			if err := add(c.at(from+(to-from)*k/n), 0); err != nil {
				return err
			}
		}
		from = to
	}
	return add(sc.End(), 0)
}

// curveOf returns the curve of a segment.
func curveOf(sc *canvas.PathScanner) curve {
	a, b := sc.Start(), sc.End()
	mix := func(t float64, p, q canvas.Point) canvas.Point {
		return canvas.Point{X: p.X + t*(q.X-p.X), Y: p.Y + t*(q.Y-p.Y)}
	}
	bend := func(p, q, r canvas.Point) float64 { return math.Hypot(p.X-2*q.X+r.X, p.Y-2*q.Y+r.Y) }
	switch sc.Cmd() {
	case canvas.QuadToCmd:
		c := sc.CP1()
		return curve{
			at:     func(t float64) canvas.Point { return mix(t, mix(t, a, c), mix(t, c, b)) },
			second: 2 * bend(a, c, b),
			level:  []float64{(a.X - c.X) / (a.X - 2*c.X + b.X), (a.Y - c.Y) / (a.Y - 2*c.Y + b.Y)},
		}
	case canvas.CubeToCmd:
		c, d := sc.CP1(), sc.CP2()
		return curve{
			at: func(t float64) canvas.Point {
				p, q, r := mix(t, a, c), mix(t, c, d), mix(t, d, b)
				return mix(t, mix(t, p, q), mix(t, q, r))
			},
			second: 6 * max(bend(a, c, d), bend(c, d, b)),
			level:  append(turns(a.X, c.X, d.X, b.X), turns(a.Y, c.Y, d.Y, b.Y)...),
		}
	}
	rx, ry, deg, large, sweep := sc.Arc()
	return ellipse(a, b, rx, ry, deg*math.Pi/180, large, sweep)
}

// turns returns where the derivative of a cubic Bézier curve in one coordinate is
// zero.
func turns(p0, p1, p2, p3 float64) []float64 {
	// A third of it is a·t² + 2·b·t + c.
	a, b, c := p3-3*p2+3*p1-p0, p2-2*p1+p0, p1-p0
	root := math.Sqrt(b*b - a*c)
	q := -(b + math.Copysign(root, b)) // no cancellation
	return []float64{q / a, c / q}     // not a number where there is none
}

// ellipse returns an elliptical arc by its centre: SVG 1.1, appendix F.6.5 and
// F.6.6 (from memory). turn is the angle of its first axis.
func ellipse(a, b canvas.Point, rx, ry, turn float64, large, sweep bool) curve {
	sin, cos := math.Sincos(turn)
	dx, dy := (a.X-b.X)/2, (a.Y-b.Y)/2
	x, y := (cos*dx+sin*dy)/rx, (-sin*dx+cos*dy)/ry // on the unit circle, centred on the chord
	if l := math.Hypot(x, y); l > 1 {
		rx, ry, x, y = rx*l, ry*l, x/l, y/l
	}
	h := math.Sqrt(max(0, 1/(x*x+y*y)-1))
	if large == sweep {
		h = -h
	}
	cx, cy := h*y, -h*x
	from := math.Atan2(y-cy, x-cx)
	by := math.Atan2(-y-cy, -x-cx) - from
	if sweep && by < 0 {
		by += 2 * math.Pi
	} else if !sweep && by > 0 {
		by -= 2 * math.Pi
	}
	c := curve{
		at: func(t float64) canvas.Point {
			s, c := math.Sincos(from + t*by)
			u, v := rx*(c+cx), ry*(s+cy)
			return canvas.Point{X: cos*u - sin*v + (a.X+b.X)/2, Y: sin*u + cos*v + (a.Y+b.Y)/2}
		},
		second: by * by * max(rx, ry),
	}
	for _, angle := range [2]float64{math.Atan2(-sin*ry, cos*rx), math.Atan2(cos*ry, sin*rx)} {
		for k := -3.0; k <= 3; k++ {
			c.level = append(c.level, (angle+k*math.Pi-from)/by)
		}
	}
	return c
}

package outline

import (
	"errors"
	"fmt"
	"math"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// The errors of an arc that cannot be drawn.
var (
	ErrNoChord     = errors.New("the arc starts where it ends")
	ErrSmallRadius = errors.New("the radius is smaller than half the chord")
	ErrOnLine      = errors.New("the three points lie on a line")
)

// BulgeFromRadius returns the bulge of the arc from a to b with a radius:
// counter-clockwise when ccw, the longer of the two arcs when large. The error
// is ErrNoChord or ErrSmallRadius.
func BulgeFromRadius(a, b geom.Point, radius length.Length, ccw, large bool) (float64, error) {
	c := chord(a, b)
	if c == 0 {
		return 0, ErrNoChord
	}
	half := c / 2 / float64(radius)
	if radius <= 0 || half > 1+1e-12 {
		return 0, fmt.Errorf("%w: %v is less than %.3f mm", ErrSmallRadius, radius, c/2/float64(length.Millimetre))
	}
	theta := 2 * math.Asin(min(half, 1))
	if large {
		theta = 2*math.Pi - theta
	}
	bulge := math.Tan(theta / 4)
	if !ccw {
		bulge = -bulge
	}
	return bulge, nil
}

// BulgeFromRise returns the bulge of the arc over the chord a-b with a rise
// (sagitta), positive to the right of the direction from a to b: outwards on a
// counter-clockwise outline.
func BulgeFromRise(a, b geom.Point, rise length.Length) (float64, error) {
	c := chord(a, b)
	if c == 0 {
		return 0, ErrNoChord
	}
	return 2 * float64(rise) / c, nil
}

// BulgeThrough returns the bulge of the arc from a through m to b.
func BulgeThrough(a, m, b geom.Point) (float64, error) {
	if a == b || a == m || m == b {
		return 0, ErrNoChord
	}
	if geom.Orient(a, m, b) == geom.Collinear {
		return 0, ErrOnLine
	}
	// The inscribed angle at m is half the arc that m is not on, so the angle
	// of our arc is 2π minus twice it, and a quarter of that is (π-angle)/2.
	u, v := a.Sub(m), b.Sub(m)
	angle := math.Atan2(float64(u.Cross(v)), float64(u.Dot(v)))
	bulge := math.Tan((math.Pi - math.Abs(angle)) / 2)
	if geom.Orient(a, m, b) == geom.Clockwise {
		bulge = -bulge
	}
	return bulge, nil
}

// arc is one arc segment in the frame of its chord. With d the chord and theta
// the signed angle, the point at angle alpha from the start is
//
//	a + rot(d, (alpha-theta)/2) · sin(alpha/2)/sin(theta/2)
//
// which needs no centre and so stays accurate however flat the arc is.
type arc struct {
	ax, ay, dx, dy, theta float64
}

func newArc(a, b geom.Point, bulge float64) arc {
	return arc{
		float64(a.X), float64(a.Y), float64(b.X - a.X), float64(b.Y - a.Y),
		4 * math.Atan(bulge),
	}
}

// point returns the point at angle alpha, between 0 and theta, from the start.
func (c arc) point(alpha float64) (x, y float64) {
	sin, cos := math.Sincos((alpha - c.theta) / 2)
	k := math.Sin(alpha/2) / math.Sin(c.theta/2)
	return c.ax + k*(c.dx*cos-c.dy*sin), c.ay + k*(c.dx*sin+c.dy*cos)
}

// right returns the unit normal to the right of the direction of travel at alpha.
func (c arc) right(alpha float64) (x, y float64) {
	sin, cos := math.Sincos(alpha - c.theta/2)
	n := math.Hypot(c.dx, c.dy)
	return (c.dx*sin + c.dy*cos) / n, -(c.dx*cos - c.dy*sin) / n
}

// radius returns the radius in units.
func (c arc) radius() float64 {
	return math.Hypot(c.dx, c.dy) / 2 / math.Abs(math.Sin(c.theta/2))
}

// quadrants returns the angles, strictly between 0 and theta and in order, at
// which the arc runs parallel to an axis.
func (c arc) quadrants() []float64 {
	heading := math.Atan2(c.dy, c.dx) - c.theta/2
	sign := 1.0
	if c.theta < 0 {
		sign = -1
	}
	const quarter = math.Pi / 2
	var at []float64
	// The first multiple of a quarter turn met when turning from heading.
	k := math.Floor(sign*heading/quarter) + 1
	for ; ; k++ {
		alpha := k*quarter - sign*heading
		if alpha >= math.Abs(c.theta)-1e-12 {
			return at
		}
		if alpha > 1e-12 {
			at = append(at, sign*alpha)
		}
	}
}

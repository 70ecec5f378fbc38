package svg

import (
	"math"

	"panelyard/parts/drawing/curve"
)

// arcBetween returns the arc of an ellipse from a to b, two different points, with
// half axes above 0, the first turned by degrees. It runs in the direction in which
// angles grow, so where the flag sweep is not set V is turned round. SVG 2, appendix
// B.2.4, "Conversion from endpoint to center parameterization", and B.2.5: half axes
// that are too small are scaled up.
func arcBetween(a, b, half curve.Vec, deg float64, large, sweep bool) curve.Conic {
	sin, cos := turn(deg)
	// The arc in a plane where the ellipse is a circle of radius 1 and the middle of
	// the chord is 0: a is at d, b at -d.
	d := a.Sub(b).By(0.5)
	d = curve.Vec{X: (cos*d.X + sin*d.Y) / half.X, Y: (cos*d.Y - sin*d.X) / half.Y}
	r := d.Long()
	var centre curve.Vec
	if r >= 1 {
		half = half.By(r)
		d = d.By(1 / r)
	} else {
		// At right angles to the chord, to the left or right of it.
		h := math.Sqrt(1-r*r) / r
		if large == sweep {
			h = -h
		}
		centre = curve.Vec{X: h * d.Y, Y: -h * d.X}
	}
	c := curve.Conic{
		U: curve.Vec{X: half.X * cos, Y: half.X * sin},
		V: curve.Vec{X: -half.Y * sin, Y: half.Y * cos},
	}
	c.Centre = a.Add(b).By(0.5).Add(c.U.By(centre.X)).Add(c.V.By(centre.Y))
	if !sweep {
		c.V = c.V.By(-1)
		centre.Y, d.Y = -centre.Y, -d.Y
	}
	from, to := d.Sub(centre), d.By(-1).Sub(centre)
	c.From = math.Atan2(from.Y, from.X)
	turned := math.Atan2(from.Cross(to), from.Dot(to))
	if turned <= 0 {
		turned += 2 * math.Pi
	}
	c.To = c.From + turned
	return c
}

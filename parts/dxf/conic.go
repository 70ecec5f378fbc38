package dxf

import (
	"math"

	"panelyard/parts/drawing/curve"
)

// conic is an arc of an ellipse that is drawn.
type conic struct{ curve.Conic }

// circular returns an arc of a circle, counter-clockwise between angles in degrees.
func circular(centre vec, radius, from, to float64) conic {
	c := conic{curve.Conic{Centre: centre, U: vec{X: radius}, V: vec{Y: radius}}}
	c.between(from*math.Pi/180, to*math.Pi/180)
	return c
}

// between sets the ends, to the first time that to comes after from.
func (c *conic) between(from, to float64) {
	const turn = 2 * math.Pi
	sweep := math.Mod(to-from, turn)
	if sweep <= 1e-9 { // equal angles are a whole turn
		sweep += turn
	}
	c.From = math.Mod(from, turn)
	c.To = c.From + sweep
}

// bulged returns the arc over a chord, and whether it runs from b to a.
func bulged(a, b vec, bulge float64) (c conic, back bool) {
	d := b.Sub(a)
	// The centre is on the bisector of the chord; a positive bulge has it on the
	// left when the arc is less than a half circle.
	h := (1 - bulge*bulge) / (4 * bulge)
	centre := mix(a, b, 0.5).Add(vec{X: -d.Y * h, Y: d.X * h})
	radius := d.Long() * (1 + bulge*bulge) / (4 * math.Abs(bulge))
	if back = bulge < 0; back {
		a = b
	}
	from := math.Atan2(a.Y-centre.Y, a.X-centre.X)
	c = conic{curve.Conic{Centre: centre, U: vec{X: radius}, V: vec{Y: radius}, From: from, To: from + 4*math.Atan(math.Abs(bulge))}}
	return c, back
}

package outline

import (
	"math"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// Box returns the smallest box on the grid that contains o, arcs included.
func (o Outline) Box() geom.Box {
	if len(o) == 0 {
		return geom.Box{}
	}
	b := geom.Box{Min: o[0].At, Max: o[0].At}
	grow := func(x0, y0, x1, y1 length.Length) {
		b.Min.X, b.Min.Y = min(b.Min.X, x0), min(b.Min.Y, y0)
		b.Max.X, b.Max.Y = max(b.Max.X, x1), max(b.Max.Y, y1)
	}
	for i, v := range o {
		grow(v.At.X, v.At.Y, v.At.X, v.At.Y)
		if !v.curved() {
			continue
		}
		p, q := o.ends(i)
		c := newArc(p, q, v.Bulge)
		for _, alpha := range c.quadrants() {
			x, y := c.point(alpha)
			// A value that is a whole number but for float64 noise is that number.
			const noise = 1.0 / 1024
			grow(length.Length(math.Floor(x+noise)), length.Length(math.Floor(y+noise)),
				length.Length(math.Ceil(x-noise)), length.Length(math.Ceil(y-noise)))
		}
	}
	return b
}

// push is how far, in units, computed points are moved to the safe side before
// they are rounded, which moves them by at most 0.71. Both are taken off the
// tolerance, and a unit for the corners that [Outline.opened] makes.
const (
	push  = 2
	slack = 4
)

// Least is the least tolerance of a polyline, a micrometre; a lesser one is
// taken as this.
const Least = length.Micrometre

// Cover returns a counter-clockwise ring that contains o, at most tolerance
// outside it, with the same box. Arcs that bulge out are replaced by tangents
// and arcs that bulge in by chords. A circle of radius r has about
// 2.2·√(r/tolerance) corners.
//
// A cover of a simple outline is a simple ring, in cusps too. The exception: where
// a gap in the outline away from a joint, a slot or a neck between two bays, is
// narrower than twice the tolerance, the ring may cross itself.
//
//	  ___/\___   tangents over an outward arc
//	 /        \
//	|   panel  |
//	 \  .--.  /
//	  \/    \/   chords under an inward arc
func (o Outline) Cover(tolerance length.Length) geom.Ring {
	return o.polyline(float64(max(tolerance, Least)))
}

// Core returns a clockwise ring that is contained in the opening o, at most
// tolerance inside it.
func (o Outline) Core(tolerance length.Length) geom.Ring {
	return o.Reversed().polyline(float64(max(tolerance, Least)))
}

// polyline replaces arcs so that what is on the left of the ring contains what
// is on the left of the outline.
func (o Outline) polyline(tolerance float64) geom.Ring {
	box := o.Box()
	var ring geom.Ring
	add := func(p geom.Point) {
		if n := len(ring); n == 0 || ring[n-1] != p {
			ring = append(ring, p)
		}
	}
	for i, v := range o {
		add(v.At)
		if !v.curved() {
			continue
		}
		p, q := o.ends(i)
		c := newArc(p, q, v.Bulge)
		if v.Bulge > 0 {
			c.tangents(tolerance, func(x, y float64) {
				add(geom.Point{
					X: clamp(length.Length(math.Round(x)), box.Min.X, box.Max.X),
					Y: clamp(length.Length(math.Round(y)), box.Min.Y, box.Max.Y),
				})
			})
		} else {
			c.chords(tolerance, func(x, y float64) {
				add(geom.Point{X: length.Length(math.Round(x)), Y: length.Length(math.Round(y))})
			})
		}
	}
	for n := len(ring); n > 1 && ring[n-1] == ring[0]; n = len(ring) {
		ring = ring[:n-1]
	}
	return o.opened(ring)
}

func clamp(v, lo, hi length.Length) length.Length { return max(lo, min(v, hi)) }

// pieces returns into how many equal steps an angle is cut so that neither
// chord nor tangents leave the arc by more than tolerance.
func (c arc) pieces(angle, tolerance float64) int {
	// The step is 2·acos(r/(r+tolerance)), in a form that holds for the flattest
	// arcs.
	r := c.radius()
	step := 2 * math.Atan(math.Sqrt(tolerance*(2*r+tolerance))/r)
	return max(int(math.Ceil(math.Abs(angle)/step-1e-9)), 1)
}

// tangents calls add for the corners of a line of tangents over the arc, its
// ends left out. The arc is first cut where it is parallel to an axis, so that
// the corners stay in its box.
func (c arc) tangents(tolerance float64, add func(x, y float64)) {
	from := 0.0
	for _, to := range append(c.quadrants(), c.theta) {
		n := c.pieces(to-from, tolerance-slack)
		step := (to - from) / float64(n)
		for k := range n {
			mid := from + (float64(k)+0.5)*step
			x, y := c.point(mid)
			nx, ny := c.right(mid)
			// The tangents at both ends of the step meet this far outside it.
			out := c.radius()*(1/math.Cos(step/2)-1) + push
			add(x+nx*out, y+ny*out)
		}
		from = to
	}
}

// chords calls add for the inner corners of a line of chords of the arc.
func (c arc) chords(tolerance float64, add func(x, y float64)) {
	n := c.pieces(c.theta, tolerance-slack)
	for k := 1; k < n; k++ {
		alpha := c.theta * float64(k) / float64(n)
		x, y := c.point(alpha)
		nx, ny := c.right(alpha)
		add(x+nx*push, y+ny*push)
	}
}

// Points returns the vertices of o and points on its arcs no further apart than
// the tolerance asks, for drawing and measuring: neither cover nor core. A
// tolerance below [Least] is taken as that.
func (o Outline) Points(tolerance length.Length) [][2]float64 {
	var pts [][2]float64
	for i, v := range o {
		pts = append(pts, [2]float64{float64(v.At.X), float64(v.At.Y)})
		if !v.curved() {
			continue
		}
		p, q := o.ends(i)
		c := newArc(p, q, v.Bulge)
		n := c.pieces(c.theta, float64(max(tolerance, Least)))
		for k := 1; k < n; k++ {
			x, y := c.point(c.theta * float64(k) / float64(n))
			pts = append(pts, [2]float64{x, y})
		}
	}
	return pts
}

package dxf

import (
	"math"
	"slices"
)

// conic is an arc of an ellipse: centre + u·cos t + v·sin t for t from from to to,
// in radians, to being greater. u and v are half diameters, each parallel to the
// tangent at the end of the other; on a circle they are two radii.
type conic struct {
	centre, u, v vec
	from, to     float64
}

// circular returns an arc of a circle, counter-clockwise between angles in degrees.
func circular(centre vec, radius, from, to float64) conic {
	c := conic{centre: centre, u: vec{radius, 0}, v: vec{0, radius}}
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
	c.from = math.Mod(from, turn)
	c.to = c.from + sweep
}

// bulged returns the arc over a chord, and whether it runs from b to a.
func bulged(a, b vec, bulge float64) (c conic, back bool) {
	d := b.sub(a)
	// The centre is on the bisector of the chord; a positive bulge has it on the
	// left when the arc is less than a half circle.
	h := (1 - bulge*bulge) / (4 * bulge)
	centre := mix(a, b, 0.5).add(vec{-d.y * h, d.x * h})
	radius := d.long() * (1 + bulge*bulge) / (4 * math.Abs(bulge))
	if back = bulge < 0; back {
		a = b
	}
	from := math.Atan2(a.y-centre.y, a.x-centre.x)
	c = conic{centre, vec{radius, 0}, vec{0, radius}, from, from + 4*math.Atan(math.Abs(bulge))}
	return c, back
}

// through returns the conic as a view shows it.
func (c conic) through(v view) conic {
	return conic{v.point(c.centre), v.apply(c.u), v.apply(c.v), c.from, c.to}
}

// at returns the point at an angle.
func (c conic) at(t float64) vec {
	sin, cos := math.Sincos(t)
	return c.centre.add(c.u.by(cos)).add(c.v.by(sin))
}

// whole reports whether c is a full turn.
func (c conic) whole() bool { return c.to-c.from >= 2*math.Pi-1e-9 }

// arcs returns the angles at which a circular arc is cut so that no part is more
// than a half circle, and the bulge of the parts.
func (c conic) arcs() (cuts []float64, bulge float64) {
	n := 1.0
	if c.to-c.from > math.Pi {
		n = 2
	}
	for k := 0.0; k <= n; k++ {
		cuts = append(cuts, c.from+(c.to-c.from)*k/n)
	}
	return cuts, math.Copysign(math.Tan((c.to-c.from)/n/4), c.u.cross(c.v))
}

// flat returns the angles between which chords leave c by no more than the
// tolerance, with one wherever c runs parallel to an axis, so that the box of the
// chords is that of c. A chord over a step h leaves it by at most h²/8 times the
// second derivative, which is at most the longer half axis.
func (c conic) flat(tolerance float64) ([]float64, error) {
	ends := []float64{c.from, c.to}
	for _, level := range [2]float64{math.Atan2(c.v.x, c.u.x), math.Atan2(c.v.y, c.u.y)} {
		for k := math.Ceil((c.from - level) / math.Pi); level+k*math.Pi < c.to; k++ {
			ends = append(ends, level+k*math.Pi)
		}
	}
	slices.Sort(ends)
	bend := c.major()
	var cuts []float64
	for i := 1; i < len(ends); i++ {
		from, to := ends[i-1], ends[i]
		if to-from < 1e-9 {
			continue
		}
		n := math.Ceil((to - from) * math.Sqrt(bend/8/tolerance))
		if !(n+float64(len(cuts)) <= MaxPoints) {
			return nil, errFine
		}
		for k := 0.0; k < n; k++ {
			cuts = append(cuts, from+(to-from)*k/n)
		}
	}
	if len(cuts) == 0 { // it is no larger than a point
		cuts = append(cuts, c.from)
	}
	cuts[0] = c.from
	return append(cuts, c.to), nil
}

// major returns the longer half axis.
func (c conic) major() float64 {
	// The axes are the singular values of the matrix with columns u and v.
	p := (c.u.dot(c.u) + c.v.dot(c.v)) / 2
	q := math.Hypot((c.u.dot(c.u)-c.v.dot(c.v))/2, c.u.dot(c.v))
	return math.Sqrt(p + q)
}

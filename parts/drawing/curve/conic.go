package curve

import (
	"math"
	"slices"

	"panelyard/parts/length"
)

// Conic is an arc of an ellipse: Centre + U·cos t + V·sin t for t from From to To,
// in radians, To being greater. U and V are half diameters, each parallel to the
// tangent at the end of the other; on a circle they are two radii.
type Conic struct {
	Centre, U, V Vec
	From, To     float64
}

// Through returns the conic as a view shows it.
func (c Conic) Through(v View) Conic {
	return Conic{v.Point(c.Centre), v.Apply(c.U), v.Apply(c.V), c.From, c.To}
}

// At returns the point at an angle.
func (c Conic) At(t float64) Vec {
	sin, cos := math.Sincos(t)
	return c.Centre.Add(c.U.By(cos)).Add(c.V.By(sin))
}

// Whole reports whether c is a full turn.
func (c Conic) Whole() bool { return c.To-c.From >= 2*math.Pi-1e-9 }

// axes returns the half axes, the longer one first. They are the singular values of
// the matrix with columns U and V.
func (c Conic) axes() (major, minor float64) {
	// In units of the longer half diameter, so that no square overflows.
	size := max(c.U.Long(), c.V.Long())
	if size == 0 {
		return 0, 0
	}
	u, v := c.U.By(1/size), c.V.By(1/size)
	p := (u.Dot(u) + v.Dot(v)) / 2
	q := math.Hypot((u.Dot(u)-v.Dot(v))/2, u.Dot(v))
	major = math.Sqrt(p + q)
	// By the difference of the squares, 2q: two axes that are nearly the same would
	// drown in rounding.
	return size * major, size * (major - 2*q/(major+math.Sqrt(max(0, p-q))))
}

// slack is how far the half axes of a circle on the grid may differ: a micrometre
// (common practice, no source). Programs that write a turn with six decimals leave
// that much on a radius of a metre.
const slack = float64(length.Micrometre)

// Round reports whether c, in units of the grid, is an arc of a circle: its half
// axes differ by no more than a micrometre.
func (c Conic) Round() bool {
	major, minor := c.axes()
	return major-minor <= slack
}

// Arcs returns the angles at which a circular arc is cut so that no part is more
// than a half circle, and the bulge of the parts.
func (c Conic) Arcs() (cuts []float64, bulge float64) {
	n := 1.0
	if c.To-c.From > math.Pi {
		n = 2
	}
	for k := 0.0; k <= n; k++ {
		cuts = append(cuts, c.From+(c.To-c.From)*k/n)
	}
	return cuts, math.Copysign(math.Tan((c.To-c.From)/n/4), c.U.Cross(c.V))
}

// Flat returns the angles between which chords leave c by no more than the
// tolerance, with one wherever c runs parallel to an axis, so that the box of the
// chords is that of c. A chord over a step h leaves it by at most h²/8 times the
// second derivative, which is at most the longer half axis. The error is [ErrFine].
func (c Conic) Flat(tolerance float64) ([]float64, error) {
	ends := []float64{c.From, c.To}
	for _, level := range [2]float64{math.Atan2(c.V.X, c.U.X), math.Atan2(c.V.Y, c.U.Y)} {
		for k := math.Ceil((c.From - level) / math.Pi); level+k*math.Pi < c.To; k++ {
			ends = append(ends, level+k*math.Pi)
		}
	}
	slices.Sort(ends)
	bend, _ := c.axes()
	var cuts []float64
	for i := 1; i < len(ends); i++ {
		from, to := ends[i-1], ends[i]
		if to-from < 1e-9 {
			continue
		}
		n := math.Ceil((to - from) * math.Sqrt(bend/8/tolerance))
		if !(n+float64(len(cuts)) <= MaxPoints) {
			return nil, ErrFine
		}
		for k := 0.0; k < n; k++ {
			cuts = append(cuts, from+(to-from)*k/n)
		}
	}
	if len(cuts) == 0 { // it is no larger than a point
		cuts = append(cuts, c.From)
	}
	cuts[0] = c.From
	return append(cuts, c.To), nil
}

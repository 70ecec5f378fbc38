package curve

import (
	"math"
	"slices"
)

// Weighted is a control point times its weight, and the weight, which is above 0.
type Weighted struct{ X, Y, W float64 }

// Flat returns the point.
func (h Weighted) Flat() Vec { return Vec{h.X / h.W, h.Y / h.W} }

// Between returns the point at t on the line from a, 0, to b, 1.
func Between(a, b Weighted, t float64) Weighted {
	return Weighted{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y), a.W + t*(b.W-a.W)}
}

// Monotone cuts a Bézier curve of degree 2 or 3 whose weights are all the same where
// it runs parallel to an axis, so that the lines that are made of the parts have its
// box. Curves of other degrees are returned as they are.
func Monotone(c []Weighted) [][]Weighted {
	var cuts []float64
	for _, of := range [2]func(Weighted) float64{
		func(p Weighted) float64 { return p.X },
		func(p Weighted) float64 { return p.Y },
	} {
		for _, t := range turns(c, of) {
			if t > 0 && t < 1 {
				cuts = append(cuts, t)
			}
		}
	}
	slices.Sort(cuts)
	var parts [][]Weighted
	from := 0.0
	for _, t := range cuts {
		if t > from {
			left, right := split(c, (t-from)/(1-from))
			parts = append(parts, left)
			c, from = right, t
		}
	}
	return append(parts, c)
}

// turns returns where a coordinate of a curve of degree 2 or 3 has no slope; what is
// returned need not lie on the curve, and may be no number.
func turns(c []Weighted, of func(Weighted) float64) []float64 {
	var d []float64 // the control values of the slope
	for i := 1; i < len(c); i++ {
		d = append(d, of(c[i])-of(c[i-1]))
	}
	switch len(d) {
	case 2:
		return []float64{d[0] / (d[0] - d[1])}
	case 3:
		// The roots of a t² - 2 b t + d0, without a difference of like numbers.
		a, b := d[0]-2*d[1]+d[2], d[0]-d[1]
		q := b + math.Copysign(math.Sqrt(b*b-a*d[0]), b)
		return []float64{q / a, d[0] / q}
	}
	return nil
}

// split cuts a curve at t by de Casteljau's rule.
func split(c []Weighted, t float64) (left, right []Weighted) {
	n := len(c)
	left, right = make([]Weighted, n), slices.Clone(c)
	for i := range left {
		left[i] = right[0]
		for j := 0; j < n-1-i; j++ {
			right[j] = Between(right[j], right[j+1], t)
		}
	}
	return left, right
}

// Flattener turns Bézier curves that follow each other into lines that leave them by
// no more than a tolerance. Out begins with the start of the first.
type Flattener struct {
	Tolerance float64
	Out       []Vec
}

// Add adds the points of a curve but its first. The curve is halved by de
// Casteljau's rule until all its control points are within the tolerance of the
// chord; as weights are above 0 it lies in the hull of the control points, so the
// bound holds. The error is [ErrFine] or [ErrFar]. Time O(degree²) a point.
func (f *Flattener) Add(c []Weighted) error { return f.add(c, 0) }

func (f *Flattener) add(c []Weighted, depth int) error {
	const deepest = 40 // beyond it neighbouring points are the same
	if depth == deepest || f.isFlat(c) {
		end := c[len(c)-1].Flat()
		if !end.Finite() {
			return ErrFar
		}
		f.Out = append(f.Out, end)
		if len(f.Out) > MaxPoints {
			return ErrFine
		}
		return nil
	}
	left, right := split(c, 0.5)
	if err := f.add(left, depth+1); err != nil {
		return err
	}
	return f.add(right, depth+1)
}

// isFlat reports whether all control points are within the tolerance of the chord.
func (f *Flattener) isFlat(c []Weighted) bool {
	a, b := c[0].Flat(), c[len(c)-1].Flat()
	d := b.Sub(a)
	for _, h := range c[1 : len(c)-1] {
		p := h.Flat().Sub(a)
		t := 0.0
		if l := d.Dot(d); l > 0 {
			t = max(0, min(1, p.Dot(d)/l))
		}
		if !(p.Sub(d.By(t)).Long() <= f.Tolerance) {
			return false
		}
	}
	return true
}

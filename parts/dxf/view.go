package dxf

import (
	"math"

	"panelyard/parts/drawing/curve"
)

// Points and vectors of the drawing, not yet on the grid, and where entities of a
// block come to lie on it.
type (
	vec  = curve.Vec
	view = curve.View
)

func mix(a, b vec, t float64) vec { return a.Add(b.Sub(a).By(t)) }
func turned(v vec, rad float64) vec {
	s, c := math.Sincos(rad)
	return vec{X: v.X*c - v.Y*s, Y: v.X*s + v.Y*c}
}

// mirrored is the view of entities that are extruded downwards. By the arbitrary
// axis algorithm of the format (from memory) the x axis of such a plane points to
// the left.
var mirrored = view{X: vec{X: -1}, Y: vec{Y: 1}}

// even reports whether v keeps circles circles, and whether it mirrors.
func even(v view) (similar, mirrors bool) {
	return round(v.X, v.Y), v.X.Cross(v.Y) < 0
}

// round reports whether two half diameters of an ellipse, each parallel to the
// tangent at the end of the other, are those of a circle.
func round(u, v vec) bool {
	size := max(u.Long(), v.Long())
	const same = 1e-9 // a third of a grid unit on the largest radius
	return math.Abs(u.Long()-v.Long()) <= same*size && math.Abs(u.Dot(v)) <= same*size*size
}

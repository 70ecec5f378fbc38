package dxf

import (
	"math"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// vec is a point or a vector of the drawing, not yet on the grid.
type vec struct{ x, y float64 }

func (v vec) add(w vec) vec       { return vec{v.x + w.x, v.y + w.y} }
func (v vec) sub(w vec) vec       { return vec{v.x - w.x, v.y - w.y} }
func (v vec) by(k float64) vec    { return vec{k * v.x, k * v.y} }
func (v vec) cross(w vec) float64 { return v.x*w.y - v.y*w.x }
func (v vec) dot(w vec) float64   { return v.x*w.x + v.y*w.y }
func (v vec) long() float64       { return math.Hypot(v.x, v.y) }
func (v vec) finite() bool        { return !math.IsNaN(v.x+v.y) && !math.IsInf(v.x+v.y, 0) }
func mix(a, b vec, t float64) vec { return a.add(b.sub(a).by(t)) }
func turned(v vec, rad float64) vec {
	s, c := math.Sincos(rad)
	return vec{v.x*c - v.y*s, v.x*s + v.y*c}
}

// view is an affine map of the plane: where entities of a block come to lie on the
// grid. It takes (x, y) to x·x + y·y + o.
type view struct{ x, y, o vec }

// apply returns where a vector goes, without the translation.
func (v view) apply(p vec) vec { return v.x.by(p.x).add(v.y.by(p.y)) }

// point returns where a point goes.
func (v view) point(p vec) vec { return v.apply(p).add(v.o) }

// then returns the view that first applies w, then v.
func (v view) then(w view) view { return view{v.apply(w.x), v.apply(w.y), v.point(w.o)} }

// mirrored is the view of entities that are extruded downwards. By the arbitrary
// axis algorithm of the format (from memory) the x axis of such a plane points to
// the left.
var mirrored = view{vec{-1, 0}, vec{0, 1}, vec{}}

// identity changes nothing.
var identity = view{vec{1, 0}, vec{0, 1}, vec{}}

// even reports whether v keeps circles circles, and whether it mirrors.
func (v view) even() (similar, mirrors bool) {
	return round(v.x, v.y), v.x.cross(v.y) < 0
}

// round reports whether two half diameters of an ellipse, each parallel to the
// tangent at the end of the other, are those of a circle.
func round(u, v vec) bool {
	size := max(u.long(), v.long())
	const same = 1e-9 // a third of a grid unit on the largest radius
	return math.Abs(u.long()-v.long()) <= same*size && math.Abs(u.dot(v)) <= same*size*size
}

// onGrid returns the grid point nearest to p, and whether it is within the lengths
// of a job.
func onGrid(p vec) (geom.Point, bool) {
	x, y := math.Round(p.x), math.Round(p.y)
	if !(math.Abs(x) <= float64(length.Max) && math.Abs(y) <= float64(length.Max)) {
		return geom.Point{}, false
	}
	return geom.Pt(length.Length(x), length.Length(y)), true
}

package curve

import (
	"math"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// Vec is a point or a vector of a drawing, not yet on the grid.
type Vec struct{ X, Y float64 }

// Add returns v+w.
func (v Vec) Add(w Vec) Vec { return Vec{v.X + w.X, v.Y + w.Y} }

// Sub returns v-w.
func (v Vec) Sub(w Vec) Vec { return Vec{v.X - w.X, v.Y - w.Y} }

// By returns v, k times as long.
func (v Vec) By(k float64) Vec { return Vec{k * v.X, k * v.Y} }

// Cross returns the z component of v×w.
func (v Vec) Cross(w Vec) float64 { return v.X*w.Y - v.Y*w.X }

// Dot returns the scalar product.
func (v Vec) Dot(w Vec) float64 { return v.X*w.X + v.Y*w.Y }

// Long returns the length of v.
func (v Vec) Long() float64 { return math.Hypot(v.X, v.Y) }

// Finite reports whether both coordinates are numbers.
func (v Vec) Finite() bool { return !math.IsNaN(v.X-v.X) && !math.IsNaN(v.Y-v.Y) }

// OnGrid returns the grid point nearest to v, and whether it is within the lengths
// of a job.
func (v Vec) OnGrid() (geom.Point, bool) {
	x, y := math.Round(v.X), math.Round(v.Y)
	if !(math.Abs(x) <= float64(length.Max) && math.Abs(y) <= float64(length.Max)) {
		return geom.Point{}, false
	}
	return geom.Pt(length.Length(x), length.Length(y)), true
}

// View is an affine map of the plane. It takes (x, y) to x·X + y·Y + O.
type View struct{ X, Y, O Vec }

// Identity returns the view that changes nothing.
func Identity() View { return View{X: Vec{1, 0}, Y: Vec{0, 1}} }

// Apply returns where a vector goes, without the translation.
func (v View) Apply(p Vec) Vec { return v.X.By(p.X).Add(v.Y.By(p.Y)) }

// Point returns where a point goes.
func (v View) Point(p Vec) Vec { return v.Apply(p).Add(v.O) }

// Then returns the view that first applies w, then v.
func (v View) Then(w View) View { return View{v.Apply(w.X), v.Apply(w.Y), v.Point(w.O)} }

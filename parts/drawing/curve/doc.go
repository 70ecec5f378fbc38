// Package curve holds what readers of drawings draw with before it comes to lie on
// the grid: vectors, affine views, arcs of ellipses, Bézier curves.
//
// Coordinates are float64 in the unit of the caller; with a view onto the grid they
// are units of [length.Length]. Arcs of circles stay arcs; everything else becomes
// lines between points of the curve that leave it by no more than a tolerance, or
// an error when that needs more than [MaxPoints].
package curve

import "errors"

// MaxPoints is how many points a curve may need.
const MaxPoints = 10_000

// The errors of a curve that cannot be turned into lines.
var (
	ErrFine = errors.New("too many points")                  // it needs more than MaxPoints
	ErrFar  = errors.New("a point whose place is no number") // by an overflow
)

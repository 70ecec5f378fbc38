package geom

import "panelyard/parts/length"

// Point is a point, or the vector to it.
type Point struct{ X, Y length.Length }

// Pt returns the point (x, y).
func Pt(x, y length.Length) Point { return Point{x, y} }

// Add returns p+q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub returns p-q.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Neg returns -p.
func (p Point) Neg() Point { return Point{-p.X, -p.Y} }

// Cross returns the z component of p×q, exact below 2^30 each.
func (p Point) Cross(q Point) int64 { return int64(p.X)*int64(q.Y) - int64(p.Y)*int64(q.X) }

// Dot returns the scalar product, exact below 2^30 each.
func (p Point) Dot(q Point) int64 { return int64(p.X)*int64(q.X) + int64(p.Y)*int64(q.Y) }

// Less orders points by x, then y.
func (p Point) Less(q Point) bool { return p.X < q.X || p.X == q.X && p.Y < q.Y }

// Orientation says on which side of a directed line a point lies.
type Orientation int

// The three orientations of a triple of points.
const (
	Clockwise        Orientation = -1
	Collinear        Orientation = 0
	CounterClockwise Orientation = 1
)

// Orient returns how the path a, b, c turns. It is exact, and
//
//  1. Orient(b,c,a) == Orient(a,b,c)
//  2. Orient(c,b,a) == -Orient(a,b,c)
//  3. Orient(a,b,c) == Collinear when two of the points are equal
func Orient(a, b, c Point) Orientation {
	switch d := b.Sub(a).Cross(c.Sub(a)); {
	case d > 0:
		return CounterClockwise
	case d < 0:
		return Clockwise
	}
	return Collinear
}

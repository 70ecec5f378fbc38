package parts

import (
	"math"

	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// Component is a bought-in thing that the cabinet is built around, as it was
// measured. Its face lies in the panel: width along x, height along y; depth is what
// stands behind it.
type Component struct {
	Name        string
	Note        string
	Body        geom.Point    // width and height of the body; equal when it is round
	Round       bool          // the body is round, Body its diameter
	Depth       length.Length // of the body; 0 when it was not measured
	Curve       length.Length // radius of a curved face, along its width; 0 is flat
	Clearance   length.Length // a side
	Whole       bool          // the opening is rounded up to whole millimetres
	Flange      geom.Point    // width and height; equal for a round one; zero is none
	RoundFlange bool
	Holes       []MountingHole
	Pos         diag.Pos
}

// MountingHole is a hole beside the opening, its place from the middle of the
// component.
type MountingHole struct {
	At       geom.Point
	Diameter length.Length
}

// The defaults of a component: slip fit (common practice, no source), and by how
// much a flange should hide the edge of its opening (common practice, no source).
const (
	DefaultClearance = length.Millimetre
	LeastCover       = 3 * length.Millimetre
)

// Opening returns the size of the opening: the body and its clearance on either
// side, rounded up to whole millimetres when Whole.
func (c *Component) Opening() geom.Point {
	up := func(l length.Length) length.Length {
		if l += 2 * c.Clearance; !c.Whole {
			return l
		}
		return (l + length.Millimetre - 1) / length.Millimetre * length.Millimetre
	}
	return geom.Pt(up(c.Body.X), up(c.Body.Y))
}

// Shape returns the outline of the opening, its box at the origin.
func (c *Component) Shape() outline.Outline { return plain(c.Opening(), c.Round) }

// Footprint returns the outline of what the component covers on the face of its
// panel, its box at the origin: the flange, or the opening when that is larger.
func (c *Component) Footprint() outline.Outline {
	o := c.Opening()
	if c.Flange.X > o.X || c.Flange.Y > o.Y {
		return plain(geom.Pt(max(o.X, c.Flange.X), max(o.Y, c.Flange.Y)), c.RoundFlange && c.Flange.X >= o.X && c.Flange.Y >= o.Y)
	}
	return c.Shape()
}

// plain returns a rectangle or a circle of a size. A circle's is made even, so that
// its centre is on the grid.
func plain(size geom.Point, round bool) outline.Outline {
	if round {
		return outline.Circle(size.X.EvenUp())
	}
	return outline.Rectangle(size.X, size.Y)
}

// Cover returns by how much the flange hides the edge of the opening, on its
// narrowest side; less than 0 when it does not. Without a flange it is 0.
func (c *Component) Cover() length.Length {
	if c.Flange == (geom.Point{}) {
		return 0
	}
	o := c.Opening()
	if c.RoundFlange && !c.Round {
		return (c.Flange.X - length.Length(math.Ceil(math.Hypot(float64(o.X), float64(o.Y))))) / 2
	}
	return min(c.Flange.X-o.X, c.Flange.Y-o.Y) / 2
}

// Rise returns how far a curved face stands out over its width: the sagitta of the
// arc, rounded up. It is the radius for a face that is wider than the circle.
func (c *Component) Rise() length.Length {
	if c.Curve == 0 {
		return 0
	}
	r, h := float64(c.Curve), float64(c.Body.X)/2
	if h >= r {
		return c.Curve
	}
	return length.Length(math.Ceil(r - math.Sqrt(r*r-h*h) - 1e-6))
}

// Room returns the depth that the component needs: body and rise.
func (c *Component) Room() length.Length { return c.Depth + c.Rise() }

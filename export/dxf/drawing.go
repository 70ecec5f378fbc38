package dxf

import (
	"math"

	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// Drawing is what a file shows.
type Drawing struct {
	Units    length.Unit // of the file: millimetres or inches
	Entities []Entity    // in the order in which they are written
}

// Entity is a shape on a layer.
type Entity struct {
	Layer Layer
	Shape Shape
}

// Shape is one of [Polyline], [Circle], [Line], [Point] and [Text].
type Shape interface {
	box() box
	write(p *pen, on Layer)
}

// Polyline is a run of lines and true arcs, of two corners or more.
type Polyline struct {
	Path   []outline.Vertex // the last has no segment unless Closed
	Closed bool
}

// Circle is a full circle over a diameter, which puts its centre on the grid or
// half a unit off it.
type Circle struct{ From, To geom.Point }

// Line is a straight line.
type Line struct{ From, To geom.Point }

// Point is a single place, such as the middle of a hole.
type Point struct{ At geom.Point }

// Text is one line of text. It runs to the right from At, the left end of its
// baseline, after it was turned counter-clockwise by Turn degrees.
type Text struct {
	At      geom.Point
	Height  length.Length // of a capital
	Turn    int
	Content string
}

// Add appends shapes on a layer.
func (d *Drawing) Add(on Layer, shapes ...Shape) {
	for _, s := range shapes {
		d.Entities = append(d.Entities, Entity{on, s})
	}
}

// Loop returns the shape of a closed outline: a [Circle] when it is one, else a
// closed [Polyline].
func Loop(o outline.Outline) Shape {
	if from, to, ok := diameter(o); ok {
		return Circle{from, to}
	}
	return Polyline{Path: o, Closed: true}
}

// Rectangle returns the edge of a box.
func Rectangle(b geom.Box) Shape {
	return Loop(outline.Rectangle(b.Dx(), b.Dy()).Translate(b.Min))
}

// diameter returns the ends of a diameter of o when it is a circle: corners in
// opposite pairs with one centre and one distance, exactly, and arcs of that radius
// which go round once, as far as float64 can tell.
func diameter(o outline.Outline) (from, to geom.Point, ok bool) {
	n := len(o)
	if n == 0 || n%2 != 0 {
		return from, to, false
	}
	from, to = o[0].At, o[n/2].At
	across := to.Sub(from)
	radius := math.Hypot(float64(across.X), float64(across.Y)) / 2
	around := 0.0
	for i, v := range o {
		opposite := o[(i+n/2)%n].At
		d := opposite.Sub(v.At)
		const fit = 1e-3 // of a unit: over the longest circumference 0.002 mm2
		if v.At.Add(opposite) != from.Add(to) || d.Dot(d) != across.Dot(across) || math.Abs(o.Radius(i)-radius) > fit {
			return from, to, false
		}
		around += 4 * math.Atan(v.Bulge)
	}
	return from, to, math.Abs(around-2*math.Pi) < 1e-9
}

// box is an extent in units, in float64: the middle of a circle may lie between
// two.
type box struct{ x0, y0, x1, y1 float64 }

// boxOf returns the extent of a box on the grid.
func boxOf(b geom.Box) box {
	return box{float64(b.Min.X), float64(b.Min.Y), float64(b.Max.X), float64(b.Max.Y)}
}

func (b box) union(c box) box {
	return box{min(b.x0, c.x0), min(b.y0, c.y0), max(b.x1, c.x1), max(b.y1, c.y1)}
}

// Box returns the extent of what is drawn.
func (s Polyline) Box() geom.Box {
	path := append(outline.Outline(nil), s.Path...)
	if n := len(path); n > 0 && !s.Closed {
		path[n-1].Bulge = 0 // the way back, which is not drawn
	}
	return path.Box()
}

func (s Polyline) box() box { return boxOf(s.Box()) }

func (s Circle) box() box {
	x, y, r := s.middle()
	return box{x - r, y - r, x + r, y + r}
}

// middle returns centre and radius in units.
func (s Circle) middle() (x, y, r float64) {
	d, sum := s.To.Sub(s.From), s.To.Add(s.From)
	return float64(sum.X) / 2, float64(sum.Y) / 2, math.Hypot(float64(d.X), float64(d.Y)) / 2
}

func (s Line) box() box {
	return Point{s.From}.box().union(Point{s.To}.box())
}

func (s Point) box() box { return boxOf(geom.Box{Min: s.At, Max: s.At}) }

func (s Text) box() box { return Point{s.At}.box() }

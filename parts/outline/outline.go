package outline

import (
	"math"
	"slices"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// Vertex is a corner of an outline and the segment that leaves it for the next
// vertex.
type Vertex struct {
	At    geom.Point
	Bulge float64 // tan(angle/4) of the arc to the next vertex; 0 is a line, + is counter-clockwise
	Edge  string  // the user's name of the segment; may be empty
}

// least is the least bulge of an arc. A lesser one is taken as a line: over the
// longest chord it rises by less than a thousandth of a unit, and its radius need
// not be a number.
const least = 1e-12

// curved reports whether the segment that leaves v is an arc.
func (v Vertex) curved() bool { return math.Abs(v.Bulge) >= least }

// Outline is a closed loop, counter-clockwise, not repeating its first vertex.
type Outline []Vertex

// Rectangle returns a rectangle with its lower left corner at the origin and
// its edges named bottom, right, top and left.
func Rectangle(l, w length.Length) Outline {
	return Outline{
		{At: geom.Pt(0, 0), Edge: "bottom"},
		{At: geom.Pt(l, 0), Edge: "right"},
		{At: geom.Pt(l, w), Edge: "top"},
		{At: geom.Pt(0, w), Edge: "left"},
	}
}

// RoundedRectangle returns a rectangle with corner radii, from the lower left
// corner counter-clockwise. The radii along an edge may not exceed its length;
// the caller checks that.
func RoundedRectangle(l, w length.Length, radii [4]length.Length) Outline {
	quarter := math.Tan(math.Pi / 8)
	names := [4]string{"bottom", "right", "top", "left"}
	corners := [4]geom.Point{{}, geom.Pt(l, 0), geom.Pt(l, w), geom.Pt(0, w)}
	along := [4]geom.Point{geom.Pt(1, 0), geom.Pt(0, 1), geom.Pt(-1, 0), geom.Pt(0, -1)}
	var o Outline
	for i, c := range corners {
		if r := radii[i]; r > 0 {
			in := along[(i+3)%4]
			start := geom.Pt(c.X-in.X*r, c.Y-in.Y*r)
			if n := len(o); n > 0 && o[n-1].At == start {
				o = o[:n-1] // the edge between two radii has no length
			}
			o = append(o, Vertex{At: start, Bulge: quarter})
			c = geom.Pt(c.X+along[i].X*r, c.Y+along[i].Y*r)
		}
		o = append(o, Vertex{At: c, Edge: names[i]})
	}
	if n := len(o); n > 1 && o[n-1].At == o[0].At {
		o = o[:n-1]
	}
	return o
}

// Circle returns a circle as two half arcs, its box with the lower left corner
// at the origin. The centre of an odd diameter lies half a unit off the grid, and
// its box is a unit higher than the diameter.
func Circle(diameter length.Length) Outline {
	r := diameter.EvenUp() / 2
	return Outline{
		{At: geom.Pt(0, r), Bulge: 1},
		{At: geom.Pt(diameter, r), Bulge: 1},
	}
}

// ends returns the end points of segment i.
func (o Outline) ends(i int) (a, b geom.Point) { return o[i].At, o[(i+1)%len(o)].At }

// Straight reports whether o has no arc.
func (o Outline) Straight() bool {
	return !slices.ContainsFunc(o, Vertex.curved)
}

// IsRectangle reports whether o is an axis-parallel rectangle of four vertices.
func (o Outline) IsRectangle() bool {
	if len(o) != 4 || !o.Straight() {
		return false
	}
	return geom.Ring{o[0].At, o[1].At, o[2].At, o[3].At}.IsRectangle()
}

// Area2 returns twice the signed area in square units, exact but for the arcs,
// which are computed in float64.
func (o Outline) Area2() float64 {
	ring := make(geom.Ring, len(o))
	arcs := 0.0
	for i, v := range o {
		ring[i] = v.At
		if v.curved() {
			a, b := o.ends(i)
			theta := 4 * math.Atan(v.Bulge)
			r := chord(a, b) * (1 + v.Bulge*v.Bulge) / (4 * math.Abs(v.Bulge))
			arcs += r * r * lessSin(theta)
		}
	}
	return float64(ring.Area2()) + arcs
}

// lessSin returns θ - sin θ, by its series where the difference would drown in
// rounding: the area of the segment of an arc of a few hundredths of a degree.
func lessSin(theta float64) float64 {
	if math.Abs(theta) > 0.1 {
		return theta - math.Sin(theta)
	}
	t := theta * theta
	return theta * t / 6 * (1 - t/20*(1-t/42*(1-t/72)))
}

// AreaMM2 returns the area in square millimetres.
func (o Outline) AreaMM2() float64 {
	return math.Abs(o.Area2()) / 2 / float64(length.Millimetre) / float64(length.Millimetre)
}

// Perimeter returns the length of o, rounded to a unit.
func (o Outline) Perimeter() length.Length {
	sum := 0.0
	for i := range o {
		sum += o.segmentLength(i)
	}
	return length.Length(math.Round(sum))
}

// SegmentLength returns the developed length of segment i, rounded to a unit.
func (o Outline) SegmentLength(i int) length.Length {
	return length.Length(math.Round(o.segmentLength(i)))
}

func (o Outline) segmentLength(i int) float64 {
	a, b := o.ends(i)
	c := chord(a, b)
	if !o[i].curved() {
		return c
	}
	theta := 4 * math.Atan(math.Abs(o[i].Bulge))
	return c / 2 / math.Sin(theta/2) * theta
}

// Radius returns the radius of segment i in units, 0 for a line.
func (o Outline) Radius(i int) float64 {
	if !o[i].curved() {
		return 0
	}
	b := math.Abs(o[i].Bulge)
	p, q := o.ends(i)
	return chord(p, q) * (1 + b*b) / (4 * b)
}

// chord returns the distance of two points.
func chord(a, b geom.Point) float64 {
	return math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))
}

// Translate returns o moved by d.
func (o Outline) Translate(d geom.Point) Outline {
	return o.each(func(p geom.Point) geom.Point { return p.Add(d) })
}

// Turned returns o turned counter-clockwise about the origin by a multiple of
// 90 degrees; it is exact.
func (o Outline) Turned(deg int) Outline {
	return o.each(func(p geom.Point) geom.Point { return p.Turned(deg) })
}

func (o Outline) each(f func(geom.Point) geom.Point) Outline {
	q := slices.Clone(o)
	for i := range q {
		q[i].At = f(q[i].At)
	}
	return q
}

// Reversed returns o run the other way round; a hole of a panel is the reverse
// of its opening.
func (o Outline) Reversed() Outline {
	n := len(o)
	q := make(Outline, n)
	for i := range o {
		// Segment i, from vertex i to i+1, becomes the one that leaves i+1.
		q[n-1-i] = Vertex{At: o[(i+1)%n].At, Bulge: -o[i].Bulge, Edge: o[i].Edge}
	}
	return q
}

// Flipped returns o mirrored in the y axis (x becomes -x), kept
// counter-clockwise: the other hand of a panel.
func (o Outline) Flipped() Outline {
	q := o.each(func(p geom.Point) geom.Point { return geom.Pt(-p.X, p.Y) })
	for i := range q {
		q[i].Bulge = -q[i].Bulge
	}
	return q.Reversed()
}

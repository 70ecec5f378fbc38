package svg

import (
	"math"

	"panelyard/parts/drawing"
	"panelyard/parts/drawing/curve"
)

// isShape reports whether elements of a kind are lines that are drawn.
func isShape(kind string) bool {
	switch kind {
	case "path", "rect", "circle", "ellipse", "line", "polyline", "polygon":
		return true
	}
	return false
}

// geometry reads what a shape draws, in user units. It is read anew at each place
// only where it may depend on it, by a percentage.
func (x *expansion) geometry(n *node, at place) ([]run, error) {
	if n.shape != nil {
		return n.shape.runs, n.shape.err
	}
	m := measures{n: n, inch: x.inch, size: at.size}
	runs, err := m.shape()
	if !m.relative {
		n.shape = &shape{runs, err}
	}
	return runs, err
}

// measures reads the measures of an element.
type measures struct {
	n        *node
	inch     float64   // in user units
	size     curve.Vec // what percentages are of
	relative bool      // there was a percentage
	errs     []error
}

// direction says which side of the viewport a percentage is of.
type direction int

const (
	across direction = iota
	upright
	neither // its diagonal over √2 (SVG 2, section 8.9, "Units")
)

// length reads an attribute, missing when there is none.
func (m *measures) length(name string, d direction, missing float64) float64 {
	if s, ok := m.n.attr(name); ok && s != "auto" { // SVG 2: what is missing
		return m.read(name, s, d, missing)
	}
	return missing
}

// read reads the value of an attribute, missing when it cannot be read.
func (m *measures) read(name, s string, d direction, missing float64) float64 {
	v, err := readMeasure(s)
	if err == nil {
		of := m.size.X
		switch d {
		case upright:
			of = m.size.Y
		case neither:
			of = m.size.Long() / math.Sqrt2
		}
		m.relative = m.relative || v.unit == "%"
		var out float64
		if out, err = v.user(m.inch, of); err == nil {
			return out
		}
	}
	m.wrong(name, err)
	return missing
}

// wrong notes an error in an attribute.
func (m *measures) wrong(name string, err error) {
	m.errs = append(m.errs, &faulty{name + ": " + oneLine(err), remedyOf(err)})
}

// positive reads an attribute that may not be below 0.
func (m *measures) positive(name string, d direction, missing float64) float64 {
	v := m.length(name, d, missing)
	if v < 0 {
		m.wrong(name, fault(againRemedy, "is %v, and may not be below 0", v))
		return missing
	}
	return v
}

// shape reads what the element draws; nothing when it has no size.
func (m *measures) shape() ([]run, error) {
	var runs []run
	var err error
	switch m.n.kind {
	case "path":
		d, _ := m.n.attr("d")
		runs, err = readPath(d)
	case "rect":
		runs = m.rect()
	case "circle":
		r := m.positive("r", neither, 0)
		runs = m.round(curve.Vec{X: r, Y: r})
	case "ellipse":
		rx, ry := m.radii()
		runs = m.round(curve.Vec{X: rx, Y: ry})
	case "line":
		a := curve.Vec{X: m.length("x1", across, 0), Y: m.length("y1", upright, 0)}
		b := curve.Vec{X: m.length("x2", across, 0), Y: m.length("y2", upright, 0)}
		runs = []run{{start: a, segments: []segment{{to: b}}}}
	default:
		runs, err = m.corners()
	}
	if err != nil {
		m.errs = append(m.errs, err)
	}
	if len(m.errs) > 0 {
		return nil, join(m.errs)
	}
	return runs, nil
}

// radii reads rx and ry, of which one may be left out, or auto, when it is the same
// (SVG 2, section 10.4).
func (m *measures) radii() (rx, ry float64) {
	given := func(name string) bool {
		s, ok := m.n.attr(name)
		return ok && s != "auto"
	}
	switch x, y := given("rx"), given("ry"); {
	case x && y:
		rx, ry = m.positive("rx", across, 0), m.positive("ry", upright, 0)
	case x:
		rx = m.positive("rx", across, 0)
		ry = rx
	case y:
		ry = m.positive("ry", upright, 0)
		rx = ry
	}
	return rx, ry
}

// rect reads a rectangle; its radii are no more than half its sides.
func (m *measures) rect() []run {
	p := curve.Vec{X: m.length("x", across, 0), Y: m.length("y", upright, 0)}
	w, h := m.positive("width", across, 0), m.positive("height", upright, 0)
	rx, ry := m.radii()
	if w == 0 || h == 0 {
		return nil
	}
	rx, ry = min(rx, w/2), min(ry, h/2)
	q := p.Add(curve.Vec{X: w, Y: h})
	if rx == 0 || ry == 0 {
		return closed(p, curve.Vec{X: q.X, Y: p.Y}, q, curve.Vec{X: p.X, Y: q.Y})
	}
	r := run{start: curve.Vec{X: p.X + rx, Y: p.Y}, closed: true}
	side := func(x, y float64) {
		r.segments = append(r.segments, segment{to: curve.Vec{X: x, Y: y}})
	}
	corner := func(cx, cy, from, x, y float64) {
		r.segments = append(r.segments, segment{to: curve.Vec{X: x, Y: y}, arc: &curve.Conic{
			Centre: curve.Vec{X: cx, Y: cy}, U: curve.Vec{X: rx}, V: curve.Vec{Y: ry}, From: from, To: from + math.Pi/2,
		}})
	}
	side(q.X-rx, p.Y)
	corner(q.X-rx, p.Y+ry, -math.Pi/2, q.X, p.Y+ry)
	side(q.X, q.Y-ry)
	corner(q.X-rx, q.Y-ry, 0, q.X-rx, q.Y)
	side(p.X+rx, q.Y)
	corner(p.X+rx, q.Y-ry, math.Pi/2, p.X, q.Y-ry)
	side(p.X, p.Y+ry)
	corner(p.X+rx, p.Y+ry, math.Pi, p.X+rx, p.Y)
	return []run{r}
}

// round returns a circle or an ellipse.
func (m *measures) round(half curve.Vec) []run {
	c := curve.Conic{
		Centre: curve.Vec{X: m.length("cx", across, 0), Y: m.length("cy", upright, 0)},
		U:      curve.Vec{X: half.X}, V: curve.Vec{Y: half.Y}, To: 2 * math.Pi,
	}
	if half.X == 0 || half.Y == 0 {
		return nil
	}
	start := c.Centre.Add(c.U)
	return []run{{start: start, segments: []segment{{to: start, arc: &c}}, closed: true}}
}

// corners reads a polyline or a polygon.
func (m *measures) corners() ([]run, error) {
	s, _ := m.n.attr("points")
	v, err := numbers(s, 2*drawing.MaxSegments)
	switch {
	case err != nil:
		return nil, &faulty{"points: " + oneLine(err), remedyOf(err)}
	case len(v)%2 != 0:
		return nil, fault("repair the points or draw it again", "points: there are %d numbers, and the last x has no y", len(v))
	case len(v) < 4:
		return nil, nil
	}
	points := make([]curve.Vec, len(v)/2)
	for i := range points {
		points[i] = curve.Vec{X: v[2*i], Y: v[2*i+1]}
	}
	runs := closed(points...)
	runs[0].closed = m.n.kind == "polygon"
	return runs, nil
}

// closed returns a run of lines through points and back to the first.
func closed(points ...curve.Vec) []run {
	r := run{start: points[0], closed: true, segments: make([]segment, 0, len(points)-1)}
	for _, p := range points[1:] {
		r.segments = append(r.segments, segment{to: p})
	}
	return []run{r}
}

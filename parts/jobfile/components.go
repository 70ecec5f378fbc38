package jobfile

import (
	"fmt"
	"math"
	"strings"

	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// component reads a bought-in component; the value is nil when it is none.
func (r *reader) component(v *value) (c parts.Component, at *value) {
	g := r.group(v, "", called("component", v), "write name: and body:")
	if g == nil {
		return c, nil
	}
	c.Pos = v.pos
	c.Name, at = g.name("name")
	c.Note = g.note("note")
	before := len(r.list)
	if b := r.face(g, "body"); b != nil {
		c.Body, c.Round = r.faceSize(b)
		c.Depth = b.length("depth", 0, 0, 0)
		b.done("width", "height", "diameter", "depth")
	} else if !g.has("body") {
		g.add(v, "has no body", "add body: {width: 541, height: 322, depth: 30} or {diameter: 94}")
	}
	c.Curve = g.length("curve", 0, 1, 0)
	c.Clearance = g.length("clearance", parts.DefaultClearance, 0, 50*length.Millimetre)
	c.Whole = g.choice("rounding", "up", "up", "none") == "up"
	if f := r.face(g, "flange"); f != nil {
		c.Flange, c.RoundFlange = r.faceSize(f)
		f.done("width", "height", "diameter")
	}
	for _, h := range g.list("holes", 100) {
		c.Holes = append(c.Holes, r.holes(g, h)...)
	}
	g.done("name", "note", "body", "curve", "clearance", "rounding", "flange", "holes")
	if r.list[before:].Err() == nil && c.Body.X > 0 {
		r.doubtful(g, &c)
	}
	if c.Body == (geom.Point{}) {
		at = nil
	}
	return c, at
}

// face reads the group that tells a body or a flange.
func (r *reader) face(g *group, key string) *group {
	v := g.get(key)
	if v == nil {
		return nil
	}
	return r.group(v, key, g.what, "write {width: 541, height: 322} or {diameter: 94}")
}

// faceSize reads width and height, or a diameter; it is zero after a finding.
func (r *reader) faceSize(g *group) (size geom.Point, round bool) {
	if g.has("diameter") {
		if g.has("width") || g.has("height") {
			g.used["width"], g.used["height"] = true, true
			g.add(g.get("diameter"), "width or height are given, and a diameter", "give one of them")
		}
		d, _ := g.need("diameter")
		return geom.Pt(d, d), true
	}
	w, ok1 := g.need("width")
	h, ok2 := g.need("height")
	if !ok1 || !ok2 {
		return geom.Point{}, false
	}
	return geom.Pt(w, h), false
}

// holes reads a mounting hole, or a pattern of them around the middle: the corners
// of a rectangle, or a number on a circle.
func (r *reader) holes(c *group, v *value) []parts.MountingHole {
	g := r.group(v, "holes", c.what, "write {at: [x, y], diameter: 4}, {rectangle: [100, 100], diameter: 4} or {circle: 104, count: 4, diameter: 4}")
	if g == nil {
		return nil
	}
	defer g.done("at", "rectangle", "circle", "count", "start", "diameter")
	d, ok := g.need("diameter")
	var at []geom.Point
	switch {
	case g.has("rectangle"):
		size, fine := r.point(g, g.get("rectangle"), "rectangle", 1)
		ok = ok && fine
		x, y := size.X/2, size.Y/2
		at = []geom.Point{geom.Pt(-x, -y), geom.Pt(x, -y), geom.Pt(x, y), geom.Pt(-x, y)}
	case g.has("circle"):
		pitch, fine := g.need("circle")
		ok = ok && fine
		n := g.whole("count", 4, 1, 100)
		start := g.whole("start", 45, 0, 359)
		for k := range n {
			sin, cos := math.Sincos((float64(start) + 360*float64(k)/float64(n)) * math.Pi / 180)
			at = append(at, geom.Pt(length.Length(math.Round(float64(pitch)/2*cos)), length.Length(math.Round(float64(pitch)/2*sin))))
		}
	case g.has("at"):
		p, fine := r.point(g, g.get("at"), "at", -length.Max)
		ok = ok && fine
		at = []geom.Point{p}
	default:
		g.add(v, "has no place", "add at: [x, y] from the middle, rectangle: [width, height], or circle: diameter")
		ok = false
	}
	if !ok {
		return nil
	}
	list := make([]parts.MountingHole, 0, len(at))
	for _, p := range at {
		list = append(list, parts.MountingHole{At: p, Diameter: d.EvenUp()})
	}
	return list
}

// doubtful warns of a component that does not suit its own opening.
func (r *reader) doubtful(g *group, c *parts.Component) {
	o := c.Opening()
	if c.Flange != (geom.Point{}) {
		if cover := c.Cover(); cover < parts.LeastCover {
			fact := fmt.Sprintf("its flange hides the edge of its opening of %s x %s by %s only", r.print(o.X), r.size(o.Y), r.size(cover))
			if cover <= 0 {
				fact = fmt.Sprintf("its flange does not cover its opening of %s x %s", r.print(o.X), r.size(o.Y))
			}
			r.list.Warn(g.v.pos, g.what, fact, fmt.Sprintf("measure both again; %s or more is usual, a smaller clearance helps", r.size(parts.LeastCover)))
		}
	}
	if c.Curve > 0 && c.Body.X/2 > c.Curve {
		g.add(g.get("curve"), fmt.Sprintf("a radius of %s is less than half the width of %s", r.size(c.Curve), r.size(c.Body.X)), "measure chord and rise again; panelyard arc gives the radius")
	}
}

// fitted reads an opening for a component: that of its body, and its mounting holes.
func (r *reader) fitted(g *group, c *cutout) []cutout {
	defer g.done("component", "name", "from", "at", "center", "turn", "depth", "relief")
	name, v := g.word("component")
	at, ok := r.where(g)
	quarter := g.whole("turn", 0, 0, 270)
	if quarter%90 != 0 {
		g.add(g.get("turn"), fmt.Sprintf("turn: %d is not a quarter turn", quarter), "use 0, 90, 180 or 270")
		ok = false
	}
	depth := g.length("depth", 0, 1, 0)
	c.relief = g.relief(parts.NoRelief)
	if v == nil {
		return nil
	}
	comp := r.out.Component(name)
	if comp == nil {
		remedy := "add it to components"
		if n := len(r.out.Components); n > 0 {
			var names []string
			for i := range r.out.Components[:min(n, 20)] {
				names = append(names, clip(r.out.Components[i].Name))
			}
			remedy = "known components: " + strings.Join(names, ", ")
		}
		g.add(v, fmt.Sprintf("unknown component %q", clip(name)), remedy)
		return nil
	}
	if room := comp.Room(); depth > 0 && room > depth {
		what := "it is " + r.size(comp.Depth) + " deep"
		if rise := comp.Rise(); rise > 0 {
			what += fmt.Sprintf(" and its curve rises %s, %s in all", r.size(rise), r.size(room))
		}
		r.list.Warn(g.v.pos, g.what, fmt.Sprintf("there are %s of room, and %s", r.size(depth), what), "make the cabinet deeper there, or set the component forward")
	}
	if !ok {
		return nil
	}
	lay := func(o outline.Outline) outline.Outline {
		o = o.Turned(quarter)
		return o.Translate(o.Box().Min.Neg())
	}
	c.outline, c.at, c.component = lay(comp.Shape()), at, comp.Name
	c.footprint = lay(comp.Footprint())
	list := []cutout{*c}
	host := c.outline.Box().Size()
	for i, h := range comp.Holes {
		hole := *c
		hole.name = fmt.Sprintf("%s hole %d", c.name, i+1)
		hole.outline, hole.footprint = outline.Circle(h.Diameter), nil
		hole.host, hole.offset = host, h.At.Turned(quarter)
		list = append(list, hole)
	}
	return list
}

// collisions warns of components that are in each other's way on their panel, or
// reach over its edge.
func (r *reader) collisions(d *draft, panel *outline.Trace) {
	for i := range d.openings {
		o := &d.openings[i]
		if o.covers == nil {
			continue
		}
		warn := func(fact, remedy string) { r.list.Warn(o.opening.Pos, d.g.what, fact, remedy) }
		trace := o.covers.Trace()
		if panel.Contains(trace) != nil {
			warn(fmt.Sprintf("component %q reaches over the edge of the panel with its flange", clip(o.opening.Component)), "move it, or make the panel larger")
		}
		for k := range d.openings {
			other := &d.openings[k]
			switch {
			case k == i || other.of == o.of || other.covers != nil && k > i:
			case other.covers != nil && touch(o.covers.Box(), other.covers.Box()) && other.covers.Trace().Apart(trace) != nil:
				warn(fmt.Sprintf("components %q and %q collide", clip(other.opening.Name), clip(o.opening.Name)), "move one of them")
			case other.covers == nil && touch(o.covers.Box(), other.opening.Outline.Box()) && other.trace.Apart(trace) != nil:
				warn(fmt.Sprintf("component %q lies over the opening %q", clip(o.opening.Name), clip(other.opening.Name)), "move one of them")
			}
		}
	}
}

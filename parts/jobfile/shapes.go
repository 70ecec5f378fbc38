package jobfile

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// shapeKeys are the forms an outline can have.
var shapeKeys = []string{"rectangle", "circle", "path", "profile"}

// allEdges is the word for every edge of a panel.
const allEdges = "all"

// shape reads the one form that g gives: a valid outline, counter-clockwise, its
// box at the origin; nil after a finding.
func (r *reader) shape(g *group) outline.Outline {
	var given []string
	for _, k := range shapeKeys {
		if g.has(k) {
			given = append(given, k)
		}
	}
	switch {
	case len(given) == 0:
		for _, k := range shapeKeys {
			g.used[k] = true
		}
		g.add(g.v, "has no shape", "add one of "+strings.Join(shapeKeys, ", "))
		return nil
	case len(given) > 1:
		for _, k := range shapeKeys {
			g.used[k] = true
		}
		g.add(g.v, strings.Join(given, " and ")+" are both given", "keep one of them")
		return nil
	}
	v := g.get(given[0])
	var o outline.Outline
	switch given[0] {
	case "rectangle":
		o = r.rectangle(g, v)
	case "circle":
		if c := r.group(v, "circle", g.what, "write {diameter: 90}"); c != nil {
			if d, ok := c.need("diameter"); ok {
				o = outline.Circle(d.EvenUp()) // its centre is on the grid
			}
			c.done("diameter")
		}
		return o
	case "path":
		o = r.path(g, v)
	case "profile":
		o = r.profile(g, v)
	}
	if o == nil {
		return nil
	}
	if err := o.Validate(); err != nil {
		down := given[0] == "path"
		r.fault(g, v, o, err, down)
		return nil
	}
	if o.Area2() < 0 {
		o = o.Reversed()
	}
	return o.Translate(o.Box().Min.Neg())
}

// fault adds what is wrong with an outline, in the user's coordinates, whose y axis
// may point down.
func (r *reader) fault(g *group, v *value, o outline.Outline, err error, down bool) {
	fact, remedy := err.Error(), "check the points"
	var f *outline.Fault
	if errors.As(err, &f) {
		y := f.At.Y
		if down {
			y = -y
		}
		at := fmt.Sprintf("(%s, %s)", r.print(f.At.X), r.print(y))
		switch {
		case errors.Is(f.Err, outline.ErrCrosses):
			fact = fmt.Sprintf("the outline crosses or touches itself at %s, where %s meets %s", at, edge(o, f.A), edge(o, f.B))
			remedy = "check the order of the points"
		case errors.Is(f.Err, outline.ErrFullCircle):
			fact, remedy = fmt.Sprintf("%s: %v", edge(o, f.A), f.Err), "add a point half way round"
		case errors.Is(f.Err, outline.ErrTooLarge), errors.Is(f.Err, outline.ErrTooFine):
			remedy = "check the unit and the points"
		case errors.Is(f.Err, outline.ErrNoLength):
			fact = fmt.Sprintf("%s has no length: two points at %s", edge(o, f.A), at)
			remedy = "remove one of them"
		}
	}
	g.add(v, fact, remedy)
}

// print writes a coordinate in the unit of the job, to a thousandth of a
// millimetre or an inch.
func (r *reader) print(l length.Length) string {
	s := l.Fixed(3)
	if r.out.Units == length.IN {
		s = fmt.Sprintf("%.3f", l.Inches())
	}
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// size writes a length in the unit of the job, with it.
func (r *reader) size(l length.Length) string { return r.print(l) + " " + r.out.Units.Name }

// edge names segment i of an outline.
func edge(o outline.Outline, i int) string {
	if i >= 0 && i < len(o) && o[i].Edge != "" {
		return fmt.Sprintf("edge %q", clip(o[i].Edge))
	}
	return fmt.Sprintf("edge %d", i+1)
}

// rectangle reads {length, width, radius}.
func (r *reader) rectangle(g *group, v *value) outline.Outline {
	s := r.group(v, "rectangle", g.what, "write {length: 600, width: 400}")
	if s == nil {
		return nil
	}
	defer s.done("length", "width", "radius")
	l, ok1 := s.need("length")
	w, ok2 := s.need("width")
	radii, ok3 := r.radii(s)
	if !ok1 || !ok2 || !ok3 {
		return nil
	}
	if radii == ([4]length.Length{}) {
		return outline.Rectangle(l, w)
	}
	for i, side := range [4]length.Length{l, w, l, w} {
		if sum := radii[i] + radii[(i+1)%4]; sum > side {
			s.add(s.get("radius"), fmt.Sprintf("two corner radii, together %s, are more than the edge of %s between them", r.size(sum), r.size(side)), "use smaller radii")
			return nil
		}
	}
	return outline.RoundedRectangle(l, w, radii)
}

// radii reads one radius for all corners, or four from the lower left
// counter-clockwise.
func (r *reader) radii(s *group) (radii [4]length.Length, ok bool) {
	v := s.get("radius")
	switch {
	case v == nil:
		return radii, true
	case v.shape == sequence:
		if len(v.items) != 4 {
			s.add(v, fmt.Sprintf("radius: %d values", len(v.items)), "give one, or four: lower left, lower right, upper right, upper left")
			return radii, false
		}
		ok = true
		for i, it := range v.items {
			l, fine := s.lengthOf(it, "radius")
			if fine && l < 0 {
				s.add(it, fmt.Sprintf("radius: %s is negative", clip(it.text)), "use zero for a sharp corner")
				fine = false
			}
			radii[i], ok = l, ok && fine
		}
		return radii, ok
	}
	before := len(s.r.list)
	l := s.length("radius", 0, 0, 0)
	return [4]length.Length{l, l, l, l}, s.r.list[before:].Err() == nil
}

// profile reads a list of points, a line or an arc after each.
func (r *reader) profile(g *group, v *value) outline.Outline {
	if v.shape != sequence {
		g.add(v, fmt.Sprintf("profile: expected a list of points, got %s", describe(v)), "write a dash before each {at: [x, y]}")
		return nil
	}
	if len(v.items) > MaxVertices {
		g.add(v, fmt.Sprintf("a profile of %d points is too long", len(v.items)), fmt.Sprintf("use %d or fewer", MaxVertices))
		return nil
	}
	type arc struct {
		g *group
		v *value
	}
	o := make(outline.Outline, len(v.items))
	arcs := make([]arc, len(v.items))
	ok := true
	for i, it := range v.items {
		p := r.group(it, "profile", g.what, "write {at: [x, y]}")
		if p == nil {
			ok = false
			continue
		}
		at := p.get("at")
		if at == nil {
			p.add(it, fmt.Sprintf("point %d has no at", i+1), "write {at: [x, y]}")
			ok = false
		} else if q, fine := r.point(p, at, "at", -length.Max); fine {
			o[i].At = q
		} else {
			ok = false
		}
		if name, v := p.word("edge"); v != nil {
			p.legible("edge", name, v)
			if name == allEdges {
				p.add(v, "edge: all means every edge", "give the edge another name")
			}
			o[i].Edge = name
		}
		if a := p.get("arc"); a != nil {
			if arcs[i].g = r.group(a, "arc", g.what, "write {radius: 300} or {rise: 12}"); arcs[i].g == nil {
				ok = false
			}
			arcs[i].v = a
		}
		p.done("at", "edge", "arc")
	}
	if len(o) < 2 {
		g.add(v, "a profile needs three points, or two when an edge is an arc", "add points")
		return nil
	}
	if !ok {
		return nil
	}
	// Out and in depend on which way round the points run. The corners tell, and
	// for two points, or corners on a line, counter-clockwise is as good.
	ring := make(geom.Ring, len(o))
	for i := range o {
		ring[i] = o[i].At
	}
	clockwise := ring.Area2() < 0
	for i := range o {
		if arcs[i].g == nil {
			continue
		}
		bulge, fine := r.arc(arcs[i].g, arcs[i].v, o, i, clockwise)
		if !fine {
			ok = false
		}
		o[i].Bulge = bulge
	}
	if !ok {
		return nil
	}
	return o
}

// point reads [x, y], each at least least.
func (r *reader) point(g *group, v *value, key string, least length.Length) (geom.Point, bool) {
	if v.shape != sequence || len(v.items) != 2 {
		g.add(v, fmt.Sprintf("%s: expected two lengths, got %s", key, describe(v)), "write [x, y]")
		return geom.Point{}, false
	}
	x, ok1 := g.lengthOf(v.items[0], key)
	y, ok2 := g.lengthOf(v.items[1], key)
	if ok1 && ok2 && (x < least || y < least) {
		g.add(v, key+": distances are measured inwards and cannot be negative", "measure from the corner named in from")
		return geom.Point{}, false
	}
	return geom.Pt(x, y), ok1 && ok2
}

// arc reads the arc of segment i: by radius, by rise, or through a point.
func (r *reader) arc(g *group, v *value, o outline.Outline, i int, clockwise bool) (float64, bool) {
	defer g.done("radius", "side", "long", "rise", "through")
	before := len(r.list)
	a, b := o[i].At, o[(i+1)%len(o)].At
	inward := g.choice("side", "out", "out", "in") == "in"
	long := g.yes("long")
	n := 0
	for _, k := range []string{"radius", "rise", "through"} {
		if g.has(k) {
			n++
		}
	}
	if n != 1 {
		g.used["radius"], g.used["rise"], g.used["through"] = true, true, true
		g.add(v, fmt.Sprintf("the arc of %s is given in %d ways", edge(o, i), n), "give one of radius, rise, through")
		return 0, false
	}
	// Out bulges away from the panel: counter-clockwise when the points run so.
	ccw := inward == clockwise
	var bulge float64
	var err error
	switch {
	case g.has("radius"):
		radius, ok := g.need("radius")
		if !ok {
			return 0, false
		}
		if bulge, err = outline.BulgeFromRadius(a, b, radius, ccw, long); errors.Is(err, outline.ErrSmallRadius) {
			half := length.Length(math.Ceil(math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y)) / 2))
			g.add(g.get("radius"), fmt.Sprintf("%s: the radius %s is smaller than half the chord, %s", edge(o, i), r.size(radius), r.size(half)), "use a radius of at least half the chord, or give the rise")
			return 0, false
		}
	case g.has("rise"):
		rise, ok := g.need("rise")
		if !ok {
			return 0, false
		}
		if bulge, err = outline.BulgeFromRise(a, b, rise); !ccw {
			bulge = -bulge
		}
	default:
		m, ok := r.point(g, g.get("through"), "through", -length.Max)
		if !ok {
			return 0, false
		}
		bulge, err = outline.BulgeThrough(a, m, b)
	}
	if long && !g.has("radius") {
		g.add(g.get("long"), "long is for an arc by radius", "remove it")
	}
	if g.has("side") && g.has("through") {
		g.add(g.get("side"), "the side of an arc through a point is given by the point", "remove it")
	}
	if err != nil {
		g.add(v, fmt.Sprintf("%s: %v", edge(o, i), err), "check the points of the arc")
	}
	return bulge, r.list[before:].Err() == nil
}

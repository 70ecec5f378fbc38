package jobfile

import (
	"errors"
	"fmt"
	"strings"

	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// shapeKeys are the forms an outline can have.
var shapeKeys = []string{"rectangle", "circle", "path", "profile"}

// shape reads the one form that g gives: a valid outline, counter-clockwise, its
// box at the origin; nil after a finding. named says whether its edges are named.
func (r *reader) shape(g *group, named bool) outline.Outline {
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
		if c := r.group(v, g.what, "write {diameter: 90}"); c != nil {
			if d, ok := c.need("diameter"); ok {
				o = outline.Circle(d + d&1) // an even diameter has its centre on the grid
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
		r.fault(g, v, o, err)
		return nil
	}
	if o.Area2() < 0 {
		o = o.Reversed()
	}
	return o.Translate(o.Box().Min.Neg())
}

// fault adds what is wrong with an outline, in the user's coordinates.
func (r *reader) fault(g *group, v *value, o outline.Outline, err error) {
	fact, remedy := err.Error(), "check the points"
	var f *outline.Fault
	if errors.As(err, &f) {
		at := fmt.Sprintf("(%s, %s)", r.print(f.At.X), r.print(f.At.Y))
		switch {
		case errors.Is(f.Err, outline.ErrCrosses):
			fact = fmt.Sprintf("the outline crosses or touches itself at %s, where %s meets %s", at, edge(o, f.A), edge(o, f.B))
			remedy = "check the order of the points"
		case errors.Is(f.Err, outline.ErrNoLength):
			fact = fmt.Sprintf("%s has no length: two points at %s", edge(o, f.A), at)
			remedy = "remove one of them"
		}
	}
	g.add(v, fact, remedy)
}

// print writes a coordinate in the unit of the job.
func (r *reader) print(l length.Length) string {
	if r.out.Units == length.IN {
		return fmt.Sprintf("%.3f in", l.Inches())
	}
	return strings.TrimSuffix(strings.TrimRight(l.Fixed(3), "0"), ".")
}

// edge names segment i of an outline.
func edge(o outline.Outline, i int) string {
	if i >= 0 && i < len(o) && o[i].Edge != "" {
		return fmt.Sprintf("edge %q", o[i].Edge)
	}
	return fmt.Sprintf("edge %d", i+1)
}

// rectangle reads {length, width, radius}.
func (r *reader) rectangle(g *group, v *value) outline.Outline {
	s := r.group(v, g.what, "write {length: 600, width: 400}")
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
			s.add(s.get("radius"), fmt.Sprintf("two corner radii, together %v, are more than the edge of %v between them", sum, side), "use smaller radii")
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
				s.add(it, fmt.Sprintf("radius: %s is negative", it.text), "use zero for a sharp corner")
				fine = false
			}
			radii[i], ok = l, ok && fine
		}
		return radii, ok
	}
	before := len(s.r.list)
	l := s.length("radius", 0, 0, 0)
	return [4]length.Length{l, l, l, l}, len(s.r.list) == before
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
		p := r.group(it, g.what, "write {at: [x, y]}")
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
		o[i].Edge, _ = p.text("edge")
		o[i].Edge = strings.TrimSpace(o[i].Edge)
		if a := p.get("arc"); a != nil {
			if arcs[i].g = r.group(a, g.what, "write {radius: 300} or {rise: 12}"); arcs[i].g == nil {
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
		g.add(v, fmt.Sprintf("%s: expected two lengths, got %s", key, describe(v)), "write ["+"x, y]")
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
			g.add(g.get("radius"), fmt.Sprintf("%s: %v", edge(o, i), err), "use a radius of at least half the chord, or give the rise")
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
	return bulge, len(r.list) == before
}

// openings reads the openings of a panel whose outline is known.
func (r *reader) openings(d *draft) {
	box := d.panel.Outline.Box()
	names := map[string]int{}
	for i, v := range d.g.list("openings", MaxEntries) {
		g := r.group(v, d.g.what, "write name:, at: or center:, and a shape")
		if g == nil {
			continue
		}
		op := parts.Opening{Pos: v.pos}
		op.Name, _ = g.text("name")
		op.Name = strings.TrimSpace(op.Name)
		if op.Name == "" {
			op.Name = fmt.Sprintf("opening %d", i+1)
		}
		g.what = fmt.Sprintf("%s, opening %q", d.g.what, clip(op.Name))
		if line, ok := names[op.Name]; ok {
			g.add(v, fmt.Sprintf("the name is taken, first in line %d", line), "give each opening of a panel a name of its own")
		}
		names[op.Name] = v.pos.Line
		corner := g.choice("from", "lower left", "lower left", "lower right", "upper left", "upper right")
		o := r.shape(g, false)
		at, placed := r.place(g)
		g.done(append([]string{"name", "from", "at", "center"}, shapeKeys...)...)
		if o == nil || !placed {
			continue
		}
		size := o.Box().Size()
		if g.has("center") {
			at = at.Sub(geom.Pt(size.X/2, size.Y/2))
		}
		if strings.HasSuffix(corner, "right") {
			at.X = box.Dx() - at.X - size.X
		}
		if strings.HasPrefix(corner, "upper") {
			at.Y = box.Dy() - at.Y - size.Y
		}
		op.Outline = o.Translate(at)
		if r.inside(g, d, &op) {
			d.openings = append(d.openings, op)
		}
	}
}

// place reads at or center.
func (r *reader) place(g *group) (geom.Point, bool) {
	at, center := g.get("at"), g.get("center")
	switch {
	case at != nil && center != nil:
		g.add(center, "at and center are both given", "keep one of them")
	case at != nil:
		return r.point(g, at, "at", 0)
	case center != nil:
		return r.point(g, center, "center", 0)
	default:
		g.add(g.v, "has no place", "add at: [x, y] for its corner or center: [x, y]")
	}
	return geom.Point{}, false
}

// inside reports whether an opening lies in its panel, apart from the others.
func (r *reader) inside(g *group, d *draft, op *parts.Opening) bool {
	if err := d.panel.Outline.Contains(op.Outline); err != nil {
		b, box := op.Outline.Box(), d.panel.Outline.Box()
		fact := fmt.Sprintf("it reaches from (%s, %s) to (%s, %s), which is not inside the panel of %s x %s",
			r.print(b.Min.X), r.print(b.Min.Y), r.print(b.Max.X), r.print(b.Max.Y), r.print(box.Dx()), r.print(box.Dy()))
		var f *outline.Fault
		if errors.As(err, &f) && errors.Is(f.Err, outline.ErrMeets) {
			fact = fmt.Sprintf("it meets %s of the panel at (%s, %s)", edge(d.panel.Outline, f.A), r.print(f.At.X), r.print(f.At.Y))
		}
		g.add(g.v, fact, "move it or make it smaller")
		return false
	}
	for i := range d.openings {
		other := &d.openings[i]
		if op.Outline.Box().Overlaps(other.Outline.Box()) && other.Outline.Apart(op.Outline) != nil {
			g.add(g.v, fmt.Sprintf("it overlaps the opening %q", other.Name), "move one of them, or draw both as one")
			return false
		}
	}
	return true
}

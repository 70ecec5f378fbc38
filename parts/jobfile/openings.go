package jobfile

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// cutout is an opening as written: its shape, and where it goes in a panel whose
// outline may not be known yet.
type cutout struct {
	v       *value
	name    string
	outline outline.Outline // its box at the origin
	at      geom.Point      // of the corner of its box, or its centre
	center  bool
	right   bool // measured from the right edge of the panel's box
	upper   bool
	// Of an opening for a component, and of its mounting holes, which lie off the
	// middle of it: host is its size.
	component    string
	relief       parts.Relief
	footprint    outline.Outline // what the component covers of the panel
	host, offset geom.Point
	// inherited openings are those of another panel, turned ones mirrored with it.
	inherited, turned bool
}

// placed is an opening in its panel.
type placed struct {
	opening parts.Opening
	trace   *outline.Trace
	of      *value          // mounting holes have that of their opening
	covers  outline.Outline // what its component covers of the panel
}

// cutouts reads the openings of a panel, beside those that its drawing has; those
// with a mistake are left out.
func (r *reader) cutouts(panel *group, before []cutout) []cutout {
	var list []cutout
	drawn := len(before)
	names := map[string]int{}
	for i := range before {
		names[before[i].name] = before[i].v.pos.Line
	}
	for i, v := range panel.list("openings", MaxEntries) {
		g := r.group(v, "openings", panel.what, "write name:, at: or center:, and a shape")
		if g == nil {
			continue
		}
		c := cutout{v: v, name: fmt.Sprintf("opening %d", drawn+i+1)}
		if name, at := g.word("name"); at != nil {
			g.legible("name", name, at)
			c.name = name
		} else if name, at := g.word("component"); at != nil {
			c.name = name
			for n := 2; names[c.name] > 0; n++ {
				c.name = fmt.Sprintf("%s %d", name, n)
			}
		}
		g.what = fmt.Sprintf("%s, opening %q", panel.what, clip(c.name))
		if line, ok := names[c.name]; ok {
			g.add(v, fmt.Sprintf("the name is taken, first in line %d", line), "give each opening of a panel a name of its own")
		}
		names[c.name] = v.pos.Line
		corner := g.choice("from", "lower left", "lower left", "lower right", "upper left", "upper right")
		c.right, c.upper = strings.HasSuffix(corner, "right"), strings.HasPrefix(corner, "upper")
		c.center = g.has("center")
		if g.has("component") {
			for _, o := range r.fitted(g, &c) {
				names[o.name] = v.pos.Line
				list = append(list, o)
			}
			continue
		}
		c.relief = g.relief(parts.NoRelief)
		c.outline = r.shape(g)
		at, ok := r.where(g)
		c.at = at
		g.done(slices.Concat([]string{"name", "from", "at", "center", "relief"}, shapeKeys)...)
		if c.outline != nil && ok {
			list = append(list, c)
		}
	}
	return list
}

// where reads at or center.
func (r *reader) where(g *group) (geom.Point, bool) {
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

// in returns the opening in a panel of a size. A turned one is the mirror image,
// measured from the mirrored corner.
func (c *cutout) in(size geom.Point) outline.Outline {
	return c.lay(c.outline, size)
}

// lay returns a shape of the opening in a panel of a size: all shapes of an opening
// for a component have one middle, or lie off it.
func (c *cutout) lay(o outline.Outline, size geom.Point) outline.Outline {
	right, offset := c.right, c.offset
	if c.turned {
		o, right = o.Flipped(), !right
		o = o.Translate(o.Box().Min.Neg())
		offset.X = -offset.X
	}
	own, at := c.outline.Box().Size(), c.at
	if c.host != (geom.Point{}) {
		own = c.host
	}
	if c.center {
		at = at.Sub(geom.Pt(own.X/2, own.Y/2))
	}
	if right {
		at.X = size.X - at.X - own.X
	}
	if c.upper {
		at.Y = size.Y - at.Y - own.Y
	}
	if s := o.Box().Size(); s != own {
		offset = offset.Add(geom.Pt((own.X-s.X)/2, (own.Y-s.Y)/2))
	}
	return o.Translate(at.Add(offset))
}

// place puts the openings of a draft into its outline; those that do not lie in
// it, apart from the others, are left out.
func (r *reader) place(d *draft) {
	list := slices.Concat(d.drawn, d.cutouts)
	if len(list) == 0 {
		return
	}
	panel, size := d.panel.Outline.Trace(), d.panel.Size()
	own := d.ownShape() || d.g.has("material")
	for i := range list {
		c := &list[i]
		own = own || !c.inherited
		g := &group{r: r, v: c.v, what: fmt.Sprintf("%s, opening %q", d.g.what, clip(c.name))}
		if c.inherited {
			g.v = d.baseAt
		}
		o := placed{opening: parts.Opening{Name: c.name, Outline: c.in(size), Component: c.component, Relief: c.relief, Pos: g.v.pos}}
		o.trace, o.of = o.opening.Outline.Trace(), c.v
		if c.footprint != nil {
			o.covers = c.lay(c.footprint, size)
		}
		// Openings that come with their outline have been looked at in it.
		if c.inherited && !d.ownShape() || r.inside(g, d, panel, &o) {
			d.openings = append(d.openings, o)
		}
	}
	if own {
		r.webs(d, panel)
		r.collisions(d, panel)
	}
}

// inside reports whether an opening lies in its panel, apart from the others.
func (r *reader) inside(g *group, d *draft, panel *outline.Trace, o *placed) bool {
	if err := panel.Contains(o.trace); err != nil {
		b, size := o.opening.Outline.Box(), d.panel.Size()
		fact := fmt.Sprintf("it reaches from (%s, %s) to (%s, %s), which is not inside the panel of %s x %s",
			r.print(b.Min.X), r.print(b.Min.Y), r.print(b.Max.X), r.print(b.Max.Y), r.print(size.X), r.size(size.Y))
		var f *outline.Fault
		if errors.As(err, &f) && errors.Is(f.Err, outline.ErrMeets) {
			fact = fmt.Sprintf("it meets %s of the panel at (%s, %s)", edge(d.panel.Outline, f.A), r.print(f.At.X), r.print(f.At.Y))
		}
		g.add(g.v, fact, "move it or make it smaller")
		return false
	}
	for i := range d.openings {
		other := &d.openings[i]
		if touch(o.opening.Outline.Box(), other.opening.Outline.Box()) && other.trace.Apart(o.trace) != nil {
			g.add(g.v, fmt.Sprintf("it overlaps the opening %q", clip(other.opening.Name)), "move one of them, or draw both as one")
			return false
		}
	}
	return true
}

// touch reports whether the boxes of two openings have a common point.
func touch(a, b geom.Box) bool {
	return a.Min.X <= b.Max.X && b.Min.X <= a.Max.X && a.Min.Y <= b.Max.Y && b.Min.Y <= a.Max.Y
}

// webs warns of openings that leave little board: less than twice its thickness
// (common practice, no source).
func (r *reader) webs(d *draft, panel *outline.Trace) {
	m := r.out.Material(d.panel.Material)
	if m == nil {
		return
	}
	least := 2 * m.Measured
	for i := range d.openings {
		o := &d.openings[i]
		warn := func(web float64, where string) {
			if web < float64(least) {
				r.list.Warn(o.opening.Pos, d.g.what, fmt.Sprintf("opening %q leaves a web of %s to %s, less than twice the thickness",
					clip(o.opening.Name), r.size(length.Length(web)), where), "check that it is strong enough")
			}
		}
		warn(panel.Web(o.trace, float64(least)), "the edge")
		near := o.opening.Outline.Box().Inset(-least, -least, -least, -least)
		for k := range d.openings[:i] {
			if other := &d.openings[k]; other.of != o.of && touch(near, other.opening.Outline.Box()) {
				warn(other.trace.Web(o.trace, float64(least)), fmt.Sprintf("opening %q", clip(other.opening.Name)))
			}
		}
	}
}

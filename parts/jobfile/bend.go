package jobfile

import (
	"errors"
	"fmt"

	"panelyard/parts"
	"panelyard/parts/arc"
	"panelyard/parts/diag"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// bendKeys are the keys of a bend; the first four are its arc.
var bendKeys = []string{"radius", "angle", "chord", "rise", "web", "facet", "from", "to", "kerfs", "along"}

// bent reads a panel that is bent: one side follows from the bend, the other is given.
// What depends on the width of the kerfs is for package kerf, which knows the tool.
func (r *reader) bent(d *draft) {
	g := d.g
	before := len(r.list)
	for _, k := range [][2]string{
		{"outline", "a bent panel is a rectangle, cut as bend: says; remove the outline"},
		{"joints", "give the size as it is cut, and what goes into a joint with from: and to:"},
		{"measured", "give the size as it is cut, and what goes into a joint with from: and to:"},
		{"load", "sag is worked out for flat shelves; remove it"},
	} {
		if v := g.get(k[0]); v != nil {
			g.add(v, k[0]+": is given, and a bend", k[1])
		}
	}
	at := g.get("bend")
	s := r.group(at, "bend", g.what, "write {radius: 300, angle: 90, web: 2, from: 200, to: 200}")
	if s == nil {
		g.used["length"], g.used["width"] = true, true
		return
	}
	b := &parts.Bend{Along: parts.AlongLength, Pos: at.pos}
	given, side := "width", "length"
	if s.choice("along", "length", "length", "width") == "width" {
		b.Along = parts.AlongWidth
		given, side = side, given
	}
	if v := g.get(side); v != nil {
		g.add(v, fmt.Sprintf("%s: is given, and follows from the bend", side), "remove it; straight wood before and after the bend is from: and to: of the bend")
	}
	other, ok := g.need(given)
	r.bendSizes(d, s, b)
	m := r.boardOf(g.v)
	if m == nil {
		g.add(at, "bend: it is not known how thick the board is", "add material: at the panel")
	}
	s.done(bendKeys...)
	if m == nil || m.Measured == 0 {
		return
	}
	b.Thickness = m.Measured
	var err error
	if b.Flat, err = b.Kerfed(0).Flat(); err != nil {
		s.blame(err, map[string]bool{"web": b.Web == 0, "radius": b.Outer.Radius == 0, "angle": b.Outer.Angle == 0})
	}
	if !ok || r.list[before:].Err() != nil {
		return
	}
	total := b.From + b.Flat + b.To
	if total > length.Max {
		s.add(at, fmt.Sprintf("bend: the panel would be %s long", r.size(total)), "use "+r.size(length.Max)+" or less")
		return
	}
	for _, f := range b.Kerfed(0).Doubts() {
		r.list.Warn(s.at(f.Part).pos, g.what, "bend: "+f.Fact, f.Remedy)
	}
	d.panel.Bend = b
	r.bendWorkings(d, b, side)
	d.panel.Outline = outline.Rectangle(total, other)
	if b.Along == parts.AlongWidth {
		d.panel.Outline = outline.Rectangle(other, total)
	}
	if v := g.get(given); v != nil {
		if w := r.working(given, v, other); w != "" {
			d.workings = append(d.workings, w)
		}
	}
}

// bendSizes reads the measures of a bend.
func (r *reader) bendSizes(d *draft, s *group, b *parts.Bend) {
	before := len(r.list)
	known := arc.Known{
		Radius: s.length("radius", 0, 1, 0), Angle: s.degrees("angle"),
		Chord: s.length("chord", 0, 1, 0), Rise: s.length("rise", 0, 1, 0),
	}
	if r.list[before:].Err() == nil {
		var err error
		if b.Outer, err = arc.Solve(known); err != nil {
			s.blame(err, nil)
		}
	}
	b.Web, _ = s.need("web")
	b.Facet = s.length("facet", 0, 1, 0)
	b.From, b.To = s.length("from", 0, 0, 0), s.length("to", 0, 0, 0)
	b.Open = s.choice("kerfs", "closed", "closed", "open") == "open"
	if b.Open && !s.has("facet") {
		s.add(s.v, "bend: nothing says how many open kerfs there are: they do not close", "add facet: and how far the flat pieces may stand off the arc, such as 0.5 mm")
	}
	for _, k := range []struct {
		key string
		l   length.Length
	}{{"radius", known.Radius}, {"chord", known.Chord}, {"rise", known.Rise}, {"web", b.Web}, {"facet", b.Facet}, {"from", b.From}, {"to", b.To}} {
		if v := s.get(k.key); v != nil && k.l > 0 {
			if w := r.working(k.key, v, k.l); w != "" {
				d.workings = append(d.workings, w)
			}
		}
	}
}

// degrees reads an angle above 0 and below 360 degrees; 0 is one that is not given, or
// wrong.
func (g *group) degrees(key string) arc.Angle {
	text, v := g.word(key)
	if v == nil {
		return 0
	}
	const remedy = "write degrees above 0 and below 360, such as 37.5"
	a, err := arc.ParseAngle(text)
	switch {
	case err != nil:
		g.add(v, key+": "+diag.Brief(err), remedy)
	case a <= 0 || a >= arc.FullCircle:
		g.add(v, fmt.Sprintf("%s: %v degrees are no bend", key, a), remedy)
		return 0
	}
	return a
}

// at returns the value of a key, or the group where it is not given.
func (g *group) at(key string) *value {
	if g.has(key) {
		return g.get(key)
	}
	return g.v
}

// blame adds the findings of a calculation at the measures that they concern, but for
// those of which all is said.
func (g *group) blame(err error, said map[string]bool) {
	var list diag.List
	errors.As(err, &list)
	for _, f := range list {
		if !said[f.Part] {
			g.add(g.at(f.Part), "bend: "+f.Fact, f.Remedy)
		}
	}
}

// bendWorkings tells how the flat length of a bend comes about.
func (r *reader) bendWorkings(d *draft, b *parts.Bend, side string) {
	middle := fmt.Sprintf("(%s - %s/2)", r.print(b.Outer.Radius), r.print(b.Web))
	if b.Open {
		middle = fmt.Sprintf("(%s - %s + %s/2)", r.print(b.Outer.Radius), r.print(b.Thickness), r.print(b.Web))
	}
	d.workings = append(d.workings,
		fmt.Sprintf("bend of %v degrees, %s outside, kerfs leave %s of %s: flat %v/180 x pi x %s = %s",
			b.Outer.Angle, r.size(b.Outer.Radius), r.print(b.Web), r.size(b.Thickness), b.Outer.Angle, middle, r.size(b.Flat)))
	if total := b.From + b.Flat + b.To; total > b.Flat {
		d.workings = append(d.workings, fmt.Sprintf("%s %s + %s + %s = %s", side, r.print(b.From), r.print(b.Flat), r.print(b.To), r.size(total)))
	}
}

// bentBoard wants a bend that was taken from another panel to be of the same board.
func (r *reader) bentBoard(d *draft, p *parts.Panel) {
	m := r.out.Material(p.Material)
	if p.Bend == nil || m == nil {
		return
	}
	if m.Measured != p.Bend.Thickness {
		d.g.add(d.g.v, fmt.Sprintf("it takes its bend from %q, which is worked out for %s of board, and %q is %s", clip(d.base), r.size(p.Bend.Thickness), clip(m.Name), r.size(m.Measured)),
			"write bend: here as well, it is worked out anew")
	}
	if p.Load != 0 {
		d.g.add(d.g.at("load"), "load: is given, and a bend", "sag is worked out for flat shelves; remove it")
	}
}

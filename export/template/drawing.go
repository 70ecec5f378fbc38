package template

import (
	"fmt"
	"slices"
	"strings"

	"panelyard/export"
	"panelyard/export/pdf"
	"panelyard/parts"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// drawing is a panel ready to be drawn, in mm.
type drawing struct {
	*Template
	box      Rect
	outline  loop
	openings []hole
}

// hole is an opening of it.
type hole struct {
	loop
	box   Rect
	name  string
	round bool
}

// newDrawing makes a template ready to be drawn.
func newDrawing(t *Template) *drawing {
	d := &drawing{Template: t, box: boxOf(t.Outline), outline: newLoop(t.Outline)}
	for i, o := range t.Openings {
		form, _ := export.FormOf(o)
		d.openings = append(d.openings, hole{newLoop(o), boxOf(o), openingName(t.Panel.Openings[i]), form == export.Round})
	}
	return d
}

// openingName names an opening, with its component where that says more.
func openingName(o parts.Opening) string {
	if o.Component == "" || strings.Contains(o.Name, o.Component) {
		return o.Name
	}
	return strings.TrimPrefix(o.Name+", ", ", ") + o.Component
}

func boxOf(o outline.Outline) Rect {
	b := o.Box()
	return Rect{b.Min.X.MM(), b.Min.Y.MM(), b.Max.X.MM(), b.Max.Y.MM()}
}

func (r Rect) centre() pdf.Point { return pdf.Point{X: (r.X0 + r.X1) / 2, Y: (r.Y0 + r.Y1) / 2} }

// How far centre lines stand out over what they are the middle of, and half the size of
// the cross in the middle of an opening, in mm.
const (
	panelCentre   = 2.5
	openingCentre = 4.0
	crossHalf     = 4.0
)

// centreLines returns the centre lines of a box.
func centreLines(b Rect, out float64) []piece {
	c := b.centre()
	return []piece{
		{a: pdf.Point{X: b.X0 - out, Y: c.Y}, b: pdf.Point{X: b.X1 + out, Y: c.Y}},
		{a: pdf.Point{X: c.X, Y: b.Y0 - out}, b: pdf.Point{X: c.X, Y: b.Y1 + out}},
	}
}

// cross returns the cross in the middle of an opening, no larger than the opening.
func (h hole) cross() []piece {
	half := min(crossHalf, 0.35*min(h.box.width(), h.box.height()))
	c := h.box.centre()
	return centreLines(Rect{c.X, c.Y, c.X, c.Y}, half)
}

// ink calls f with every straight piece of what makes a page worth printing: outline,
// openings and their middles, kerfs of a bend; not the centre lines alone.
func (d *drawing) ink(f func(a, b pdf.Point)) {
	for _, p := range d.outline {
		f(p.a, p.b)
	}
	for _, h := range d.openings {
		for _, p := range h.loop {
			f(p.a, p.b)
		}
		for _, p := range h.cross() {
			f(p.a, p.b)
		}
	}
	for _, p := range d.kerfPieces() {
		f(p.a, p.b)
	}
}

// lines returns what of the drawing may be seen in a window of the panel.
func (d *drawing) lines(v view, window Rect) []Item {
	var list []Item
	draw := func(class string, pen pdf.Pen, paths []pdf.Path) {
		if len(paths) > 0 {
			list = append(list, Lines{class, pen, paths})
		}
	}
	straight := func(pieces []piece) (paths []pdf.Path) {
		for _, p := range pieces {
			if _, _, ok := clip(p.a, p.b, window); ok {
				a, b := v.point(p.a), v.point(p.b)
				paths = append(paths, pdf.Straight(a.X, a.Y, b.X, b.Y))
			}
		}
		return paths
	}
	draw("centre", centrePen, straight(centreLines(d.box, panelCentre)))
	for _, h := range d.openings {
		if h.box.grown(openingCentre).touches(window) {
			draw("centre", centrePen, straight(centreLines(h.box, openingCentre)))
			draw("cross", crossPen, straight(h.cross()))
		}
	}
	draw("kerf", d.kerfPen(), straight(d.kerfPieces()))
	draw("panel", outlinePen, v.seen(d.outline, window))
	for _, h := range d.openings {
		if h.box.grown(1).touches(window) {
			draw("opening", outlinePen, v.seen(h.loop, window))
		}
	}
	return list
}

// seen returns a loop whole where all of it may be seen, else what may be.
func (v view) seen(l loop, window Rect) []pdf.Path {
	if !slices.ContainsFunc(l, func(p piece) bool { return !p.box().touches(window) }) {
		return []pdf.Path{v.path(l)}
	}
	return v.runs(l, window)
}

// labels returns the names of edges, bands and openings in a window of a page, beside
// what they belong to and clear of all else. Names without room are left out: the first
// page lists them all.
func (d *drawing) labels(v view, window Rect, keepOff []piece) []Item {
	s := scribe{window: window.grown(-0.5)}
	each := func(list []piece) {
		for _, p := range list {
			s.block(v.point(p.a), v.point(p.b))
		}
	}
	each(keepOff)
	d.ink(func(a, b pdf.Point) { s.block(v.point(a), v.point(b)) })
	each(centreLines(d.box, panelCentre))
	for _, h := range d.openings {
		each(centreLines(h.box, openingCentre))
	}
	for i := range d.openings {
		d.nameOpening(&s, &d.openings[i], v)
	}
	for from := 0; from < len(d.outline); {
		to := from + 1
		for to < len(d.outline) && d.outline[to].segment == d.outline[from].segment {
			to++
		}
		if text := d.edgeText(d.outline[from].segment); text != "" {
			s.along(longest(v, d.outline[from:to], s.window), text)
		}
		from = to
	}
	var list []Item
	for _, w := range s.placed {
		list = append(list, w)
	}
	return list
}

// nameOpening writes the name of an opening below its middle, beside it when it is
// small, or else along what is seen of it.
func (d *drawing) nameOpening(s *scribe, h *hole, v view) {
	a, b := v.point(pdf.Point{X: h.box.X0, Y: h.box.Y1}), v.point(pdf.Point{X: h.box.X1, Y: h.box.Y0})
	on := Rect{a.X, a.Y, b.X, b.Y}
	if h.name == "" || !on.touches(s.window) || len(s.placed) >= mostLabels {
		return
	}
	text := h.name
	if h.round {
		text += " ⌀ " + d.write.Text(length.Length(h.box.width()*float64(length.Millimetre)+0.5))
	}
	c := on.centre()
	if on.width() <= smallOpening {
		text, size := pdf.Fit(text, 2.4, leastLabel, 40, pdf.Regular)
		half := pdf.Width(text, size, pdf.Regular)/2 + openingCentre + 1
		_ = s.try(pdf.Point{X: on.X1 + half, Y: c.Y - 1.2*size}, 0, size, text) ||
			s.try(pdf.Point{X: on.X0 - half, Y: c.Y - 1.2*size}, 0, size, text)
		return
	}
	// In a quarter of the opening, clear of the centre lines.
	text, size := pdf.Fit(text, labelSize, leastLabel, 0.36*on.width(), pdf.Regular)
	half := pdf.Width(text, size, pdf.Regular)/2 + 1.5
	for _, side := range [4][2]float64{{1, 1}, {-1, 1}, {1, -1}, {-1, -1}} {
		if s.try(pdf.Point{X: c.X + side[0]*half, Y: c.Y + side[1]*(size+1)}, 0, size, text) {
			return
		}
	}
	s.along(longest(v, h.loop, s.window), h.name)
}

// edgeText names a segment of the outline: its name, its radius, its band.
func (d *drawing) edgeText(i int) string {
	text := d.Outline[i].Edge
	band := d.Edging[i]
	if text == "" && band == "" {
		return ""
	}
	if text == "" {
		n := i + 1
		if d.Mirrored {
			n = len(d.Outline) - i
		}
		text = fmt.Sprintf("edge %d", n)
	}
	if r := d.Outline.Radius(i); r > 0 && r < float64(length.Max) {
		text += ", R " + d.write.Short(length.Length(r+0.5))
	}
	if band != "" {
		text += ": " + band
	}
	return text
}

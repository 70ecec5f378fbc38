package book

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"panelyard/export"
	"panelyard/export/pdf"
	"panelyard/kerf"
	"panelyard/kerf/toolpath"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// scales are the round scales of maps.
var scales = []float64{1, 2, 2.5, 3, 4, 5, 6, 7.5, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200}

// chart is a sheet being drawn; taken are the boxes of the words on it.
type chart struct {
	b       *book
	m       *export.SheetMap
	x, y, k float64 // of the lower left corner, mm of paper a mm of board
	note    float64 // where a line above the map has its foot
	within  box     // where its words may stand
	taken   []box
	missing missing
}

type box struct{ x, y, w, h float64 }

// missing is what found no place on a map, and where that lies.
type missing struct {
	panels, offcuts, cuts, paths []string
	at                           geom.Box
}

// near takes where something lies that found no place.
func (m *missing) near(g geom.Box) {
	if m.at == (geom.Box{}) {
		m.at = g
		return
	}
	m.at.Min = geom.Pt(min(m.at.Min.X, g.Min.X), min(m.at.Min.Y, g.Min.Y))
	m.at.Max = geom.Pt(max(m.at.Max.X, g.Max.X), max(m.at.Max.Y, g.Max.Y))
}

// String names it, runs of cuts by the first and the last; it is empty for nothing.
func (m *missing) String() string {
	var list []string
	add := func(kind string, names []string) {
		if len(names) > 0 {
			list = append(list, kind+" "+strings.Join(names, ", "))
		}
	}
	add("panels", m.panels)
	add("offcuts to keep", m.offcuts)
	add("cuts", shortened(m.cuts, whole))
	add("paths", shortened(m.paths, whole))
	return strings.Join(list, "; ")
}

func (c *chart) at(p geom.Point) pdf.Point {
	return pdf.Point{X: c.x + p.X.MM()*c.k, Y: c.y - p.Y.MM()*c.k}
}

// path draws vertices in sheet coordinates; y runs down on paper, so bulges turn over.
func (c *chart) path(o []outline.Vertex, closed bool) pdf.Path {
	p := pdf.Path{From: c.at(o[0].At), Closed: closed}
	for i := range o {
		if i == len(o)-1 && !closed {
			break
		}
		s := pdf.Step{To: c.at(o[(i+1)%len(o)].At)}
		if outline.Outline(o).Radius(i) > 0 {
			s.Bulge = -o[i].Bulge
		}
		p.Steps = append(p.Steps, s)
	}
	return p
}

func (c *chart) box(g geom.Box) pdf.Path {
	a := c.at(geom.Pt(g.Min.X, g.Max.Y))
	return pdf.Rectangle(a.X, a.Y, g.Dx().MM()*c.k, g.Dy().MM()*c.k)
}

func (c *chart) stroke(pen pdf.Pen, p ...pdf.Path) { c.b.add(pdf.Lines{Pen: pen, Paths: p}) }
func (c *chart) fill(grey int, p ...pdf.Path)      { c.b.add(pdf.Area{Grey: grey, Paths: p}) }

// The pens of a map; legend.go says what they mean.
var (
	usablePen = pdf.Pen{Width: 0.15, Grey: 120, Dash: []float64{1, 1}}
	blankPen  = pdf.Pen{Width: 0.15, Grey: 60, Dash: []float64{1.8, 0.8}}
	bendPen   = pdf.Pen{Width: 0.12, Dash: []float64{0.8, 0.8}}
	bandPen   = pdf.Pen{Width: 0.7, Grey: 0, Dash: []float64{2.2, 0.9}}
	pathPen   = pdf.Pen{Width: 0.1, Grey: 110}
	leadPen   = pdf.Pen{Width: 0.1, Grey: 60}
	tabPen    = pdf.Pen{Width: 1.1, Grey: 0}
)

// Greys of areas.
const (
	panelGrey = 245
	keepGrey  = 225
)

// cutPen is as wide as the kerf, but never so thin that it is lost in print.
func (c *chart) cutPen() pdf.Pen {
	return pdf.Pen{Width: max(0.15, c.b.d.Demand.Kerf.MM()*c.k), Grey: 120}
}

// draw draws the sheet without its words.
func (c *chart) draw() {
	m := c.m
	c.stroke(pdf.Pen{Width: 0.4}, c.box(geom.Box{Max: geom.Pt(m.Stock.Length, m.Stock.Width)}))
	c.stroke(usablePen, c.box(m.Usable))
	for _, o := range m.Offcuts {
		if o.Keep {
			c.fill(keepGrey, c.box(o.Box))
		}
	}
	for i := range m.Cuts {
		a, z := c.at(m.Cuts[i].From), c.at(m.Cuts[i].To)
		c.stroke(c.cutPen(), pdf.Straight(a.X, a.Y, z.X, z.Y))
	}
	for i := range m.Placements {
		p := &m.Placements[i]
		if c.ownBlank(p) {
			c.stroke(blankPen, c.box(p.Blank))
		}
		loops := []pdf.Path{c.path(p.Outline, true)}
		for _, o := range p.Openings {
			loops = append(loops, c.path(o, true))
		}
		c.fill(panelGrey, loops...)
		c.stroke(pdf.Pen{Width: 0.3}, loops...)
		for _, o := range p.Kerfs {
			c.stroke(bendPen, c.path(o, false))
		}
		c.bands(p)
	}
	for i := range m.Paths {
		c.run(&m.Paths[i])
	}
}

// ownBlank reports whether the blank of a panel is drawn: that of a shaped panel, and
// one that two share once.
func (c *chart) ownBlank(p *export.PlacedPanel) bool {
	return p.Row.Shaped && !p.Second && c.b.d.Demand.Cut == kerf.Saw
}

// bands draws a line beside each banded edge, within the panel.
func (c *chart) bands(p *export.PlacedPanel) {
	const off = 0.9 // mm of paper from the edge
	names := p.Row.Item.Panel.Edging
	if p.Flip != c.b.d.FaceDown() {
		// A flipped outline runs through its segments from the last to the first.
		names = slices.Clone(names)
		slices.Reverse(names)
	}
	for i, name := range names {
		if name != "" && i < len(p.Outline) {
			c.stroke(bandPen, c.inner(p.Outline, i, off))
		}
	}
}

// inner returns a segment of an outline moved into the panel, which is on its left, by
// mm of paper; one whose arc is too tight for that stays where it is.
func (c *chart) inner(o outline.Outline, i int, off float64) pdf.Path {
	a, z := c.at(o[i].At), c.at(o[(i+1)%len(o)].At)
	bulge := 0.0
	if r := o.Radius(i); r > 0 {
		bulge = -o[i].Bulge
		if r/float64(length.Millimetre)*c.k < 3*off {
			off = 0
		}
	}
	chord := math.Atan2(z.Y-a.Y, z.X-a.X)
	half := 2 * math.Atan(bulge)
	// On paper, where y runs down, the left is at the angle less a right one.
	move := func(p pdf.Point, heading float64) pdf.Point {
		sin, cos := math.Sincos(heading - math.Pi/2)
		return pdf.Point{X: p.X + off*cos, Y: p.Y + off*sin}
	}
	return pdf.Path{From: move(a, chord-half), Steps: []pdf.Step{{To: move(z, chord+half), Bulge: bulge}}}
}

// run draws a path of the bit: where it comes down, its leads and its tabs.
func (c *chart) run(p *toolpath.Path) {
	if len(p.Line) > 1 {
		c.stroke(pathPen, c.path(p.Line, p.Closed))
	}
	start := p.Line[0].At
	if len(p.Lead) > 1 {
		c.stroke(leadPen, c.path(p.Lead, false))
		start = p.Lead[0].At
	}
	if len(p.Exit) > 1 {
		c.stroke(leadPen, c.path(p.Exit, false))
	}
	const dot = 0.45
	s := c.at(start)
	c.fill(0, pdf.Path{From: pdf.Point{X: s.X - dot, Y: s.Y}, Closed: true, Steps: []pdf.Step{{To: pdf.Point{X: s.X + dot, Y: s.Y}, Bulge: 1}, {To: pdf.Point{X: s.X - dot, Y: s.Y}, Bulge: 1}}})
	for _, t := range p.Tabs {
		if a, z, ok := along(p, t); ok {
			a, z := c.at(a), c.at(z)
			c.stroke(tabPen, pdf.Straight(a.X, a.Y, z.X, z.Y))
		}
	}
}

// along returns the ends of a tab, which lies on one straight segment of its path.
func along(p *toolpath.Path, t toolpath.Tab) (a, z geom.Point, ok bool) {
	o := outline.Outline(p.Line)
	from := t.From
	for i := range o {
		l := o.SegmentLength(i)
		if from < l {
			if o[i].Bulge != 0 || l <= 0 {
				return a, z, false
			}
			u, v := o[i].At, o[(i+1)%len(o)].At
			part := func(s length.Length) geom.Point {
				f := min(1, float64(s)/float64(l))
				return geom.Pt(u.X+length.Length(f*float64(v.X-u.X)), u.Y+length.Length(f*float64(v.Y-u.Y)))
			}
			return part(from), part(from + t.To - t.From), true
		}
		from -= l
	}
	return a, z, false
}

// bound lets words stand as far beyond the drawing of a part of the sheet as the page
// leaves free.
func (c *chart) bound(g geom.Box) {
	const beside = 2.9
	a, z := c.at(geom.Pt(g.Min.X, g.Max.Y)), c.at(geom.Pt(g.Max.X, g.Min.Y))
	c.within = box{a.X - beside, a.Y - beside, z.X - a.X + 2*beside, z.Y - a.Y + 2*beside}
}

// free takes a box when it is within bounds and nothing else has it.
func (c *chart) free(n box) bool {
	if b := c.within; n.x < b.x || n.y < b.y || n.x+n.w > b.x+b.w || n.y+n.h > b.y+b.h {
		return false
	}
	for _, t := range c.taken {
		if n.x < t.x+t.w && t.x < n.x+n.w && n.y < t.y+t.h && t.y < n.y+n.h {
			return false
		}
	}
	c.taken = append(c.taken, n)
	return true
}

// word writes a word with its middle at a place where it is free.
func (c *chart) word(p pdf.Point, size float64, f pdf.Face, upright bool, s string) bool {
	w := pdf.Width(s, size, f)
	n := box{p.X - w/2 - 0.3, p.Y - size/2 - 0.2, w + 0.6, size + 0.4}
	at := pdf.Point{X: p.X - w/2, Y: p.Y + size*0.36}
	if upright {
		n = box{p.X - size/2 - 0.2, p.Y - w/2 - 0.3, size + 0.4, w + 0.6}
		at = pdf.Point{X: p.X + size*0.36, Y: p.Y + w/2}
	}
	if !c.free(n) {
		return false
	}
	c.fill(255, pdf.Rectangle(n.x, n.y, n.w, n.h))
	c.b.add(pdf.Words{At: at, Size: size, Face: f, Upright: upright, Text: s})
	return true
}

// label writes the number of a panel with its name and size, or as much of that, at a
// place within the panel and outside its openings, upwards where that has more room.
func (c *chart) label(p *export.PlacedPanel, floor *ground) {
	arrow := map[bool]string{true: " ↔", false: " ↕"}[(p.Row.Grain == parts.AlongLength) == (p.Turn%180 == 0)]
	if p.Row.Grain == parts.NoAxis {
		arrow = ""
	}
	full := named(p) + ", " + c.b.w.Size(p.Row.Cut) + arrow
	g := p.Outline.Box()
	for _, try := range []struct {
		s    string
		size float64
	}{{full, 2.6}, {full, 2}, {named(p) + arrow, 2.6}, {named(p) + arrow, 2}, {numbered(p) + arrow, 3}, {numbered(p) + arrow, 2}, {p.Row.Key + arrow, 2}, {p.Row.Key, least}} {
		if c.inside(g, try.s, try.size, pdf.Bold, floor.has) {
			return
		}
	}
	c.missing.panels = append(c.missing.panels, numbered(p))
	c.missing.near(g)
}

// inside writes a word somewhere in a box, level or upright, where its middle and its size
// on the sheet, in mm, are allowed and nothing is in its way, and reports whether it could.
func (c *chart) inside(g geom.Box, text string, size float64, face pdf.Face, allowed func(x, y, w, h float64) bool) bool {
	w, h := (pdf.Width(text, size, face)+0.8)/c.k, (size+0.6)/c.k
	for _, upright := range []bool{false, true} {
		if upright {
			w, h = h, w
		}
		if w > g.Dx().MM() || h > g.Dy().MM() {
			continue
		}
		for _, f := range spots {
			mid := geom.Pt(g.Min.X+g.Dx()/8*f[0], g.Min.Y+g.Dy()/8*f[1])
			if allowed(mid.X.MM(), mid.Y.MM(), w, h) && c.word(c.at(mid), size, face, upright, text) {
				return true
			}
		}
	}
	return false
}

// boxed allows what lies in a box.
func boxed(g geom.Box) func(x, y, w, h float64) bool {
	return func(x, y, w, h float64) bool {
		return x-w/2 >= g.Min.X.MM() && x+w/2 <= g.Max.X.MM() && y-h/2 >= g.Min.Y.MM() && y+h/2 <= g.Max.Y.MM()
	}
}

// numbered returns the number of a panel, with that of its copy where there are more.
func numbered(p *export.PlacedPanel) string { return p.Row.Key + copyOf(p) }

// named returns the number and the name of a panel, with its copy.
func named(p *export.PlacedPanel) string { return p.Row.Key + " " + pdf.Apart(p.Row.Name) + copyOf(p) }

func copyOf(p *export.PlacedPanel) string {
	if p.Row.Of <= 1 {
		return ""
	}
	return fmt.Sprintf(" (%d of %d)", p.Copy, p.Row.Of)
}

// kept writes the size of an offcut that is kept.
func (c *chart) kept(g geom.Box) {
	text := "keep " + c.b.w.Size(g.Size())
	for _, size := range []float64{2.6, 2, least} {
		if c.inside(g, text, size, pdf.Regular, boxed(g)) {
			return
		}
	}
	c.missing.offcuts = append(c.missing.offcuts, c.b.w.Size(g.Size()))
	c.missing.near(g)
}

// cutNumber writes the number of a cut somewhere along it.
func (c *chart) cutNumber(n int, from, to geom.Point) {
	a, z := c.at(from), c.at(to)
	for _, size := range []float64{2.2, least} {
		for _, f := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9, 0.05, 0.95} {
			if c.word(pdf.Point{X: a.X + (z.X-a.X)*f, Y: a.Y + (z.Y-a.Y)*f}, size, pdf.Regular, false, fmt.Sprint(n)) {
				return
			}
		}
	}
	c.missing.cuts = append(c.missing.cuts, fmt.Sprint(n))
	c.missing.near(geom.Box{Min: geom.Pt(min(from.X, to.X), min(from.Y, to.Y)), Max: geom.Pt(max(from.X, to.X), max(from.Y, to.Y))})
}

// pathNumber writes the number of a path near where it begins: on the panel that it
// runs round or in the opening, or else beside it.
func (c *chart) pathNumber(n int, p *toolpath.Path, floor *ground) {
	text := fmt.Sprint(n)
	const most = 24 // segments that are tried
	o := outline.Outline(p.Line)
	for _, size := range []float64{2.2, least} {
		off := (size/2 + 0.9) / c.k
		w, h := pdf.Width(text, size, pdf.Regular)/c.k, size/c.k
		for i := range min(most, len(o)) {
			a, z := o[i].At, o[(i+1)%len(o)].At
			dx, dy := z.X.MM()-a.X.MM(), z.Y.MM()-a.Y.MM()
			l := math.Hypot(dx, dy)
			if l == 0 || len(floor.ring) == 0 {
				continue
			}
			for _, f := range []float64{0.5, 0.35, 0.65, 0.2, 0.8} {
				for _, side := range []float64{1, -1} {
					x := a.X.MM() + dx*f - side*dy/l*(off+w/2)
					y := a.Y.MM() + dy*f + side*dx/l*off
					if floor.has(x, y, w, h) && c.word(pdf.Point{X: c.x + x*c.k, Y: c.y - y*c.k}, size, pdf.Regular, false, text) {
						return
					}
				}
			}
		}
		s := c.at(p.Line[0].At)
		for _, d := range [][2]float64{{0, 0}, {2, 0}, {-2, 0}, {0, 2}, {0, -2}, {2, 2}, {-2, -2}, {2, -2}, {-2, 2}} {
			if c.word(pdf.Point{X: s.X + d[0], Y: s.Y + d[1]}, size, pdf.Regular, false, text) {
				return
			}
		}
	}
	c.missing.paths = append(c.missing.paths, text)
	c.missing.near(o.Box())
}

package book

import (
	"fmt"
	"slices"
	"strings"

	"panelyard/export"
	"panelyard/export/pdf"
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
	x, y, k float64 // of the lower left corner, mm of paper a mm of board
	taken   []box
	missing []string // numbers that found no place
}

type box struct{ x, y, w, h float64 }

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

// free takes a box when nothing else has it.
func (c *chart) free(n box) bool {
	for _, t := range c.taken {
		if n.x < t.x+t.w && t.x < n.x+n.w && n.y < t.y+t.h && t.y < n.y+n.h {
			return false
		}
	}
	c.taken = append(c.taken, n)
	return true
}

// word writes a word with its middle at a place where it is free.
func (c *chart) word(p pdf.Point, size float64, f pdf.Face, s string) bool {
	w := pdf.Width(s, size, f)
	n := box{p.X - w/2 - 0.3, p.Y - size/2 - 0.2, w + 0.6, size + 0.4}
	if !c.free(n) {
		return false
	}
	c.b.add(Area{255, []pdf.Path{pdf.Rectangle(n.x, n.y, n.w, n.h)}}, Words{pdf.Point{X: p.X - w/2, Y: p.Y + size*0.36}, size, f, 0, s})
	return true
}

// sheetMap writes the page with the map of a sheet.
func (b *book) sheetMap(m *export.SheetMap) {
	b.open(fmt.Sprintf("Sheet %s: %s", m.ID, m.Stock.Name), m.Stock.Width > m.Stock.Length)
	l, w := m.Stock.Length.MM(), m.Stock.Width.MM()
	top := b.y + 14
	scale := max(l/b.width(), w/(b.bottom()-top))
	for _, s := range scales {
		if s >= scale {
			scale = s
			break
		}
	}
	side := "seen from the good face"
	if b.d.FaceDown() {
		side = "seen from the back, the good face lies down"
	}
	head := fmt.Sprintf("%s, %s %s, scale 1:%g, %s", m.Material.Name, b.w.Size(geom.Pt(m.Stock.Length, m.Stock.Width)), b.w.Unit(), scale, side)
	if m.Stock.Grain != parts.NoAxis {
		head += ", grain along the " + m.Stock.Grain.String()
	}
	s, size := pdf.Fit(head, body, least, b.width(), pdf.Regular)
	b.y += body * lead
	b.add(Words{pdf.Point{X: margin, Y: b.y}, size, 0, 0, s})
	note := b.y + body*lead
	k := 1 / scale
	c := &chart{b: b, x: margin + (b.width()-l*k)/2, y: top + w*k, k: k}
	b.add(Lines{pdf.Pen{Width: 0.4}, []pdf.Path{c.box(geom.Box{Max: geom.Pt(m.Stock.Length, m.Stock.Width)})}},
		Lines{pdf.Pen{Width: 0.15, Grey: 120, Dash: []float64{1, 1}}, []pdf.Path{c.box(m.Usable)}})
	for _, o := range m.Offcuts {
		if o.Keep {
			b.add(Area{225, []pdf.Path{c.box(o.Box)}})
		}
	}
	for i := range m.Placements {
		p := &m.Placements[i]
		b.add(Area{245, []pdf.Path{c.path(p.Outline, true)}}, Lines{pdf.Pen{Width: 0.3}, []pdf.Path{c.path(p.Outline, true)}})
		for _, o := range p.Openings {
			b.add(Area{255, []pdf.Path{c.path(o, true)}}, Lines{pdf.Pen{Width: 0.2}, []pdf.Path{c.path(o, true)}})
		}
		for _, o := range p.Kerfs {
			b.add(Lines{pdf.Pen{Width: 0.1, Dash: []float64{0.8, 0.8}}, []pdf.Path{c.path(o, true)}})
		}
	}
	for i := range m.Cuts {
		a, z := c.at(m.Cuts[i].From), c.at(m.Cuts[i].To)
		b.add(Lines{pdf.Pen{Width: 0.15, Grey: 90}, []pdf.Path{pdf.Straight(a.X, a.Y, z.X, z.Y)}})
	}
	for i := range m.Paths {
		if len(m.Paths[i].Line) > 1 {
			b.add(Lines{pdf.Pen{Width: 0.1, Grey: 110}, []pdf.Path{c.path(m.Paths[i].Line, m.Paths[i].Closed)}})
		}
	}
	for i := range m.Placements {
		c.label(&m.Placements[i])
	}
	for i := range m.Cuts {
		c.number(fmt.Sprint(i+1), m.Cuts[i].From, m.Cuts[i].To)
	}
	for i := range m.Paths {
		v := m.Paths[i].Line
		c.number(fmt.Sprint(i+1), v[0].At, v[min(1, len(v)-1)].At)
	}
	for _, o := range m.Offcuts {
		if mid := c.at(geom.Pt((o.Box.Min.X+o.Box.Max.X)/2, (o.Box.Min.Y+o.Box.Max.Y)/2)); o.Keep {
			if text := "keep " + b.w.Size(o.Box.Size()); pdf.Width(text, 2.4, 0) < o.Box.Dx().MM()*k {
				c.word(mid, 2.4, 0, text)
			}
		}
	}
	text := "Bold numbers are panels; small ones are the cuts or paths in order."
	if len(c.missing) > 0 {
		more := "No room on the map for: " + strings.Join(c.missing, ", ")
		if pdf.Width(text+" "+more, least, 0) > b.width() {
			more = "Numbers without room on the map are listed on the next page."
			defer func() {
				b.open("Sheet "+m.ID+": numbers without room on the map", false)
				b.text(strings.Join(c.missing, ", "), body, 0)
			}()
		}
		text += " " + more
	}
	s, size = pdf.Fit(text, 2.6, least, b.width(), 0)
	b.add(Words{pdf.Point{X: margin, Y: note}, size, 0, 60, s})
}

// label writes the number of a panel with its name and size, or the number alone, at a
// place within the panel and outside its openings.
func (c *chart) label(p *export.PlacedPanel) {
	g := p.Outline.Box()
	arrow := map[bool]string{true: " ↔", false: " ↕"}[(p.Row.Grain == parts.AlongLength) == (p.Turn%180 == 0)]
	if p.Row.Grain == parts.NoAxis {
		arrow = ""
	}
	full := p.Row.Key + " " + p.Row.Name + ", " + c.b.w.Size(p.Row.Cut) + arrow
	for _, try := range []struct {
		s    string
		size float64
	}{{full, 2.6}, {full, 2}, {p.Row.Key + arrow, 3}, {p.Row.Key + arrow, 2}, {p.Row.Key, 1.8}} {
		w, h := (pdf.Width(try.s, try.size, pdf.Bold)+0.8)/c.k, (try.size+0.6)/c.k
		for _, f := range [][2]length.Length{{4, 4}, {4, 2}, {4, 6}, {2, 4}, {6, 4}, {2, 2}, {6, 6}, {2, 6}, {6, 2}, {4, 1}, {4, 7}, {1, 4}, {7, 4}} {
			mid := geom.Pt(g.Min.X+g.Dx()/8*f[0], g.Min.Y+g.Dy()/8*f[1])
			if inside(p, mid, w, h) && c.word(c.at(mid), try.size, pdf.Bold, try.s) {
				return
			}
		}
	}
	c.missing = append(c.missing, "panel "+p.Row.Key)
}

// inside reports whether a box of w by h mm of board about a point lies in a panel and
// clear of its openings.
func inside(p *export.PlacedPanel, mid geom.Point, w, h float64) bool {
	const chord = length.Millimetre / 2
	const across, up = 41, 7 // places asked: closer than the least opening that shows on a map
	ring := p.Outline.Points(chord)
	var holes [][][2]float64
	for _, o := range p.Openings {
		holes = append(holes, o.Points(chord))
	}
	for k := range across * up {
		x := mid.X.MM() + w*(float64(k%across)/(across-1)-0.5)
		y := mid.Y.MM() + h*(float64(k/across)/(up-1)-0.5)
		if !holds(ring, x, y) || slices.ContainsFunc(holes, func(hole [][2]float64) bool { return holds(hole, x, y) }) {
			return false
		}
	}
	return true
}

// holds reports whether a point in mm lies in a polygon in units of length, by the
// crossings of a ray.
func holds(ring [][2]float64, x, y float64) bool {
	in := false
	unit := float64(length.Millimetre)
	for i := range ring {
		a, b := ring[i], ring[(i+1)%len(ring)]
		ay, by := a[1]/unit, b[1]/unit
		if (ay > y) != (by > y) && x < (a[0]+(b[0]-a[0])*(y-ay)/(by-ay))/unit {
			in = !in
		}
	}
	return in
}

// number writes the number of a cut or a path somewhere along it.
func (c *chart) number(s string, from, to geom.Point) {
	a, z := c.at(from), c.at(to)
	for _, size := range []float64{2.2, least} {
		for _, f := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9, 0.05, 0.95} {
			if c.word(pdf.Point{X: a.X + (z.X-a.X)*f, Y: a.Y + (z.Y-a.Y)*f}, size, 0, s) {
				return
			}
		}
	}
	c.missing = append(c.missing, s)
}

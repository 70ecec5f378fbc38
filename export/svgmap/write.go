package svgmap

import (
	"fmt"
	"io"
	"math"
	"strings"

	svg "github.com/ajstarks/svgo/float"

	"panelyard/export"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// Write writes the map of sheet i of d. The error is the writer's first. Cost:
// the vertices of the panels, and for labels the square of their number.
func Write(w io.Writer, d *export.Dossier, i int) error {
	e := &errWriter{w: w}
	p := layout(d, i)
	c := svg.New(e)
	c.Decimals = 3
	p.draw(c)
	return e.err
}

// errWriter keeps the first error: the library that draws does not look at it.
type errWriter struct {
	w   io.Writer
	err error
}

func (e *errWriter) Write(b []byte) (int, error) {
	if e.err != nil {
		return 0, e.err
	}
	n, err := e.w.Write(b)
	if err == nil && n < len(b) {
		err = io.ErrShortWrite
	}
	e.err = err
	return n, err
}

const (
	font = "font-family:Helvetica,Arial,'Liberation Sans','DejaVu Sans',sans-serif"
	ink  = "#111"
	grey = "#666"
)

// draw draws the page.
func (p *page) draw(c *svg.SVG) {
	id := p.m.ID
	c.StartviewUnit(pageW, pageH, "mm", 0, 0, pageW, pageH)
	c.Title(fmt.Sprintf("%s, sheet %s: %s", plain(p.d.Job.Name), id, plain(p.m.Stock.Name)))
	c.Desc(fmt.Sprintf("Map of a sheet of %s mm with %d panels, seen from the good face, origin at the lower left.",
		sizes(geom.Pt(p.m.Stock.Length, p.m.Stock.Width)), len(p.m.Placements)))
	c.Def()
	hatch(c, "trim-"+id, 1.6, 45, "stroke:#bbb;stroke-width:0.15")
	hatch(c, "offcut-"+id, 4, -45, "stroke:#aaa;stroke-width:0.2")
	hatch(c, "kept-"+id, 4, 45, "stroke:#777;stroke-width:0.3")
	c.DefEnd()
	c.Rect(0, 0, pageW, pageH, "fill:#fff")
	c.Gstyle(font + ";fill:" + ink)
	p.head(c)
	p.board(c)
	p.offcuts(c)
	p.panels(c)
	p.cuts(c)
	p.texts(c)
	p.rulers(c)
	p.foot(c)
	c.Gend()
	c.End()
}

// hatch defines a pattern of parallel lines.
func hatch(c *svg.SVG, id string, pitch, angle float64, style string) {
	c.Pattern(id, 0, 0, pitch, pitch, "user", fmt.Sprintf(`patternTransform="rotate(%g)"`, angle))
	c.Line(0, 0, 0, pitch, style)
	c.PatternEnd()
}

func text(c *svg.SVG, x, y, size float64, s string, more ...string) {
	c.Text(x, y, s, append([]string{fmt.Sprintf(`font-size="%g"`, size), `xml:space="preserve"`}, more...)...)
}

// head draws the title lines and the scale bar.
func (p *page) head(c *svg.SVG) {
	m := p.m
	total := len(p.d.Sheets)
	const barRoom = 66
	text(c, margin, margin+4.5, 5, shorten(fmt.Sprintf("%s   sheet %s of %d", plain(p.d.Job.Name), m.ID, total), 5, pageW-2*margin-barRoom), `font-weight="bold"`)
	tool := fmt.Sprintf("saw, kerf %s mm", short(p.d.Demand.Kerf))
	if p.d.Demand.Cut == kerf.Router {
		tool = fmt.Sprintf("router, bit %s mm, panels %s mm apart", short(p.d.Demand.Kerf), short(p.d.Demand.Gap))
	}
	board := fmt.Sprintf("%s, %s (%s thick, %s mm)", plain(m.Stock.Name), plain(m.Material.Name), m.Material.Measured, sizes(geom.Pt(m.Stock.Length, m.Stock.Width)))
	text(c, margin, margin+9.3, 3, shorten(board, 3, pageW-2*margin-barRoom))
	line := fmt.Sprintf("%s   scale 1:%g   seed %d   seen from the good face, lower left is the origin", tool, p.scale, p.d.Seed)
	if m.MassKG > 0 {
		line += fmt.Sprintf("   sheet %.1f kg", m.MassKG)
	}
	text(c, margin, margin+13.3, 3, shorten(line, 3, pageW-2*margin-barRoom), "fill:"+grey)
	// The bar is 50 mm of paper or less, a round number of the real thing.
	real := 1.0
	for _, v := range []float64{5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000} {
		if v/p.scale <= 55 {
			real = v
		}
	}
	l := real / p.scale
	x, y := pageW-margin-l, margin+6.0
	for k := range 5 {
		fill := "fill:#fff"
		if k%2 == 0 {
			fill = "fill:#111"
		}
		c.Rect(x+l*float64(k)/5, y, l/5, 1.4, fill+";stroke:#111;stroke-width:0.15")
	}
	text(c, x, y-1, 2.4, "0", `text-anchor="middle"`)
	text(c, x+l, y-1, 2.4, fmt.Sprintf("%g mm", real), `text-anchor="end"`)
	if p.m.Stock.Grain != parts.NoAxis {
		p.grain(c, pageW-margin-38, margin+11.8)
	}
}

// grain draws the grain axis of the sheet with the word beside it.
func (p *page) grain(c *svg.SVG, x, y float64) {
	text(c, x+14, y+0.9, 2.6, "grain of the sheet")
	if p.m.Stock.Grain == parts.AlongLength {
		arrow(c, x, y, x+12, y)
	} else {
		arrow(c, x+6, y-3, x+6, y+3)
	}
}

// arrow draws a line with a head at both ends.
func arrow(c *svg.SVG, x1, y1, x2, y2 float64) {
	const style = "stroke:#111;stroke-width:0.3;fill:none"
	c.Line(x1, y1, x2, y2, style)
	a := math.Atan2(y2-y1, x2-x1)
	for _, e := range [2]struct{ x, y, a float64 }{{x1, y1, a}, {x2, y2, a + math.Pi}} {
		s1, c1 := math.Sincos(e.a + 0.45)
		s2, c2 := math.Sincos(e.a - 0.45)
		c.Polyline([]float64{e.x + 1.6*c1, e.x, e.x + 1.6*c2}, []float64{e.y + 1.6*s1, e.y, e.y + 1.6*s2}, style)
	}
}

// board draws the sheet and what is trimmed off it.
func (p *page) board(c *svg.SVG) {
	s := p.sheet
	c.Rect(s.x, s.y, s.w, s.h, "fill:url(#trim-"+p.m.ID+");stroke:none")
	u := p.box(p.m.Usable)
	c.Rect(u.x, u.y, u.w, u.h, "fill:#fff;stroke:#999;stroke-width:0.12;stroke-dasharray:1.2 0.8")
	c.Rect(s.x, s.y, s.w, s.h, "fill:none;stroke:#111;stroke-width:0.5")
}

// offcuts draws what is left.
func (p *page) offcuts(c *svg.SVG) {
	for _, o := range p.m.Offcuts {
		b := p.box(o.Box)
		fill, word := "offcut-", "offcut "
		if o.Keep {
			fill, word = "kept-", "keep "
		}
		c.Rect(b.x, b.y, b.w, b.h, "fill:url(#"+fill+p.m.ID+");stroke:#888;stroke-width:0.15")
		p.offcutText(c, b, word+sizes(o.Box.Size()))
	}
}

// offcutText writes the size of an offcut in its middle when there is room.
func (p *page) offcutText(c *svg.SVG, b rect, s string) {
	for _, size := range []float64{3, 2.4, 1.9} {
		w, h := textWidth(s, size)+1, size*1.4
		for _, upright := range []bool{false, true} {
			bw, bh := w, h
			if upright {
				bw, bh = h, w
			}
			if bw > b.w || bh > b.h {
				continue
			}
			r := rect{b.x + b.w/2 - bw/2, b.y + b.h/2 - bh/2, bw, bh}
			if !p.free(r) {
				continue
			}
			p.taken = append(p.taken, r)
			c.Rect(r.x, r.y, r.w, r.h, "fill:#fff")
			turnedText(c, r, size, []string{s}, upright, `font-style="italic"`)
			return
		}
	}
}

// turnedText writes lines centred in a box.
func turnedText(c *svg.SVG, r rect, size float64, lines []string, upright bool, more ...string) {
	x, y := r.x+r.w/2, r.y+r.h/2
	if upright {
		c.Gtransform(fmt.Sprintf("rotate(-90 %.3f %.3f)", x, y))
	}
	step := size * 1.25
	top := y - step*float64(len(lines))/2 + size*0.95
	for k, l := range lines {
		attrs := append([]string{`text-anchor="middle"`}, more...)
		if k == 0 && len(lines) > 1 {
			attrs = append(attrs, `font-weight="bold"`)
		}
		text(c, x, top+step*float64(k), size, l, attrs...)
	}
	if upright {
		c.Gend()
	}
}

// panels draws outlines, openings and blanks.
func (p *page) panels(c *svg.SVG) {
	for i := range p.m.Placements {
		pl := &p.m.Placements[i]
		if pl.Row.Shaped && p.d.Demand.Cut == kerf.Saw {
			b := p.box(pl.Blank)
			c.Rect(b.x, b.y, b.w, b.h, "fill:#fff;stroke:#555;stroke-width:0.2;stroke-dasharray:2 1")
		}
		var path strings.Builder
		p.path(&path, pl.Outline)
		for _, o := range pl.Openings {
			p.path(&path, o.Reversed())
		}
		c.Path(path.String(), "fill:#ececec;fill-rule:evenodd;stroke:#111;stroke-width:0.35;stroke-linejoin:round")
	}
}

// path writes an outline as path data, arcs as arcs.
func (p *page) path(b *strings.Builder, o outline.Outline) {
	for i, v := range o {
		if i == 0 {
			fmt.Fprintf(b, "M%s %s", coord(p.x(v.At.X)), coord(p.y(v.At.Y)))
		}
		to := o[(i+1)%len(o)].At
		if v.Bulge == 0 {
			fmt.Fprintf(b, "L%s %s", coord(p.x(to.X)), coord(p.y(to.Y)))
			continue
		}
		r := o.Radius(i) / float64(length.Millimetre) / p.scale
		large, sweep := 0, 0
		if math.Abs(v.Bulge) > 1 {
			large = 1
		}
		if v.Bulge < 0 { // y points down on the page
			sweep = 1
		}
		fmt.Fprintf(b, "A%s %s 0 %d %d %s %s", coord(r), coord(r), large, sweep, coord(p.x(to.X)), coord(p.y(to.Y)))
	}
	b.WriteString("Z")
}

// coord writes a coordinate to a tenth of a micrometre of paper.
func coord(v float64) string {
	s := fmt.Sprintf("%.4f", v)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// cuts draws the cuts of a saw at the width of the kerf, with their numbers.
func (p *page) cuts(c *svg.SVG) {
	w := max(0.2, p.d.Demand.Kerf.MM()/p.scale)
	for i := range p.m.Cuts {
		q := &p.m.Cuts[i]
		style := fmt.Sprintf("stroke:#444;stroke-width:%.3f", w)
		if q.Trim {
			style += ";stroke-dasharray:3 1.5"
		}
		c.Line(p.x(q.From.X), p.y(q.From.Y), p.x(q.To.X), p.y(q.To.Y), style)
	}
	for _, n := range p.nums {
		c.Circle(n.x, n.y, circle, "fill:#fff;stroke:#111;stroke-width:0.2")
		size := 2.1
		if n.n > 99 {
			size = 1.6
		}
		text(c, n.x, n.y+size*0.36, size, fmt.Sprint(n.n), `text-anchor="middle"`)
	}
}

// texts draws the labels of panels.
func (p *page) texts(c *svg.SVG) {
	for i := range p.labels {
		l := &p.labels[i]
		if l.leader != nil {
			x, y := l.box.x+l.box.w/2, l.box.y+l.box.h/2
			c.Line(x, y, l.leader[0], l.leader[1], "stroke:#111;stroke-width:0.15")
			c.Circle(l.leader[0], l.leader[1], 0.35, "fill:#111")
			c.Rect(l.box.x, l.box.y, l.box.w, l.box.h, "fill:#fff;stroke:#111;stroke-width:0.12")
		}
		turnedText(c, l.box, l.size, l.lines, l.upright)
	}
}

// rulers draws the running dimensions from the lower left corner.
func (p *page) rulers(c *svg.SVG) {
	const style = "stroke:#111;stroke-width:0.15"
	bottom := p.sheet.y + p.sheet.h
	text(c, p.sheet.x-0.8, bottom+2.6, 2.2, "0", `text-anchor="end"`)
	for _, d := range p.across {
		c.Line(d.at, bottom, d.at, bottom+1.5, style)
		if !d.tick {
			c.Gtransform(fmt.Sprintf("rotate(-90 %.3f %.3f)", d.at, bottom+2))
			text(c, d.at, bottom+2+0.8, 2.2, d.text, `text-anchor="end"`)
			c.Gend()
		}
	}
	for _, d := range p.up {
		c.Line(p.sheet.x-1.5, d.at, p.sheet.x, d.at, style)
		if !d.tick {
			text(c, p.sheet.x-2, d.at+0.8, 2.2, d.text, `text-anchor="end"`)
		}
	}
}

// foot draws the key of panels, what the signs mean, and cautions of the sheet.
func (p *page) foot(c *svg.SVG) {
	for _, r := range p.rows {
		text(c, r.x, r.y, 2.4, r.text)
	}
	if p.more > 0 {
		text(c, pageW-margin, pageH-margin-8, 2.4, fmt.Sprintf("and %d more kinds: see the cut list", p.more), `text-anchor="end"`)
	}
	y := pageH - margin - 4.5
	c.Line(margin, y-3.6, pageW-margin, y-3.6, "stroke:#999;stroke-width:0.15")
	signs := "sizes as cut, in mm: length × width"
	if p.d.Demand.Cut == kerf.Saw {
		signs += "   ·   numbers in circles: order of cuts, drawn as wide as the kerf; dashes: trim cuts"
		if p.anyShaped() {
			signs += "   ·   dashed box: blank of a shaped panel"
		}
	}
	signs += "   ·   fine hatching at the edges: trim"
	if p.d.Demand.Cut == kerf.Router {
		signs += " and hold-down"
	}
	text(c, margin, y, 2.4, shorten(signs, 2.4, pageW-2*margin), "fill:"+grey)
	var mind []string
	for _, q := range p.d.Cautions {
		for _, id := range q.Sheets {
			if id == p.m.ID {
				mind = append(mind, q.Topic)
			}
		}
	}
	if len(mind) > 0 {
		text(c, margin, y+4, 2.6, shorten("Mind: "+strings.Join(mind, "; ")+" (see the report)", 2.6, pageW-2*margin), `font-weight="bold"`)
	}
}

func (p *page) anyShaped() bool {
	for i := range p.m.Placements {
		if p.m.Placements[i].Row.Shaped {
			return true
		}
	}
	return false
}

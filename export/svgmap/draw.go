package svgmap

import (
	"fmt"
	"math"
	"strconv"

	svg "github.com/ajstarks/svgo/float"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/svgpath"
)

// What the drawing is made of. Fills are light so that pencil shows on them.
const (
	fontFamily = "font-family:Helvetica,Arial,'Liberation Sans','DejaVu Sans',sans-serif"
	ink        = "#111"
	soft       = "#555"
	boardFill  = "#ececec"
	bitFill    = "#b4b4b4"
	cutInk     = "#333"
	sheetLine  = 0.5
	panelLine  = 0.3
	fine       = 0.15
	trimDashes = ";stroke-dasharray:3 1.5"
)

// draw draws the page.
func (p *page) draw(c *svg.SVG) {
	id := p.m.ID
	c.StartviewUnit(p.paper.W, p.paper.H, "mm", 0, 0, p.paper.W, p.paper.H)
	c.Title(fmt.Sprintf("%s, sheet %s: %s", plain(p.d.Title()), id, plain(p.m.Stock.Name)))
	c.Desc(fmt.Sprintf("Map of a sheet of %s %s with %s, %s, origin at the lower left.",
		p.write.Size(geom.Pt(p.m.Stock.Length, p.m.Stock.Width)), p.write.Unit(), count(len(p.m.Placements), "panel", "panels"), p.seen()))
	c.Def()
	hatch(c, "trim-"+id, 1.2, 45, "stroke:#aaa;stroke-width:0.15")
	hatch(c, "offcut-"+id, 4, -45, "stroke:#aaa;stroke-width:0.2")
	hatch(c, "kept-"+id, 4, 45, "stroke:#777;stroke-width:0.3")
	c.DefEnd()
	c.Rect(0, 0, p.paper.W, p.paper.H, "fill:#fff")
	c.Gstyle(fontFamily + ";fill:" + ink)
	p.aside(c, p.head, p.board, p.offcutAreas)
	p.panels(c)
	p.aside(c, p.cuts, p.texts, p.rulers, p.foot)
	c.Gend()
	c.End()
}

// seen says from which side the sheet is seen.
func (p *page) seen() string {
	switch {
	case p.back && p.d.FaceDown():
		return "seen from the back, good face down"
	case p.back:
		return "MIRRORED: seen from the back"
	}
	return "seen from the good face"
}

// hatch defines a pattern of parallel lines.
func hatch(c *svg.SVG, id string, pitch, angle float64, style string) {
	c.Pattern(id, 0, 0, pitch, pitch, "user", fmt.Sprintf(`patternTransform="rotate(%g)"`, angle))
	c.Line(0, 0, 0, pitch, style)
	c.PatternEnd()
}

// text writes a line of text; the foot of its letters starts at x, y.
func text(c *svg.SVG, x, y, size float64, s string, more ...string) {
	c.Text(x, y, s, append([]string{fmt.Sprintf(`font-size="%g"`, size), `xml:space="preserve"`}, more...)...)
}

const (
	bold   = `font-weight="bold"`
	middle = `text-anchor="middle"`
	end    = `text-anchor="end"`
)

// head draws the title lines and the scale bar.
func (p *page) head(c *svg.SVG) {
	m, w := p.m, p.write
	const right = 66.0 // scale bar and grain
	room := p.paper.W - 2*margin - right
	tail := fmt.Sprintf("   sheet %s of %d", m.ID, len(p.d.Sheets))
	name := cutShort(plain(p.d.Title()), 5, room-boldWidth(tail, 5), boldWidth)
	text(c, margin, margin+4.5, 5, name+tail, bold)

	tail = fmt.Sprintf("   %s %s, %s thick", w.Size(geom.Pt(m.Stock.Length, m.Stock.Width)), w.Unit(), w.Text(m.Material.Measured))
	if m.MassKG > 0 {
		tail += ", " + w.Decimal(m.MassKG, 1) + " kg"
	}
	left := room - textWidth(tail, 3)
	stock := shorten(plain(m.Stock.Name), 3, left*0.6)
	of := shorten(", "+plain(m.Material.Name), 3, left-textWidth(stock, 3))
	text(c, margin, margin+9.3, 3, stock+of+tail)

	tool := fmt.Sprintf("%v, kerf %s %s", p.d.Job.Saw.Kind, w.Exact(p.d.Demand.Kerf), w.Unit())
	if p.d.Demand.Cut == kerf.Router {
		tool = fmt.Sprintf("router, bit %s %s, panels %s apart", w.Exact(p.d.Demand.Kerf), w.Unit(), w.Exact(p.d.Demand.Gap))
	}
	line := fmt.Sprintf("%s   scale 1:%g on %s   seed %d   %s, lower left is the origin", tool, p.scale, p.paper.Name, p.d.Seed, p.seen())
	text(c, margin, margin+13.3, 3, shorten(line, 3, room), "fill:"+soft)

	p.scaleBar(c)
	if g := m.Stock.Grain; g != parts.NoAxis {
		x, y := p.paper.W-margin-38, margin+11.8
		text(c, x+14, y+0.9, 2.6, "grain of the sheet")
		if g == parts.AlongLength {
			doubleArrow(c, spot{x, y}, spot{x + 12, y})
		} else {
			doubleArrow(c, spot{x + 6, y - 3}, spot{x + 6, y + 3})
		}
	}
}

// scaleBar draws a bar of at most 55 mm of paper, a round number of mm, or of
// inches, of the sheet.
func (p *page) scaleBar(c *svg.SVG) {
	unit := length.Millimetre
	if p.write.Unit() == "in" {
		unit = length.Inch
	}
	long := unit
	for _, n := range [...]length.Length{5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000} {
		if (n*unit).MM()/p.scale <= 55 {
			long = n * unit
		}
	}
	l := long.MM() / p.scale
	x, y := p.paper.W-margin-l, margin+6.0
	for k := range 5 {
		fill := "fill:#fff"
		if k%2 == 0 {
			fill = "fill:" + ink
		}
		c.Rect(x+l*float64(k)/5, y, l/5, 1.4, fill+";stroke:#111;stroke-width:0.15")
	}
	text(c, x, y-1, 2.4, "0", middle)
	text(c, x+l, y-1, 2.4, p.write.Text(long)+" "+p.write.Unit(), end)
}

// doubleArrow draws a line with a head at both ends.
func doubleArrow(c *svg.SVG, a, b spot) {
	const style = "stroke:#111;stroke-width:0.3;fill:none"
	c.Line(a.x, a.y, b.x, b.y, style)
	angle := math.Atan2(b.y-a.y, b.x-a.x)
	for _, e := range [2]struct {
		at    spot
		angle float64
	}{{a, angle}, {b, angle + math.Pi}} {
		s1, c1 := math.Sincos(e.angle + 0.45)
		s2, c2 := math.Sincos(e.angle - 0.45)
		c.Polyline([]float64{e.at.x + 1.6*c1, e.at.x, e.at.x + 1.6*c2}, []float64{e.at.y + 1.6*s1, e.at.y, e.at.y + 1.6*s2}, style)
	}
}

// board draws the sheet and what is trimmed off it.
func (p *page) board(c *svg.SVG) {
	s := p.sheet
	if p.trimmed() {
		c.Rect(s.x, s.y, s.w, s.h, "fill:url(#trim-"+p.m.ID+");stroke:none")
	}
	u := p.box(p.m.Usable)
	c.Rect(u.x, u.y, u.w, u.h, "fill:#fff;stroke:#999;stroke-width:0.12;stroke-dasharray:1.2 0.8")
	c.Rect(s.x, s.y, s.w, s.h, lineStyle(sheetLine))
}

func lineStyle(width float64) string {
	return "fill:none;stroke:" + ink + ";stroke-width:" + coord(width)
}

// coord writes a number of mm of paper.
func coord(v float64) string { return strconv.FormatFloat(v, 'f', -1, 32) }

// offcutAreas draws what is left.
func (p *page) offcutAreas(c *svg.SVG) {
	for _, o := range p.m.Offcuts {
		b := p.box(o.Box)
		c.Rect(b.x, b.y, b.w, b.h, p.offcutStyle(o))
	}
}

func (p *page) offcutStyle(o nest.Offcut) string {
	kind := "offcut-"
	if o.Keep {
		kind = "kept-"
	}
	return "fill:url(#" + kind + p.m.ID + ");stroke:#888;stroke-width:0.15"
}

// panels draws the blanks, the path of the bit, and the panels, in coordinates of
// the sheet.
func (p *page) panels(c *svg.SVG) {
	c.Gtransform(fmt.Sprintf("translate(%s %s) scale(%s %s)", svgpath.Decimal(p.x0), svgpath.Decimal(p.y0), svgpath.Decimal(1/p.scale), svgpath.Decimal(-1/p.scale)))
	paper := func(mm float64) string { return coord(mm * p.scale) } // mm of paper on the sheet
	bit := fmt.Sprintf("fill:none;stroke:%s;stroke-width:%s;stroke-linejoin:round;stroke-linecap:round", bitFill, coord(p.d.Demand.Kerf.MM()))
	paths := make([]string, len(p.m.Placements))
	for i := range paths {
		pl := &p.m.Placements[i]
		paths[i] = boardPath(pl)
		if pl.Row.Shaped && !pl.Second && p.d.Demand.Cut == kerf.Saw {
			// Drawn in a little, so that the cut does not cover the dashes.
			in := length.Length(0.25 * p.scale * float64(length.Millimetre))
			c.Path(boxPath(pl.Blank, 0), "fill:#fff;stroke:none")
			c.Path(boxPath(pl.Blank, in), fmt.Sprintf("fill:none;stroke:%s;stroke-width:%s;stroke-dasharray:%s %s", soft, paper(0.2), paper(1.6), paper(0.9)))
		}
	}
	for i, d := range paths {
		c.Group()
		c.Title(plain(p.m.Placements[i].Row.Name)) // whole, however it is cut short on the panel and in the key
		c.Path(d, "fill:"+boardFill+";fill-rule:evenodd;stroke:none", `class="panel"`)
		c.Gend()
	}
	for i := range p.m.Paths {
		c.Path(bitPath(&p.m.Paths[i]), bit)
	}
	outlined := func(i int, more ...string) {
		c.Path(paths[i], append([]string{fmt.Sprintf("fill:none;stroke:%s;stroke-width:%s;stroke-linejoin:round", ink, paper(panelLine))}, more...)...)
		for _, k := range p.m.Placements[i].Kerfs {
			c.Line(k[0].At.X.MM(), k[0].At.Y.MM(), k[1].At.X.MM(), k[1].At.Y.MM(),
				fmt.Sprintf("stroke:%s;stroke-width:%s;stroke-dasharray:%s %s %s %s", soft, paper(0.2), paper(2.4), paper(0.7), paper(0.5), paper(0.7)))
		}
	}
	if p.linked {
		for _, kind := range p.kinds() {
			p.link(c, kind, outlined)
		}
	} else {
		for i := range paths {
			outlined(i)
		}
	}
	c.Gend()
}

// cuts draws the cuts of a saw at the width of the kerf, with their numbers.
func (p *page) cuts(c *svg.SVG) {
	for i := range p.m.Cuts {
		q := &p.m.Cuts[i]
		c.Line(p.x(q.From.X), p.y(q.From.Y), p.x(q.To.X), p.y(q.To.Y), p.cutStyle(q.Trim))
	}
	for _, n := range p.numbers {
		orderSign(c, n.x, n.y, n.r, strconv.Itoa(n.n))
	}
}

// cutStyle is the line of a cut: as wide as the kerf, but never so thin that it
// is lost in print.
func (p *page) cutStyle(trim bool) string {
	s := "stroke:" + cutInk + ";stroke-width:" + coord(max(0.25, p.d.Demand.Kerf.MM()/p.scale))
	if trim {
		s += trimDashes
	}
	return s
}

// orderSign draws the number of a cut.
func orderSign(c *svg.SVG, x, y, r float64, s string) {
	c.Circle(x, y, r, "fill:#fff;stroke:#111;stroke-width:0.2")
	size := min(1.2*r, 1.7*r/textWidth(s, 1))
	text(c, x, y+size*0.36, size, s, middle)
}

// texts draws the labels of panels and offcuts.
func (p *page) texts(c *svg.SVG) {
	for i := range p.offcuts {
		if l := &p.offcuts[i]; l.lines != nil {
			c.Rect(l.box.x, l.box.y, l.box.w, l.box.h, "fill:#fff")
			lines(c, l, `font-style="italic"`)
		}
	}
	for _, a := range p.arrows {
		m := a.box.middle()
		if a.upright {
			doubleArrow(c, spot{m.x, a.box.y}, spot{m.x, a.box.y + a.box.h})
		} else {
			doubleArrow(c, spot{a.box.x, m.y}, spot{a.box.x + a.box.w, m.y})
		}
	}
	for i := range p.labels {
		l := &p.labels[i]
		if l.leader != nil {
			m := l.box.middle()
			c.Line(m.x, m.y, l.leader.x, l.leader.y, lineStyle(fine))
			c.Circle(l.leader.x, l.leader.y, 0.35, "fill:"+ink)
			c.Rect(l.box.x, l.box.y, l.box.w, l.box.h, "fill:#fff;stroke:#111;stroke-width:0.12")
		} else if l.lines != nil && len(p.m.Placements[i].Kerfs) > 0 {
			c.Rect(l.box.x, l.box.y, l.box.w, l.box.h, "fill:"+boardFill) // the kerfs do not run through it
		}
		lines(c, l)
	}
}

// lines writes a label centred in its box.
func lines(c *svg.SVG, l *label, more ...string) {
	m := l.box.middle()
	if l.upright {
		c.Gtransform(fmt.Sprintf("rotate(-90 %.3f %.3f)", m.x, m.y))
	}
	step := l.size * 1.25
	top := m.y - step*float64(len(l.lines))/2 + l.size*0.95
	for k, s := range l.lines {
		attrs := append([]string{middle}, more...)
		if k == 0 && len(l.lines) > 1 {
			attrs = append(attrs, bold)
		}
		text(c, m.x, top+step*float64(k), l.size, s, attrs...)
	}
	if l.upright {
		c.Gend()
	}
}

// rulers draws the running dimensions from the lower left corner.
func (p *page) rulers(c *svg.SVG) {
	bottom := p.sheet.y + p.sheet.h
	text(c, p.sheet.x-0.8, bottom+2.6, dimSize, "0", end)
	for _, d := range p.across {
		c.Line(d.at, bottom, d.at, bottom+1.5, lineStyle(fine))
		if d.box != (rect{}) {
			c.Gtransform(fmt.Sprintf("rotate(-90 %.3f %.3f)", d.at, d.box.y))
			text(c, d.at, d.box.y+dimSize*0.36, dimSize, d.text, end)
			c.Gend()
		}
	}
	for _, d := range p.up {
		c.Line(p.sheet.x-1.5, d.at, p.sheet.x, d.at, lineStyle(fine))
		if d.box != (rect{}) {
			text(c, d.box.x+d.box.w, d.at+dimSize*0.36, dimSize, d.text, end)
		}
	}
}

// foot draws the key of panels, what the signs mean, and cautions of the sheet.
func (p *page) foot(c *svg.SVG) {
	k := &p.key
	for _, r := range k.rows {
		text(c, r.x+k.name-1.5, r.y, k.size, r.key, end)
		text(c, r.x+k.name, r.y, k.size, r.name)
		text(c, r.x+k.tail, r.y, k.size, r.tail)
	}
	if k.remark != "" {
		text(c, k.at.x, k.at.y, keySizes[0], k.remark, `font-style="italic"`)
	}
	y := p.paper.H - margin - footH + 1.5
	c.Line(margin, y, p.paper.W-margin, y, "stroke:#999;stroke-width:0.15")
	for _, s := range p.signs {
		p.sign(c, s)
		text(c, s.x+signW+1, s.y-0.4, signSize, s.text, "fill:"+soft)
	}
	y = p.paper.H - margin
	note := "all sizes as cut, in " + p.write.Word() + ", length × width"
	text(c, p.paper.W-margin, y, signSize, note, end, "fill:"+soft)
	if s := p.cautions(); s != "" {
		text(c, margin, y, 2.6, cutShort(s, 2.6, p.paper.W-2*margin-textWidth(note, signSize)-4, boldWidth), bold)
	}
}

// sign draws the drawing of an entry of the legend.
func (p *page) sign(c *svg.SVG, s sign) {
	x, y, m := s.x, s.y-signH, s.y-signH/2
	switch s.kind {
	case "kerf":
		c.Line(x, m, x+signW, m, p.cutStyle(false))
	case "trim cut":
		c.Line(x, m, x+signW, m, p.cutStyle(true))
	case "order":
		orderSign(c, x+signW/2, m, circles[1], "1")
	case "bit":
		w := p.d.Demand.Kerf.MM() / p.scale
		c.Rect(x, y, signW, signH, "fill:"+boardFill)
		c.Rect(x, m-w/2, signW, w, "fill:"+bitFill)
		c.Line(x, m-w/2, x+signW, m-w/2, lineStyle(panelLine))
	case "bend":
		c.Line(x, m, x+signW, m, "stroke:"+soft+";stroke-width:0.2;stroke-dasharray:2.4 0.7 0.5 0.7")
	case "blank":
		c.Rect(x, y, signW, signH, "fill:none;stroke:"+soft+";stroke-width:0.2;stroke-dasharray:1.6 0.9")
	case "kept", "offcut":
		c.Rect(x, y, signW, signH, p.offcutStyle(nest.Offcut{Keep: s.kind == "kept"}))
	case "trim":
		c.Rect(x, y, signW, signH, "fill:url(#trim-"+p.m.ID+");stroke:#999;stroke-width:0.12")
	case "grain":
		doubleArrow(c, spot{x, m}, spot{x + signW, m})
	}
}

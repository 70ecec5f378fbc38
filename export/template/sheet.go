package template

import "panelyard/export/pdf"

// The sheet around the panel, in mm.
const (
	sheetMargin = 12.0
	leastSheet  = 180.0 // width, for the header and the facts
)

// Sheet lays a template out on one page as large as it takes, without limit.
func Sheet(t *Template) Page {
	d := newDrawing(t)
	across := max(leastSheet, d.box.width())
	p := Page{W: across + 2*sheetMargin}
	strip := Rect{sheetMargin, sheetMargin, p.W - sheetMargin, sheetMargin + headerH}
	p.Frame = d.header("", strip)
	p.Window = Rect{0, strip.Y1, p.W, strip.Y1 + d.box.height() + 2*sheetMargin}
	v := view{at: d.box.centre(), on: p.Window.centre(), scale: 1}
	p.Drawing = append(d.lines(v, d.box.grown(sheetMargin)), d.labels(v, p.Window, nil)...)
	b := block{x: sheetMargin, y: p.Window.Y1, width: leastSheet}
	for _, f := range d.facts() {
		b.fact(f, 3, 6)
	}
	b.fact(fact{"print", "at 100 %, actual size; measure the ruler before you cut"}, 3, 6)
	b.fact(fact{"line", "its middle is the edge of the panel"}, 3, 6)
	p.Frame = append(p.Frame, b.items...)
	p.H = b.y + sheetMargin
	return p
}

// Title names what the document shows.
func (t *Template) Title() string {
	return "Template of " + t.Panel.Name + ", " + t.sizeWord() + ", " + t.face() + " (" + t.Job.Name + variant(t.Job) + ")"
}

// start returns the place where a text begins that is anchored otherwise.
func (w Words) start() pdf.Point {
	before := w.Anchor.share() * pdf.Width(w.Text, w.Size, w.Face)
	s := newSlant(w.At, 0, 0, w.Turn)
	return pdf.Point{X: w.At.X - before*s.cos, Y: w.At.Y + before*s.sin}
}

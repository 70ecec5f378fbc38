package book

import (
	"slices"

	"panelyard/export"
	"panelyard/export/pdf"
	"panelyard/kerf"
	"panelyard/kerf/toolpath"
	"panelyard/nest"
)

// sign is an entry of the legend of a map: a drawing in a box and what it means.
type sign struct {
	draw func(x, y float64)
	text string
}

// The measures of the legend in mm.
const (
	signW     = 8.0
	signH     = 2.6
	signSize  = 2.3
	signLine  = 4.2
	signApart = 5.0
)

// signs returns what the lines of a map mean, as far as it has them.
func (c *chart) signs() []sign {
	m := c.m
	line := func(pen pdf.Pen) func(x, y float64) {
		return func(x, y float64) { c.stroke(pen, pdf.Straight(x, y+signH/2, x+signW, y+signH/2)) }
	}
	frame := func(grey int, pen pdf.Pen) func(x, y float64) {
		return func(x, y float64) {
			c.fill(grey, pdf.Rectangle(x, y, signW, signH))
			c.stroke(pen, pdf.Rectangle(x, y, signW, signH))
		}
	}
	has := func(f func(p *export.PlacedPanel) bool) bool {
		return slices.ContainsFunc(m.Placements, func(p export.PlacedPanel) bool { return f(&p) })
	}
	var list []sign
	add := func(when bool, draw func(x, y float64), text string) {
		if when {
			list = append(list, sign{draw, text})
		}
	}
	add(true, frame(panelGrey, pdf.Pen{Width: 0.3}), "panel: bold its number, as in the cut list")
	add(len(m.Cuts) > 0, line(c.cutPen()), "cut, with its number in the list")
	add(has(c.ownBlank) && c.b.d.Demand.Cut == kerf.Saw, frame(255, blankPen), "blank, shaped after sawing")
	add(has(func(p *export.PlacedPanel) bool {
		return slices.ContainsFunc(p.Row.Item.Panel.Edging, func(s string) bool { return s != "" })
	}), line(bandPen), "edge band")
	add(has(func(p *export.PlacedPanel) bool { return len(p.Kerfs) > 0 }), line(bendPen), "kerf of a bend, in the back")
	add(slices.ContainsFunc(m.Offcuts, func(o nest.Offcut) bool { return o.Keep }), frame(keepGrey, pdf.Pen{Width: 0.1, Grey: keepGrey}), "offcut to keep")
	add(len(m.Paths) > 0, func(x, y float64) {
		line(pathPen)(x, y)
		c.fill(0, pdf.Rectangle(x+1, y+signH/2-0.4, 0.8, 0.8))
	}, "path of the bit and where it comes down")
	add(slices.ContainsFunc(m.Paths, func(p toolpath.Path) bool { return len(p.Tabs) > 0 }), func(x, y float64) {
		line(pathPen)(x, y)
		c.stroke(tabPen, pdf.Straight(x+3, y+signH/2, x+5, y+signH/2))
	}, "tab")
	add(true, line(usablePen), "limit of what is used")
	return list
}

// legend draws the signs from y on, in lines, and returns where they end; when it does
// not draw, it only measures.
func (c *chart) legend(y float64, draw bool) float64 {
	x := margin
	for _, s := range c.signs() {
		w := signW + 1 + pdf.Width(s.text, signSize, pdf.Regular)
		if x > margin && x+w > margin+c.b.width() {
			x, y = margin, y+signLine
		}
		if draw {
			s.draw(x, y)
			c.b.words(x+signW+1, y+signH-0.4, signSize, pdf.Regular, 40, s.text)
		}
		x += w + signApart
	}
	return y + signLine
}

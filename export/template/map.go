package template

import (
	"panelyard/export/pdf"
)

// The map of the pages, in mm.
const (
	mapFoot   = 9.0 // room for its key
	panelGrey = 232
	mostScale = 0.5
)

// pageMap draws which page goes where: the windows over the panel, small.
func (d *drawing) pageMap(g grid, room Rect) []Item {
	span := g.span()
	key := room
	room.Y1 -= mapFoot
	scale := min(mostScale, room.width()/span.width(), room.height()/span.height())
	v := view{
		at:    pdf.Point{X: span.X0, Y: span.Y1},
		on:    pdf.Point{X: room.X0 + (room.width()-scale*span.width())/2, Y: room.Y0},
		scale: scale,
	}
	key.Y0 = room.Y0 + scale*span.height()
	board := []pdf.Path{v.path(d.outline)}
	for _, h := range d.openings {
		board = append(board, v.path(h.loop))
	}
	list := []Item{Area{panelGrey, board}}
	names := scribe{window: v.rect(span)}
	d.ink(func(a, b pdf.Point) { names.block(v.point(a), v.point(b)) })
	var frames, crossed []pdf.Path
	for row := range g.rows {
		for col := range g.cols {
			r := v.rect(g.window(row, col))
			if !g.printed(row, col) {
				in := r.grown(-g.overlap * scale)
				crossed = append(crossed, pdf.Straight(in.X0, in.Y0, in.X1, in.Y1), pdf.Straight(in.X0, in.Y1, in.X1, in.Y0))
				continue
			}
			frames = append(frames, r.path())
			names.page(g.name(row, col), r)
		}
	}
	list = append(list, Lines{"pages", pdf.Pen{Width: 0.12, Grey: 60}, frames})
	text := "Page map: the grey shape is the panel."
	if len(crossed) > 0 {
		list = append(list, Lines{"left out", pdf.Pen{Width: 0.15, Grey: 150}, crossed})
		text += " Crossed out: nothing to draw, no page."
	}
	list = append(list, Lines{"panel", pdf.Pen{Width: 0.35}, board})
	for _, w := range names.placed {
		list = append(list, w)
	}
	text, size := pdf.Fit(text, 2.8, 1.8, key.width()-24, pdf.Regular)
	list = append(list, Words{At: pdf.Point{X: key.X0, Y: key.Y0 + 5}, Size: size, Text: text})
	return append(list, d.grainArrow(pdf.Point{X: key.X1 - 8, Y: key.Y0 + 4}, 4)...)
}

// page writes the name of a page into its place on the map, clear of the panel's lines
// where there is room.
func (s *scribe) page(name string, r Rect) {
	_, size := pdf.Fit(name, min(4.5, 0.4*r.height()), 0.5, 0.5*r.width(), pdf.Regular)
	c := r.centre()
	for _, k := range [9][2]float64{{0, 0}, {0, 0.25}, {0, -0.25}, {0.25, 0}, {-0.25, 0}, {0.25, 0.25}, {-0.25, -0.25}, {-0.25, 0.25}, {0.25, -0.25}} {
		if s.try(pdf.Point{X: c.X + k[0]*r.width(), Y: c.Y + k[1]*r.height()}, 0, size, name) {
			return
		}
	}
	s.placed = append(s.placed, Words{At: pdf.Point{X: c.X, Y: c.Y + 0.36*size}, Size: size, Anchor: Middle, Text: name})
}

// rect returns a rectangle of the panel on a page.
func (v view) rect(r Rect) Rect {
	a, b := v.point(pdf.Point{X: r.X0, Y: r.Y1}), v.point(pdf.Point{X: r.X1, Y: r.Y0})
	return Rect{a.X, a.Y, b.X, b.Y}
}

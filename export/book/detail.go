package book

import (
	"slices"

	"panelyard/export/pdf"
	"panelyard/kerf/toolpath"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// detail writes a page with the part of a map that has no room for all of its words,
// larger, where that is much larger; and what the note above the map does not name.
func (b *book) detail(seen *chart, unnamed string) {
	const around = 20 * length.Millimetre // of board, beside what has no room
	sheet := geom.Box{Max: geom.Pt(seen.m.Stock.Length, seen.m.Stock.Width)}
	part := seen.missing.at.Inset(-around, -around, -around, -around).Meet(sheet)
	w, h := part.Dx().MM(), part.Dy().MM()
	if unnamed != "" {
		b.next()
		b.text("No room on the map of sheet "+seen.m.ID+" for: "+unnamed, body, pdf.Regular)
	}
	upright := h > w
	wide, high := b.long-2*margin, b.short-2*margin-foot-20
	if upright {
		wide, high = b.short-2*margin, b.long-2*margin-foot-20
	}
	scale := round(max(w/wide, h/high))
	if scale*seen.k > 0.7 {
		return
	}
	name := "Sheet " + seen.m.ID + ": detail"
	b.title = name
	b.sheetOfPaper(name, upright)
	b.mark(name, 1, 0)
	c := &chart{b: b, m: seen.m, k: 1 / scale}
	left, top := margin+(b.width()-w*c.k)/2, b.y+body*lead+3.5
	c.x, c.y = left-part.Min.X.MM()*c.k, top+h*c.k+part.Min.Y.MM()*c.k
	s, size := pdf.Fit("A part of "+b.about(seen.m, scale), body, least, b.width(), pdf.Regular)
	b.words(margin, b.y+body*lead, size, pdf.Regular, 0, s)
	p := b.page()
	n := len(p.Items)
	c.draw()
	drawn := slices.Clone(p.Items[n:])
	p.Items = append(p.Items[:n], pdf.Clip{Min: pdf.Point{X: left, Y: top}, W: w * c.k, H: h * c.k, Items: drawn})
	c.stroke(pdf.Pen{Width: 0.15, Grey: 120}, c.box(part))
	c.write(part)
	b.y = b.bottom()
}

// write writes the words of a part of a sheet: of panels, offcuts and paths that lie in
// it, and of cuts that come into it.
func (c *chart) write(part geom.Box) {
	m := c.m
	c.bound(part)
	grounds := map[of]ground{}
	for i := range m.Placements {
		p := &m.Placements[i]
		g := groundOf(p)
		grounds[of{p.Row.Name, p.Copy}] = g
		if part.Contains(p.Outline.Box()) {
			c.label(p, &g)
		}
	}
	for _, o := range m.Offcuts {
		if o.Keep && part.Contains(o.Box) {
			c.kept(o.Box)
		}
	}
	for i := range m.Cuts {
		from, to := m.Cuts[i].From, m.Cuts[i].To
		in := func(p geom.Point) geom.Point {
			return geom.Pt(min(max(p.X, part.Min.X), part.Max.X), min(max(p.Y, part.Min.Y), part.Max.Y))
		}
		// A cut runs along an axis: it comes into the part when it keeps its place across.
		a, z := in(from), in(to)
		if (from.X == to.X && a.X == from.X && a.Y != z.Y) || (from.Y == to.Y && a.Y == from.Y && a.X != z.X) {
			c.cutNumber(i+1, a, z)
		}
	}
	for i := range m.Paths {
		p := &m.Paths[i]
		if !part.Contains(geom.Box{Min: p.Line[0].At, Max: p.Line[0].At}) {
			continue
		}
		g := grounds[of{p.Panel, p.Copy}]
		if p.Kind != toolpath.Outline {
			g = ground{}
			if p.Closed {
				g.ring = ring(outline.Outline(p.Line).Points(chord))
			}
		}
		c.pathNumber(i+1, p, &g)
	}
}

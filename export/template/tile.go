package template

import (
	"panelyard/export/pdf"
	"panelyard/parts/diag"
)

// Pages lays a template out: a first page that says what it is and how the pages go
// together, then those of the panel, row by row. The list holds what is wrong with the
// options, or that it takes too many pages.
func Pages(t *Template, o Options) ([]Page, diag.List) {
	l, list := o.layout()
	if len(list) > 0 {
		return nil, list
	}
	d := newDrawing(t)
	g := newGrid(d.box, l.windowW, l.windowH, l.overlap)
	d.ink(g.ink)
	g.join()
	if g.pages() > MaxPages {
		fact, remedy := g.tooMany(l.paper)
		list.Add(diag.Pos{File: t.Job.File}, "panel "+quoted([]string{t.Panel.Name}), fact, remedy)
		return nil, list
	}
	pages := []Page{d.front(l, g)}
	marks := g.marks()
	for row := range g.rows {
		for col := range g.cols {
			if g.printed(row, col) {
				pages = append(pages, d.tile(l, g, row, col, marks))
			}
		}
	}
	return pages, nil
}

// tile lays a page of the panel out.
func (d *drawing) tile(l layout, g grid, row, col int, marks []mark) Page {
	seen := g.window(row, col)
	v := l.view(seen)
	p := l.page(g.name(row, col))
	w := p.Window
	p.Drawing = append(p.Drawing, Words{
		At: pdf.Point{X: w.X0 + l.overlap + 2, Y: w.Y0 + l.overlap + 9}, Size: 9, Face: pdf.Bold, Grey: 215, Text: p.Name,
	})
	p.Drawing = append(p.Drawing, d.lines(v, seen)...)
	var crosses []piece
	for _, m := range marks {
		if !seen.has(m.at) {
			continue
		}
		at := v.point(m.at)
		half := min(4, 0.45*l.overlap)
		crosses = append(crosses, centreLines(Rect{m.at.X, m.at.Y, m.at.X, m.at.Y}, half)...)
		p.Drawing = append(p.Drawing,
			Lines{"mark", markPen, []pdf.Path{pdf.Straight(at.X-half, at.Y, at.X+half, at.Y), pdf.Straight(at.X, at.Y-half, at.X, at.Y+half), circle(at, half/2)}},
			Words{At: pdf.Point{X: at.X + half*0.4, Y: at.Y - half*0.45}, Size: 1.8, Grey: soft, Text: m.number})
	}
	p.Drawing = append(p.Drawing, d.labels(v, w, crosses)...)
	p.Frame = append(p.Frame, Lines{"frame", framePen, []pdf.Path{w.path()}})
	p.Frame = append(p.Frame, seams(g, row, col, w)...)
	p.Frame = append(p.Frame, d.header(p.Name, l.strip())...)
	return p
}

// seams returns where the edges of the neighbours above and to the left come to lie.
func seams(g grid, row, col int, w Rect) []Item {
	pen := pdf.Pen{Width: 0.1, Grey: 150, Dash: []float64{0.8, 2}}
	var paths []pdf.Path
	if g.printed(row, col-1) {
		paths = append(paths, pdf.Straight(w.X0+g.overlap, w.Y0, w.X0+g.overlap, w.Y1))
	}
	if g.printed(row-1, col) {
		paths = append(paths, pdf.Straight(w.X0, w.Y0+g.overlap, w.X1, w.Y0+g.overlap))
	}
	if paths == nil {
		return nil
	}
	return []Item{Lines{"seam", pen, paths}}
}

// page returns an empty page.
func (l layout) page(name string) Page { return Page{Name: name, W: l.w, H: l.h, Window: l.window()} }

// strip returns the place of the header.
func (l layout) strip() Rect {
	return Rect{l.margin, l.margin, l.w - l.margin, l.margin + headerH}
}

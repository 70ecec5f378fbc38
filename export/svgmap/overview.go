package svgmap

import (
	"fmt"
	"io"

	svg "github.com/ajstarks/svgo/float"

	"panelyard/export"
	"panelyard/parts/geom"
	"panelyard/parts/svgpath"
)

// Overview writes all sheets of d side by side on one paper, all at one scale, with
// what is panel, what is kept and what is left, as each lies when it is cut. It is a
// picture to see the whole by; the maps are what is cut from. The error is the
// writer's first. Cost: the vertices of all panels.
func Overview(w io.Writer, d *export.Dossier, paper Paper) error {
	e := &errWriter{w: w}
	if paper == (Paper{}) {
		paper = A4
	}
	c := svg.New(e)
	c.Decimals = 3
	o := tile(d, paper)
	c.StartviewUnit(paper.W, paper.H, "mm", 0, 0, paper.W, paper.H)
	c.Title(fmt.Sprintf("%s: %s", plain(d.Title()), count(len(d.Sheets), "sheet", "sheets")))
	c.Desc("All sheets of the plan side by side: panels grey, kept offcuts hatched, the rest white.")
	c.Def()
	hatch(c, "kept-all", 2*o.scale, 45, "stroke:#777;stroke-width:"+coord(0.2*o.scale))
	c.DefEnd()
	c.Rect(0, 0, paper.W, paper.H, "fill:#fff")
	c.Gstyle(fontFamily + ";fill:" + ink)
	tail := fmt.Sprintf("   %s, yield %s %%", count(len(d.Sheets), "sheet", "sheets"), d.Lengths().Decimal(100*d.Totals.Yield, 1))
	name := cutShort(plain(d.Title()), 5, paper.W-2*margin-boldWidth(tail, 5), boldWidth)
	text(c, margin, margin+4.5, 5, name+tail, bold)
	text(c, margin, margin+9, 2.6, fmt.Sprintf("panels grey, offcuts to keep hatched, about 1:%.0f on %s", o.scale, paper.Name), "fill:"+soft)
	for i := range d.Sheets {
		o.draw(c, d, i)
	}
	c.Gend()
	c.End()
	return e.err
}

// tiles are places for pictures of sheets in rows.
type tiles struct {
	scale   float64 // mm of a sheet for one of paper
	columns int
	w, h    float64 // of a place
}

const (
	overTop  = 13.0 // title
	overHead = 4.0  // line over a picture
	overGap  = 3.0
)

// tile returns the places in which all sheets are largest.
func tile(d *export.Dossier, paper Paper) tiles {
	long, wide := 1.0, 1.0
	for i := range d.Sheets {
		long, wide = max(long, d.Sheets[i].Stock.Length.MM()), max(wide, d.Sheets[i].Stock.Width.MM())
	}
	n := max(1, len(d.Sheets))
	roomW, roomH := paper.W-2*margin, paper.H-2*margin-overTop
	best := tiles{}
	for columns := 1; columns <= n; columns++ {
		rows := (n + columns - 1) / columns
		w, h := roomW/float64(columns), roomH/float64(rows)
		scale := max(long/max(0.1, w-overGap), wide/max(0.1, h-overGap-overHead))
		if best.columns == 0 || scale < best.scale {
			best = tiles{scale: scale, columns: columns, w: w, h: h}
		}
	}
	return best
}

// draw draws sheet i in its place.
func (o tiles) draw(c *svg.SVG, d *export.Dossier, i int) {
	m := d.Seen(i)
	x := margin + float64(i%o.columns)*o.w
	y := margin + overTop + float64(i/o.columns)*o.h
	share := 0.0
	if m.Areas.Sheet > 0 {
		share = 100 * m.Areas.Panels / m.Areas.Sheet
	}
	size := min(2.8, o.w/9)
	head := fmt.Sprintf("%s  %.0f %%  ", m.ID, share)
	text(c, x, y+size, size, head+shorten(plain(m.Material.Name), size, max(0, o.w-overGap-textWidth(head, size))))
	y += overHead
	c.Gtransform(fmt.Sprintf("translate(%s %s) scale(%s %s)", svgpath.Decimal(x), svgpath.Decimal(y+m.Stock.Width.MM()/o.scale), svgpath.Decimal(1/o.scale), svgpath.Decimal(-1/o.scale)))
	line := coord(0.12 * o.scale)
	raw := geom.Box{Max: geom.Pt(m.Stock.Length, m.Stock.Width)}
	c.Path(boxPath(raw, 0), "fill:#fff;stroke:"+ink+";stroke-width:"+line)
	for _, k := range m.Offcuts {
		if k.Keep {
			c.Path(boxPath(k.Box, 0), "fill:url(#kept-all);stroke:#888;stroke-width:"+line)
		}
	}
	for k := range m.Placements {
		c.Path(boardPath(&m.Placements[k]), "fill:#bbb;fill-rule:evenodd;stroke:"+ink+";stroke-width:"+line)
	}
	c.Gend()
}

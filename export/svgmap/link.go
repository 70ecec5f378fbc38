package svgmap

import (
	"fmt"
	"html"
	"strconv"

	svg "github.com/ajstarks/svgo/float"

	"panelyard/export"
)

// The ids of a linked map are made of the IDs of sheets and the keys of panels, which
// the program gives, and never of names:
//
//	panel-7   the row of panel 7 in the page's list
//	S2-7      all panels 7 on sheet S2, a link to that row
//	S2-7-3    copy 3 of them
//
// RowID returns the id that the page gives the row of a panel.
func RowID(r *export.PanelRow) string { return "panel-" + r.Key }

// KindID returns the id of all panels of a row on the map of a sheet.
func KindID(sheet string, r *export.PanelRow) string { return sheet + "-" + r.Key }

// CopyID returns the id of one copy of a panel on the map of a sheet.
func CopyID(sheet string, r *export.PanelRow, copy int) string {
	return KindID(sheet, r) + "-" + strconv.Itoa(copy)
}

// kinds returns the numbers of the placements, those of a row together.
func (p *page) kinds() [][]int {
	var list [][]int
	at := map[*export.PanelRow]int{}
	for i := range p.m.Placements {
		r := p.m.Placements[i].Row
		k, seen := at[r]
		if !seen {
			k = len(list)
			at[r] = k
			list = append(list, nil)
		}
		list[k] = append(list[k], i)
	}
	return list
}

// link draws the panels of a kind as a link to their row. It is not a stop of the
// Tab key: the page lists the same links as text.
func (p *page) link(c *svg.SVG, kind []int, draw func(i int, more ...string)) {
	r := p.m.Placements[kind[0]].Row
	fmt.Fprintf(c.Writer, `<a id="%s" class="place" data-panel="%s" href="#%s" tabindex="-1"><title>%s</title>`+"\n",
		html.EscapeString(KindID(p.m.ID, r)), r.Key, RowID(r), html.EscapeString(title(r)))
	for _, i := range kind {
		draw(i, fmt.Sprintf(`id="%s"`, html.EscapeString(CopyID(p.m.ID, r, p.m.Placements[i].Copy))))
	}
	fmt.Fprintln(c.Writer, "</a>")
}

// aside draws what the page says in words too: in a linked map it is not read out, so
// that the links are found.
func (p *page) aside(c *svg.SVG, draw ...func(*svg.SVG)) {
	if p.linked {
		c.Group(`aria-hidden="true"`)
		defer c.Gend()
	}
	for _, f := range draw {
		f(c)
	}
}

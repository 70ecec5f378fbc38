package nearmiss

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"

	"panelyard/export/page"
	"panelyard/nest/near"
)

//go:embed nearmiss.tmpl
var source string

// HTML writes the page without scripts; it needs no network. The error is the writer's,
// or a defect of the page.
func HTML(w io.Writer, p *Page) error {
	return page.Write(w, source, template.FuncMap{
		"bar": p.bar, "changed": func() template.HTML { return page.Swatch(withShade) }, "saved": func() template.HTML { return page.DashedSwatch(savedShade) },
	}, p)
}

// The shades of what boards cost with a change, and of what it saves.
const (
	withShade  = 1
	savedShade = page.Shades - 1
)

// bar draws what the boards of a suggestion cost with the change, and what is saved, on
// one scale for all suggestions that begins at nothing.
func (p *Page) bar(row Row) template.HTML {
	most := int64(1)
	for i := range p.Rows {
		most = max(most, before(p.Rows[i].of), after(p.Rows[i].of))
	}
	g := row.of
	return page.Bar(
		fmt.Sprintf("%s with the change, %s as written", p.cost(after(g)), p.cost(before(g))),
		page.Segment{Share: float64(after(g)) / float64(most), Shade: withShade},
		page.Segment{Share: float64(g.Saved) / float64(most), Shade: savedShade, Dashed: true})
}

func before(g *near.Suggestion) int64 { return total(g.Before) }
func after(g *near.Suggestion) int64  { return total(g.After) }

func total(list []near.Board) int64 {
	var sum int64
	for i := range list {
		sum += list[i].Cost
	}
	return sum
}

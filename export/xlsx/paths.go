package xlsx

import (
	"panelyard/export"
	"panelyard/kerf/toolpath"
)

// paths is the list of a router's paths in their order, with a column to tick.
func paths(d *export.Dossier, u lengths) *table {
	mm := " (" + u.Unit() + ")"
	t := &table{name: "Paths", titled: true, fixed: 2, printed: 12, columns: []column{
		{title: "Sheet", most: 8},
		{title: "Path"},
		{title: "What is cut", most: 26},
		{title: "Panel", most: 34},
		{title: "Copy"},
		{title: "Length of one pass (m)"},
		{title: "Passes"},
		{title: "Deepest" + mm},
		{title: "Comes in", most: 18},
		{title: "Held by", most: 26},
		{title: "Mind", most: 28},
		{title: "Done", most: 6},
		{title: "Starts at x" + mm},
		{title: "Starts at y" + mm},
	}}
	rows := map[string]*export.PanelRow{}
	for i := range d.Panels {
		rows[d.Panels[i].Name] = &d.Panels[i]
	}
	for i := range d.Sheets {
		m := &d.Sheets[i]
		for k := range m.Paths {
			p := &m.Paths[k]
			panel, copyOf := p.Panel, cell{}
			if r := rows[p.Panel]; r != nil {
				panel = title(r)
				if r.Of > 1 {
					copyOf = count(p.Copy)
				}
			}
			mind := ""
			if p.Small {
				mind = "small: comes loose easily"
			}
			start := p.Start()
			cells := []cell{
				text(m.ID), count(k + 1), text(export.What(p)), text(panel), copyOf, metres(p.CutLength()),
				count(len(p.Depths)), u.exact(export.Deepest(p)), text(entry(p)), text(export.Held(p)), text(mind), cell{}.input(),
				u.cell(start.X), u.cell(start.Y),
			}
			t.rows = append(t.rows, row{cells: cells, first: k == 0})
		}
	}
	t.filtered = len(t.rows)
	t.note("Rows are the paths in their order, sheet after sheet. To the right of what is printed stands where the bit goes down: x along the length of the sheet, y across it, from the lower left corner seen from the good face.")
	return t
}

// entry says how the bit comes into a path.
func entry(p *toolpath.Path) string {
	switch {
	case len(p.Line) == 1:
		return "drilled"
	case p.Lead != nil:
		return "by an arc"
	case p.Ramp > 0:
		return "down a slope"
	}
	return "straight down"
}

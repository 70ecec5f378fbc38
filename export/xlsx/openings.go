package xlsx

import (
	"panelyard/export"
	"panelyard/kerf"
)

// openings is the list of the openings: a row an opening of a panel, with its size and
// place, and what a router's bit does not enter.
func openings(d *export.Dossier, u lengths) *table {
	mm := " (" + u.Unit() + ")"
	t := &table{name: "Openings", titled: true, fixed: 1, columns: []column{
		{title: "Panel", most: 26},
		{title: "Hand", most: 8},
		{title: "Panels"},
		{title: "Opening", most: 24},
		{title: "For", most: 18},
		{title: "What it is", most: 16},
		{title: "Length" + mm},
		{title: "Width" + mm},
		{title: "Corner radius" + mm},
		{title: "Left edge x" + mm},
		{title: "Lower edge y" + mm},
		{title: "Centre x" + mm},
		{title: "Centre y" + mm},
		{title: "Depth", most: 9},
	}}
	router := d.Demand.Cut == kerf.Router
	if router {
		t.columns = append(t.columns, column{title: "Bit", most: 26})
	}
	t.columns = append(t.columns, column{title: "Done", most: 6})
	for i, o := range d.Openings {
		size := []cell{u.cell(o.Size.X), u.cell(o.Size.Y)}
		what, radius, x, y := "shaped, size of its box", cell{}, cell{}, cell{}
		switch o.Form {
		case export.Round:
			what, size = "round", []cell{u.exact(o.Size.X).round(), {}}
			x, y = u.cell(o.Middle.X), u.cell(o.Middle.Y)
		case export.Rectangular:
			what = "rectangle"
			if o.Radius > 0 {
				radius = u.cell(o.Radius)
			}
		}
		cells := []cell{text(title(o.Panel)), text(hand(o.Panel)), count(o.Panel.Copies), text(o.Name), text(o.Component), text(what)}
		cells = append(cells, size...)
		cells = append(cells, radius, u.cell(o.At.X), u.cell(o.At.Y), x, y, text("through"))
		if router {
			bit := ""
			if o.Shut {
				bit = "does not enter: " + o.Verb()
			}
			cells = append(cells, text(bit))
		}
		t.rows = append(t.rows, row{cells: append(cells, cell{}.input()), first: i == 0 || d.Openings[i-1].Panel != o.Panel})
	}
	t.filtered = len(t.rows)
	t.note("Places are from the lower left corner of the panel as cut, seen from its good face: x along its length, y along its width. Each row is in every copy of its panel.")
	shut := 0
	for _, r := range d.Shut() {
		shut += r.InAll()
	}
	if shut > 0 {
		t.note("Openings that the bit does not enter, in all copies: " + u.Count(shut) + ". They are drilled, or cut by hand.")
	}
	return t
}

package xlsx

import "panelyard/export"

// shared is the list of blanks that two panels share: what is sawn in the place of
// their own.
func shared(d *export.Dossier, u lengths) *table {
	mm := " (" + u.Unit() + ")"
	t := &table{name: "Shared blanks", titled: true, columns: []column{
		{title: "Qty"},
		{title: "Blank length" + mm},
		{title: "Blank width" + mm},
		{title: "Material", most: 30},
		{title: "First panel", most: 40},
		{title: "Second panel", most: 40},
		{title: "On sheets", most: 20},
	}}
	order := newOrder(d.Sheets)
	for i := range d.Shared {
		r := &d.Shared[i]
		t.add(
			count(r.Count), u.cell(r.Blank[0].X).bold(), u.cell(r.Blank[0].Y).bold(), text(r.Panels[0].Material),
			text(title(r.Panels[0])), text(title(r.Panels[1])), text(onSheets(r.Sheets, order)),
		)
	}
	t.filtered = len(t.rows)
	t.note("Length and width are those along which length and width of the first panel run. Part the two panels on the waste between them before shaping.")
	return t
}

// title names a panel as the maps do: its number and its name.
func title(r *export.PanelRow) string { return r.Key + " " + r.Name }

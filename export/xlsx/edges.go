package xlsx

import "panelyard/export"

// edges is the list of edges to band: a row an edge of a panel, with a column to tick.
// Panels without a place are left out, as they are of the metres on Buy.
func edges(d *export.Dossier, u lengths) *table {
	t := &table{name: "Edges", titled: true, fixed: 1, columns: []column{
		{title: "Panel", most: 34},
		{title: "Hand", most: 8},
		{title: "Qty"},
		{title: "Edge", most: 20},
		{title: "Band", most: 30},
		{title: "Length of one, finished (" + u.Unit() + ")"},
		{title: "Length of all (m)"},
		{title: "Done", most: 6},
	}}
	const qty, one, all = 3, 6, 7
	perMetre := "1000"
	if u.inches {
		perMetre = "(1000/25.4)"
	}
	first := t.next()
	sum := 0.0
	for i := range d.Panels {
		p := &d.Panels[i]
		placed := 0
		for _, id := range p.Sheets {
			if id != "" {
				placed++
			}
		}
		for k, e := range p.Edging {
			if placed == 0 {
				continue
			}
			n := t.next()
			m := e.Length.MM() / 1000 * float64(placed)
			sum += m
			cells := []cell{
				text(title(p)), text(hand(p)), count(placed), text(e.Edge), text(e.Band), u.cell(e.Length),
				decimal(m, 2, 3).by("%s*%s/%s", at(qty, n), at(one, n), perMetre), cell{}.input(),
			}
			t.rows = append(t.rows, row{cells: cells, first: k == 0})
		}
	}
	t.filtered = len(t.rows)
	if last := t.next() - 1; last >= first {
		total := make([]cell, len(t.columns))
		total[0] = text("Total (rows shown)")
		total[all-1] = decimal(sum, 2, 3).by("SUBTOTAL(109,%s)", over(all, first, last))
		t.rows = append(t.rows, row{cells: total, first: true, total: true})
	}
	t.note("Lengths are those of the finished edge, without waste: filter by band to see how much of it is needed.")
	return t
}

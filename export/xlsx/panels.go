package xlsx

import (
	"strings"

	"panelyard/export"
	"panelyard/parts"
)

// panels is the cut list: a row a panel.
func panels(d *export.Dossier, u lengths) *table {
	mm := " (" + u.unit() + ")"
	t := &table{name: "Panels", titled: true, fixed: 2, columns: []column{
		{title: "No. on map", most: 6},
		{title: "Panel", most: 24},
		{title: "Hand", most: 8},
		{title: "Qty"},
		{title: "Material", most: 18},
		{title: "Thickness" + mm},
		{title: "Finished length" + mm},
		{title: "Finished width" + mm},
		{title: "Cut length" + mm},
		{title: "Cut width" + mm},
		{title: "Blank length" + mm},
		{title: "Blank width" + mm},
		{title: "Shaped", most: 6},
		{title: "Openings"},
		{title: "Grain along", most: 10},
		{title: "Edging", most: 20},
		{title: "Area each (m²)"},
		{title: "Mass each (kg)"},
		{title: "Area all (m²)"},
		{title: "Mass all (kg)"},
		{title: "On sheets", most: 14},
		{title: "Note", most: 24},
	}}
	const qty, areaEach, massEach, areaAll, massAll = 4, 17, 18, 19, 20
	order := newOrder(d.Sheets)
	copies, area, mass := 0, 0.0, 0.0
	first := t.next()
	for i := range d.Panels {
		p := &d.Panels[i]
		n := t.next()
		all := squareMetres(p.AreaMM2*float64(p.Copies)).by("%s*%s", at(qty, n), at(areaEach, n))
		kg := kilograms(p.MassKG * float64(p.Copies))
		if p.MassKG != 0 {
			kg = kg.by("%s*%s", at(qty, n), at(massEach, n))
		}
		blankLength, blankWidth := u.cell(p.Blank.X).bold(), u.cell(p.Blank.Y).bold()
		if p.Sharing == p.Copies {
			blankLength, blankWidth = text("shared"), cell{}
		}
		t.add(
			text(p.Key), text(p.Name), text(p.Hand.String()), count(p.Copies), text(p.Material), u.cell(p.Thickness),
			u.cell(p.Finished.X), u.cell(p.Finished.Y), u.cell(p.Cut.X), u.cell(p.Cut.Y),
			blankLength, blankWidth,
			yes(p.Shaped), some(p.Openings), text(grain(p.Grain)), text(edging(p)),
			squareMetres(p.AreaMM2), kilograms(p.MassKG), all, kg,
			text(onSheets(p.Sheets, order)), text(p.Note),
		)
		copies += p.Copies
		area += p.AreaMM2 * float64(p.Copies)
		mass += p.MassKG * float64(p.Copies)
	}
	t.filtered = len(t.rows)
	if last := t.next() - 1; last >= first {
		// SUBTOTAL 109 sums the rows that a filter leaves.
		sum := func(c cell, column int) cell { return c.by("SUBTOTAL(109,%s)", over(column, first, last)) }
		total := make([]cell, len(t.columns))
		total[1] = text("Total (rows shown)")
		total[qty-1] = sum(count(copies), qty)
		total[areaAll-1] = sum(squareMetres(area), areaAll)
		total[massAll-1] = sum(decimal(mass, 2, 2), massAll)
		t.rows = append(t.rows, row{cells: total, first: true, total: true})
	}
	if len(d.Shared) > 0 {
		t.note("A blank is that of a panel which has one of its own; two panels come out of each of the shared blanks, which have a worksheet.")
	}
	return t
}

// shared is the list of blanks that two panels share: what is sawn in the place of
// their own.
func shared(d *export.Dossier, u lengths) *table {
	mm := " (" + u.unit() + ")"
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
			text(r.Panels[0].Key+" "+r.Panels[0].Name), text(r.Panels[1].Key+" "+r.Panels[1].Name), text(onSheets(r.Sheets, order)),
		)
	}
	t.filtered = len(t.rows)
	t.note("Length and width are those along which length and width of the first panel run. Part the two panels on the waste between them before shaping.")
	return t
}

// some writes a number that is mostly zero, and then is left out.
func some(n int) cell {
	if n == 0 {
		return cell{}
	}
	return count(n)
}

// grain says along what the grain of a panel runs.
func grain(a parts.Axis) string {
	if a == parts.NoAxis {
		return "either"
	}
	return a.String()
}

// edging lists the banded edges: "front: oak 1; left: oak 1".
func edging(p *export.PanelRow) string {
	list := make([]string, len(p.Edging))
	for i, e := range p.Edging {
		list[i] = e.Edge + ": " + e.Band
	}
	return strings.Join(list, "; ")
}

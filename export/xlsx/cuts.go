package xlsx

import (
	"fmt"
	"strings"

	"panelyard/export"
	"panelyard/parts/geom"
)

// cuts is the list of saw cuts in the order they are made, with a column to tick.
func cuts(d *export.Dossier, u lengths) *table {
	mm := " (" + u.unit() + ")"
	t := &table{name: "Cuts", titled: true, fixed: 2, columns: []column{
		{title: "Sheet", most: 8},
		{title: "Cut"},
		{title: "Fence setting" + mm},
		{title: "Direction", most: 16},
		{title: "Trim", most: 6},
		{title: "Frees", most: 60},
		{title: "Done", most: 6},
		{title: "From x" + mm},
		{title: "From y" + mm},
		{title: "To x" + mm},
		{title: "To y" + mm},
		{title: "Length of cut" + mm},
	}}
	for i := range d.Sheets {
		m := &d.Sheets[i]
		freed := m.Freed(d.Demand.Kerf)
		for k := range m.Cuts {
			c := &m.Cuts[k]
			cells := []cell{
				text(m.ID), count(k + 1), u.cell(c.Fence).bold(), text(direction(c.From, c.To)), yes(c.Trim),
				text(frees(&freed[k], u)), cell{}.input(),
				u.cell(c.From.X), u.cell(c.From.Y), u.cell(c.To.X), u.cell(c.To.Y),
				u.cell((c.To.X - c.From.X).Abs() + (c.To.Y - c.From.Y).Abs()),
			}
			t.rows = append(t.rows, row{cells: cells, first: k == 0})
		}
	}
	t.filtered = len(t.rows)
	t.note("x runs along the length of the sheet, y across it, from the lower left corner seen from the good face. " +
		"From and to are the ends of the middle of the kerf. The fence setting is the distance of the near side of the blade from the edge at the fence.")
	return t
}

// direction says how a cut runs on the sheet.
func direction(from, to geom.Point) string {
	if from.Y == to.Y {
		return "along length"
	}
	return "across"
}

// frees says what a cut sets free.
func frees(f *export.Freed, u lengths) string {
	var list []string
	name := func(p *export.PlacedPanel) string {
		s := p.Row.Key + " " + p.Row.Name
		if p.Row.Copies > 1 {
			s += fmt.Sprintf(" (copy %d)", p.Copy)
		}
		return s
	}
	for _, p := range f.Panels {
		switch {
		case p.Second: // named with the first
		case p.With != nil:
			list = append(list, name(p)+" + "+name(p.With)+" in one blank")
		default:
			list = append(list, name(p))
		}
	}
	for _, o := range f.Offcuts {
		if o.Keep {
			list = append(list, "offcut to keep "+size(o.Box, u))
		}
	}
	return strings.Join(list, "; ")
}

// size writes the length and width of a box.
func size(b geom.Box, u lengths) string {
	return u.cell(b.Dx()).shown + " x " + u.text(b.Dy())
}

// offcuts is what is left of the sheets.
func offcuts(d *export.Dossier, u lengths) *table {
	mm := " (" + u.unit() + ")"
	t := &table{name: "Offcuts", titled: true, fixed: 1, columns: []column{
		{title: "Sheet", most: 8},
		{title: "Material", most: 30},
		{title: "Thickness" + mm},
		{title: "Length" + mm},
		{title: "Width" + mm},
		{title: "Area (m²)"},
		{title: "Keep", most: 6},
		{title: "Left edge x" + mm},
		{title: "Lower edge y" + mm},
	}}
	for i := range d.Sheets {
		m := &d.Sheets[i]
		for k, o := range m.Offcuts {
			keep := "no"
			if o.Keep {
				keep = "yes"
			}
			cells := []cell{
				text(m.ID), text(m.Stock.Material), u.cell(m.Material.Measured), u.cell(o.Box.Dx()), u.cell(o.Box.Dy()),
				squareMetres(o.Box.Dx().MM() * o.Box.Dy().MM()), text(keep), u.cell(o.Box.Min.X), u.cell(o.Box.Min.Y),
			}
			t.rows = append(t.rows, row{cells: cells, first: k == 0})
		}
	}
	t.filtered = len(t.rows)
	keep := d.Job.Keep
	t.note(fmt.Sprintf("Worth keeping: both sides at least %s and one at least %s. Length runs along the length of the sheet.",
		u.text(keep.Short), u.text(keep.Long)))
	return t
}

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
		{title: "Kind", most: 12},
		{title: "Piece in hand" + mm, most: 24},
		{title: "Set to" + mm},
		{title: "Set anew", most: 6},
		{title: "From the edge", most: 10},
		{title: "Kerf", most: 8},
		{title: "Frees", most: 60},
		{title: "Mind", most: 40},
		{title: "Done", most: 6},
		{title: "Length of cut" + mm},
		{title: "From x" + mm},
		{title: "From y" + mm},
		{title: "To x" + mm},
		{title: "To y" + mm},
	}}
	for i := range d.Sheets {
		m := &d.Sheets[i]
		for k := range m.Steps {
			c := &m.Steps[k]
			var mind []string
			for _, w := range c.Warnings {
				mind = append(mind, w.String())
			}
			cells := []cell{
				text(m.ID), count(c.N), text(c.Kind.String()), text(size(c.Piece, u)), u.cell(c.Fence).bold(), yes(c.Reset),
				text(c.Edge), text(c.Kerf), text(frees(c, u)), text(strings.Join(mind, "; ")), cell{}.input(), u.cell(c.Long()),
				u.cell(c.From.X), u.cell(c.From.Y), u.cell(c.To.X), u.cell(c.To.Y),
			}
			t.rows = append(t.rows, row{cells: cells, first: k == 0})
		}
	}
	t.filtered = len(t.rows)
	t.note("The fence, or a stop, is set to the size of the piece between it and the blade; that piece's edge named here lies at the fence, and the kerf falls beyond it.")
	if d.FaceDown() {
		t.note("The good face lies down: left and right are those of the sheet seen from its back.")
	}
	t.note("From and to are the ends of the middle of the kerf: x along the length of the sheet, y across it, from the lower left corner seen from the good face.")
	return t
}

// frees says what a cut sets free.
func frees(f *export.Step, u lengths) string {
	var list []string
	name := func(p *export.PlacedPanel) string {
		s := p.Row.Key + " " + p.Row.Name
		if p.Row.Of > 1 {
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

package xlsx

import (
	"fmt"
	"strings"

	"panelyard/export"
)

// cuts is the list of saw cuts in the order they are made, with a column to tick.
func cuts(d *export.Dossier, u lengths) *table {
	mm := " (" + u.Unit() + ")"
	t := &table{name: "Cuts", titled: true, fixed: 2, printed: 12, columns: []column{
		{title: "Sheet", most: 8},
		{title: "Cut"},
		{title: "Kind", most: 12},
		{title: "Piece in hand" + mm, most: 26},
		{title: "Set to" + mm},
		{title: "Set anew", most: 6},
		{title: "From the edge", most: 10},
		{title: "Kerf", most: 8},
		{title: "Frees", most: 60},
		{title: "Mind", most: 40},
		{title: "Length of cut" + mm},
		{title: "Done", most: 6},
		{title: "Mass in hand (kg)"},
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
				text(m.ID), count(c.N), text(c.Kind.String()), text(u.Size(c.Piece.Size())), setting(c, u).bold(), yes(c.Reset),
				text(c.At()), text(c.Kerf), text(frees(c, u)), text(strings.Join(mind, "; ")), u.cell(c.Long()), cell{}.input(), kilograms(c.KG),
				u.cell(c.From.X), u.cell(c.From.Y), u.cell(c.To.X), u.cell(c.To.Y),
			}
			t.rows = append(t.rows, row{cells: cells, first: k == 0})
		}
	}
	t.filtered = len(t.rows)
	t.note("The fence, or a stop, is set to the size of the piece between it and the blade; that piece's edge named here lies at the fence, and the kerf falls beyond it.")
	t.note("Where an edge is squared the measure is what comes off that edge, kerf included. Rows are the cuts in their order, sheet after sheet.")
	if d.FaceDown() {
		t.note("The good face lies down: left and right are those of the sheet seen from its back.")
	}
	t.note("To the right of what is printed stand the mass of the piece in hand and the ends of the middle of the kerf: x along the length of the sheet, y across it, from the lower left corner seen from the good face.")
	return t
}

// setting returns what a step is set or marked to, as all papers give it: the size of
// what lies at the fence, or what comes off where an edge is squared.
func setting(s *export.Step, u lengths) cell {
	if s.Kind == export.Square {
		return u.cell(s.Off()).marked("", " off")
	}
	return u.cell(s.Fence)
}

// frees says what a cut sets free.
func frees(f *export.Step, u lengths) string {
	var list []string
	name := func(p *export.PlacedPanel) string {
		s := title(p.Row)
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
			list = append(list, "offcut to keep "+u.Size(o.Box.Size()))
		}
	}
	return strings.Join(list, "; ")
}

package book

import (
	"strings"

	"panelyard/export"
)

// openings writes the openings of the panels, their sizes and places.
func (b *book) openings() {
	shut := len(b.d.Shut()) > 0
	columns := []column{
		{"", 0.8, left},
		{"No.", 1.4, right},
		{"Panel", 6, left},
		{"Qty", 1.4, right},
		{"Opening", 6, left},
		{"What it is", 5, left},
		{"Size", 4, unbroken},
		{"Lower left corner", 4, unbroken},
		{"Centre of a round one", 4, unbroken},
	}
	if shut {
		columns = append(columns, column{"Bit", 3, left})
	}
	var rows [][]cell
	for _, o := range b.d.Openings {
		centre := ""
		if o.Form == export.Round {
			centre = b.w.Place(o.Middle)
		}
		cells := row(tick, o.Panel.Key, o.Panel.Name, b.w.Count(o.Panel.Copies), o.Title(), b.w.Form(o), b.w.Across(o), b.w.Place(o.At), centre)
		if shut {
			bit := ""
			if o.Shut {
				bit = "does not enter: " + o.Verb()
			}
			cells = append(cells, row(bit)...)
		}
		rows = append(rows, cells)
	}
	b.section("Openings", "All go through the board. Places, in "+b.w.Word()+": along the length; along the width, from the lower left corner of the panel as cut, good face up", columns, rows)
}

// shut writes the openings that the bit does not enter, which are left to do by hand.
func (b *book) shut() {
	var rows [][]cell
	for _, r := range b.d.Shut() {
		var at []string
		for _, p := range r.Middles {
			at = append(at, "("+b.w.Place(p)+")")
		}
		rows = append(rows, row(tick, r.Panel.Key, r.Panel.Name, r.Verb(), b.w.Across(r.OpeningRow), b.w.Count(r.Each), b.w.Count(r.Panel.Copies), b.w.Count(r.InAll()), strings.Join(at, ", ")))
	}
	b.table("The bit does not enter these: drill them, or cut them by hand", []column{
		{"", 0.8, left},
		{"No.", 1.4, right},
		{"Panel", 6, left},
		{"What to do", 3, left},
		{"Size", 4, unbroken},
		{"In each", 1.6, right},
		{"Panels", 1.6, right},
		{"In all", 1.6, right},
		{"Middle from the lower left corner, as under Openings", 12, left},
	}, rows)
}

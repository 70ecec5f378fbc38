package xlsx

import (
	"fmt"
	"strings"

	"panelyard/export"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// The columns of Hardware that formulas refer to.
const (
	hardwareQuantity = 3
	hardwarePrice    = 14
	hardwareCost     = 15
)

// spareRows is how many rows of Hardware are left for the user to fill in.
const spareRows = 6

// hardware is the bought-in things that the job knows, room for more, and what the
// panels' notes say. It returns the row with the sum of the costs.
func hardware(d *export.Dossier, u lengths, bands int) (*table, int) {
	mm := " (" + u.Unit() + ")"
	t := &table{name: "Hardware", titled: true, fixed: 1, columns: []column{
		{title: "Item", most: 24},
		{title: "Kind", most: 13},
		{title: "Quantity"},
		{title: "Unit", most: 6},
		{title: "Body width" + mm},
		{title: "Body height" + mm},
		{title: "Depth" + mm},
		{title: "Opening width" + mm},
		{title: "Opening height" + mm},
		{title: "Flange width" + mm},
		{title: "Flange height" + mm},
		{title: "In panels", most: 24},
		{title: "Note", most: 34},
		{title: priced("Price a unit", d)},
		{title: priced("Cost", d)},
	}}
	first := t.next()
	for i := range d.Job.Components {
		t.component(d, u, &d.Job.Components[i])
	}
	t.unnamed(d, u)
	for i := range d.Bands {
		b := &d.Bands[i]
		t.add(text(b.Band.Name), text("edge band"), metres(b.Length).by("Buy!%s", at(buyQuantity, bands+i)), text("m"),
			cell{}, cell{}, u.cell(b.Band.Thickness), cell{}, cell{}, cell{}, cell{}, cell{}, text("priced on the worksheet Buy; depth is its thickness"))
	}
	empty := len(t.rows) == 0
	for range spareRows {
		t.priced(cell{}.input(), cell{}.input(), cell{}, cell{}.input(), nil, cell{}, cell{}.input())
	}
	total := make([]cell, len(t.columns))
	total[0] = text("Total of bought-in parts")
	total[hardwareCost-1] = amount(0).by("SUM(%s)", over(hardwareCost, first, t.next()-1))
	t.rows = append(t.rows, row{cells: total, first: true, total: true})
	sum := t.next() - 1
	if empty {
		t.note("The job file names no components and no edge bands, and the panels have no openings.")
	} else if len(d.Job.Components) == 0 {
		t.note("The job file names no components.")
	}
	t.note("Screws, hinges, glue and the like are not in the job file: the boxed rows are for them. Fill in prices: cost and the total on the worksheet Buy follow. Component sizes are as measured; an opening has the clearance all round.")
	none := true
	for i := range d.Panels {
		if p := &d.Panels[i]; p.Note != "" {
			t.note("Note of panel " + title(p) + ": " + p.Note)
			none = false
		}
	}
	if none {
		t.note("No panel has a note.")
	}
	return t, sum
}

// priced adds a row with boxes for quantity and price and a live cost.
func (t *table) priced(item, kind, quantity, unit cell, sizes []cell, panels, note cell) {
	n := t.next()
	cells := make([]cell, len(t.columns))
	cells[0], cells[1], cells[hardwareQuantity-1], cells[3] = item, kind, quantity.input(), unit
	copy(cells[4:], sizes)
	cells[11], cells[12] = panels, note
	cells[hardwarePrice-1] = cell{look: look{format: "0.00##"}}.input()
	cost := amount(0).by("ROUND(%s*%s,2)", at(hardwareQuantity, n), at(hardwarePrice, n))
	cost.look.format = "0.00##;-0.00##;" // nothing is shown before there is a price
	cells[hardwareCost-1] = cost
	t.rows = append(t.rows, row{cells: cells})
}

// component adds a bought-in part, and a row for what goes into its mounting holes.
func (t *table) component(d *export.Dossier, u lengths, c *parts.Component) {
	// A component comes with an opening for its body and one for each mounting hole.
	uses, n := opened(d, 1+len(c.Holes), func(o *parts.Opening) bool { return o.Component == c.Name })
	sizes := sizeCells(u, c.Body, c.Round)
	depth := cell{}
	if c.Depth > 0 {
		depth = u.cell(c.Depth)
	}
	sizes = append(sizes, depth)
	sizes = append(sizes, sizeCells(u, c.Opening(), c.Round)...)
	sizes = append(sizes, sizeCells(u, c.Flange, c.RoundFlange)...)
	var notes []string
	if c.Note != "" {
		notes = append(notes, c.Note)
	}
	notes = append(notes, "clearance "+u.words(c.Clearance)+" a side")
	if c.Curve > 0 {
		notes = append(notes, fmt.Sprintf("face curved, radius %s: it needs %s of depth", u.words(c.Curve), u.words(c.Room())))
	}
	if n == 0 {
		notes = append(notes, "no panel of this plan has an opening for it")
	}
	row := t.next()
	t.priced(text(c.Name), text("component"), count(n), text("piece"), sizes, text(uses), text(strings.Join(notes, "; ")))
	diameters := map[length.Length]int{}
	var order []length.Length
	for _, h := range c.Holes {
		if diameters[h.Diameter] == 0 {
			order = append(order, h.Diameter)
		}
		diameters[h.Diameter]++
	}
	for _, hole := range order {
		each := diameters[hole]
		q := count(n*each).by("%d*%s", each, at(hardwareQuantity, row))
		t.priced(text("screws for "+c.Name), text("fixing"), q, text("piece"), nil, text(uses),
			text(fmt.Sprintf("%d mounting holes of %s each", each, u.words(hole))))
	}
}

// unnamed adds the openings that are for no component of the job.
func (t *table) unnamed(d *export.Dossier, u lengths) {
	type kind struct {
		name  string
		size  geom.Point
		round bool
	}
	var order []kind
	seen := map[kind]bool{}
	of := func(o *parts.Opening) kind {
		form, _ := export.FormOf(o.Outline)
		return kind{o.Name, o.Outline.Box().Size(), form == export.Round}
	}
	for i := range d.Panels {
		list := d.Panels[i].Item.Panel.Openings
		for k := range list {
			if x := of(&list[k]); list[k].Component == "" && !seen[x] {
				seen[x] = true
				order = append(order, x)
			}
		}
	}
	for _, x := range order {
		uses, n := opened(d, 1, func(o *parts.Opening) bool { return o.Component == "" && of(o) == x })
		name := x.name
		if name == "" {
			name = "opening"
		}
		t.priced(text(name), text("opening"), count(n), text("piece"), append(make([]cell, 3), sizeCells(u, x.size, x.round)...), text(uses),
			text("an opening for which the job names no component"))
	}
}

// sizeCells returns the cells for width and height, or for a diameter; a size of none
// leaves them empty.
func sizeCells(u lengths, size geom.Point, round bool) []cell {
	switch {
	case size == (geom.Point{}):
		return make([]cell, 2)
	case round:
		return []cell{u.cell(size.X).round(), {}}
	}
	return []cell{u.cell(size.X), u.cell(size.Y)}
}

// opened lists the panels with openings of a kind, and counts in all copies the things
// that each have so many of them.
func opened(d *export.Dossier, openings int, is func(*parts.Opening) bool) (string, int) {
	var list []string
	n := 0
	for i := range d.Panels {
		p := &d.Panels[i]
		each := 0
		for k := range p.Item.Panel.Openings {
			if is(&p.Item.Panel.Openings[k]) {
				each++
			}
		}
		if each /= openings; each == 0 {
			continue
		}
		n += each * p.Copies
		s := title(p)
		if each*p.Copies > 1 {
			s += fmt.Sprintf(" (%d)", each*p.Copies)
		}
		list = append(list, s)
	}
	return strings.Join(list, "; "), n
}

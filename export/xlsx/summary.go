package xlsx

import (
	"fmt"
	"strconv"
	"strings"

	"panelyard/export"
	"panelyard/kerf"
)

// summary is the first worksheet: the plan in figures, and what to heed.
func summary(d *export.Dossier, u lengths, b bill) *table {
	t := &table{name: "Summary", columns: []column{{most: 30}, {most: 22}, {most: 62}, {most: 44}}}
	name := d.Title()
	if name == "" {
		name = "Cut list"
	}
	title := text(name)
	title.look.size, title.look.bold = 16, true
	t.rows = append(t.rows, row{cells: []cell{title}, spread: true})
	if d.Job.Note != "" {
		t.note(d.Job.Note)
	}
	t.unplaced(d)
	t.plan(d, u)
	t.cost(d, b)
	t.board(d)
	t.done(d)
	t.heed(d)
	return t
}

// heading begins a section.
func (t *table) heading(titles ...string) {
	t.add()
	r := row{}
	for _, s := range titles {
		r.cells = append(r.cells, cell{value: s, shown: s, look: look{header: true}})
	}
	for len(r.cells) < len(t.columns) {
		r.cells = append(r.cells, cell{value: "", look: look{header: true}})
	}
	t.rows = append(t.rows, r)
}

// fact adds a line of the plan.
func (t *table) fact(what string, value cell, remark string) {
	t.add(text(what), value.left(), text(remark))
}

// plan says what was planned and how good it is.
func (t *table) plan(d *export.Dossier, u lengths) {
	x := &d.Totals
	t.heading("Plan")
	if d.Variant != "" {
		t.fact("Variant", text(d.Variant), "")
	}
	if d.Demand.Cut == kerf.Saw {
		t.fact("Cut with", text("saw"), "kerf "+u.words(d.Demand.Kerf))
	} else {
		t.fact("Cut with", text("router"), fmt.Sprintf("bit %s; panels are at least %s apart", u.words(d.Demand.Kerf), u.words(d.Demand.Gap)))
	}
	t.fact("Seed", text(strconv.FormatUint(d.Seed, 10)), "the same job, seed and counted budget give the same plan")
	placed := ""
	if n := asked(d) - x.Panels; n > 0 {
		placed = fmt.Sprintf("NOT PLACED: %d, see above", n)
	}
	t.fact("Panels placed", count(x.Panels), placed)
	t.fact("Sheets cut", count(x.Sheets), capital(d.Bound.Text))
	t.fact("Least number of sheets", count(d.Bound.Sheets), "no plan can do with fewer; method: "+d.Bound.Method)
	if d.Bound.Cost > 0 {
		t.fact(priced("Least cost of sheets", d), amount(d.Bound.Cost), "")
	}
	if x.MassKG > 0 {
		t.fact("Mass of the panels (kg)", decimal(x.MassKG, 1, 1), unknown(d))
	}
	if d.Demand.Cut == kerf.Saw {
		t.fact("Length of all cuts (m)", metres(x.CutLength), fmt.Sprintf("the fence is set %s times", u.Count(x.Fences)))
	} else {
		t.fact("Length of all cuts (m)", metres(x.CutLength), "of all outlines and openings, each once")
		t.fact("Time of the router", text(export.Minutes(x.Effort.Time())), fmt.Sprintf("an estimate for %s passes; corners and clamping take longer", u.Count(x.Effort.Passes)))
	}
}

// unknown says that a mass leaves panels out.
func unknown(d *export.Dossier) string {
	for i := range d.Panels {
		if d.Panels[i].MassKG == 0 {
			return "without panels of a material whose density is not given"
		}
	}
	return ""
}

// asked returns how many panels the job asks for.
func asked(d *export.Dossier) int {
	n := 0
	for i := range d.Panels {
		n += d.Panels[i].Copies
	}
	return n
}

// cost links the sums of Buy.
func (t *table) cost(d *export.Dossier, b bill) {
	x := &d.Totals
	t.heading("To buy")
	bought, kept := 0, 0
	for i := range d.Buy {
		if d.Buy[i].Stock.Offcut {
			kept += d.Buy[i].Count
		} else {
			bought += d.Buy[i].Count + d.Buy[i].Spare
		}
	}
	kinds := func(n int, kind string) cell {
		if b.last < b.first {
			return count(n)
		}
		return count(n).by(`SUMIF(Buy!%s,"%s",Buy!%s)`, over(buyKind, b.first, b.last), kind, over(buyQuantity, b.first, b.last))
	}
	t.fact("Sheets to buy", kinds(bought, kindSheet), "")
	if kept > 0 {
		t.fact("Kept offcuts from the rack", kinds(kept, kindOffcut), "")
	}
	remark := ""
	if !x.Priced {
		remark = "some sheets have no price: fill it in on the worksheet Buy"
	}
	t.fact(priced("Cost of sheets", d), amount(x.Board).by("Buy!%s", at(buyCost, b.board)), remark)
	t.fact(priced("Credit for kept offcuts", d), amount(0).by("Buy!%s", at(buyCost, b.credit)), "the share of their price that is written on the worksheet Buy")
	if b.delivery > 0 {
		t.fact(priced("Cost of delivery", d), amount(x.Delivery).by("Buy!%s", at(buyCost, b.delivery)), "")
	}
	t.fact(priced("Cost of edge band", d), amount(x.Edging).by("Buy!%s", at(buyCost, b.edging)), "")
	t.fact(priced("Cost of bought-in parts", d), amount(0).by("Buy!%s", at(buyCost, b.bought)), "fill in prices on the worksheet Hardware")
	total := amount(x.Cost).by("Buy!%s", at(buyCost, b.total)).bold()
	t.fact(priced("Total cost", d), total, "follows the worksheets Buy, Hardware and Offcuts")
}

// board divides the sheets' area.
func (t *table) board(d *export.Dossier) {
	a := &d.Totals.Areas
	t.heading("What becomes of the board", "Area (m²)", "Share")
	first := t.next()
	all := first + 4
	share := func(mm2 float64) cell {
		if a.Sheet == 0 {
			return cell{}
		}
		return percent(mm2/a.Sheet, 1).left().by("%s/%s", at(2, t.next()), at(2, all))
	}
	line := func(what string, mm2 float64) {
		t.add(text(what), squareMetres(mm2), share(mm2))
	}
	line("Panels (the yield)", a.Panels)
	line("Kerf and trim", a.KerfTrim)
	line("Offcuts to keep", a.Kept)
	line("Waste", a.Waste)
	t.add(text("Sheets"), squareMetres(a.Sheet).by("SUM(%s)", over(2, first, all-1)).bold(), share(a.Sheet))
}

// unplaced lists the panels without a place.
func (t *table) unplaced(d *export.Dossier) {
	if len(d.Unplaced) == 0 {
		return
	}
	t.heading("NOT PLACED", "Copies", "Reason")
	for i := range d.Unplaced {
		r := &d.Unplaced[i]
		n := t.add(text(title(r.Row)), count(r.Copies).left(), text(capital(r.Reason)), cell{})
		for k := range t.rows[n-1].cells {
			t.rows[n-1].cells[k].look.alarm = true
		}
	}
}

// done lists the panels that were cut before the plan was made.
func (t *table) done(d *export.Dossier) {
	if len(d.Done) == 0 {
		return
	}
	t.heading("Cut before", "Sheet", "Copy")
	for _, x := range d.Done {
		t.add(text(x.Name), text(x.Sheet), count(x.Copy).left())
	}
}

// heed lists the cautions, and what the paths of a router leave.
func (t *table) heed(d *export.Dossier) {
	if len(d.Cautions)+len(d.Warnings) == 0 {
		return
	}
	o := newOrder(d.Sheets)
	t.heading("Before you cut", "Sheets", "What to heed", "Source")
	for i := range d.Cautions {
		c := &d.Cautions[i]
		t.add(text(c.Topic).bold(), text(onSheets(c.Sheets, o)), text(capital(c.Text)), text(c.Source))
	}
	for _, f := range d.Warnings {
		t.add(text("path of the bit").bold(), cell{}, text(f.Error()), text("worked out from the shapes"))
	}
}

// capital begins a sentence.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

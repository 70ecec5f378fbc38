package book

import (
	"fmt"
	"strconv"
	"strings"

	"panelyard/export"
	"panelyard/export/pdf"
	"panelyard/kerf"
	"panelyard/parts/geom"
	"panelyard/parts/money"
)

// cover writes the first page: what the plan is, what to buy and to take, and what to
// mind.
func (b *book) cover() {
	d, t := b.d, &b.d.Totals
	b.open(d.Title(), false)
	tool := fmt.Sprintf("Plan for the %v, kerf %s %s", d.Job.Saw.Kind, b.w.Exact(d.Demand.Kerf), b.w.Unit())
	if d.Demand.Cut == kerf.Router {
		tool = fmt.Sprintf("Plan for the router, bit %s %s", b.w.Exact(d.Demand.Kerf), b.w.Unit())
	}
	sizes := b.w.Word()
	if s := b.w.Rounding(); s != "" {
		sizes += " " + s
	}
	b.text(fmt.Sprintf("%s. Sizes in %s, length × width. Plan %s, seed %d.", tool, sizes, b.plan, d.Seed), body, pdf.Regular)
	if d.Job.Note != "" {
		b.text(d.Job.Note, body, pdf.Regular)
	}
	for _, u := range d.Unplaced {
		b.text(fmt.Sprintf("WITHOUT A PLACE: %s × %s: %s", b.w.Count(u.Copies), u.Row.Name, u.Reason), 3.4, pdf.Bold)
	}
	if len(d.Done) > 0 {
		b.text(fmt.Sprintf("This plan goes on from an earlier one: %s cut before, listed under “Cut before”.", b.count(len(d.Done), "panel was", "panels were")), body, pdf.Bold)
	}
	b.text(fmt.Sprintf("%s, %s, yield %s %%", b.count(t.Sheets, "sheet", "sheets"), b.count(t.Panels, "panel", "panels"), b.w.Decimal(t.Yield*100, 1)), 3.8, pdf.Bold)
	b.text(b.work(), body, pdf.Regular)
	taken := money.Amount(0)
	for i := range d.Buy {
		if r := &d.Buy[i]; r.Stock.Offcut {
			taken += r.Cost
		}
	}
	delivery := ""
	if t.Delivery > 0 {
		delivery = ", delivery " + d.Money(t.Delivery)
	}
	cost := fmt.Sprintf("Board %s%s, edge band %s, together %s", d.Money(t.Board), delivery, d.Money(t.Edging), d.Money(t.Cost))
	if taken > 0 {
		cost += fmt.Sprintf("; of it %s is the worth of what you have already", d.Money(taken))
	}
	if !t.Priced {
		cost += ", and what has no price"
	}
	b.text(cost+".", body, pdf.Regular)
	how := "How good is it? " + d.Bound.Text
	if d.Bound.Method != "" {
		how += " (bound by " + d.Bound.Method + ")"
	}
	b.text(how+".", body, pdf.Regular)
	b.shopping()
	var rows [][]cell
	for _, c := range d.Cautions {
		rows = append(rows, row(c.Topic, c.Text, c.Source, runs(c.Sheets)))
	}
	if n := len(d.Warnings); n > 0 {
		rows = append(rows, row("path of the bit", b.count(n, "note on what the bit leaves is", "notes on what the bit leaves are")+" under “Router notes”", "", ""))
	}
	columns := []column{{"Topic", 3, left}, {"What to mind", 11, left}, {"Source", 8, left}, {"Sheets", 3, left}}
	if !b.room(b.tableHigh("Cautions", columns, rows)) {
		b.open("Cautions", false)
	}
	b.table("Cautions", columns, rows)
}

// work says what there is to cut.
func (b *book) work() string {
	t := &b.d.Totals
	metres := func(mm float64) string { return b.w.Decimal(mm/1000, 2) }
	if b.d.Demand.Cut == kerf.Router {
		e := &t.Effort
		return fmt.Sprintf("%s m of paths in %s, %s m with all of them, about %s without clamping; machines slow down in corners.",
			metres(e.Run.MM()), b.count(e.Passes, "pass", "passes"), metres(e.Cut.MM()), export.Minutes(e.Time()))
	}
	return fmt.Sprintf("%s m of cuts, %s.", metres(t.CutLength.MM()), b.count(t.Fences, "setting of fence or stop", "settings of fence or stop"))
}

// shopping writes what to buy, what to take, and the edge bands.
func (b *book) shopping() {
	d := b.d
	var buy, take, bands [][]cell
	for _, r := range d.Buy {
		each, price := "none given", ""
		if r.Stock.Priced {
			each, price = d.Money(r.Price), d.Money(r.Cost)
		}
		size := b.w.Size(geom.Pt(r.Stock.Length, r.Stock.Width))
		what := "kept offcut"
		if r.Stock.InHand {
			what = "whole, in hand"
		}
		if !r.Stock.Offcut {
			sheets := runs(r.Sheets)
			if r.Spare > 0 {
				sheets += fmt.Sprintf(", %s to spare", b.w.Count(r.Spare))
			}
			buy = append(buy, row(tick, b.w.Count(r.Count+r.Spare), r.Stock.Name, r.Stock.Material, size, each, price, sheets))
			continue
		}
		take = append(take, row(tick, b.w.Count(r.Count), what, r.Stock.Name, r.Stock.Material, size, d.Money(r.Cost), runs(r.Sheets)))
	}
	unit := ", " + b.w.Unit()
	b.table("To buy", []column{{"", 0.8, left}, {"Count", 1.6, right}, {"Stock", 6, left}, {"Material", 4, left}, {"Size" + unit, 4, unbroken}, {"Price of one", 3.4, right}, {"Cost", 3.4, right}, {"Sheets of this book", 4, left}}, buy)
	b.table("To take: what you have already", []column{{"", 0.8, left}, {"Count", 1.6, right}, {"What it is", 3, left}, {"Name", 6, left}, {"Material", 4, left}, {"Size" + unit, 4, unbroken}, {"Worth", 3.4, right}, {"Sheets of this book", 4, left}}, take)
	var drops [][]cell
	for _, x := range d.Drops {
		mass := ""
		if x.KG > 0 {
			mass = b.w.Decimal(x.KG, 0)
		}
		drops = append(drops, row(tick, x.Yard.Name, b.w.Count(x.Sheets), mass, b.w.Count(x.Count), d.Money(x.Cost)))
	}
	b.table("Delivery", []column{{"", 0.8, left}, {"Yard", 10, left}, {"Sheets", 3, right}, {"kg", 3, right}, {"Drops", 3, right}, {"Cost", 4, right}}, drops)
	for _, r := range d.Bands {
		each, price := "none given", ""
		if r.Band.Priced {
			each, price = d.Money(r.Band.Price), d.Money(r.Cost)
		}
		bands = append(bands, row(tick, r.Band.Name, b.w.Text(r.Band.Thickness), b.w.Decimal(r.Length.MM()/1000, 2), each, price))
	}
	b.table("Edge band to buy, without waste: add what your way of gluing needs", []column{{"", 0.8, left}, {"Band", 10, left}, {"Thick" + unit, 3, right}, {"Metres", 3, right}, {"Price a metre", 4, right}, {"Cost", 4, right}}, bands)
}

// count writes a number of things.
func (b *book) count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return b.w.Count(n) + " " + many
}

// runs writes IDs of sheets, each once, and runs of them by their ends: S1 to S6.
func runs(ids []string) string {
	ids = export.Once(ids)
	return strings.Join(shortened(ids, func(id string) (int, bool) { return whole(strings.TrimPrefix(id, "S")) }), " ")
}

// whole reads a whole number.
func whole(s string) (int, bool) {
	n, err := strconv.Atoi(s)
	return n, err == nil
}

// shortened writes three and more texts whose numbers follow on each other by the
// first and the last.
func shortened(list []string, number func(string) (int, bool)) []string {
	var short []string
	for i := 0; i < len(list); {
		n, ok := number(list[i])
		k := i + 1
		for ; ok && k < len(list); k++ {
			if m, is := number(list[k]); !is || m != n+k-i {
				break
			}
		}
		if k-i < 3 {
			short = append(short, list[i])
			i++
			continue
		}
		short = append(short, list[i]+" to "+list[k-1])
		i = k
	}
	return short
}

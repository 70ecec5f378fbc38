package xlsx

import (
	"fmt"
	"strings"

	"panelyard/export"
	"panelyard/parts"
	"panelyard/parts/money"
)

// The words of Buy for what a row is; the summary counts sheets by them.
const (
	kindSheet  = "sheet"
	kindOffcut = "kept offcut"
	kindBand   = "edge band"
	kindDrop   = "delivery"
)

// The columns of Buy that formulas refer to.
const (
	buyKind     = 2
	buyLength   = 5
	buyWidth    = 6
	buyQuantity = 8
	buyPrice    = 10
	buyCost     = 11
)

// firstStock is the row of the first stock, below the titles.
const firstStock = 2

// bill is where the sums of Buy stand.
type bill struct {
	first, last int // rows of sheets; last < first when there are none
	drops       int // first row of deliveries
	bands       int // and of edge bands
	// Rows of sums. The credit's has the share of the price in the column of quantities.
	board, credit, delivery, edging, bought, total int
}

// outside is the rows of the sums of other worksheets that Buy takes in, and what the
// area of all kept offcuts has cost.
type outside struct {
	offcuts, hardware int
	kept              money.Amount
}

// stockRows returns the row of each stock on Buy.
func stockRows(d *export.Dossier) map[*parts.Stock]int {
	rows := map[*parts.Stock]int{}
	for i := range d.Buy {
		rows[d.Buy[i].Stock] = firstStock + i
	}
	return rows
}

// buy is what to buy or take from the rack, with live costs.
func buy(d *export.Dossier, u lengths, from outside) (*table, bill) {
	mm := " (" + u.Unit() + ")"
	t := &table{name: "Buy", titled: true, fixed: 1, columns: []column{
		{title: "Item", most: 30},
		{title: "Kind", most: 14},
		{title: "Material", most: 20},
		{title: "Thickness" + mm},
		{title: "Length" + mm},
		{title: "Width" + mm},
		{title: "Sheets", most: 24},
		{title: "Quantity"},
		{title: "Unit", most: 8},
		{title: priced("Price a unit", d)},
		{title: priced("Cost", d)},
		{title: "Remark", most: 34},
	}}
	order := newOrder(d.Sheets)
	b := bill{first: t.next()}
	for i := range d.Buy {
		r := &d.Buy[i]
		n := t.next()
		kind, remark, unit := kindSheet, "", amount(r.Price).by("%s", priceBy(r.Stock, at(buyQuantity, n)))
		switch {
		case r.Stock.Offcut:
			kind, remark = kindOffcut, "from the rack"
		case !r.Stock.Priced:
			unit, remark = cell{}, "no price given: fill it in"
		case r.Spare > 0:
			remark = fmt.Sprintf("%d of them to spare", r.Spare)
		}
		t.add(
			text(r.Stock.Name), text(kind), text(r.Stock.Material), u.cell(d.Job.Material(r.Stock.Material).Measured),
			u.cell(r.Stock.Length), u.cell(r.Stock.Width), text(onSheets(r.Sheets, order)),
			count(r.Count+r.Spare).input(), text("sheet"), unit.input(),
			amount(r.Cost).by("%s*%s", at(buyQuantity, n), at(buyPrice, n)), text(remark),
		)
	}
	b.last = t.next() - 1
	b.drops = t.next()
	for i := range d.Drops {
		t.drop(d, &d.Drops[i], b)
	}
	lastDrop := t.next() - 1
	b.bands = t.next()
	for i := range d.Bands {
		r := &d.Bands[i]
		n := t.next()
		unit, remark := amount(r.Band.Price), "sum of the edges, without waste"
		if !r.Band.Priced {
			unit, remark = cell{}, remark+"; no price given: fill it in"
		}
		t.add(
			text(r.Band.Name), text(kindBand), cell{}, u.cell(r.Band.Thickness), cell{}, cell{}, cell{},
			metres(r.Length).input(), text("m"), unit.input(),
			amount(r.Cost).by("ROUND(%s*%s,2)", at(buyQuantity, n), at(buyPrice, n)), text(remark),
		)
	}
	lastBand := t.next() - 1
	sum := func(what string, a money.Amount, from, to int) int {
		c := amount(a)
		if to >= from {
			c = c.by("SUM(%s)", over(buyCost, from, to))
		}
		return t.sum(what, c)
	}
	b.board = sum("Sheets", d.Totals.Board, b.first, b.last)
	b.credit = t.credit(from)
	if len(d.Drops) > 0 {
		b.delivery = sum("Delivery", d.Totals.Delivery, b.drops, lastDrop)
	}
	b.edging = sum("Edge band", d.Totals.Edging, b.bands, lastBand)
	b.bought = t.sum("Bought-in parts", amount(0).by("Hardware!%s", at(hardwareCost, from.hardware)))
	b.total = t.sum("Total", amount(d.Totals.Cost).by("SUM(%s)", over(buyCost, b.board, b.bought)))
	t.note("Change the boxed prices and quantities, and the share of their price at which kept offcuts are credited: costs and totals follow.")
	return t, b
}

// credit appends the row that takes the worth of kept offcuts off the cost of sheets.
// Its value is 0 as long as the user gives no share.
func (t *table) credit(from outside) int {
	n := t.sum("Credit for kept offcuts", amount(0).by("0-ROUND(%s*%s,2)", at(buyQuantity, t.next()), at(buyPrice, t.next())))
	cells := t.rows[len(t.rows)-1].cells
	cells[buyQuantity-1] = percent(0, 0).input()
	cells[buyQuantity] = text("of")
	cells[buyPrice-1] = amount(from.kept).by("Offcuts!%s", at(offcutsWorth, from.offcuts))
	cells = append(cells, text("of the price of their area: 0 % to 100 %"))
	t.rows[len(t.rows)-1].cells = cells
	t.checks = append(t.checks, check{name(buyQuantity, n), "A share of the price of their area: 0 % to 100 %."})
	return n
}

// sum appends a row with a sum of costs and returns its number.
func (t *table) sum(what string, c cell) int {
	cells := make([]cell, buyCost)
	cells[0], cells[buyCost-1] = text(what), c
	begins := len(t.rows) == 0 || !t.rows[len(t.rows)-1].total
	t.rows = append(t.rows, row{cells: cells, first: begins, total: true})
	return t.next() - 1
}

// priced adds the currency, when there is one, to a header.
func priced(title string, d *export.Dossier) string {
	if d.Job.Currency == "" {
		return title
	}
	return title + " (" + d.Job.Currency + ")"
}

// priceBy returns the formula of a price by quantity, or none where there is one price.
func priceBy(s *parts.Stock, quantity string) string {
	if len(s.Breaks) == 0 {
		return ""
	}
	formula := ""
	for i := len(s.Breaks) - 1; i >= 0; i-- {
		formula += fmt.Sprintf("IF(%s>=%d,%s,", quantity, s.Breaks[i].From, s.Breaks[i].Price)
	}
	return formula + s.Price.String() + strings.Repeat(")", len(s.Breaks))
}

// drop appends the deliveries of a yard: as many as its sheets take, by number and by
// mass.
func (t *table) drop(d *export.Dossier, x *parts.Drop, b bill) {
	var sheets, mass []string
	weighed := x.KG > 0
	for i := range d.Buy {
		s := d.Buy[i].Stock
		if s.Offcut || s.Yard != x.Yard.Name {
			continue
		}
		quantity := at(buyQuantity, b.first+i)
		sheets = append(sheets, quantity)
		if m := d.Job.Material(s.Material); weighed {
			mass = append(mass, fmt.Sprintf("%s*%.4f", quantity, s.Length.MM()*s.Width.MM()*m.Measured.MM()*m.Density/1e9))
		}
	}
	all := strings.Join(sheets, "+")
	needs := []string{fmt.Sprintf("IF(%s>0,1,0)", all)}
	var limits []string
	if n := x.Yard.Sheets; n > 0 {
		needs = append(needs, fmt.Sprintf("ROUNDUP((%s)/%d,0)", all, n))
		limits = append(limits, fmt.Sprintf("at most %d sheets", n))
	}
	if kg := x.Yard.KG; kg > 0 && weighed {
		needs = append(needs, fmt.Sprintf("ROUNDUP((%s)/%g-0.000001,0)", strings.Join(mass, "+"), kg))
		limits = append(limits, fmt.Sprintf("at most %g kg", kg))
	}
	remark := ""
	if limits != nil {
		remark = strings.Join(limits, ", ") + " a drop"
	}
	n := t.next()
	t.add(
		text(x.Yard.Name), text(kindDrop), cell{}, cell{}, cell{}, cell{}, cell{},
		count(x.Count).by("MAX(%s)", strings.Join(needs, ",")), text("drop"), amount(x.Yard.Drop).input(),
		amount(x.Cost).by("%s*%s", at(buyQuantity, n), at(buyPrice, n)), text(remark),
	)
}

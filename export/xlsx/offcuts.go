package xlsx

import (
	"fmt"
	"math/big"

	"panelyard/export"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/money"
)

// offcutsWorth is the column of Offcuts that the credit is taken from.
const offcutsWorth = 9

// offcuts is what is left of the sheets, and what the area of the kept ones has cost.
// It returns the row with the sum of that, and the sum.
func offcuts(d *export.Dossier, u lengths, prices map[*parts.Stock]int) (*table, int, money.Amount) {
	mm := " (" + u.Unit() + ")"
	t := &table{name: "Offcuts", titled: true, fixed: 1, columns: []column{
		{title: "Sheet", most: 8},
		{title: "Material", most: 30},
		{title: "Thickness" + mm},
		{title: "Length" + mm},
		{title: "Width" + mm},
		{title: "Area (m²)"},
		{title: "Keep", most: 6},
		{title: "Share of its sheet"},
		{title: priced("Price of its area, if kept", d)},
		{title: "Left edge x" + mm},
		{title: "Lower edge y" + mm},
	}}
	const long, wide, area, keeps, share = 4, 5, 6, 7, 8
	first := t.next()
	var sum money.Amount
	kept := 0.0
	for i := range d.Sheets {
		m := &d.Sheets[i]
		for k := range m.Offcuts {
			o, n := &m.Offcuts[k], t.next()
			keep, w := "no", money.Amount(0)
			if o.Keep {
				keep, w = "yes", worth(o, m.Stock, d.PriceOf(m.Stock))
				sum += w
				kept += o.Box.Dx().MM() * o.Box.Dy().MM()
			}
			part := percent(o.Box.Dx().MM()*o.Box.Dy().MM()/m.Areas.Sheet, 1)
			price := amount(w)
			if r, ok := prices[m.Stock]; ok {
				part = part.by("%s*%s/(Buy!%s*Buy!%s)", at(long, n), at(wide, n), at(buyLength, r), at(buyWidth, r))
				price = price.by(`IF(%s="yes",ROUND(%s*Buy!%s,2),0)`, at(keeps, n), at(share, n), at(buyPrice, r))
			}
			cells := []cell{
				text(m.ID), text(m.Stock.Material), u.cell(m.Material.Measured), u.cell(o.Box.Dx()), u.cell(o.Box.Dy()),
				squareMetres(o.Box.Dx().MM() * o.Box.Dy().MM()), text(keep).input(), part, price, u.cell(o.Box.Min.X), u.cell(o.Box.Min.Y),
			}
			t.rows = append(t.rows, row{cells: cells, first: k == 0})
		}
	}
	t.filtered = len(t.rows)
	total := make([]cell, len(t.columns))
	total[0], total[1] = text("Kept"), text("all rows, filtered or not")
	total[area-1], total[offcutsWorth-1] = squareMetres(kept), amount(sum)
	if last := t.next() - 1; last >= first {
		total[area-1] = total[area-1].by(`SUMIF(%s,"yes",%s)`, over(keeps, first, last), over(area, first, last))
		total[offcutsWorth-1] = total[offcutsWorth-1].by("SUM(%s)", over(offcutsWorth, first, last))
	} else {
		total[1] = text("nothing is left over")
	}
	t.rows = append(t.rows, row{cells: total, first: true, total: true})
	rule := d.Job.Keep
	t.note(fmt.Sprintf("Worth keeping: both sides at least %s and one at least %s. Length runs along the length of the sheet. Write yes or no in the boxes: the credit on the worksheet Buy follows.",
		u.words(rule.Short), u.words(rule.Long)))
	return t, t.next() - 2, sum
}

// worth returns the price of an offcut's area, its share of the price of a sheet, to the
// nearest hundredth, halves up.
func worth(o *nest.Offcut, s *parts.Stock, price money.Amount) money.Amount {
	const cent = int64(money.One / 100)
	product := func(list ...int64) *big.Int {
		p := big.NewInt(1)
		for _, n := range list {
			p.Mul(p, big.NewInt(n))
		}
		return p
	}
	cents := product(2, int64(price), int64(o.Box.Dx()), int64(o.Box.Dy()))
	sheet := product(cent, int64(s.Length), int64(s.Width))
	cents.Add(cents, sheet).Quo(cents, product(2).Mul(sheet, product(2)))
	return money.Amount(cents.Int64() * cent)
}

package compare

import (
	"math"

	"panelyard/export"
	"panelyard/parts/money"
)

// AddOn returns what a waste, as a share of what is bought, adds to a net area: 20 %
// of waste means that 25 % must be bought on top. It is infinite for a waste of 1.
func AddOn(waste float64) float64 { return waste / (1 - waste) }

// Split is the cost of the board by what its area came to. The three add up to the
// cost of the board of the plan.
type Split struct {
	Panels money.Amount
	Kept   money.Amount // the value of the kept offcuts
	Waste  money.Amount // kerf, trim and what is thrown away
}

// split divides the board, the price of every sheet by area.
func split(d *export.Dossier, board money.Amount) Split {
	var kept, waste float64
	for i := range d.Sheets {
		s := &d.Sheets[i]
		if s.Areas.Sheet > 0 {
			price := float64(d.PriceOf(s.Stock))
			kept += price * s.Areas.Kept / s.Areas.Sheet
			waste += price * lost(s.Areas) / s.Areas.Sheet
		}
	}
	out := Split{Kept: hundredths(kept), Waste: hundredths(waste)}
	out.Panels = board - out.Kept - out.Waste
	return out
}

// lost returns the area that is neither panel nor kept offcut, in mm2.
func lost(a export.Areas) float64 { return max(0, a.Sheet-a.Panels-a.Kept) }

// hundredths rounds an amount to hundredths of the currency.
func hundredths(a float64) money.Amount {
	const unit = float64(money.One / 100)
	return money.Amount(math.Round(a/unit) * unit)
}

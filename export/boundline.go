package export

import (
	"fmt"

	"panelyard/nest"
	"panelyard/parts/money"
)

// boundLine says in a sentence how near the plan is to what cannot be beaten.
// The bound's cost is money only when every stock of the job has a price.
func boundLine(x *Dossier, r *nest.Result) BoundLine {
	b := BoundLine{Sheets: r.Bound.Sheets, Method: r.Bound.Method}
	priced := true
	for i := range x.Job.Stock {
		priced = priced && (x.Job.Stock[i].Priced || x.Job.Stock[i].Offcut)
	}
	if priced {
		b.Cost = money.Amount(r.Bound.Cost)
	}
	n := len(x.Sheets)
	gap := n - b.Sheets
	over := "" // how far the cost is from its bound
	paid, what := x.Totals.Board+x.Totals.Delivery, "board"
	if x.Totals.Delivery > 0 {
		what = "board and delivery"
	}
	if priced && b.Cost > 0 && paid > b.Cost {
		over = fmt.Sprintf("no plan costs less than %s for %s, %s %% under this one",
			x.Money(b.Cost), what, x.Lengths().Decimal(100*(1-b.Cost.Float()/paid.Float()), 1))
	}
	switch {
	case n == 0 && len(x.Unplaced) == 0:
		b.Text = "nothing to cut"
	case r.Status == nest.Incomplete:
		b.Text = "not all panels have a place, so nothing is proved"
	case r.Status == nest.Proved && gap <= 0:
		b.Proved = true
		b.Text = fmt.Sprintf("proved: no plan needs fewer than %s, and none costs less", sheets(b.Sheets))
	case r.Status == nest.Proved:
		b.Proved = true
		b.Text = "proved: no plan costs less"
	case gap <= 0 && over != "":
		b.Text = fmt.Sprintf("proved: no plan needs fewer than %s; %s", sheets(b.Sheets), over)
	case gap <= 0 && priced && paid == 0:
		b.Text = fmt.Sprintf("proved: no plan needs fewer than %s, and nothing is to be bought", sheets(b.Sheets))
	case gap <= 0:
		b.Text = fmt.Sprintf("proved: no plan needs fewer than %s; a cheaper mix of sheets is not ruled out", sheets(b.Sheets))
	case over != "":
		b.Text = over
	default:
		b.Text = fmt.Sprintf("at most %s above what is proved to be needed (%s)", sheets(gap), sheets(b.Sheets))
	}
	return b
}

// sheets writes a number of sheets.
func sheets(n int) string {
	if n == 1 {
		return "1 sheet"
	}
	return fmt.Sprintf("%d sheets", n)
}

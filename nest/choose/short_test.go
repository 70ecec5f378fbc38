package choose

import (
	"context"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/check"
)

// Two panels nearly as wide as the sheet fill it side by side, and keep everything else
// out: with one of them left out more area finds a place. Before, the router's search did
// not let go of what is large.
func TestShortStock(t *testing.T) {
	p := &nest.Problem{
		Cut: kerf.Router, Kerf: 8 * mm, Gap: 8*mm + mm/2,
		Parts: []nest.Part{
			part("apron", "mdf", 3, 700, 410), part("drawer", "mdf", 5, 480, 333), part("huge", "mdf", 2, 1200, 900), part("disc", "mdf", 1, 333, 333),
		},
		Stocks: []nest.Stock{stock("sheet", "mdf", 2440, 1220, 30)},
	}
	p.Stocks[0].Available = 1
	p.Stocks[0].Usable = p.Stocks[0].Usable.Inset(7*mm, 7*mm, 7*mm, 7*mm) // a margin of 12
	r, err := Plan(context.Background(), p, nest.Settings{Budget: 8})
	if err != nil {
		t.Fatal(err)
	}
	if err := check.Plan(p, r.Plan); err != nil {
		t.Fatal(err)
	}
	placed := 0.0
	for _, sh := range r.Plan.Sheets {
		for _, pl := range sh.Placements {
			placed += float64(p.Parts[pl.Part].Shape.Area2()) / 2 / float64(mm*mm)
		}
	}
	if placed <= 2*1200*900 {
		t.Errorf("%.0f mm2 placed, no more than the two huge ones: %v", placed, r.Plan.Unplaced)
	}
	// A panel that fits no sheet at all is not what the stock is short of.
	p.Parts = []nest.Part{part("table", "mdf", 1, 3000, 900), part("disc", "mdf", 1, 333, 333)}
	if r, err = Plan(context.Background(), p, nest.Settings{Budget: 2}); err != nil || r.Plan.Placed() != 1 {
		t.Errorf("%v, %v", r, err)
	}
}

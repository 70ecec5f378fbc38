package xlsx_test

import (
	"math"
	"strconv"
	"testing"

	"github.com/xuri/excelize/v2"

	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/parts"
)

// Prices by quantity, drops and totals follow a changed quantity: the workbook is
// computed by the library and compared with the bill of the job.
func TestBuying(t *testing.T) {
	job := exporttest.Bought()
	d := exporttest.Dossier(t, job, kerf.Saw)
	b := write(t, d)
	recalculated(t, open(t, b))
	if len(d.Buy) != 2 || len(d.Drops) != 1 || d.Buy[0].Spare != 1 {
		t.Fatalf("%d kinds, %d yards: the test shows nothing", len(d.Buy), len(d.Drops))
	}
	edging := d.Totals.Edging.Float()
	for quantity := 1; quantity <= 9; quantity++ {
		f := open(t, b)
		if err := f.SetCellInt("Buy", "H2", int64(quantity)); err != nil {
			t.Fatal(err)
		}
		second := d.Buy[1].Count + d.Buy[1].Spare
		// As many as are written, none of them on top.
		plain := *job
		plain.Spare = 0
		bill := plain.Bill([]parts.Wanted{{Stock: d.Buy[0].Stock, Count: quantity}, {Stock: d.Buy[1].Stock, Count: second}})
		if bill.Lines[0].Spare > 0 {
			continue // the bill buys up to a break, the user did not
		}
		for _, c := range []struct {
			cell string
			want float64
		}{
			{"J2", bill.Lines[0].Price.Float()},
			{"H4", float64(bill.Drops[0].Count)},
			{"K" + strconv.Itoa(place(t, f, "Buy", "Total")), bill.Total().Float() + edging},
		} {
			raw, err := f.CalcCellValue("Buy", c.cell, excelize.Options{RawCellValue: true})
			if got, _ := strconv.ParseFloat(raw, 64); err != nil || math.Abs(got-c.want) > 1e-6 {
				t.Errorf("%d sheets: %s is %s (%v), want %v", quantity, c.cell, raw, err, c.want)
			}
		}
	}
}

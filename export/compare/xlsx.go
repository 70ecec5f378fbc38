package compare

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"

	"github.com/xuri/excelize/v2"
)

// XLSX writes a workbook: the figures as numbers, a row an entry, and what differs.
// Names are written as text, never as formulas. The error is the writer's.
func XLSX(w io.Writer, c *Comparison) (err error) {
	f := excelize.NewFile()
	defer func() { err = errors.Join(err, f.Close()) }()
	if err := f.SetDocProps(&excelize.DocProperties{Creator: "panelyard", Title: "Comparison of variants"}); err != nil {
		return err
	}
	figures, differs := "Comparison", "Differences"
	if err := f.SetSheetName(f.GetSheetName(0), figures); err != nil {
		return err
	}
	if _, err := f.NewSheet(differs); err != nil {
		return err
	}
	b := book{file: f, sheet: figures}
	var heads []any
	for i := range columns {
		heads = append(heads, columns[i].title)
	}
	b.row(heads)
	for i := range c.Rows {
		r := &c.Rows[i]
		var cells []any
		for k := range columns {
			var v any
			if k < unplannedColumns || r.Planned() {
				v = columns[k].of(r)
			}
			cells = append(cells, v)
		}
		b.row(cells)
	}
	b.row(nil)
	b.row([]any{nil, c.Advice})
	for _, s := range c.Same {
		b.row([]any{nil, s})
	}
	b.row([]any{nil, fmt.Sprintf("All planned under the same conditions: %s, seed %d.", c.Budget, c.Seed)})
	b.look(len(columns), 14)

	b.sheet, b.at = differs, 0
	b.row([]any{"Variant", "What differs from the job as written"})
	for _, x := range c.Changes {
		for _, what := range x.What {
			b.row([]any{x.Name, what})
		}
	}
	b.look(2, 40)
	if b.err != nil {
		return b.err
	}
	var out bytes.Buffer
	if _, err := f.WriteTo(&out); err != nil {
		return err
	}
	_, err = w.Write(out.Bytes())
	return err
}

// unplannedColumns is how many columns an entry without a plan has.
const unplannedColumns = 5

// columns are those of the figures.
var columns = []struct {
	title string
	of    func(r *Row) any
}{
	{"No.", func(r *Row) any { return r.Key }},
	{"Variant", func(r *Row) any { return r.Name }},
	{"Cut", func(r *Row) any { return r.Cut.String() }},
	{"File", func(r *Row) any { return r.File }},
	{"No plan because", func(r *Row) any { return r.Reason }},
	{"Sheets", func(r *Row) any { return r.Sheets }},
	{"Sheets by kind", func(r *Row) any { return r.List() }},
	{"Currency", func(r *Row) any { return r.Currency }},
	{"Cost", func(r *Row) any { return priced(r, r.Cost.Float()) }},
	{"Board", func(r *Row) any { return priced(r, r.Board.Float()) }},
	{"Board in panels", func(r *Row) any { return priced(r, r.Split.Panels.Float()) }},
	{"Board in kept offcuts", func(r *Row) any { return priced(r, r.Split.Kept.Float()) }},
	{"Board wasted", func(r *Row) any { return priced(r, r.Split.Waste.Float()) }},
	{"Spare sheets", func(r *Row) any { return priced(r, r.Spare.Float()) }},
	{"Delivery", func(r *Row) any { return priced(r, r.Delivery.Float()) }},
	{"Edge band", func(r *Row) any { return priced(r, r.Edging.Float()) }},
	{"Cost per m2 of panel", func(r *Row) any { return priced(r, r.CostM2) }},
	{"Board (m2)", func(r *Row) any { return r.Areas.Sheet / 1e6 }},
	{"Panels (m2)", func(r *Row) any { return r.Areas.Panels / 1e6 }},
	{"Yield (%)", func(r *Row) any { return 100 * r.Yield }},
	{"Kept offcuts (%)", func(r *Row) any { return 100 * r.Kept }},
	{"Waste (%)", func(r *Row) any { return 100 * r.Waste }},
	{"Waste on top of what is of use (%)", func(r *Row) any { return 100 * r.AddOn }},
	{"Least board", func(r *Row) any { return r.Bound.Text }},
	{"Panels", func(r *Row) any { return r.Panels }},
	{"Panels without a place", func(r *Row) any { return r.Missing }},
	{"Mass of panels (kg)", func(r *Row) any {
		if r.MassKG == 0 {
			return nil
		}
		return r.MassKG
	}},
	{"Cut length (m)", func(r *Row) any { return r.Cuts.MM() / 1000 }},
	{"Fence settings", func(r *Row) any {
		if !r.sawn() {
			return nil
		}
		return r.Fences
	}},
	{"Router time (min)", func(r *Row) any {
		if r.sawn() || r.Time == 0 {
			return nil
		}
		return r.Time.Minutes()
	}},
}

// priced leaves an amount out where something has no price.
func priced(r *Row, v float64) any {
	if !r.Priced {
		return nil
	}
	return v
}

// book fills worksheets row by row and keeps the first error.
type book struct {
	file  *excelize.File
	sheet string
	at    int // rows written
	err   error
}

// row writes the next row: text as text, integers as they are, and other numbers with four
// decimals, as many as money has.
func (b *book) row(cells []any) {
	b.at++
	for i, v := range cells {
		name, err := excelize.CoordinatesToCellName(i+1, b.at)
		if err == nil {
			switch v := v.(type) {
			case string:
				err = b.file.SetCellStr(b.sheet, name, v)
			case float64:
				err = b.file.SetCellFloat(b.sheet, name, math.Round(v*1e4)/1e4, -1, 64)
			case int:
				err = b.file.SetCellInt(b.sheet, name, int64(v))
			}
		}
		b.err = errors.Join(b.err, err)
	}
}

// look gives a worksheet a heading row that stays and columns of a width, in letters.
func (b *book) look(columns int, wide float64) {
	bold, err := b.file.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}, Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}})
	last, nameErr := excelize.ColumnNumberToName(columns)
	yes, landscape, a4, one, many := true, "landscape", 9, 1, 0
	b.err = errors.Join(
		b.err, err, nameErr,
		b.file.SetCellStyle(b.sheet, "A1", last+"1", bold),
		b.file.SetColWidth(b.sheet, "A", last, wide),
		b.file.SetPanes(b.sheet, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}),
		b.file.SetSheetProps(b.sheet, &excelize.SheetPropsOptions{FitToPage: &yes}),
		b.file.SetPageLayout(b.sheet, &excelize.PageLayoutOptions{Orientation: &landscape, Size: &a4, FitToWidth: &one, FitToHeight: &many}),
	)
}

package xlsx_test

import (
	"bytes"
	"context"
	"fmt"
	"testing"

	"github.com/xuri/excelize/v2"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/export/xlsx"
	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/check"
	"panelyard/nest/choose"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/money"
	"panelyard/parts/outline"
)

const mm = length.Millimetre

// write returns the workbook of d.
func write(t *testing.T, d *export.Dossier) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := xlsx.Write(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// open reads a workbook.
func open(t *testing.T, b []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// sheet is a worksheet read back: rows of raw values by the titles of row 1.
type sheet struct {
	t      *testing.T
	name   string
	titles []string
	rows   [][]string
}

func read(t *testing.T, f *excelize.File, name string) *sheet {
	t.Helper()
	rows, err := f.GetRows(name, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) == 0 {
		t.Fatalf("worksheet %s is empty", name)
	}
	return &sheet{t, name, rows[0], rows[1:]}
}

// at returns the raw value in a row (from 0, without titles) under a title.
func (s *sheet) at(row int, title string) string {
	s.t.Helper()
	for i, x := range s.titles {
		if x == title {
			if row < len(s.rows) && i < len(s.rows[row]) {
				return s.rows[row][i]
			}
			return ""
		}
	}
	s.t.Fatalf("worksheet %s has no column %q: %q", s.name, title, s.titles)
	return ""
}

// find returns the raw value in the second column beside a text in the first.
func (s *sheet) find(label string) string {
	s.t.Helper()
	for _, r := range s.rows {
		if len(r) > 1 && r[0] == label {
			return r[1]
		}
	}
	s.t.Fatalf("worksheet %s has no line %q", s.name, label)
	return ""
}

// rack is a job with a kept offcut, a stock without a price and one with a price
// of four decimals.
func rack() *parts.Job {
	j := exporttest.Job()
	trim := j.Stock[0].Trim
	j.Panels[3].Quantity = 7 // one more than a sheet has room for
	j.Stock = append(j.Stock, parts.Stock{
		Name: "rack 7", Material: "birch 18", Length: 800 * mm, Width: 500 * mm, Grain: parts.AlongLength,
		Available: 1, Offcut: true,
	})
	j.Materials = append(j.Materials, parts.Material{Name: "poplar 10", Nominal: 10 * mm, Measured: 10 * mm, GoodFaces: 2})
	j.Stock = append(j.Stock, parts.Stock{
		Name: "poplar 2500 x 1220", Material: "poplar 10", Length: 2500 * mm, Width: 1220 * mm, Available: parts.Unlimited, Trim: trim,
	})
	j.Stock[1].Price, j.Stock[1].Priced = money.Amount(93125), true // 9.3125
	o := outline.Rectangle(500*mm, 300*mm)
	j.Panels = append(j.Panels, parts.Panel{Name: "tray", Quantity: 4, Material: "poplar 10", Outline: o, Edging: make([]string, 4)})
	return j
}

// short is a job whose birch runs out.
func short(t *testing.T) *export.Dossier {
	t.Helper()
	j := exporttest.Job()
	j.Stock[0].Available = 0
	d, list := kerf.Build(j, kerf.Saw)
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	p := nest.FromDemand(d)
	r, err := choose.Plan(context.Background(), p, nest.Settings{Budget: 1})
	if err != nil {
		t.Fatal(err)
	}
	return export.New(d, p, r, 0)
}

// large is a hand-made plan: 25 panels of 90 x 500 in a row on each sheet, every
// panel of its own kind.
func large(t *testing.T, sheets int) *export.Dossier {
	t.Helper()
	const row = 25
	j := exporttest.Job()
	j.Stock = j.Stock[:1]
	j.Stock[0].Trim = parts.Trim{}
	j.Panels = nil
	for i := range sheets * row {
		j.Panels = append(j.Panels, parts.Panel{
			Name: fmt.Sprintf("slat %d", i+1), Quantity: 1, Material: "birch 18",
			Outline: outline.Rectangle(90*mm, 500*mm), Edging: make([]string, 4),
		})
	}
	d, list := kerf.Build(j, kerf.Saw)
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	p := nest.FromDemand(d)
	plan := &nest.Plan{}
	st, half := &j.Stock[0], d.Kerf/2
	for i := range sheets {
		s := nest.Sheet{Cuts: []nest.Cut{{From: geom.Pt(0, 500*mm+half), To: geom.Pt(st.Length, 500*mm+half), Fence: 500 * mm}}}
		for k := range row {
			x := length.Length(k) * (90*mm + d.Kerf)
			s.Placements = append(s.Placements, nest.Placement{Part: i*row + k, Copy: 1, At: geom.Pt(x, 0)})
			s.Cuts = append(s.Cuts, nest.Cut{
				From: geom.Pt(x+90*mm+half, 0), To: geom.Pt(x+90*mm+half, 500*mm), Fence: 90 * mm,
			})
		}
		plan.Sheets = append(plan.Sheets, s)
	}
	if err := check.Plan(p, plan); err != nil {
		t.Fatal(err)
	}
	return export.New(d, p, &nest.Result{Plan: plan, Bound: nest.Bound{Sheets: 1, Method: "area"}}, 1)
}

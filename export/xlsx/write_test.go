package xlsx_test

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/export/xlsx"
	"panelyard/kerf"
	"panelyard/parts/length"
)

// number parses a raw value; an empty cell is 0.
func number(t *testing.T, s string) float64 {
	t.Helper()
	if s == "" {
		return 0
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// The cut list read back is the dossier's; lengths to the last digit.
func TestPanels(t *testing.T) {
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		d := exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), cut)
		s := read(t, open(t, write(t, d)), "Panels")
		if s.at(len(d.Panels), "Panel") != "Total (rows shown)" {
			t.Fatalf("%v: the total does not follow %d rows: %q", cut, len(d.Panels), s.rows[len(d.Panels)])
		}
		for i := range d.Panels {
			p := &d.Panels[i]
			for title, want := range map[string]string{
				"No. on map": p.Key, "Panel": p.Name, "Hand": p.Hand.String(), "Qty": strconv.Itoa(p.Copies),
				"Material": p.Material, "Thick (mm)": p.Thickness.Decimal(),
				"Finished length (mm)": p.Finished.X.Decimal(), "Finished width (mm)": p.Finished.Y.Decimal(),
				"Cut length (mm)": p.Cut.X.Decimal(), "Cut width (mm)": p.Cut.Y.Decimal(),
				"Note": p.Note,
			} {
				if got := s.at(i, title); got != want {
					t.Errorf("%v, %q, %s: %q, want %q", cut, p.Name, title, got, want)
				}
			}
			if got := s.at(i, "Shape") == "shaped"; got != p.Shaped {
				t.Errorf("%v, %q: shaped %v, want %v", cut, p.Name, got, p.Shaped)
			}
			if cut == kerf.Saw {
				got := [2]string{s.at(i, "Blank length (mm)"), s.at(i, "Blank width (mm)")}
				if want := [2]string{p.Blank.X.Decimal(), p.Blank.Y.Decimal()}; got != want {
					t.Errorf("%q: blank %q, want %q", p.Name, got, want)
				}
			} else if slices.Contains(s.titles, "Blank length (mm)") {
				t.Error("a router has no blanks")
			}
			for title, want := range map[string]float64{
				"Openings": float64(p.Openings), "Area each (m²)": p.AreaMM2 / 1e6, "Mass each (kg)": p.MassKG,
				"Area all (m²)": p.AreaMM2 / 1e6 * float64(p.Copies), "Mass all (kg)": p.MassKG * float64(p.Copies),
			} {
				if got := number(t, s.at(i, title)); math.Abs(got-want) > 1e-9 {
					t.Errorf("%v, %q, %s: %v, want %v", cut, p.Name, title, got, want)
				}
			}
		}
	}
}

// The words of a plain job, as a person would check them.
func TestWords(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Saw)
	s := read(t, open(t, write(t, d)), "Panels")
	for _, c := range []struct {
		row         int
		title, want string
	}{
		{0, "Hand", "left"},
		{1, "Hand", "right"},
		{0, "Grain along", "length"},
		{2, "Grain along", "width"},
		{4, "Grain along", "either"},
		{0, "Shape", "shaped"},
		{2, "Shape", ""},
		{0, "Face", "good"},
		{4, "Face", "either"},
		{3, "Edging", "bottom: oak 1"},
		{3, "Cut width (mm)", "279"}, // 280 less 1 mm of band
		{2, "Edging", ""},
		{5, "Panel", "Total (rows shown)"},
		{5, "Qty", "7"},
	} {
		if got := s.at(c.row, c.title); got != c.want {
			t.Errorf("row %d, %s: %q, want %q", c.row+1, c.title, got, c.want)
		}
	}
}

func TestBuy(t *testing.T) {
	d := exporttest.Dossier(t, rack(), kerf.Saw)
	s := read(t, open(t, write(t, d)), "Buy")
	kinds := map[string]int{}
	for i := range d.Buy {
		b := &d.Buy[i]
		kinds[s.at(i, "Kind")]++
		wantPrice := ""
		if b.Stock.Priced || b.Stock.Offcut {
			wantPrice = strconv.FormatFloat(b.Stock.Price.Float(), 'f', -1, 64)
		}
		for title, want := range map[string]string{
			"Item": b.Stock.Name, "Material": b.Stock.Material, "Quantity": strconv.Itoa(b.Count), "Unit": "sheet",
			"Length (mm)": b.Stock.Length.Decimal(), "Width (mm)": b.Stock.Width.Decimal(),
			"Price a unit (EUR)": wantPrice, "Cost (EUR)": strconv.FormatFloat(b.Cost.Float(), 'f', -1, 64),
		} {
			if got := s.at(i, title); got != want {
				t.Errorf("%s, %s: %q, want %q", b.Stock.Name, title, got, want)
			}
		}
		if missing := strings.Contains(s.at(i, "Remark"), "no price given"); missing == (b.Stock.Priced || b.Stock.Offcut) {
			t.Errorf("%s: remark %q", b.Stock.Name, s.at(i, "Remark"))
		}
	}
	if kinds["kept offcut"] != 1 || kinds["sheet"] < 2 {
		t.Errorf("kinds %v: the job has an offcut on the rack and sheets to buy", kinds)
	}
	for i := range d.Bands {
		b := &d.Bands[i]
		row := len(d.Buy) + i
		if got := s.at(row, "Quantity"); s.at(row, "Kind") != "edge band" || number(t, got) != float64(b.Length)/float64(length.Metre) {
			t.Errorf("%s: %s of %q, want %v", b.Band.Name, got, s.at(row, "Kind"), b.Length)
		}
	}
}

func TestCutsAndOffcuts(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Saw)
	f := open(t, write(t, d))
	s, row, freed := read(t, f, "Cuts"), 0, ""
	for i := range d.Sheets {
		m := &d.Sheets[i]
		for k := range m.Cuts {
			c := &m.Cuts[k]
			set, edge := c.Fence, m.Steps[k].Edge
			if m.Steps[k].Kind == export.Square { // what is trimmed off, from the edge that is squared
				set, edge = 5*mm, map[string]string{"left": "right", "right": "left", "bottom": "top", "top": "bottom"}[edge]
			}
			for title, want := range map[string]string{
				"Sheet": m.ID, "Cut": strconv.Itoa(k + 1), "Set to (mm)": set.Decimal(), "Kind": m.Steps[k].Kind.String(),
				"From the edge": edge, "Kerf": m.Steps[k].Kerf, "Length of cut (mm)": m.Steps[k].Long().Decimal(),
				"From x (mm)": c.From.X.Decimal(), "From y (mm)": c.From.Y.Decimal(),
				"To x (mm)": c.To.X.Decimal(), "To y (mm)": c.To.Y.Decimal(),
			} {
				if got := s.at(row, title); got != want {
					t.Errorf("%s, cut %d, %s: %q, want %q", m.ID, k+1, title, got, want)
				}
			}
			if (s.at(row, "Set anew") == "yes") != m.Steps[k].Reset {
				t.Errorf("%s, cut %d: set anew %q", m.ID, k+1, s.at(row, "Set anew"))
			}
			freed += s.at(row, "Frees") + "; "
			row++
		}
	}
	for _, p := range []string{"1 side-left", "2 side-right", "3 front", "4 shelf (copy 1)", "4 shelf (copy 2)", "4 shelf (copy 3)", "5 back"} {
		if strings.Count(freed, p+";") != 1 {
			t.Errorf("%q comes free other than once in %q", p, freed)
		}
	}
	o, row := read(t, f, "Offcuts"), 0
	for i := range d.Sheets {
		for _, x := range d.Sheets[i].Offcuts {
			want := []string{d.Sheets[i].ID, x.Box.Dx().Decimal(), x.Box.Dy().Decimal(), map[bool]string{true: "yes", false: "no"}[x.Keep]}
			if got := []string{o.at(row, "Sheet"), o.at(row, "Length (mm)"), o.at(row, "Width (mm)"), o.at(row, "Keep")}; !slices.Equal(got, want) {
				t.Errorf("offcut %d: %q, want %q", row+1, got, want)
			}
			row++
		}
	}
	if row == 0 {
		t.Error("no offcuts: the test shows nothing about them")
	}
	if slices.Contains(f.GetSheetList(), "Paths") {
		t.Error("a saw has no paths to list")
	}
}

func TestSummary(t *testing.T) {
	d := exporttest.Dossier(t, rack(), kerf.Saw)
	d.Variant = "tall"
	s := read(t, open(t, write(t, d)), "Summary")
	x := &d.Totals
	for label, want := range map[string]float64{
		"Panels placed": float64(x.Panels), "Sheets cut": float64(x.Sheets), "Least number of sheets": float64(d.Bound.Sheets),
		"Mass of the panels (kg)": x.MassKG, "Length of all cuts (m)": float64(x.CutLength) / float64(length.Metre),
		"Sheets to buy": float64(x.Sheets - 1), "Kept offcuts from the rack": 1,
		"Cost of sheets (EUR)": x.Board.Float(), "Cost of edge band (EUR)": x.Edging.Float(), "Total cost (EUR)": x.Cost.Float(),
		"Panels (the yield)": x.Areas.Panels / 1e6, "Kerf and trim": x.Areas.KerfTrim / 1e6,
		"Offcuts to keep": x.Areas.Kept / 1e6, "Waste": x.Areas.Waste / 1e6, "Sheets": x.Areas.Sheet / 1e6,
	} {
		if got := number(t, s.find(label)); math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %v, want %v", label, got, want)
		}
	}
	if s.find("Variant") != "tall" {
		t.Errorf("variant %q", s.find("Variant"))
	}
	all := fmt.Sprint(s.rows)
	for _, c := range d.Cautions {
		if !strings.Contains(all, c.Text[1:]) || !strings.Contains(all, c.Source) {
			t.Errorf("the caution about %q or its source is missing", c.Topic)
		}
	}
	if !strings.Contains(all, d.Bound.Text[1:]) || !strings.Contains(all, "some sheets have no price") {
		t.Error("the bound's sentence, or that a price is missing, is not said")
	}
}

// Names stay text: no cell but ours has a formula.
func TestNastyNames(t *testing.T) {
	names := append([]string{"_x0041_", "  spaced  ", "bell \a", "'=1+1", "#REF!", "TRUE", "007", "1e5"}, exporttest.Nasty...)
	job := exporttest.Job(names...)
	job.Name = "=1+1 & Co, " + strings.Repeat("&", 300)
	d := exporttest.Dossier(t, job, kerf.Saw)
	f := open(t, write(t, d))
	s := read(t, f, "Panels")
	for i := range d.Panels {
		// XML has no place for control characters: they become U+FFFD.
		want := strings.ReplaceAll(d.Panels[i].Name, "\a", "\uFFFD")
		if got := s.at(i, "Panel"); got != want {
			t.Errorf("%q reads %q", want, got)
		}
		ref := fmt.Sprintf("B%d", i+2)
		kind, err := f.GetCellType("Panels", ref)
		if formula, e := f.GetCellFormula("Panels", ref); e != nil || err != nil || formula != "" || kind != excelize.CellTypeInlineString {
			t.Errorf("%q is of type %v with formula %q (%v, %v)", want, kind, formula, err, e)
		}
	}
	// Nor do names of other things, or notes, on any worksheet become formulas: those of
	// the workbook have numbers.
	for _, name := range names {
		job := fitted(names...)
		job.Note, job.Currency = name, ""
		job.Components[0].Name, job.Components[0].Note, job.Components[1].Name = name, name, name+" spare"
		for i := range job.Panels[2].Openings {
			if o := &job.Panels[2].Openings[i]; o.Component != "" {
				o.Component = name
			} else {
				o.Name = name
			}
		}
		job.Bands[0].Name, job.Panels[3].Edging[0] = name, name
		job.Materials[0].Name, job.Stock[0].Name, job.Stock[0].Material = name, name, name
		for i := range job.Panels {
			if job.Panels[i].Material == "birch 18" {
				job.Panels[i].Material = name
			}
		}
		formulas(t, open(t, write(t, exporttest.Dossier(t, job, kerf.Saw)))) // an error for each without a number
	}
}

// Nothing to cut, and nothing to cut it from, still give a workbook.
func TestEmpty(t *testing.T) {
	j := exporttest.Job()
	j.Panels = nil
	d := exporttest.Dossier(t, j, kerf.Saw)
	f := open(t, write(t, d))
	if got := read(t, f, "Summary").find("Total cost (EUR)"); number(t, got) != 0 {
		t.Errorf("nothing costs %s", got)
	}
	for _, name := range []string{"Panels", "Buy", "Hardware", "Maps", "Cuts", "Offcuts"} {
		read(t, f, name)
	}
	recalculated(t, f)
}

func TestUnplaced(t *testing.T) {
	d := short(t)
	f := open(t, write(t, d))
	s := read(t, f, "Summary")
	all := fmt.Sprint(s.rows)
	for _, u := range d.Unplaced {
		if got := s.find(u.Row.Key + " " + u.Row.Name); got != strconv.Itoa(u.Copies) {
			t.Errorf("%s: %s copies unplaced, want %d", u.Row.Name, got, u.Copies)
		}
		if !strings.Contains(all, u.Reason[1:]) {
			t.Errorf("the reason %q is missing", u.Reason)
		}
	}
	if !strings.Contains(all, "NOT PLACED: 6, see above") {
		t.Error("the summary does not begin with what has no place")
	}
	if got := read(t, f, "Panels").at(3, "On sheets"); got != "NOT PLACED (3)" {
		t.Errorf("three shelves without a place are on %q", got)
	}
	// It stands out without colour: bold on grey, whereas the others are plain.
	for row, want := range map[int]bool{5: true, 6: false} {
		id, err := f.GetCellStyle("Panels", fmt.Sprintf("B%d", row))
		if err != nil {
			t.Fatal(err)
		}
		style, err := f.GetStyle(id)
		if err != nil {
			t.Fatal(err)
		}
		if got := style.Font.Bold && style.Fill.Pattern == 1; got != want {
			t.Errorf("row %d stands out: %v, want %v", row, got, want)
		}
	}
	recalculated(t, f)
}

// Page, titles and filters.
func TestPrintSetup(t *testing.T) {
	f := open(t, write(t, exporttest.Dossier(t, exporttest.Job(), kerf.Saw)))
	titles, areas := map[string]bool{}, map[string]string{}
	for _, n := range f.GetDefinedName() {
		switch n.Name {
		case "_xlnm.Print_Titles":
			titles[n.Scope] = true
		case "_xlnm.Print_Area":
			areas[n.Scope] = n.RefersTo
		}
	}
	for _, name := range f.GetSheetList() {
		l, err := f.GetPageLayout(name)
		if err != nil {
			t.Fatal(err)
		}
		p, err := f.GetSheetProps(name)
		if err != nil {
			t.Fatal(err)
		}
		if *l.Size != 9 || *l.Orientation != "landscape" || *l.FitToWidth != 1 || *l.FitToHeight != 0 || p.FitToPage == nil || !*p.FitToPage {
			t.Errorf("%s: page %+v", name, l)
		}
		if !strings.HasPrefix(areas[name], "'"+name+"'!$A$1:$") {
			t.Errorf("%s: print area %q", name, areas[name])
		}
		if name == "Summary" || name == "Maps" {
			continue
		}
		panes, err := f.GetPanes(name)
		if err != nil {
			t.Fatal(err)
		}
		if !titles[name] || !panes.Freeze || panes.YSplit != 1 {
			t.Errorf("%s: titles repeat %v, panes %+v", name, titles[name], panes)
		}
	}
	xml := part(t, write(t, exporttest.Dossier(t, exporttest.Job(), kerf.Saw)), "xl/worksheets/sheet2.xml")
	if !strings.Contains(xml, `<autoFilter ref="$A$1:$W$6"`) && !strings.Contains(xml, `<autoFilter ref="A1:W6"`) {
		t.Error("the cut list has no filter over its five panels")
	}
}

// part returns a part of a workbook.
func part(t *testing.T, b []byte, name string) string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	r, err := z.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	var out bytes.Buffer
	if _, err := out.ReadFrom(r); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// Same dossier, same bytes. The library keeps worksheets in a map, whose order
// would show within a few runs.
func TestSameBytes(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), kerf.Saw)
	first := write(t, d)
	for range 20 {
		if !bytes.Equal(first, write(t, d)) {
			t.Fatal("two runs differ")
		}
	}
	if year := fmt.Sprint(time.Now().Year()); strings.Contains(part(t, first, "docProps/core.xml"), year) {
		t.Error("the file holds today's date")
	}
}

func TestWriterFails(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Saw)
	whole := len(write(t, d))
	for n := 0; n < whole; n += max(1, min(whole/20, whole-1-n)) {
		if err := xlsx.Write(&exporttest.Failing{Left: n}, d); !errors.Is(err, exporttest.ErrFull) {
			t.Errorf("a disk full after %d of %d bytes gave %v", n, whole, err)
		}
	}
	if err := xlsx.Write(&exporttest.Failing{Left: whole}, d); err != nil {
		t.Errorf("room for all bytes gave %v", err)
	}
}

// A job of 5,000 panels on 200 sheets is written within seconds.
func TestLarge(t *testing.T) {
	d := large(t, 200)
	start := time.Now()
	b := write(t, d)
	t.Logf("%d panels, %d sheets: %v, %d bytes", len(d.Panels), len(d.Sheets), time.Since(start).Round(time.Millisecond), len(b))
	if took := time.Since(start); took > 10*time.Second {
		t.Errorf("writing took %v", took)
	}
	f := open(t, b)
	if s := read(t, f, "Panels"); s.at(5000, "Qty") != "5000" || s.at(4999, "On sheets") != "S200" {
		t.Errorf("total %s, last panel on %s", s.at(5000, "Qty"), s.at(4999, "On sheets"))
	}
	if s := read(t, f, "Cuts"); s.at(200*26-1, "Frees") != "5000 slat 5000" {
		t.Errorf("the last cut frees %q", s.at(200*26-1, "Frees"))
	}
}

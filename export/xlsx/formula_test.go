package xlsx_test

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/partstest"
)

// formulas returns the value that each formula of a workbook carries, by
// worksheet and cell.
func formulas(t *testing.T, f *excelize.File) map[[2]string]float64 {
	t.Helper()
	all := map[[2]string]float64{}
	for _, name := range f.GetSheetList() {
		rows, err := f.GetRows(name)
		if err != nil {
			t.Fatal(err)
		}
		for r, row := range rows {
			for c := range row {
				ref, err := excelize.CoordinatesToCellName(c+1, r+1)
				if err != nil {
					t.Fatal(err)
				}
				formula, err := f.GetCellFormula(name, ref)
				if err != nil {
					t.Fatal(err)
				}
				if formula == "" {
					continue
				}
				raw, err := f.GetCellValue(name, ref, excelize.Options{RawCellValue: true})
				if err != nil {
					t.Fatal(err)
				}
				v, err := strconv.ParseFloat(raw, 64)
				if err != nil {
					t.Errorf("%s!%s = %s carries %q, which is no number", name, ref, formula, raw)
				}
				all[[2]string{name, ref}] = v
			}
		}
	}
	return all
}

// recalculated compares what each formula carries, the dossier's figure, with
// what the library computes, and returns how many there are.
func recalculated(t *testing.T, f *excelize.File) int {
	t.Helper()
	all := formulas(t, f)
	for at, want := range all {
		raw, err := f.CalcCellValue(at[0], at[1], excelize.Options{RawCellValue: true})
		if err != nil {
			t.Errorf("%s!%s: %v", at[0], at[1], err)
			continue
		}
		if got, err := strconv.ParseFloat(raw, 64); err != nil || math.Abs(got-want) > 1e-6 {
			t.Errorf("%s!%s carries %v, its formula gives %s", at[0], at[1], want, raw)
		}
	}
	return len(all)
}

func TestFormulas(t *testing.T) {
	for _, d := range []*export.Dossier{
		exporttest.Dossier(t, exporttest.Job(), kerf.Saw),
		exporttest.Dossier(t, exporttest.Job(), kerf.Router),
		exporttest.Dossier(t, rack(), kerf.Saw),
		exporttest.Dossier(t, bentJob(t), kerf.Router),
		exporttest.Dossier(t, exporttest.Stands(), kerf.Saw),
	} {
		// Two a panel with a mass, three totals, a cost a row of Buy, its five sums and
		// the price of kept offcuts, on the summary five costs, sheets and shares.
		n, masses := recalculated(t, open(t, write(t, d))), 0
		for i := range d.Panels {
			if d.Panels[i].MassKG > 0 {
				masses++
			}
		}
		if n < len(d.Panels)+masses+3+len(d.Buy)+len(d.Bands)+6+5+1+6-1 {
			t.Errorf("only %d formulas", n)
		}
	}
}

// edited is a workbook in which a user has doubled the price in the first row of
// Buy, bought three sheets of the second, credits kept offcuts with 25 %, has thrown the
// first of them away, and pays 12.34 each for 3 things that the job does not know. The
// values the formulas carry are taken out, so that a program has to compute them. With
// it comes the total that must result, worked out from the dossier.
func edited(t *testing.T, d *export.Dossier, b []byte) (*excelize.File, float64) {
	t.Helper()
	f := open(t, b)
	total := 2*d.Buy[0].Stock.Price.Float()*float64(d.Buy[0].Count) + 3*d.Buy[1].Stock.Price.Float() + 3*12.34
	for _, r := range d.Buy[2:] {
		total += r.Cost.Float()
	}
	for _, r := range d.Bands {
		total += math.Round(r.Length.MM()/1000*r.Band.Price.Float()*100) / 100
	}
	kept, row, thrown := 0.0, 2, ""
	for i := range d.Sheets {
		m := &d.Sheets[i]
		price := m.Stock.Price.Float()
		if m.Stock == d.Buy[0].Stock {
			price *= 2
		}
		for _, o := range m.Offcuts {
			switch {
			case o.Keep && thrown == "":
				thrown = "G" + strconv.Itoa(row)
			case o.Keep:
				kept += math.Round(price*o.Box.Dx().MM()*o.Box.Dy().MM()/(m.Stock.Length.MM()*m.Stock.Width.MM())*100) / 100
			}
			row++
		}
	}
	if kept == 0 {
		t.Fatal("nothing is kept: the test shows nothing")
	}
	total -= math.Round(kept*25) / 100
	credit, spare := place(t, f, "Buy", "Credit for kept offcuts"), place(t, f, "Hardware", "Total of bought-in parts")-1
	for _, e := range []error{
		f.SetCellFloat("Buy", "J2", 2*d.Buy[0].Stock.Price.Float(), -1, 64), f.SetCellInt("Buy", "H3", 3),
		f.SetCellFloat("Buy", "H"+strconv.Itoa(credit), 0.25, -1, 64), f.SetCellStr("Offcuts", thrown, "no"),
		f.SetCellInt("Hardware", "C"+strconv.Itoa(spare), 3), f.SetCellFloat("Hardware", "N"+strconv.Itoa(spare), 12.34, -1, 64),
		f.UpdateLinkedValue(),
	} {
		if e != nil {
			t.Fatal(e)
		}
	}
	return f, total
}

// place returns the row of a worksheet that begins with a text.
func place(t *testing.T, f *excelize.File, name, label string) int {
	t.Helper()
	rows, err := f.GetRows(name)
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range rows {
		if len(r) > 0 && strings.HasPrefix(r[0], label) {
			return i + 1
		}
	}
	t.Fatalf("worksheet %s has no row %q", name, label)
	return 0
}

// Costs follow a changed price, quantity and credit, on all worksheets.
func TestFollows(t *testing.T) {
	for _, job := range []*parts.Job{exporttest.Job(), rack()} {
		d := exporttest.Dossier(t, job, kerf.Saw)
		f, want := edited(t, d, write(t, d))
		raw, err := f.CalcCellValue("Summary", "B"+strconv.Itoa(place(t, f, "Summary", "Total cost")), excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		if got := number(t, raw); math.Abs(got-want) > 1e-6 {
			t.Errorf("total cost %v after the change, want %v", got, want)
		}
	}
}

// The waste credit is nothing as it comes, is a share, and its cell refuses what is none.
func TestCredit(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Saw)
	f := open(t, write(t, d))
	cell := "H" + strconv.Itoa(place(t, f, "Buy", "Credit for kept offcuts"))
	if got, err := f.GetCellValue("Buy", cell); err != nil || got != "0%" {
		t.Errorf("the credit is %q (%v) as it comes", got, err)
	}
	checks, err := f.GetDataValidations("Buy")
	if err != nil {
		t.Fatal(err)
	}
	if len(checks) != 1 || checks[0].Sqref != cell || checks[0].Formula1 != "0" || checks[0].Formula2 != "1" {
		t.Errorf("the cell %s is checked by %+v", cell, checks)
	}
}

// LibreOffice computes the dossier's figures from the formulas alone, and follows
// a changed price. Its PDF shows every name and figure: nothing is cut off.
func TestLibreOffice(t *testing.T) {
	soffice, err := exec.LookPath("soffice")
	partstest.Need(t, "LibreOffice", err)
	pdftotext, err := exec.LookPath("pdftotext")
	partstest.Need(t, "pdftotext", err)

	dir := t.TempDir()
	run := func(args ...string) {
		t.Helper()
		args = append([]string{"-env:UserInstallation=file://" + filepath.ToSlash(filepath.Join(dir, "profile")), "--headless"}, args...)
		if out, err := exec.Command(soffice, args...).CombinedOutput(); err != nil {
			t.Fatalf("soffice: %v\n%s", err, out)
		}
	}
	job := exporttest.Job("a name of many words that does not fit on one line of its column", "unbroken-"+strings.Repeat("x", 60))
	job.Panels[4].Note = "one line\nand another one"
	d := exporttest.Dossier(t, job, kerf.Saw)
	whole := write(t, d)
	bare := open(t, whole)
	want := formulas(t, bare)
	if err := bare.UpdateLinkedValue(); err != nil {
		t.Fatal(err)
	}
	changed, editedTotal := edited(t, d, whole)
	for name, f := range map[string]*excelize.File{"bare.xlsx": bare, "changed.xlsx": changed} {
		if err := f.SaveAs(filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "whole.xlsx"), whole, 0o600); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(dir, "out")
	run("--convert-to", "xlsx", "--outdir", out, filepath.Join(dir, "bare.xlsx"), filepath.Join(dir, "changed.xlsx"))
	run("--convert-to", "pdf", "--outdir", out, filepath.Join(dir, "whole.xlsx"))

	got := formulas(t, file(t, filepath.Join(out, "bare.xlsx")))
	for at, w := range want {
		if g, ok := got[at]; !ok || math.Abs(g-w) > 1e-6 {
			t.Errorf("%s!%s: LibreOffice finds %v (%v), the dossier says %v", at[0], at[1], g, ok, w)
		}
	}
	s := read(t, file(t, filepath.Join(out, "changed.xlsx")), "Summary")
	if v := number(t, s.find("Total cost (EUR)")); math.Abs(v-editedTotal) > 1e-6 {
		t.Errorf("total cost %v after the change, want %v", v, editedTotal)
	}

	text, err := exec.Command(pdftotext, "-layout", filepath.Join(out, "whole.pdf"), "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	flat := strings.Join(strings.Fields(string(text)), " ")
	if strings.Contains(flat, "###") {
		t.Error("a number does not fit its column")
	}
	for i := range d.Sheets {
		for _, c := range d.Sheets[i].Steps {
			if c.Kind != export.Square && !strings.Contains(flat, c.Fence.Fixed(1)) {
				t.Errorf("fence setting %v is not in the print", c.Fence)
			}
		}
	}
	if n := bytes.Count(text, []byte("x")); n < 5*60 {
		t.Errorf("a long name is cut off: %d of the 60 letters it has in Panel, Note and Frees, and on Sizes and Hardware, are printed", n)
	}
	if !strings.Contains(flat, "27 9/16") {
		t.Error("the length of the front, 700 mm, is not printed as 27 9/16 in")
	}
	// A cut to square an edge: 5 mm of trim come off.
	if !strings.Contains(flat, "5.0 off") {
		t.Error("what comes off an edge that is squared is not printed")
	}
}

func file(t *testing.T, path string) *excelize.File {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return open(t, b)
}

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
	} {
		// Two a panel with a mass, three totals, a cost a row of Buy, its three
		// sums, and on the summary three costs, sheets and shares.
		if n := recalculated(t, open(t, write(t, d))); n < 2*len(d.Panels)+3+len(d.Buy)+len(d.Bands)+3+3+1+6-1 {
			t.Errorf("only %d formulas", n)
		}
	}
}

// edited is a workbook in which a user has doubled the price in the first row of
// Buy, and bought three sheets of the second. The values the formulas carry are
// taken out, so that a program has to compute them.
func edited(t *testing.T, b []byte) *excelize.File {
	t.Helper()
	f := open(t, b)
	for _, e := range []error{
		f.SetCellFloat("Buy", "J2", 184, -1, 64), f.SetCellInt("Buy", "H3", 3), f.UpdateLinkedValue(),
	} {
		if e != nil {
			t.Fatal(e)
		}
	}
	return f
}

// 184 for the birch, three sheets of MDF at 9, and 1.992 m of band at 0.85, rounded to the hundredth.
const editedTotal = 184 + 3*9 + 1.69

// Costs follow a changed price and quantity, on all worksheets.
func TestFollows(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Saw)
	f := edited(t, write(t, d))
	row := 0
	rows, err := f.GetRows("Summary")
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range rows {
		if len(r) > 0 && strings.HasPrefix(r[0], "Total cost") {
			row = i + 1
		}
	}
	raw, err := f.CalcCellValue("Summary", "B"+strconv.Itoa(row), excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	if got := number(t, raw); math.Abs(got-editedTotal) > 1e-6 {
		t.Errorf("total cost %v after the change, want %v", got, editedTotal)
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
	changed := edited(t, whole)
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
		for _, c := range d.Sheets[i].Cuts {
			if !strings.Contains(flat, c.Fence.Fixed(1)) {
				t.Errorf("fence setting %v is not in the print", c.Fence)
			}
		}
	}
	if n := bytes.Count(text, []byte("x")); n < 3*60 {
		t.Errorf("a long name is cut off: %d of the 60 letters it has in Panel, Note and Frees are printed", n)
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

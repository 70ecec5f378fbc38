package compare

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/parts/money"
	"panelyard/parts/partstest"
)

var writers = []struct {
	name  string
	write func(io.Writer, *Comparison) error
}{{"HTML", HTML}, {"XLSX", XLSX}, {"JSON", JSON}}

// nasty returns a comparison whose every name would break a careless writer, with a
// plan that lacks a place and an entry without a plan.
func nasty(t *testing.T) *Comparison {
	t.Helper()
	var list []Entry
	base := leaflets(1090 * mm)
	for i, name := range append([]string{""}, exporttest.Nasty...) {
		j := leaflets(1090 * mm)
		j.Currency = "€"
		j.Stock[0].Name = "sheet " + name
		if i%2 == 1 {
			j.Panels[0].Name = name
			j.Panels[0].Quantity = 5
			j.Stock[0].Available = 1
		}
		list = append(list, planned(t, name, j, base, kerf.Saw))
	}
	for _, name := range exporttest.Nasty {
		list = append(list, Entry{Job: name, File: "case.yaml", Variant: name, Cut: kerf.Router, Reason: name})
	}
	return New(list, Conditions{Seed: 7, Budget: "1 round a plan"})
}

func written(t *testing.T, write func(io.Writer, *Comparison) error, c *Comparison) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b, c); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestWriterFails(t *testing.T) {
	c := nasty(t)
	for _, w := range writers {
		t.Run(w.name, func(t *testing.T) {
			whole := written(t, w.write, c)
			// Every byte of a long document would take minutes.
			for n := 0; n < len(whole); n += 1 + len(whole)/40 {
				if err := w.write(&exporttest.Failing{Left: n}, c); !errors.Is(err, exporttest.ErrFull) {
					t.Fatalf("a disk full after %d of %d bytes gave %v", n, len(whole), err)
				}
			}
			if err := w.write(&exporttest.Failing{Left: len(whole) - 1}, c); !errors.Is(err, exporttest.ErrFull) {
				t.Errorf("a disk full before the last byte gave %v", err)
			}
			if !bytes.Equal(whole, written(t, w.write, c)) {
				t.Error("two runs differ")
			}
		})
	}
}

// A comparison of nothing is written as well.
func TestEmpty(t *testing.T) {
	c := New(nil, Conditions{})
	for _, w := range writers {
		if len(written(t, w.write, c)) == 0 {
			t.Errorf("%s: nothing", w.name)
		}
	}
}

// The page needs nothing from elsewhere, is well-formed, and shows every name as it is
// written.
func TestHTML(t *testing.T) {
	c := nasty(t)
	text := exporttest.PageText(t, written(t, HTML, c))
	for i := range c.Rows {
		if r := &c.Rows[i]; !strings.Contains(text, r.Name) || !strings.Contains(text, r.Reason) {
			t.Errorf("%q is not on the page", r.Name)
		}
	}
	if !strings.Contains(text, c.Advice) {
		t.Error("the advice is not on the page")
	}
}

// The segments of a bar are as wide as their amounts, on one scale, and reach as far as
// their sum.
func TestBars(t *testing.T) {
	base := leaflets(1090 * mm)
	c := New([]Entry{
		planned(t, "", base, base, kerf.Saw), planned(t, "wide", leaflets(1110*mm), base, kerf.Saw),
	}, Conditions{})
	list := charts(c.Rows)
	if len(list) != 2 || list[0].Title != "Cost (EUR)" || list[1].Title != "Board (m2)" {
		t.Fatalf("%d charts", len(list))
	}
	width := regexp.MustCompile(` width="([0-9.]+)"`)
	for _, chart := range list {
		for i, want := range []float64{500, 1000} { // one sheet, two sheets
			sum := 0.0
			for _, m := range width.FindAllStringSubmatch(string(chart.Bars[i].SVG), -1) {
				v, err := strconv.ParseFloat(m[1], 64)
				if err != nil {
					t.Fatal(err)
				}
				sum += v
			}
			if math.Abs(sum-want) > 0.05 {
				t.Errorf("%s: bar %d is %.2f wide, want %v", chart.Title, i, sum, want)
			}
		}
	}
	// Amounts in two currencies have no common scale.
	c.Rows[1].Currency = "NOK"
	if list := charts(c.Rows); len(list) != 1 {
		t.Errorf("%d charts of two currencies, want that of the board alone", len(list))
	}
}

// The workbook is read back: text is text, figures are numbers.
func TestXLSX(t *testing.T) {
	c := nasty(t)
	f, err := excelize.OpenReader(bytes.NewReader(written(t, XLSX, c)))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	at := map[string]int{}
	for i := range columns {
		at[columns[i].title] = i + 1
	}
	cell := func(title string, row int) (string, string) {
		t.Helper()
		name, err := excelize.CoordinatesToCellName(at[title], row)
		if err != nil {
			t.Fatal(err)
		}
		v, err := f.GetCellValue("Comparison", name, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		if formula, _ := f.GetCellFormula("Comparison", name); formula != "" {
			t.Errorf("%s holds the formula %q", name, formula)
		}
		return v, name
	}
	for i := range c.Rows {
		r := &c.Rows[i]
		if v, name := cell("Variant", i+2); v != r.Name {
			t.Errorf("%s holds %q, want %q", name, v, r.Name)
		}
		want, reason := fmt.Sprint(r.Cost.Float()), r.Reason
		if !r.Planned() {
			want = ""
		}
		if v, name := cell("Cost", i+2); v != want {
			t.Errorf("%s holds %q, want %q", name, v, want)
		}
		if v, name := cell("No plan because", i+2); v != reason {
			t.Errorf("%s holds %q, want %q", name, v, reason)
		}
	}
}

// LibreOffice opens the workbook and finds the same costs: a program that is not ours.
func TestLibreOffice(t *testing.T) {
	office := partstest.Tool(t, "soffice")
	base := leaflets(1090 * mm)
	base.Stock[0].Price = 40*money.One + money.One/2
	c := New([]Entry{planned(t, "=1+1", base, base, kerf.Saw)}, Conditions{})
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "c.xlsx"), written(t, XLSX, c), 0o644); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, office, "-env:UserInstallation=file://"+filepath.Join(dir, "profile"), "--headless", "--convert-to", "csv", "--outdir", dir, filepath.Join(dir, "c.xlsx"))
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	text, err := os.ReadFile(filepath.Join(dir, "c.csv"))
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(text), "=1+1,saw,") || !strings.Contains(string(text), ",EUR,40.5,40.5,") {
		t.Errorf("LibreOffice reads\n%s", text)
	}
}

// The JSON is read back, names and all; an entry without a plan has none.
func TestJSON(t *testing.T) {
	c := nasty(t)
	var d document
	dec := json.NewDecoder(bytes.NewReader(written(t, JSON, c)))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&d); err != nil {
		t.Fatal(err)
	}
	if d.Format != Format || d.Version != Version || d.Advice != c.Advice || d.Seed != 7 || len(d.Rows) != len(c.Rows) {
		t.Errorf("%+v", d)
	}
	for i := range d.Rows {
		j, r := &d.Rows[i], &c.Rows[i]
		if j.Name != r.Name || j.Reason != r.Reason || (j.Plan == nil) == r.Planned() {
			t.Errorf("row %d: %+v", i, j)
		}
		if p := j.Plan; p != nil {
			if p.Cost.Total.String() != r.Cost.String() || p.Fences == nil || *p.Fences != r.Fences || len(p.Unplaced) != len(r.Unplaced) {
				t.Errorf("row %d: %+v", i, p)
			}
		}
	}
}

// Chromium, off the network, shows the page with its advice.
func TestChromium(t *testing.T) {
	base := leaflets(1090 * mm)
	c := New([]Entry{planned(t, "", base, base, kerf.Saw), planned(t, "wide", leaflets(1110*mm), base, kerf.Saw)}, Conditions{})
	if !strings.Contains(exporttest.InBrowser(t, written(t, HTML, c)), c.Advice) {
		t.Error("the page in Chromium has no advice")
	}
}

package batch

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/choose"
	"panelyard/parts"
	"panelyard/parts/length"
	"panelyard/parts/money"
	"panelyard/parts/outline"
)

const mm = length.Millimetre

// shelves returns a job of three shelves on boards of 2200 x 1000 at 40 EUR, cut with a
// kerf of 4 mm and without trim; each has 1 m of band at 0.50 EUR a metre.
func shelves() *parts.Job {
	j := exporttest.Job()
	j.Name, j.Currency = "Leaflet case", "EUR"
	j.Materials = []parts.Material{{Name: "board", Nominal: 18 * mm, Measured: 18 * mm, GoodFaces: 2}}
	j.Stock = []parts.Stock{{
		Name: "sheet", Material: "board", Length: 2200 * mm, Width: 1000 * mm,
		Price: 40 * money.One, Priced: true, Available: parts.Unlimited,
	}}
	j.Bands = []parts.Band{{Name: "band", Price: money.One / 2, Priced: true}}
	j.Saw.Kerf = 4 * mm
	j.Panels = []parts.Panel{{
		Name: "shelf", Quantity: 3, Material: "board", Outline: outline.Rectangle(1000*mm, 480*mm), Edging: []string{"band", "", "", ""},
	}}
	return j
}

// planned plans for 1 to n.
func planned(t *testing.T, job *parts.Job, cut kerf.Cut, n int) *Batch {
	t.Helper()
	d, list := kerf.Build(job, cut)
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	plans := choose.NewBatch(nest.FromDemand(d))
	for range n {
		if err := plans.Next(context.Background(), 0, nest.Settings{Seed: 1, Budget: 1}); err != nil {
			t.Fatal(err)
		}
	}
	numbers, err := plans.Plans()
	if err != nil {
		t.Fatal(err)
	}
	var rows []Row
	for _, x := range numbers {
		d, list := kerf.Build(job.Times(x.Number), cut)
		if err := list.Err(); err != nil {
			t.Fatal(err)
		}
		rows = append(rows, RowOf(x.Number, export.New(d, x.Problem, x.Result, 1)))
	}
	return New(job, cut, Conditions{Seed: 1, Budget: "1 round a plan"}, rows)
}

// Solved by hand. Four shelves of 1000 x 480 fill a sheet (2 x 1000 + 4 of 2200, 2 x 480
// + 4 of 1000) and five are more than it, so three times n of them take ceil(3n/4)
// sheets; the band is 3 m or 1.50 EUR each.
//
//	n       1       2       3       4       5
//	sheets  1       2       3       3       4
//	cost    41.50   83.00   124.50  126.00  167.50
//	each    41.50   41.50   41.50   31.50   33.50
//
// A yield of four on three sheets is 12 x 0.48 / (3 x 2.2) = 87.27 %.
func TestByHand(t *testing.T) {
	b := planned(t, shelves(), kerf.Saw, 5)
	for i, want := range []struct {
		sheets, added    int
		cost, each, step string
	}{
		{1, 1, "41.50", "41.50", "41.50"},
		{2, 1, "83.00", "41.50", "41.50"},
		{3, 1, "124.50", "41.50", "41.50"},
		{3, 0, "126.00", "31.50", "1.50"},
		{4, 1, "167.50", "33.50", "41.50"},
	} {
		r := &b.Rows[i]
		if r.Sheets != want.sheets || r.Added != want.added || r.Cost.String() != want.cost || r.Each(r.Cost).String() != want.each || r.Step.String() != want.step {
			t.Errorf("%d: %d sheets (%+d), cost %v, each %v, the last adds %v, want %v", r.Number, r.Sheets, r.Added, r.Cost, r.Each(r.Cost), r.Step, want)
		}
		if !r.Proved || !r.Bounded || r.Least != r.Cost {
			t.Errorf("%d: proved %v, at least %v", r.Number, r.Proved, r.Least)
		}
	}
	if y := b.Rows[3].Yield; math.Abs(y-12*0.48/6.6) > 1e-9 {
		t.Errorf("yield of 4: %v", y)
	}
	want := []string{
		"4 cost the least each of 1 to 5: 31.50 EUR, 10.00 EUR (24.1 %) less than one alone.",
		"That is proved: no plan for 1 to 5 costs less each.",
		"The fullest sheets are those of 4: 87.3 % of their board lies in panels.",
		"The last one needs no further sheet at 4: it comes from what the others leave.",
	}
	if !slices.Equal(b.Advice, want) {
		t.Errorf("advice %q, want %q", b.Advice, want)
	}
}

// What runs out is said for the numbers that lack it, and those before are not touched.
// By hand, four shelves across the sheet, each with a kerf, leave 2200 - 4 x 484 = 264 of
// its length, the most there can be.
func TestRunsOut(t *testing.T) {
	j := shelves()
	j.Stock[0].Available = 3
	b := planned(t, j, kerf.Saw, 6)
	for i, want := range []int{0, 0, 0, 0, 3, 6} {
		if r := &b.Rows[i]; r.Missing != want || (r.RunOut() == "sheet") != (want > 0) {
			t.Errorf("%d: %d without a place, run out %q", r.Number, r.Missing, r.RunOut())
		}
	}
	if b.Best == nil || b.Best.Number != 4 || b.Complete() {
		t.Errorf("best %+v", b.Best)
	}
	if last := b.Advice[len(b.Advice)-1]; last != "At 5 and 6 not every panel has a place: there is no more of sheet." {
		t.Errorf("advice ends %q", last)
	}
	if r := &b.Rows[3]; len(r.Kept) != 1 || r.Kept[0].Count != 3 || r.Kept[0].Size.X != 1000*mm || r.Kept[0].Size.Y != 264*mm {
		t.Errorf("kept of 4: %+v", r.Kept)
	}
}

// Without prices the number with the least board is best, and money is not spoken of.
func TestWithoutPrices(t *testing.T) {
	j := shelves()
	j.Stock[0].Price, j.Stock[0].Priced = 0, false
	b := planned(t, j, kerf.Router, 4)
	if b.Best.Number != 4 || b.Rows[0].Bounded || b.lowest() != nil {
		t.Errorf("best %d, bounded %v", b.Best.Number, b.Rows[0].Bounded)
	}
	if want := "Not everything has a price. 4 take the least board each of 1 to 4: 1.65 m2."; b.Advice[0] != want {
		t.Errorf("advice %q", b.Advice[0])
	}
	if c := b.charts()[0]; c.Title != "Board each (m2)" || strings.Contains(string(c.SVG), `class="least"`) {
		t.Errorf("chart %q", c.Title)
	}
}

func TestSpans(t *testing.T) {
	for _, c := range []struct {
		list []int
		want string
	}{
		{[]int{4}, "4"},
		{[]int{1, 2}, "1 and 2"},
		{[]int{2, 5, 6, 7, 9}, "2, 5 to 7 and 9"},
		{[]int{1, 2, 3}, "1 to 3"},
		{[]int{1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21, 23, 25, 27}, "1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21, 23 and so on, up to 27"},
	} {
		if got := spans(c.list); got != c.want {
			t.Errorf("%v: %q, want %q", c.list, got, c.want)
		}
	}
}

// The next of 1, 2, 5 times a power of ten.
func TestRound(t *testing.T) {
	for _, c := range []struct{ v, want float64 }{{1, 1}, {1.01, 2}, {3, 5}, {5, 5}, {7, 10}, {0.3, 0.5}, {0.012, 0.02}, {430, 500}} {
		if got := round(c.v); math.Abs(got-c.want) > 1e-12*c.want {
			t.Errorf("%v: %v, want %v", c.v, got, c.want)
		}
	}
}

// The steps of the chart lie where the scale says: 41.50 for one and 31.50 for four, on a
// scale from 30 to 42 in steps of 2.
func TestChartByHand(t *testing.T) {
	c := planned(t, shelves(), kerf.Saw, 4).charts()[0]
	path := regexp.MustCompile(`<path d="([^"]*)" class="line"`).FindStringSubmatch(string(c.SVG))
	if path == nil {
		t.Fatal("no line")
	}
	var levels []float64
	for _, m := range regexp.MustCompile(`[ML][0-9.]+ ([0-9.]+)H`).FindAllStringSubmatch(path[1], -1) {
		v, err := strconv.ParseFloat(m[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		levels = append(levels, v)
	}
	for i, cost := range []float64{41.5, 41.5, 41.5, 31.5} {
		if want := edgeTop + plotHigh*(42-cost)/12; math.Abs(levels[i]-want) > 0.01 {
			t.Errorf("%d: at %v, want %v", i+1, levels[i], want)
		}
	}
}

// With two sheets to spare of every number the bars are still the sheets of the plans:
// 1, 2, 3, 3 and 4 of them, within the chart, and line and JSON say both.
func TestSpare(t *testing.T) {
	j := shelves()
	j.Spare = 2
	b := planned(t, j, kerf.Saw, 5)
	c := b.charts()[1]
	rects := regexp.MustCompile(`<rect x="[^"]*" y="([^"]*)" width="[^"]*" height="([^"]*)"`).FindAllStringSubmatch(string(c.SVG), -1)
	if len(rects) != 5 {
		t.Fatalf("%d bars", len(rects))
	}
	for i, sheets := range []float64{1, 2, 3, 3, 4} {
		y, err1 := strconv.ParseFloat(rects[i][1], 64)
		high, err2 := strconv.ParseFloat(rects[i][2], 64)
		if err := errors.Join(err1, err2); err != nil {
			t.Fatal(err)
		}
		if want := plotHigh * sheets / 4; math.Abs(high-want) > 0.02 || y < edgeTop-0.01 {
			t.Errorf("%d: a bar from %v, %v high, want %v", i+1, y, high, want)
		}
	}
	if got := regexp.MustCompile(`text-anchor="end">([^<]*)<`).FindAllStringSubmatch(string(c.SVG), -1); len(got) != 5 || got[1][1] != "1" {
		t.Errorf("the scale of 4 sheets is %q", got)
	}
	if !strings.Contains(c.Note, "to spare are not drawn") {
		t.Errorf("the note is %q", c.Note)
	}
	if r := b.Rows[4]; r.List() != "4 x sheet and 2 to spare" || r.Sheets != 4 || r.Cost.String() != "247.50" {
		t.Errorf("%s, %d sheets, %v", r.List(), r.Sheets, r.Cost)
	}
	if s := string(written(t, JSON, b)); !strings.Contains(s, `"count": 4`) || strings.Count(s, `"spare": 2`) != 5 {
		t.Error("the JSON does not tell the sheets of the plan and those to spare apart")
	}
}

// The key names the kinds of which most are taken; the rest are one shade.
func TestKeyOfSheets(t *testing.T) {
	b := &Batch{Rows: []Row{
		{Number: 1, Sheets: 8, Kinds: []export.Kind{{Name: "rare", Count: 1, Spare: 50}, {Name: "third", Count: 2}, {Name: "also rare", Count: 1}, {Name: "first", Count: 4}}},
		{Number: 2, Sheets: 8, Kinds: []export.Kind{{Name: "second", Count: 3}, {Name: "last", Count: 1}, {Name: "first", Count: 4}}},
	}}
	c := b.sheetChart()
	var got []string
	for _, k := range c.Key {
		got = append(got, k.Name)
	}
	if want := []string{"first", "second", "third", "other sheets", "the fewest there can be"}; !slices.Equal(got, want) {
		t.Errorf("the key is %q, want %q", got, want)
	}
}

// nasty returns a batch with names that would break a careless writer, and too few sheets.
func nasty(t *testing.T) *Batch {
	t.Helper()
	j := shelves()
	j.Name, j.Currency, j.Variant = exporttest.Nasty[0], "€", exporttest.Nasty[len(exporttest.Nasty)-1]
	j.Stock[0].Available = 2
	j.Panels = nil
	for _, name := range exporttest.Nasty {
		p := shelves().Panels[0]
		p.Name, p.Quantity = name, 1
		j.Panels = append(j.Panels, p)
	}
	j.Stock[0].Name = strings.Join(exporttest.Nasty, " ")
	return planned(t, j, kerf.Saw, 2)
}

var writers = []struct {
	name  string
	write func(io.Writer, *Batch) error
}{{"HTML", HTML}, {"JSON", JSON}}

func written(t *testing.T, write func(io.Writer, *Batch) error, b *Batch) []byte {
	t.Helper()
	var text bytes.Buffer
	if err := write(&text, b); err != nil {
		t.Fatal(err)
	}
	return text.Bytes()
}

func TestWriterFails(t *testing.T) {
	b := nasty(t)
	for _, w := range writers {
		t.Run(w.name, func(t *testing.T) {
			whole := written(t, w.write, b)
			for n := 0; n < len(whole); n += 1 + len(whole)/40 {
				if err := w.write(&exporttest.Failing{Left: n}, b); !errors.Is(err, exporttest.ErrFull) {
					t.Fatalf("a disk full after %d of %d bytes gave %v", n, len(whole), err)
				}
			}
			if !bytes.Equal(whole, written(t, w.write, b)) {
				t.Error("two runs differ")
			}
		})
	}
}

// The page needs nothing from elsewhere, is well-formed, and shows every name as it is.
func TestHTML(t *testing.T) {
	b := nasty(t)
	text := exporttest.PageText(t, written(t, HTML, b))
	want := append([]string{b.Title(), b.Rows[0].List()}, b.Advice...)
	for _, u := range b.Rows[1].Unplaced {
		want = append(want, u.Panel)
	}
	for _, s := range want {
		if !strings.Contains(text, s) {
			t.Errorf("%q is not on the page", s)
		}
	}
}

// A batch of nothing is written as well.
func TestEmpty(t *testing.T) {
	b := New(shelves(), kerf.Saw, Conditions{}, nil)
	for _, w := range writers {
		if len(written(t, w.write, b)) == 0 {
			t.Errorf("%s: nothing", w.name)
		}
	}
}

// The JSON is read back.
func TestJSON(t *testing.T) {
	b := planned(t, shelves(), kerf.Saw, 4)
	var d document
	dec := json.NewDecoder(bytes.NewReader(written(t, JSON, b)))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&d); err != nil {
		t.Fatal(err)
	}
	if d.Format != Format || d.Version != Version || d.Best == nil || *d.Best != 4 || *d.Fullest != 4 || len(d.Numbers) != 4 {
		t.Fatalf("%+v", d)
	}
	r := &d.Numbers[3]
	if r.Each != "31.50" || r.Step != "1.50" || r.Least == nil || *r.Least != "126.00" || len(r.Offcuts) != 1 || r.Offcuts[0].Length != "1000" {
		t.Errorf("%+v", r)
	}
}

// Chromium, off the network, shows the page with its advice.
func TestChromium(t *testing.T) {
	b := planned(t, shelves(), kerf.Saw, 4)
	if !strings.Contains(exporttest.InBrowser(t, written(t, HTML, b)), b.Advice[0]) {
		t.Error("the page in Chromium has no advice")
	}
}

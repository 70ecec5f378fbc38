package compare

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/money"
	"panelyard/parts/outline"
)

const mm = length.Millimetre

// The trap of waste as a share of what is bought: more must be added to the net area
// than that share. w/(1-w) in percent: arithmetic, from memory as a table of the trade.
func TestAddOn(t *testing.T) {
	for _, c := range []struct{ waste, want float64 }{
		{0, 0}, {10, 11.1}, {15, 17.6}, {20, 25}, {25, 33.3}, {30, 42.9}, {40, 66.7}, {50, 100},
	} {
		if got := 100 * AddOn(c.waste/100); math.Abs(got-c.want) > 0.05 {
			t.Errorf("waste of %v %%: add %.2f %%, want %v %%", c.waste, got, c.want)
		}
	}
}

// leaflets returns a job of four equal panels on boards of 2200 x 1000 at 40 EUR, cut
// with a kerf of 4 mm and without trim.
func leaflets(long length.Length) *parts.Job {
	j := exporttest.Job()
	j.Name, j.File, j.Bands = "Leaflet case", "case.yaml", nil
	j.Materials = []parts.Material{{Name: "board", Nominal: 20 * mm, Measured: 20 * mm, Density: 500, GoodFaces: 2}}
	j.Stock = []parts.Stock{{
		Name: "sheet", Material: "board", Length: 2200 * mm, Width: 1000 * mm,
		Price: 40 * money.One, Priced: true, Available: parts.Unlimited,
	}}
	j.Saw.Kerf = 4 * mm
	j.Panels = []parts.Panel{{
		Name: "shelf", Quantity: 4, Material: "board", Outline: outline.Rectangle(long, 490*mm), Edging: make([]string, 4),
	}}
	return j
}

func planned(t *testing.T, variant string, job, base *parts.Job, cut kerf.Cut) Entry {
	t.Helper()
	job.Variant = variant
	return Entry{
		Job: job.Name, File: job.File, Variant: variant, Cut: cut, Read: job, Base: base,
		Dossier: exporttest.Dossier(t, job, cut),
	}
}

// Solved by hand. Two panels of 1090 and a kerf make 2184 of 2200, and 2 x 490 + 4 =
// 984 of 1000: four come from one sheet. Two of 1110 do not fit behind each other, and
// turned neither (1110 > 1000), so a sheet gives two of them.
//
//	1090: area 4 x 1.09 x 0.49 = 2.1364 of 2.2 m2, yield 97.11 %, mass 2.1364 x 0.02 x 500 = 21.364 kg
//	1110: area 4 x 1.11 x 0.49 = 2.1756 of 4.4 m2, yield 49.45 %
//
// At 1110 a sheet leaves, beside the two panels, 2200 - 1110 - 4 = 1086 of its whole
// width of 1000: 1.086 m2 to keep, worth 40 x 1.086 / 2.2 = 19.745 EUR. Wasted is
// 40 x (2.2 - 1.0878 - 1.086) / 2.2 = 0.476 EUR a sheet.
func TestFiguresByHand(t *testing.T) {
	base := leaflets(1090 * mm)
	c := New([]Entry{
		planned(t, "", base, base, kerf.Saw),
		planned(t, "wide", leaflets(1110*mm), base, kerf.Saw),
	}, Conditions{Seed: 1, Budget: "1 round a plan"})
	one, two := &c.Rows[0], &c.Rows[1]
	near := func(what string, got, want, within float64) {
		t.Helper()
		if math.Abs(got-want) > within {
			t.Errorf("%s: %v, want %v", what, got, want)
		}
	}
	if one.Sheets != 1 || two.Sheets != 2 || one.Cost != 40*money.One || two.Cost != 80*money.One {
		t.Fatalf("%d sheets for %v and %d for %v", one.Sheets, one.Cost, two.Sheets, two.Cost)
	}
	near("yield of 1090", one.Yield, 2.1364/2.2, 1e-9)
	near("yield of 1110", two.Yield, 2.1756/4.4, 1e-9)
	near("waste of 1090", one.Waste, 1-2.1364/2.2, 1e-9)
	near("add-on of 1090", one.AddOn, 2.2/2.1364-1, 1e-9)
	near("mass", one.MassKG, 21.364, 1e-6)
	near("cost a square metre", one.CostM2, 40/2.1364, 1e-9)
	near("kept", two.Kept, 2*1.086/4.4, 1e-9)
	near("kept value", two.Split.Kept.Float(), 39.49, 1e-9)
	near("wasted", two.Split.Waste.Float(), 0.95, 1e-9)
	if s := two.Split; s.Panels+s.Kept+s.Waste != two.Board {
		t.Errorf("%v does not add up to %v", s, two.Board)
	}
	if !one.Bound.Proved || !two.Bound.Proved {
		t.Errorf("not proved: %q, %q", one.Bound.Text, two.Bound.Text)
	}
	want := `Build "as written": the cost is the least, 40.00 EUR, which is 40.00 EUR (50.0 %) less than that of "wide".`
	if c.Advice != want {
		t.Errorf("advice %q, want %q", c.Advice, want)
	}
	if got := c.Changes; len(got) != 1 || !slices.Equal(got[0].What, []string{"panel shelf: 1110 × 490 mm instead of 1090 × 490 mm"}) {
		t.Errorf("changes %q", got)
	}
	if !c.Complete() || c.Planned() != 2 || c.Same != nil {
		t.Errorf("complete %v, planned %d, same %q", c.Complete(), c.Planned(), c.Same)
	}
}

// A board of unknown mass makes the sum unknown, one without a price the cost.
func TestUnknown(t *testing.T) {
	j := leaflets(1090 * mm)
	j.Materials[0].Density = 0
	j.Stock[0].Price, j.Stock[0].Priced = 0, false
	c := New([]Entry{planned(t, "", j, j, kerf.Router)}, Conditions{})
	r := &c.Rows[0]
	if r.Mass() != "-" || r.Money(r.Cost) != "-" {
		t.Errorf("mass %s, cost %s", r.Mass(), r.Money(r.Cost))
	}
}

// row is a row of the case: all panels placed, all priced, proved.
func row(name string, cost money.Amount, sheets int, kept float64) Row {
	return Row{
		Name: name, Currency: "EUR", Priced: true, Cost: cost * money.One, Board: cost * money.One, Sheets: sheets,
		Areas: export.Areas{Kept: kept * 1e6}, Bound: export.BoundLine{Proved: true, Cost: cost * money.One},
	}
}

func with(r Row, change func(*Row)) Row {
	change(&r)
	return r
}

func TestAdvice(t *testing.T) {
	missing := func(n int) func(*Row) { return func(r *Row) { r.Missing = n } }
	noPlan := func(r *Row) { r.Reason = "mistakes" }
	noPrice := func(r *Row) { r.Priced = false }
	unproved := func(least money.Amount) func(*Row) {
		return func(r *Row) { r.Bound.Proved, r.Bound.Cost = false, least*money.One }
	}
	router := func(r *Row) { r.Cut = kerf.Router }
	for _, c := range []struct {
		name string
		rows []Row
		want string
	}{
		{"nothing", nil, `There is no plan to choose from.`},
		{"no plans", []Row{with(row("a", 1, 1, 0), noPlan)}, `There is no plan to choose from.`},
		{"none whole", []Row{with(row("a", 1, 1, 0), missing(3)), with(row("b", 9, 1, 0), missing(2))}, `None can be built as it is: every plan leaves panels without a place, "b" the fewest (2).`},
		{"alone", []Row{row("a", 1, 1, 0)}, `There is only "a", so there is nothing to choose.`},
		{"only one whole", []Row{with(row("a", 1, 1, 0), missing(3)), row("b", 9, 1, 0)}, `Build "b": it is the only one in which every panel has a place.`},
		{"least cost", []Row{row("a", 100, 1, 0), row("b", 80, 2, 0), row("c", 90, 1, 0)}, `Build "b": the cost is the least, 80.00 EUR, which is 10.00 EUR (11.1 %) less than that of "c".`},
		{"one that is not whole is not cheaper", []Row{row("a", 100, 1, 0), with(row("b", 10, 1, 0), missing(1)), row("c", 80, 1, 0)}, `Build "c": the cost is the least, 80.00 EUR, which is 20.00 EUR (20.0 %) less than that of "a".`},
		{"fewer sheets", []Row{row("a", 80, 3, 1), row("b", 80, 2, 0)}, `Build "b": the cost is 80.00 EUR as for "a", but it takes fewer sheets (2, not 3).`},
		{"more kept", []Row{row("a", 80, 2, 0.25), row("b", 80, 2, 0.5)}, `Build "b": the cost is 80.00 EUR as for "a", but it leaves more to keep (0.50 m2, not 0.25).`},
		{"nothing between them", []Row{row("a", 80, 2, 0.5), row("b", 80, 2, 0.5), row("c", 80, 2, 0.5)}, `The difference is nothing: "a", "b" and "c" cost 80.00 EUR each, on as many sheets and with as much to keep; build the one you like.`},
		{"two alike", []Row{row("a", 80, 2, 0.5), with(row("a", 80, 2, 0.5), router), row("b", 160, 2, 0.5)}, `Build "a" for the saw or the router, no matter which: the cost is the least, 80.00 EUR, which is 80.00 EUR (50.0 %) less than that of "b" for the saw.`},
		{"within the gap", []Row{row("a", 80, 2, 0), with(row("b", 90, 2, 0), unproved(70))}, `Build "a": the cost is the least, 80.00 EUR, which is 10.00 EUR (11.1 %) less than that of "b"; this is within the gap of the bound, though: a plan that costs less is not ruled out for "b".`},
		{"beyond the gap", []Row{row("a", 80, 2, 0), with(row("b", 90, 2, 0), unproved(80))}, `Build "a": the cost is the least, 80.00 EUR, which is 10.00 EUR (11.1 %) less than that of "b".`},
		{"the gap of the best does not matter", []Row{with(row("a", 80, 2, 0), unproved(10)), row("b", 90, 2, 0)}, `Build "a": the cost is the least, 80.00 EUR, which is 10.00 EUR (11.1 %) less than that of "b".`},
		{"no price", []Row{with(row("a", 0, 3, 0), noPrice), row("b", 80, 2, 0)}, `Not everything has a price, so the cheapest is not known: "b" takes fewer sheets (2, not 3) than "a".`},
		{"no price, nothing between them", []Row{with(row("a", 0, 2, 0), noPrice), row("b", 80, 2, 0)}, `Not everything has a price, so the cheapest is not known: "a" and "b" take as many sheets (2) with as much to keep.`},
		{"currencies", []Row{row("a", 1, 1, 0), with(row("b", 2, 1, 0), func(r *Row) { r.Currency = "" })}, `Costs in EUR and no currency cannot be compared: choose by the table.`},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := advise(c.rows); got != c.want {
				t.Errorf("\n%s\nwant\n%s", got, c.want)
			}
		})
	}
}

func TestDifferences(t *testing.T) {
	a, b := exporttest.Job(), exporttest.Job()
	a.Variables = []parts.Variable{{Name: "width", Text: "600", Value: "600 mm"}}
	b.Variables = []parts.Variable{{Name: "width", Text: "500", Value: "500 mm"}}
	b.Panels[0].Pos.Line = 77 // where it is written is no difference
	if !alike(a, b) {
		t.Error("variables that nothing uses make a difference")
	}
	b.Panels = slices.Delete(b.Panels, 4, 5)
	b.Panels[3].Quantity = 5
	b.Panels[2].Openings[1].Outline = b.Panels[2].Openings[1].Outline.Translate(geom.Pt(mm, 0))
	b.Panels[1].Material = "MDF 6"
	b.Panels = append(b.Panels, parts.Panel{Name: "rail", Quantity: 2, Outline: outline.Rectangle(500*mm, 80*mm)})
	b.Stock[0].Price++
	b.Bands = nil
	b.Saw.Kerf++
	want := []string{
		"width: 500 mm instead of 600 mm", "10 panels instead of 7",
		"panel side-right: of MDF 6 instead of birch 18", "panel front: another shape, grain, edging or opening",
		"panel shelf: 5 instead of 3", "without panel back", "panel rail: 2 more, 500 × 80 mm",
		"sheet birch 2440 x 1220: other data", "without edge band oak 1", "saw: other settings",
	}
	if got := differences(a, b); !slices.Equal(got, want) {
		t.Errorf("%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if got := clipped(make([]string, MaxChanges+3)); len(got) != MaxChanges+1 || got[MaxChanges] != "and 3 more" {
		t.Errorf("clipped to %q", got)
	}
}

// Variants that differ in name only are named once, whatever the cuts.
func TestSame(t *testing.T) {
	a, b := leaflets(1090*mm), leaflets(1090*mm)
	c := New([]Entry{
		planned(t, "", a, a, kerf.Saw), planned(t, "", a, a, kerf.Router), planned(t, "twin", b, a, kerf.Saw), planned(t, "twin", b, a, kerf.Router),
	}, Conditions{})
	want := []string{`"as written" and "twin" differ in name only: panels, boards, prices and tools are the same.`}
	if !slices.Equal(c.Same, want) {
		t.Errorf("%q, want %q", c.Same, want)
	}
}

// Jobs are told apart by name, and by file where the names are the same.
func TestNames(t *testing.T) {
	e := func(job, file string) Entry { return Entry{Job: job, File: file, Reason: "mistakes"} }
	c := New([]Entry{e("case", "a.yaml"), e("case", "b.yaml"), e("stand", "c.yaml")}, Conditions{})
	for i, want := range []string{"case (a.yaml), as written", "case (b.yaml), as written", "stand, as written"} {
		if c.Rows[i].Name != want {
			t.Errorf("%q, want %q", c.Rows[i].Name, want)
		}
	}
	c = New([]Entry{{Job: "case", Reason: "mistakes"}, {Job: "case", Variant: AsWritten, Reason: "mistakes"}}, Conditions{})
	if c.Rows[0].Name == c.Rows[1].Name {
		t.Errorf("a variant has the name of the job as written: %q", c.Rows[0].Name)
	}
}

// Delivery and spare sheets are named by themselves, and everything adds up to the cost.
func TestExtras(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Bought(), kerf.Saw)
	c := New([]Entry{{Job: "kiosk", File: "kiosk.yaml", Cut: kerf.Saw, Read: d.Job, Base: d.Job, Dossier: d}}, Conditions{})
	r := &c.Rows[0]
	if r.Delivery == 0 || r.Spare == 0 || r.Edging == 0 {
		t.Fatalf("delivery %v, spare %v, edging %v: the test shows nothing", r.Delivery, r.Spare, r.Edging)
	}
	if sum := r.Board + r.Spare + r.Delivery + r.Edging; sum != r.Cost || r.Cost != d.Totals.Cost {
		t.Errorf("%v in parts, %v in all, %v in the dossier", sum, r.Cost, d.Totals.Cost)
	}
	if sum := r.Split.Panels + r.Split.Kept + r.Split.Waste; sum != r.Board {
		t.Errorf("the board is divided into %v, it costs %v", sum, r.Board)
	}
	var b bytes.Buffer
	if err := HTML(&b, c); err != nil {
		t.Fatal(err)
	}
	if s := b.String(); !strings.Contains(s, "edge band, delivery, spare sheets") {
		t.Error("the chart does not name delivery and spare sheets")
	}
	spare := 0
	for _, k := range r.Kinds {
		spare += k.Spare
	}
	b.Reset()
	if err := JSON(&b, c); err != nil {
		t.Fatal(err)
	}
	if want := fmt.Sprintf(`"spare": %d`, r.Kinds[0].Spare); spare == 0 || !strings.Contains(r.List(), "to spare") || !strings.Contains(b.String(), want) {
		t.Errorf("%d to spare: %s", spare, r.List())
	}
}

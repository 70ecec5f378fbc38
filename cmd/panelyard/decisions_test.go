package main

import (
	"io"
	"slices"
	"testing"

	"panelyard/export"
	"panelyard/export/batch"
	"panelyard/export/compare"
	"panelyard/export/exporttest"
	"panelyard/export/nearmiss"
	"panelyard/export/tolerance"
	"panelyard/kerf"
	"panelyard/nest/near"
	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/money"
	"panelyard/parts/outline"
)

// A comparison of variants with nasty names, what each costs of so many, what a plan
// bears, and changes that save hold those names.
func TestNamesInDecisions(t *testing.T) {
	d := nasty(t, kerf.Saw)
	dir := t.TempDir()
	c := comparison(d)
	for name, doc := range map[string]func(io.Writer, *compare.Comparison) error{"compare.json": compare.JSON, "compare.html": compare.HTML, "compare.xlsx": compare.XLSX} {
		file := put(t, dir, name, func(w io.Writer) error { return doc(w, c) })
		t.Run(name, func(t *testing.T) { named(t, texts(t, file), exporttest.Nasty, exact) })
	}

	n := numbers(d)
	for name, doc := range map[string]func(io.Writer, *batch.Batch) error{"batch.json": batch.JSON, "batch.html": batch.HTML} {
		file := put(t, dir, name, func(w io.Writer) error { return doc(w, n) })
		t.Run(name, func(t *testing.T) { named(t, texts(t, file), exporttest.Nasty, exact) })
	}
	r := bearing(t, d)
	for name, doc := range map[string]func(io.Writer, *tolerance.Report) error{"tolerance.json": tolerance.JSON, "tolerance.html": tolerance.HTML} {
		file := put(t, dir, name, func(w io.Writer) error { return doc(w, r) })
		t.Run(name, func(t *testing.T) { named(t, texts(t, file), exporttest.Nasty, exact) })
	}
	p := misses(d)
	for name, doc := range map[string]func(io.Writer, *nearmiss.Page) error{"nearmiss.json": nearmiss.JSON, "nearmiss.html": nearmiss.HTML} {
		file := put(t, dir, name, func(w io.Writer) error { return doc(w, p) })
		t.Run(name, func(t *testing.T) {
			list := texts(t, file)
			for _, what := range []string{"change", "panel", "tried", "board", "stock"} {
				var names []string
				for _, name := range exporttest.Nasty {
					names = append(names, what+" "+name)
				}
				named(t, list, names, exact)
			}
		})
	}
}

// comparison compares variants that have nasty names and are otherwise the same.
func comparison(d *export.Dossier) *compare.Comparison {
	var entries []compare.Entry
	for _, name := range exporttest.Nasty {
		entries = append(entries, compare.Entry{Job: name, File: "kiosk.yaml", Variant: name, Read: d.Job, Base: d.Job, Dossier: d})
	}
	return compare.New(entries, compare.Conditions{Seed: 1, Budget: "one round a plan"})
}

// numbers is a batch of one in which all panels with nasty names lack a place.
func numbers(d *export.Dossier) *batch.Batch {
	row := batch.RowOf(1, d)
	for _, name := range exporttest.Nasty {
		row.Unplaced = append(row.Unplaced, export.Missing{Panel: name, Copies: 1, Reason: "there is no sheet left"})
	}
	row.Missing = len(row.Unplaced)
	return batch.New(d.Job, d.Demand.Cut, batch.Conditions{Seed: 1, Budget: "one round a plan"}, []batch.Row{row})
}

// bearing says what a plan bears whose panels all depend on the thickness.
func bearing(t *testing.T, d *export.Dossier) *tolerance.Report {
	t.Helper()
	r, err := tolerance.New(d, nil, "one round a plan")
	if err != nil {
		t.Fatal(err)
	}
	r.Measure(func(at map[string]length.Length) (*parts.Job, diag.List) {
		j := *d.Job
		j.Panels = slices.Clone(d.Job.Panels)
		for i := range j.Panels {
			if p := &j.Panels[i]; slices.Contains(exporttest.Nasty, p.Name) {
				p.Outline = outline.Rectangle(300*length.Millimetre-at[p.Material], 80*length.Millimetre)
			}
		}
		return &j, nil
	})
	r.Advise()
	return r
}

// misses is near misses in which everything that has a name has each nasty one.
func misses(d *export.Dossier) *nearmiss.Page {
	const mm = length.Millimetre
	r := &near.Report{Job: d.Job, Seed: 1, Seeds: 1, Rounds: 1, Plans: 1, Priced: true}
	for _, name := range exporttest.Nasty {
		board := near.Board{Material: "board " + name, Sheets: []near.Sheets{{Stock: "stock " + name, Count: 2}}, Cost: int64(2 * money.One), Plans: 1}
		after := board
		after.Sheets, after.Cost = []near.Sheets{{Stock: "stock " + name, Count: 1}}, int64(money.One)
		r.Boards = append(r.Boards, board)
		r.Suggestions = append(r.Suggestions, near.Suggestion{
			Change: near.Change{Kind: near.Size, Of: "change " + name, From: 600 * mm, To: 595 * mm},
			Before: []near.Board{board}, After: []near.Board{after}, Saved: int64(money.One), Sheets: 1, Plans: 1,
			Moved: []near.Moved{{Panel: "panel " + name, Copies: 2, From: geom.Pt(600*mm, 100*mm), To: geom.Pt(595*mm, 100*mm)}},
		})
		r.Tried = append(r.Tried, near.Tried{Change: near.Change{Kind: near.Grain, Of: "tried " + name, Copies: 1}, Verdict: near.NotFound})
	}
	return nearmiss.New(r)
}

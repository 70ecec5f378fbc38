package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"panelyard/export/compare"
)

// comparePapers are the papers of a comparison, and how they are told from others'.
func comparePapers() kindOfPapers {
	return kindOfPapers{
		names: []string{"compare.json", "compare.html", "compare.xlsx"},
		proof: "compare.json", format: compare.Format,
	}
}

// comparison writes the papers of a comparison and moves them to their place.
func (f *folder) comparison(c *compare.Comparison) error {
	for _, x := range []struct {
		name string
		doc  func(io.Writer, *compare.Comparison) error
	}{
		{"compare.json", compare.JSON}, {"compare.html", compare.HTML}, {"compare.xlsx", compare.XLSX},
	} {
		if err := f.write(x.name, func(w io.Writer) error { return x.doc(w, c) }); err != nil {
			return err
		}
	}
	return f.place()
}

// comparisonTable prints a comparison: figures in two tables that fit a terminal, what
// differs, and which to build.
func comparisonTable(s streams, c *compare.Comparison, out string) {
	s.say("%s under the same conditions: %s, seed %d", count(len(c.Rows), "plan"), c.Budget, c.Seed)
	rows(s, c, "variant\tcut\tsheets\tcost\tboard\twasted\tkept value\textras\tper m2\tproof", func(r *compare.Row) string {
		return fmt.Sprintf("%d\t%s\t%s\t%s\t%s\t%s\t%s\t%s", r.Sheets, strings.TrimSpace(r.Money(r.Cost)+" "+r.Currency), r.Money(r.Board),
			r.Money(r.Split.Waste), r.Money(r.Split.Kept), r.Extras(), r.PerM2(), r.Proof())
	})
	rows(s, c, "variant\tcut\tyield\tkept\twaste\ton top\tpanels\tno place\tmass kg\tcutting", func(r *compare.Row) string {
		return fmt.Sprintf("%s\t%s\t%s\t%s\t%d\t%d\t%s\t%s", r.Percent(r.Yield), r.Percent(r.Kept), r.Percent(r.Waste), r.Percent(r.AddOn),
			r.Panels, r.Missing, r.Mass(), r.Work())
	})
	for i := range c.Rows {
		r := &c.Rows[i]
		if !r.Planned() {
			s.say("  NO PLAN: %s, %v: %s", r.Name, r.Cut, r.Reason)
			continue
		}
		s.say("  sheets   %s, %v: %s", r.Name, r.Cut, r.List())
		for _, u := range r.Unplaced {
			s.say("  WITHOUT A PLACE: %s, %v: %d x %s: %s", r.Name, r.Cut, u.Copies, u.Panel, u.Reason)
		}
	}
	for _, x := range c.Changes {
		what := strings.Join(x.What, "; ")
		if what == "" {
			what = "nothing that bears on the plan"
		}
		s.say("  differs  %s: %s", x.Name, what)
	}
	for _, x := range c.Same {
		s.say("  same     %s", x)
	}
	s.say("%s", c.Advice)
	switch {
	case c.Planned() == 0:
	case out != "":
		s.say("  look     %s", filepath.Join(out, "compare.html"))
	default:
		s.say("  --out DIR writes the page, the spreadsheet and the JSON")
	}
}

// rows prints a table of the rows with a plan.
func rows(s streams, c *compare.Comparison, head string, line func(*compare.Row) string) {
	if c.Planned() == 0 {
		return
	}
	w := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "  %s\n", head)
	for i := range c.Rows {
		if r := &c.Rows[i]; r.Planned() {
			fmt.Fprintf(w, "  %s\t%v\t%s\n", strings.ReplaceAll(r.Name, "\t", " "), r.Cut, line(r))
		}
	}
	w.Flush()
}

package xlsx_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/length"
)

// Headings and numbers are in the same unit, whatever the job and the papers are in: every
// number of a column whose heading names a unit is that of the panel.
func TestUnitOfPapers(t *testing.T) {
	for _, c := range []struct {
		name string
		own  length.Unit
		f    parts.Figures
		unit string
	}{
		{"mm as it is", length.MM, parts.Figures{}, "mm"},
		{"mm job in inches", length.MM, parts.Figures{Unit: length.IN}, "in"},
		{"mm job in sixteenths", length.MM, parts.Figures{Unit: length.IN, Fraction: 16}, "in"},
		{"inch job in mm", length.IN, parts.Figures{Unit: length.MM}, "mm"},
		{"inch job", length.IN, parts.Figures{}, "in"},
	} {
		t.Run(c.name, func(t *testing.T) {
			job := exporttest.Job()
			job.Units, job.Figures = c.own, c.f
			d := exporttest.Dossier(t, job, kerf.Saw)
			f := open(t, write(t, d))
			of := func(l length.Length) float64 {
				if c.unit == "in" {
					return l.Inches()
				}
				return l.MM()
			}
			rows := read(t, f, "Panels")
			for i := range d.Panels {
				for title, want := range map[string]length.Length{"Finished length": d.Panels[i].Finished.X, "Cut width": d.Panels[i].Cut.Y} {
					got, err := strconv.ParseFloat(strings.TrimSpace(rows.at(i, title+" ("+c.unit+")")), 64)
					if err != nil || math.Abs(got-of(want)) > 1e-6 {
						t.Errorf("%s: %s is %v (%v), want %v", d.Panels[i].Name, title, got, err, of(want))
					}
				}
			}
			buy := read(t, f, "Buy")
			got, err := strconv.ParseFloat(buy.at(0, "Length ("+c.unit+")"), 64)
			if err != nil || math.Abs(got-of(d.Buy[0].Stock.Length)) > 1e-6 {
				t.Errorf("a sheet is %v long (%v), want %v", got, err, of(d.Buy[0].Stock.Length))
			}
		})
	}
}

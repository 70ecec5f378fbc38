package xlsx_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"panelyard/export/exporttest"
	"panelyard/kerf"
)

// Shared blanks have a worksheet, and panels of which all copies share one claim no size
// of their own; a cut that frees one names both panels.
func TestSharedBlanks(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Stands(), kerf.Saw)
	f := open(t, write(t, d))
	s := read(t, f, "Shared blanks")
	for i := range d.Shared {
		r := &d.Shared[i]
		for title, want := range map[string]string{
			"Qty": strconv.Itoa(r.Count), "Blank length (mm)": r.Blank[0].X.Decimal(), "Blank width (mm)": r.Blank[0].Y.Decimal(),
			"Material": r.Panels[0].Material, "First panel": r.Panels[0].Key + " " + r.Panels[0].Name, "Second panel": r.Panels[1].Key + " " + r.Panels[1].Name,
		} {
			if got := s.at(i, title); got != want {
				t.Errorf("row %d, %s: %q, want %q", i+1, title, got, want)
			}
		}
	}
	if len(d.Shared) == 0 {
		t.Error("nothing is shared: the test shows nothing")
	}
	panels := read(t, f, "Panels")
	for i := range d.Panels {
		p, want := &d.Panels[i], d.Panels[i].Blank.X.Decimal()
		if p.Sharing == p.Copies {
			want = "shared"
		}
		if got := panels.at(i, "Blank length (mm)"); got != want {
			t.Errorf("%s: blank length %q, want %q", p.Name, got, want)
		}
	}
	cuts := read(t, f, "Cuts")
	n := 0
	for i := range cuts.rows {
		for _, s := range strings.Split(cuts.at(i, "Frees"), "; ") {
			if strings.Contains(s, " in one blank") {
				n++
				if strings.Count(s, " + ") != 1 {
					t.Errorf("cut %d frees %q", i+1, s)
				}
			}
		}
	}
	want := 0
	for _, r := range d.Shared {
		want += r.Count
	}
	if n != want {
		t.Errorf("%d shared blanks come free, want %d", n, want)
	}
	alone := exporttest.Dossier(t, exporttest.Job(), kerf.Saw)
	if slices.Contains(open(t, write(t, alone)).GetSheetList(), "Shared blanks") {
		t.Error("a worksheet of shared blanks where there are none")
	}
}

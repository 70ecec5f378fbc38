package csvlist_test

import (
	"regexp"
	"testing"

	"panelyard/export/exporttest"
	"panelyard/kerf"
)

// No size is claimed for a blank of its own where all copies of a panel share one, and
// what is sawn instead is named.
func TestSharedBlanks(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Stands(), kerf.Saw)
	got := rows(t, d)
	for i, want := range []struct{ blank, shared string }{
		{"566", `^6 of [0-9.]+ x [0-9.]+ for two each$`}, // 560 and an allowance of 6; the odd copy
		{"590", `^$`},
	} {
		if b := got[i]["blank_length_mm"]; b != want.blank {
			t.Errorf("%s: blank length %q, want %q", got[i]["panel"], b, want.blank)
		}
		if s := got[i]["shared_blanks"]; !regexp.MustCompile(want.shared).MatchString(s) {
			t.Errorf("%s: shared blanks %q, want %q", got[i]["panel"], s, want.shared)
		}
	}
	for i := range d.Panels {
		if p := &d.Panels[i]; p.Sharing == p.Copies {
			if b := got[i]["blank_length_mm"] + got[i]["blank_width_mm"]; b != "" {
				t.Errorf("%s: all copies share blanks, and yet %q", p.Name, b)
			}
		}
		if (d.Panels[i].Sharing > 0) != (got[i]["shared_blanks"] != "") {
			t.Errorf("%s: %d copies share, listed is %q", d.Panels[i].Name, d.Panels[i].Sharing, got[i]["shared_blanks"])
		}
	}
}

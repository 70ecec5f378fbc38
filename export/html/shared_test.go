package html_test

import (
	"fmt"
	"strings"
	"testing"

	"panelyard/export/exporttest"
	"panelyard/kerf"
)

// The page lists shared blanks, says how many copies of a panel share one, and names
// both panels where one comes free.
func TestSharedBlanks(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Stands(), kerf.Saw)
	s := write(t, d)
	blanks := 0
	for _, r := range d.Shared {
		blanks += r.Count
		row := fmt.Sprintf(`<td class="n">%d</td><td class="n s">%s</td>`, r.Count, strings.ReplaceAll(d.Lengths().Size(r.Blank[0]), " ×", "\u00a0×"))
		if !strings.Contains(s, row) {
			t.Errorf("no row %s", row)
		}
	}
	if n := strings.Count(s, " in one blank"); n != blanks || n == 0 {
		t.Errorf("%d shared blanks come free, want %d", n, blanks)
	}
	for _, want := range []string{"566\u00a0× 356<br>12 shared</td>", "<b>shared blanks</b> (<a href"} {
		if !strings.Contains(s, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if s := write(t, exporttest.Dossier(t, exporttest.Job(), kerf.Saw)); strings.Contains(s, "hared blank") {
		t.Error("the page speaks of shared blanks where there are none")
	}
}

// Spare sheets and drops are on the bill.
func TestBought(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Bought(), kerf.Saw)
	s := write(t, d)
	for _, want := range []string{"and 1 to spare", "delivery by <bdi>mill &amp; sons</bdi>", "delivery " + d.Money(d.Totals.Delivery), "board, delivery, edge band"} {
		if !strings.Contains(s, want) {
			t.Errorf("%q is not there", want)
		}
	}
}

package html_test

import (
	"fmt"
	"testing"
	"time"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/export/svgmap"
	"panelyard/kerf"
)

// large returns a dossier of two hundred sheets with at least 25 panels each: those of a
// small plan again and again, each time as copies of their own.
func large(t *testing.T) (d *export.Dossier, panels int) {
	t.Helper()
	j := exporttest.Job(exporttest.Nasty...)
	j.Panels = j.Panels[3:]
	j.Panels[0].Quantity = 12
	d = exporttest.Dossier(t, j, kerf.Saw)
	first := d.Sheets[0]
	for i := range d.Panels {
		d.Panels[i].Sheets = nil
	}
	copies := map[*export.PanelRow]int{}
	d.Sheets = nil
	for i := range 200 {
		one := first
		one.ID = fmt.Sprintf("S%d", i+1)
		one.Placements = append([]export.PlacedPanel(nil), first.Placements...)
		one.Steps = nil // they name copies of the small plan
		for k := range one.Placements {
			pl := &one.Placements[k]
			copies[pl.Row]++
			pl.Copy = copies[pl.Row]
			pl.Row.Sheets = append(pl.Row.Sheets, one.ID)
		}
		panels += len(one.Placements)
		d.Sheets = append(d.Sheets, one)
	}
	return d, panels
}

// Two hundred sheets are written in seconds, and Chromium opens them in seconds, goes to a
// panel on the last sheet, and back to its row.
func TestLarge(t *testing.T) {
	d, panels := large(t)
	start := time.Now()
	page := write(t, d)
	took := time.Since(start)
	t.Logf("200 sheets, %d panels: %v, %.1f MB", panels, took, float64(len(page))/1e6)
	if took > 15*time.Second {
		t.Errorf("200 sheets with %d panels take %v", panels, took)
	}
	ids(t, "large", parse(t, page))

	b := launch(t, 1200, 900)
	r := d.Sheets[199].Placements[0].Row
	place, row := byID(svgmap.KindID("S200", r)), byID(svgmap.RowID(r))
	start = time.Now()
	b.open(page, "#"+svgmap.KindID("S200", r))
	b.frame()
	t.Logf("opened in %v", time.Since(start))
	if !b.seen(place) || b.eval(place+".classList.contains('on')") != "true" {
		t.Error("the place on the last sheet is not in sight, or not marked")
	}
	b.click(place + `.querySelector("path")`)
	b.frame()
	if !b.seen(row) {
		t.Error("the panel does not lead to its row")
	}
}

package book_test

import (
	"fmt"
	"testing"
	"time"

	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// A book of two hundred sheets with five thousand panels is written in about six seconds
// of one core, four of them for its codes, and has six megabytes; the limits leave room
// for a busy machine.
func TestLargeBook(t *testing.T) {
	if testing.Short() {
		t.Skip("plans five thousand panels")
	}
	job := exporttest.Job()
	const kinds, each, limit = 50, 100, time.Minute
	job.Panels = nil
	for i := range kinds {
		o := outline.Rectangle(460*length.Millimetre, length.Length(226+i%4)*length.Millimetre)
		job.Panels = append(job.Panels, parts.Panel{
			Name: fmt.Sprintf("panel %d", i+1), Quantity: each, Material: "birch 18", Grain: parts.AlongLength,
			Outline: o, Edging: []string{"oak 1", "", "oak 1", ""},
		})
	}
	d := exporttest.Dossier(t, job, kerf.Saw)
	start := time.Now()
	doc := written(t, d)
	took := time.Since(start)
	t.Logf("%d sheets, %d panels, %d bytes, %v", len(d.Sheets), d.Totals.Panels, len(doc), took)
	if len(d.Sheets) < 190 || d.Totals.Panels != kinds*each {
		t.Errorf("the test has lost its point: %d sheets, %d panels", len(d.Sheets), d.Totals.Panels)
	}
	if took > limit {
		t.Errorf("takes %v", took)
	}
	if len(doc) > 10<<20 {
		t.Errorf("%d bytes", len(doc))
	}
}

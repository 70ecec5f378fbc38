package export_test

import (
	"testing"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// pieces cuts a sheet as a shop does, one piece at a time, and returns the pieces
// there are after each cut.
func pieces(m *export.SheetMap, kerf length.Length) [][]geom.Box {
	now := []geom.Box{geom.BoxFromSize(geom.Point{}, geom.Pt(m.Stock.Length, m.Stock.Width))}
	var all [][]geom.Box
	for _, c := range m.Cuts {
		var next []geom.Box
		for _, b := range now {
			lower, upper := b, b
			var through bool
			if c.From.X == c.To.X {
				through = min(c.From.Y, c.To.Y) == b.Min.Y && max(c.From.Y, c.To.Y) == b.Max.Y &&
					c.From.X+kerf/2 > b.Min.X && c.From.X-kerf/2 < b.Max.X
				lower.Max.X, upper.Min.X = c.From.X-kerf/2, c.From.X+kerf/2
			} else {
				through = min(c.From.X, c.To.X) == b.Min.X && max(c.From.X, c.To.X) == b.Max.X &&
					c.From.Y+kerf/2 > b.Min.Y && c.From.Y-kerf/2 < b.Max.Y
				lower.Max.Y, upper.Min.Y = c.From.Y-kerf/2, c.From.Y+kerf/2
			}
			if !through {
				next = append(next, b)
				continue
			}
			for _, p := range []geom.Box{lower, upper} {
				if !p.Empty() {
					next = append(next, p)
				}
			}
		}
		now = next
		all = append(all, append([]geom.Box(nil), now...))
	}
	return all
}

// What a cut is said to free is what is a piece of its own after it and was none
// before, when the cuts are made one after the other.
func TestFreed(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), kerf.Saw)
	panels, offcuts := 0, 0
	for i := range d.Sheets {
		m := &d.Sheets[i]
		freed := m.Freed(d.Demand.Kerf)
		if len(freed) != len(m.Cuts) {
			t.Fatalf("%s: %d cuts, %d answers", m.ID, len(m.Cuts), len(freed))
		}
		said := map[geom.Box]int{}
		for k := range freed {
			for _, p := range freed[k].Panels {
				said[p.Blank] = k
				panels++
			}
			for _, o := range freed[k].Offcuts {
				said[o.Box] = k
				offcuts++
			}
		}
		first := map[geom.Box]int{}
		for k, list := range pieces(m, d.Demand.Kerf) {
			for _, b := range list {
				if _, ok := first[b]; !ok {
					first[b] = k
				}
			}
		}
		for b, k := range said {
			if n, ok := first[b]; !ok || n != k {
				t.Errorf("%s: %v is said to come free with cut %d, the replay says %d (%v)", m.ID, b, k+1, n+1, ok)
			}
		}
	}
	if panels != d.Totals.Panels {
		t.Errorf("%d panels come free, %d are on sheets", panels, d.Totals.Panels)
	}
	if offcuts == 0 {
		t.Error("no offcut comes free: the test shows nothing about them")
	}
}

// A panel as large as its sheet comes free with no cut.
func TestFreedWithoutCut(t *testing.T) {
	d := exporttest.Dossier(t, oneSheet(1000*mm, 400*mm, 6*mm, 500), kerf.Saw)
	if m := &d.Sheets[0]; len(m.Placements) != 1 || len(m.Freed(d.Demand.Kerf)) != len(m.Cuts) || len(m.Cuts) != 0 {
		t.Errorf("%d panels, %d cuts", len(m.Placements), len(m.Cuts))
	}
}

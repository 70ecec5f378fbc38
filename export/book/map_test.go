package book_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"panelyard/export"
	"panelyard/export/pdf"
	"panelyard/kerf/toolpath"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// The widths of pens that only one thing on a map has, in mm.
const (
	sheetPen = 0.4
	bandPen  = 0.7
	tabPen   = 1.1
)

// chart is a map as it is drawn: how to come from a place on the sheet to one on paper.
type chart struct {
	x, y, k float64
}

// chartOf reads the scale and the place of a map from the frame of its sheet.
func chartOf(t *testing.T, p *pdf.Page, m *export.SheetMap) chart {
	t.Helper()
	frames := lines(p, sheetPen)
	if len(frames) == 0 {
		t.Fatal("no frame of the sheet")
	}
	f := frames[0]
	c := chart{x: f.From.X, y: f.Steps[1].To.Y, k: (f.Steps[0].To.X - f.From.X) / m.Stock.Length.MM()}
	if high := (f.Steps[1].To.Y - f.From.Y) / m.Stock.Width.MM(); math.Abs(high-c.k) > 1e-9 {
		t.Errorf("a scale of %g along and %g across", c.k, high)
	}
	var scale float64
	_, after, _ := strings.Cut(text([]pdf.Page{*p}), "scale 1:")
	if _, err := fmt.Sscan(strings.TrimSuffix(strings.Fields(after)[0], ","), &scale); err != nil || math.Abs(1/scale-c.k) > 1e-9 {
		t.Errorf("drawn to 1:%g, but said to be 1:%g (%v)", 1/c.k, scale, err)
	}
	return c
}

// at returns the place of a point in mm of board, counted from the lower left.
func (c chart) at(x, y float64) pdf.Point { return pdf.Point{X: c.x + x*c.k, Y: c.y - y*c.k} }

// away returns how far a point of paper is from the segment of an outline, by its
// points 0.05 mm apart from its curve.
func (c chart) away(p pdf.Point, o outline.Outline, i int) float64 {
	next := o[(i+1)%len(o)]
	piece := outline.Outline{o[i], {At: next.At}}
	pts := piece.Points(length.Millimetre / 20)
	best := math.Inf(1)
	unit := float64(length.Millimetre)
	for k := 0; k+1 < len(pts); k++ {
		a, b := c.at(pts[k][0]/unit, pts[k][1]/unit), c.at(pts[k+1][0]/unit, pts[k+1][1]/unit)
		if pts[k+1] == pts[0] {
			break
		}
		dx, dy := b.X-a.X, b.Y-a.Y
		f := 0.0
		if l := dx*dx + dy*dy; l > 0 {
			f = min(1, max(0, ((p.X-a.X)*dx+(p.Y-a.Y)*dy)/l))
		}
		best = min(best, math.Hypot(p.X-a.X-f*dx, p.Y-a.Y-f*dy))
	}
	return best
}

// middle returns the middle of a path of one step.
func middle(p pdf.Path) pdf.Point {
	a, b, bulge := p.From, p.Steps[0].To, p.Steps[0].Bulge
	// A positive bulge turns from x towards y: its arc lies on the right of its chord.
	return pdf.Point{X: (a.X+b.X)/2 + bulge*(b.Y-a.Y)/2, Y: (a.Y+b.Y)/2 - bulge*(b.X-a.X)/2}
}

// within reports whether a point of paper lies in an outline, by the crossings of a ray.
func (c chart) within(p pdf.Point, o outline.Outline) bool {
	in := false
	pts := o.Points(length.Millimetre / 20)
	unit := float64(length.Millimetre)
	for k, v := range pts {
		w := pts[(k+1)%len(pts)]
		a, b := c.at(v[0]/unit, v[1]/unit), c.at(w[0]/unit, w[1]/unit)
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// Each banded edge has its line beside it, 0.9 mm of paper within the panel: the edges
// are found by their names, which the outline carries through turning and mirroring,
// while the book counts segments.
func TestBands(t *testing.T) {
	for _, name := range []string{"saw", "router", "back", "bends", "bends router"} {
		d := dossiers(t)[name]
		list := sheetPages(pages(t, d), d)
		total := 0
		for i := range d.Sheets {
			m := d.Seen(i)
			p := &list[i][0]
			c := chartOf(t, p, m)
			drawn := lines(p, bandPen)
			if n := len(drawn); n > 0 {
				drawn = drawn[:n-1] // the last is that of the legend
			}
			want := 0
			for k := range m.Placements {
				pl := &m.Placements[k]
				for _, e := range pl.Row.Edging {
					found := false
					for s := range pl.Outline {
						if pl.Outline[s].Edge != e.Edge {
							continue
						}
						want++
						for _, b := range drawn {
							from, to := c.away(b.From, pl.Outline, s), c.away(b.Steps[0].To, pl.Outline, s)
							found = found || math.Abs(from-0.9) < 0.02 && math.Abs(to-0.9) < 0.02 && c.within(middle(b), pl.Outline)
						}
					}
					if !found {
						t.Errorf("%s, %s: the %s of %s has no line within the panel", name, m.ID, e.Edge, pl.Row.Name)
					}
				}
			}
			if want != len(drawn) {
				t.Errorf("%s, %s: %d lines for %d banded edges", name, m.ID, len(drawn), want)
			}
			total += want
		}
		if total == 0 {
			t.Errorf("%s: the test has lost its point: no bands", name)
		}
	}
}

// Each tab is a stroke of its length on its path, and each path has a dot where the bit
// comes down: at its lead, or at its first vertex.
func TestTabsAndStarts(t *testing.T) {
	d := dossiers(t)["router"]
	list := sheetPages(pages(t, d), d)
	tabs := 0
	for i := range d.Sheets {
		m, p := &d.Sheets[i], &list[i][0]
		c := chartOf(t, p, m)
		drawn := lines(p, tabPen)
		at := 0
		for k := range m.Paths {
			path := &m.Paths[k]
			for _, tab := range path.Tabs {
				if at >= len(drawn) {
					t.Fatalf("%s: only %d tabs", m.ID, len(drawn))
				}
				a, b := drawn[at].From, drawn[at].Steps[0].To
				at++
				tabs++
				long := math.Hypot(a.X-b.X, a.Y-b.Y)
				if math.Abs(long-(tab.To-tab.From).MM()*c.k) > 0.001 {
					t.Errorf("%s: a tab of %g mm on paper, want %g", m.ID, long, (tab.To-tab.From).MM()*c.k)
				}
				if off := c.off(a, path) + c.off(b, path); off > 0.001 {
					t.Errorf("%s: a tab lies %g mm off its path", m.ID, off)
				}
			}
			start := path.Line[0].At
			if len(path.Lead) > 0 {
				start = path.Lead[0].At
			}
			want, found := c.at(start.X.MM(), start.Y.MM()), false
			for _, x := range p.Items {
				if a, ok := x.(pdf.Area); ok && a.Grey == 0 && len(a.Paths[0].Steps) == 2 {
					mid := (a.Paths[0].From.X + a.Paths[0].Steps[0].To.X) / 2
					found = found || math.Hypot(mid-want.X, a.Paths[0].From.Y-want.Y) < 1e-6
				}
			}
			if !found {
				t.Errorf("%s: no dot where path %d begins", m.ID, k+1)
			}
		}
		if rest := len(drawn) - at; rest > 1 {
			t.Errorf("%s: %d tabs too many", m.ID, rest)
		}
	}
	if tabs == 0 {
		t.Error("the test has lost its point: no tabs")
	}
}

// off returns how far a point of paper lies off a path.
func (c chart) off(p pdf.Point, path *toolpath.Path) float64 {
	best := math.Inf(1)
	for s := range path.Line {
		best = min(best, c.away(p, path.Line, s))
	}
	return best
}

// What has no room on the map of a large sheet with tiny panels is on its detail: nearly
// all of the panels, at a scale that the page states.
func TestDetail(t *testing.T) {
	for _, name := range []string{"tight", "tight router"} {
		d := dossiers(t)[name]
		sheet := sheetPages(pages(t, d), d)[0]
		unnamed := len(missing(sheet)["panels"])
		var detail *pdf.Page
		for i := range sheet {
			for _, m := range sheet[i].Marks {
				if m.Name == "Sheet S1: detail" && m.Level == 1 {
					detail = &sheet[i]
				}
			}
		}
		if detail == nil || unnamed < 100 {
			t.Errorf("%s: no detail, or %d panels without room", name, unnamed)
			continue
		}
		pegs, clips := 0, 0
		for _, w := range words(detail) {
			if w.Face == pdf.Bold && w.Size < titleSize && (w.Text == "6" || strings.HasPrefix(w.Text, "6 ")) {
				pegs++
			}
		}
		for _, x := range detail.Items {
			if c, ok := x.(pdf.Clip); ok {
				clips++
				if len(c.Items) == 0 || c.Min.X < 10 || c.Min.Y < 10 || c.Min.X+c.W > detail.W-10 || c.Min.Y+c.H > detail.H-10 {
					t.Errorf("%s: the detail lies at %v, %g × %g, with %d items", name, c.Min, c.W, c.H, len(c.Items))
				}
			}
		}
		if pegs < unnamed*9/10 || clips != 1 {
			t.Errorf("%s: %d of %d panels on %d details", name, pegs, unnamed, clips)
		}
		if s := text([]pdf.Page{*detail}); !strings.Contains(s, "A part of 6000 × 2500 mm") || !strings.Contains(s, map[string]string{"tight": "scale 1:12", "tight router": "scale 1:7.5"}[name]) {
			t.Errorf("%s: the detail says %.200q", name, s)
		}
	}
}

package template

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"panelyard/export/exporttest"
	"panelyard/export/pdf"
	"panelyard/parts/geom"
	"panelyard/parts/outline"
)

// drawGrid draws a grid and lines in its box.
func drawGrid(t *rapid.T) (grid, Rect, [][2]pdf.Point) {
	box := Rect{X1: rapid.Float64Range(1, 1500).Draw(t, "length"), Y1: rapid.Float64Range(1, 1500).Draw(t, "width")}
	w, h := rapid.Float64Range(leastW, 400).Draw(t, "w"), rapid.Float64Range(leastH, 400).Draw(t, "h")
	g := newGrid(box, w, h, rapid.Float64Range(5, mostOverlap*min(w, h)).Draw(t, "overlap"))
	point := func() pdf.Point {
		return pdf.Point{X: rapid.Float64Range(0, box.X1).Draw(t, "x"), Y: rapid.Float64Range(0, box.Y1).Draw(t, "y")}
	}
	var lines [][2]pdf.Point
	for range rapid.IntRange(1, 4).Draw(t, "lines") {
		a := point()
		b := pdf.Point{X: a.X + rapid.Float64Range(-50, 50).Draw(t, "dx"), Y: a.Y + rapid.Float64Range(-50, 50).Draw(t, "dy")}
		if rapid.Bool().Draw(t, "far") {
			b = point()
		}
		b = pdf.Point{X: min(max(b.X, 0), box.X1), Y: min(max(b.Y, 0), box.Y1)}
		g.ink(a, b)
		lines = append(lines, [2]pdf.Point{a, b})
	}
	return g, box, lines
}

// Windows cover the box with their clearance, and neighbours overlap by as much as was
// asked for; no row and no column could be left out.
func TestGridCovers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, box, _ := drawGrid(t)
		span, need := g.span(), box.grown(clearance-1e-6)
		if span.X0 > need.X0 || span.Y0 > need.Y0 || span.X1 < need.X1 || span.Y1 < need.Y1 {
			t.Fatalf("%v does not cover %v", span, need)
		}
		if g.cols > 1 && span.width()-need.width() >= g.w-g.overlap+1e-3 || g.rows > 1 && span.height()-need.height() >= g.h-g.overlap+1e-3 {
			t.Fatalf("%d by %d windows are too many", g.cols, g.rows)
		}
		for r := range g.rows {
			for c := range g.cols {
				w := g.window(r, c)
				if c > 0 && math.Abs(g.window(r, c-1).X1-w.X0-g.overlap) > 1e-9 || r > 0 && math.Abs(w.Y1-g.window(r-1, c).Y0-g.overlap) > 1e-9 {
					t.Fatalf("window %s overlaps otherwise", g.name(r, c))
				}
			}
		}
	})
}

// A window has ink when points along a line, with the width of the pen, lie in it. The
// judge takes points every twentieth of a millimetre.
func TestInkOracle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, _, lines := drawGrid(t)
		half := outlinePen.Width / 2
		for r := range g.rows {
			for c := range g.cols {
				inner, outer := false, false
				w := g.window(r, c)
				for _, l := range lines {
					n := int(math.Hypot(l[1].X-l[0].X, l[1].Y-l[0].Y)*20) + 1
					for k := range n + 1 {
						f := float64(k) / float64(n)
						p := pdf.Point{X: l[0].X + f*(l[1].X-l[0].X), Y: l[0].Y + f*(l[1].Y-l[0].Y)}
						inner = inner || w.has(p)
						outer = outer || w.grown(2*half+0.06).has(p)
					}
				}
				if got := g.inked[r*g.cols+c]; inner && !got || got && !outer {
					t.Fatalf("%s: ink %v, points within %v, near %v", g.name(r, c), got, inner, outer)
				}
			}
		}
	})
}

// The pages that are printed hang together by their sides, pages that join have no ink,
// and two neighbours have two marks or more in common, well within both windows.
func TestPagesHangTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, _, _ := drawGrid(t)
		g.join()
		marks := g.marks()
		var first [2]int
		seen := map[[2]int]bool{}
		for r := range g.rows {
			for c := range g.cols {
				if i := r*g.cols + c; g.inked[i] && g.joins[i] {
					t.Fatal("a page with ink is kept to join others")
				}
				if g.printed(r, c) {
					first = [2]int{r, c}
				}
			}
		}
		stack := [][2]int{first}
		for len(stack) > 0 {
			at := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			if seen[at] || !g.printed(at[0], at[1]) {
				continue
			}
			seen[at] = true
			for _, d := range [4][2]int{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
				next := [2]int{at[0] + d[0], at[1] + d[1]}
				stack = append(stack, next)
				if !g.printed(next[0], next[1]) {
					continue
				}
				common := 0
				for _, m := range marks {
					if g.window(at[0], at[1]).grown(-2).has(m.at) && g.window(next[0], next[1]).grown(-2).has(m.at) {
						common++
					}
				}
				if common < 2 {
					t.Fatalf("%s and %s have %d marks in common", g.name(at[0], at[1]), g.name(next[0], next[1]), common)
				}
			}
		}
		if len(seen) != g.pages() {
			t.Fatalf("%d pages of %d hang together", len(seen), g.pages())
		}
	})
}

// An opening amid a large panel keeps its place: a way of pages leads to it, and pages
// elsewhere are left out.
func TestOpeningAmidPanel(t *testing.T) {
	job := exporttest.Job()
	p := &job.Panels[2] // front
	p.Outline = outline.Rectangle(1200*mm, 1200*mm)
	p.Edging = make([]string, 4)
	p.Openings = p.Openings[1:2]
	p.Openings[0].Outline = outline.Circle(60 * mm).Translate(geom.Pt(520*mm, 560*mm))
	x := templateOf(t, job, "front", false, false)
	d := newDrawing(x)
	l, _ := standard().layout()
	g := newGrid(d.box, l.windowW, l.windowH, l.overlap)
	d.ink(g.ink)
	without := g.pages()
	g.join()
	if g.pages() <= without || g.pages() == g.rows*g.cols {
		t.Errorf("%d pages with ink, %d printed, %d windows", without, g.pages(), g.rows*g.cols)
	}
	if pages := pagesOf(t, x, standard()); len(pages) != g.pages()+1 {
		t.Errorf("%d pages, want %d and the map", len(pages), g.pages())
	}
}

// A mark has the same place in the panel on all its pages.
func TestMarksCoincide(t *testing.T) {
	x := templateOf(t, exporttest.Job(), "side-left", false, false)
	d := newDrawing(x)
	l, _ := standard().layout()
	g := newGrid(d.box, l.windowW, l.windowH, l.overlap)
	at := map[string][]pdf.Point{}
	for _, p := range pagesOf(t, x, standard())[1:] {
		for r := range g.rows {
			for c := range g.cols {
				if g.name(r, c) != p.Name {
					continue
				}
				w := g.window(r, c)
				for i, item := range p.Drawing {
					if m, ok := item.(Lines); ok && m.Class == "mark" {
						number := p.Drawing[i+1].(Words).Text
						cross := m.Paths[0] // from left to right
						at[number] = append(at[number], pdf.Point{
							X: w.X0 + (cross.From.X+cross.Steps[0].To.X)/2 - l.windowX,
							Y: w.Y1 - (cross.From.Y - l.windowY),
						})
					}
				}
			}
		}
	}
	if len(at) < 10 {
		t.Fatalf("%d marks", len(at))
	}
	for n, places := range at {
		if len(places) < 2 {
			t.Errorf("mark %s is on one page", n)
		}
		for _, p := range places {
			if math.Hypot(p.X-places[0].X, p.Y-places[0].Y) > 1e-9 {
				t.Errorf("mark %s lies at %v and at %v", n, places[0], p)
			}
		}
	}
}

// Rows are lettered as columns of a spreadsheet are.
func TestPageNames(t *testing.T) {
	var got []string
	for _, row := range []int{0, 1, 25, 26, 27, 51, 52, 701, 702} {
		got = append(got, grid{}.name(row, 2))
	}
	if want := []string{"A3", "B3", "Z3", "AA3", "AB3", "AZ3", "BA3", "ZZ3", "AAA3"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// What of a loop is seen in a window has the length of the loop, windows without
// overlap taken together, and merges the pieces of an arc.
func TestRuns(t *testing.T) {
	d := newDrawing(templateOf(t, exporttest.Job(), "front", false, false))
	v := view{scale: 1}
	for _, h := range d.openings {
		steps := 0
		for _, p := range v.runs(h.loop, Rect{h.box.X0 - 1, h.box.centre().Y, h.box.X1 + 1, h.box.Y1 + 1}) {
			steps += len(p.Steps)
		}
		if steps > 8 {
			t.Errorf("%s: half of it takes %d steps", h.name, steps)
		}
	}
	// A circle of 90 mm in quarters.
	h := d.openings[1]
	c := h.box.centre()
	sum := 0.0
	for _, r := range []Rect{
		{h.box.X0, h.box.Y0, c.X, c.Y},
		{c.X, h.box.Y0, h.box.X1, c.Y},
		{h.box.X0, c.Y, c.X, h.box.Y1},
		{c.X, c.Y, h.box.X1, h.box.Y1},
	} {
		r.X1, r.Y1 = math.Nextafter(r.X1, 0), math.Nextafter(r.Y1, 0)
		sum += longest(v, h.loop, Rect{r.X0, -r.Y1, r.X1, -r.Y0}).length()
	}
	if want := math.Pi * 90; math.Abs(sum-want) > 0.05*want {
		t.Errorf("quarters of a circle have %.2f mm, want %.2f", sum, want)
	}
}

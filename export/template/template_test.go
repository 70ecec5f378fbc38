package template

import (
	"bytes"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panelyard/export/exporttest"
	"panelyard/export/pdf"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

const mm = length.Millimetre

// standard is a layout on A4.
func standard() Options {
	return Options{Paper: DefaultPaper, Overlap: DefaultOverlap, Margin: DefaultMargin}
}

// templateOf returns the template of a panel, which must be there.
func templateOf(t rapid.TB, job *parts.Job, name string, finished, mirrored bool) *Template {
	t.Helper()
	x, list := New(job, name, finished, mirrored)
	if len(list) > 0 {
		t.Fatal(list)
	}
	return x
}

// pagesOf lays a template out.
func pagesOf(t rapid.TB, x *Template, o Options) []Page {
	t.Helper()
	pages, list := Pages(x, o)
	if len(list) > 0 {
		t.Fatal(list)
	}
	return pages
}

// pdfOf writes a template.
func pdfOf(t rapid.TB, x *Template, pages []Page) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := WritePDF(&b, x.Title(), pages); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// The name of a pair is its left panel; a wrong name gets the nearest and the list.
func TestPanelNames(t *testing.T) {
	job := exporttest.Job()
	if x := templateOf(t, job, "side", false, false); x.Panel.Name != "side-left" {
		t.Errorf("the pair gives %q", x.Panel.Name)
	}
	if x := templateOf(t, job, "side-right", false, false); x.Panel.Name != "side-right" {
		t.Errorf("the right one gives %q", x.Panel.Name)
	}
	for name, want := range map[string]string{"shlef": `did you mean "shelf"?`, "sidee": `did you mean "side"?`, "": `"side-left", "side-right", "front", "shelf", "back"`} {
		x, list := New(job, name, false, false)
		if x != nil || len(list) != 1 || list[0].Pos.File != "kiosk.yaml" || !strings.Contains(list[0].Remedy, want) {
			t.Errorf("%q: %v, want a remedy with %s", name, list, want)
		}
	}
	if _, list := New(&parts.Job{}, "x", false, false); len(list) != 1 {
		t.Errorf("a job without panels: %v", list)
	}
}

// The shelf has a band of 1 mm on one edge: it is cut a millimetre narrower.
func TestCutAndFinished(t *testing.T) {
	job := exporttest.Job()
	if got := templateOf(t, job, "shelf", false, false).Outline.Box().Size(); got != geom.Pt(664*mm, 279*mm) {
		t.Errorf("cut size %v", got)
	}
	if got := templateOf(t, job, "shelf", true, false).Outline.Box().Size(); got != geom.Pt(664*mm, 280*mm) {
		t.Errorf("finished size %v", got)
	}
	for _, finished := range []bool{false, true} {
		x := templateOf(t, job, "shelf", finished, false)
		word := map[bool]string{false: "cut size", true: "finished size"}[finished]
		for _, p := range append(pagesOf(t, x, standard()), Sheet(x)) {
			if !slices.ContainsFunc(texts(p.Frame), func(s string) bool { return strings.HasPrefix(s, word+", seen from the good face") }) {
				t.Errorf("page %q does not say %s", p.Name, word)
			}
		}
	}
}

// texts returns the words of items.
func texts(list []Item) (s []string) {
	for _, x := range list {
		if w, ok := x.(Words); ok {
			s = append(s, w.Text)
		}
	}
	return s
}

// A mirrored drawing is the drawing of the other hand, and its bands stay on the edges
// they are on.
func TestMirrored(t *testing.T) {
	job := exporttest.Job()
	for i := range job.Panels {
		p := &job.Panels[i]
		if p.PairOf == "side" {
			p.Edging = slices.Clone(p.Edging)
			for k, v := range p.Outline {
				if v.Edge == "front" {
					p.Edging[k] = "oak 1"
				}
			}
		}
	}
	left, right := templateOf(t, job, "side-left", false, true), templateOf(t, job, "side-right", false, false)
	if len(left.Outline) != len(right.Outline) {
		t.Fatal("other outlines")
	}
	at := slices.IndexFunc(right.Outline, func(v outline.Vertex) bool { return v.At == left.Outline[0].At })
	if at < 0 {
		t.Fatalf("%v is no corner of %v", left.Outline[0].At, right.Outline)
	}
	for i := range left.Outline {
		k := (at + i) % len(right.Outline)
		a, b := left.Outline[i], right.Outline[k]
		if d := a.At.Sub(b.At); d.X.Abs() > 1 || d.Y.Abs() > 1 || math.Abs(a.Bulge-b.Bulge) > 1e-6 || a.Edge != b.Edge || left.Edging[i] != right.Edging[k] {
			t.Errorf("corner %d: %v %q, want %v %q", i, a, left.Edging[i], b, right.Edging[k])
		}
	}
	front := templateOf(t, job, "front", false, true)
	for i, o := range templateOf(t, job, "front", false, false).Openings {
		b, m := o.Box(), front.Openings[i].Box()
		if m.Min.X != 700*mm-b.Max.X || m.Min.Y != b.Min.Y || m.Size() != b.Size() {
			t.Errorf("opening %d: %v mirrored is %v", i, b, m)
		}
	}
}

// Options that cannot be laid out are refused together, with their flags.
func TestOptions(t *testing.T) {
	x := templateOf(t, exporttest.Job(), "shelf", false, false)
	for _, c := range []struct {
		o    Options
		want string
	}{
		{Options{Paper: "a9"}, "--paper"},
		{Options{Paper: "a4", Overlap: 10 * mm, Margin: 2 * mm}, "--margin"},
		{Options{Paper: "a4", Overlap: 10 * mm, Margin: 36 * mm}, "--margin"},
		{Options{Paper: "a4", Overlap: 10 * mm, Margin: length.Max}, "--margin"},
		{Options{Paper: "a4", Overlap: 4 * mm, Margin: 10 * mm}, "--overlap"},
		{Options{Paper: "a4", Overlap: 39 * mm, Margin: 10 * mm}, "--overlap"},
		{Options{Paper: "a4", Overlap: length.Max, Margin: 10 * mm}, "--overlap"},
	} {
		if _, list := Pages(x, c.o); len(list) != 1 || list[0].Part != c.want || list[0].Remedy == "" {
			t.Errorf("%+v: %v, want a finding of %s", c.o, list, c.want)
		}
	}
	for _, paper := range PaperNames() {
		for _, landscape := range []bool{false, true} {
			pagesOf(t, x, Options{Paper: paper, Landscape: landscape, Overlap: 5 * mm, Margin: 3 * mm})
			pagesOf(t, x, Options{Paper: paper, Landscape: landscape, Overlap: 20 * mm, Margin: 20 * mm})
		}
	}
}

// A panel for which more than 400 pages are needed is refused with a remedy, at once;
// on one sheet it can be drawn.
func TestTooManyPages(t *testing.T) {
	job := exporttest.Job("x")
	p := &job.Panels[len(job.Panels)-1]
	p.Outline = outline.Rectangle(26_000*mm, 26_000*mm)
	job.Stock[0].Length, job.Stock[0].Width = 30_000*mm, 30_000*mm
	x := templateOf(t, job, "x", false, false)
	_, list := Pages(x, standard())
	if len(list) != 1 || !strings.Contains(list[0].Fact, "pages of A4, 400 at most") || !strings.Contains(list[0].Remedy, "--svg") {
		t.Fatalf("%v", list)
	}
	if s := Sheet(x); s.W < 26_000 || s.H < 26_000 {
		t.Errorf("sheet of %g by %g", s.W, s.H)
	}
}

// A writer that fails at any byte makes the documents fail with its error.
func TestFailingWriter(t *testing.T) {
	x := templateOf(t, exporttest.Job(), "front", false, false)
	pages := pagesOf(t, x, Options{Paper: "a3", Overlap: DefaultOverlap, Margin: DefaultMargin})
	sheet := Sheet(x)
	whole := pdfOf(t, x, pages)
	for n := 0; n < len(whole); n += 1 + len(whole)/50 {
		if err := WritePDF(&exporttest.Failing{Left: n}, x.Title(), pages); !errors.Is(err, exporttest.ErrFull) {
			t.Fatalf("PDF, full after %d bytes: %v", n, err)
		}
	}
	var b bytes.Buffer
	if err := WriteSVG(&b, x.Title(), sheet); err != nil {
		t.Fatal(err)
	}
	for n := range b.Len() {
		if err := WriteSVG(&exporttest.Failing{Left: n}, x.Title(), sheet); !errors.Is(err, exporttest.ErrFull) {
			t.Fatalf("SVG, full after %d bytes: %v", n, err)
		}
	}
}

// The same template gives the same bytes.
func TestSameBytes(t *testing.T) {
	var last []byte
	for range 3 {
		x := templateOf(t, exporttest.Job(), "front", false, false)
		b := pdfOf(t, x, pagesOf(t, x, standard()))
		if last != nil && !bytes.Equal(b, last) {
			t.Fatal("other bytes")
		}
		last = b
	}
	if len(last) > 200_000 {
		t.Errorf("a template of a few pages takes %d bytes", len(last))
	}
}

// Labels lie within their window, off the lines of the panel and off each other,
// whatever the panel is called: judged by points along the lines.
func TestLabelsAreClear(t *testing.T) {
	job := exporttest.Job(exporttest.Nasty...)
	for i := range job.Panels {
		for k := range job.Panels[i].Outline {
			job.Panels[i].Outline[k].Edge = exporttest.Nasty[(i+k)%len(exporttest.Nasty)]
		}
	}
	labels := 0
	for i := range job.Panels {
		d := newDrawing(templateOf(t, job, job.Panels[i].Name, false, false))
		l, _ := standard().layout()
		g := newGrid(d.box, l.windowW, l.windowH, l.overlap)
		for row := range g.rows {
			for col := range g.cols {
				v := l.view(g.window(row, col))
				var boxes []slant
				for _, x := range d.labels(v, l.window(), nil) {
					w := x.(Words)
					labels++
					b := w.slant()
					for _, c := range b.corners() {
						if !l.window().has(c) {
							t.Errorf("%q at %v leaves the window", w.Text, w.At)
						}
					}
					d.ink(func(p, q pdf.Point) {
						for k := range 101 {
							f := float64(k) / 100
							o := b.own(v.point(pdf.Point{X: p.X + f*(q.X-p.X), Y: p.Y + f*(q.Y-p.Y)}))
							if math.Abs(o.X) < b.half && math.Abs(o.Y) < b.rise {
								t.Fatalf("%q of %q lies on a line", w.Text, d.Panel.Name)
							}
						}
					})
					for _, other := range boxes {
						for _, c := range other.corners() {
							if o := b.own(c); math.Abs(o.X) < b.half && math.Abs(o.Y) < b.rise {
								t.Errorf("%q lies on another label", w.Text)
							}
						}
					}
					boxes = append(boxes, b)
				}
			}
		}
	}
	if labels < 20 {
		t.Errorf("%d labels in all", labels)
	}
}

// The smallest and the longest panels are laid out with numbers that are numbers, and
// what is written on a page lies on it.
func TestExtremes(t *testing.T) {
	quarter := math.Tan(math.Pi / 8)
	for name, o := range map[string]outline.Outline{
		"speck":  outline.Rectangle(mm/10, mm/10),
		"strip":  outline.Rectangle(29_000*mm, 5*mm),
		"pole":   outline.Rectangle(5*mm, 29_000*mm),
		"flat":   {{At: geom.Pt(0, 0), Bulge: 1e-9}, {At: geom.Pt(1000*mm, 0)}, {At: geom.Pt(500*mm, 300*mm), Bulge: -1e-12}},
		"circle": outline.Circle(1001 * mm),
		"moon":   {{At: geom.Pt(300*mm, 0)}, {At: geom.Pt(420*mm, 0), Bulge: quarter}, {At: geom.Pt(0, 420*mm)}, {At: geom.Pt(0, 300*mm), Bulge: -quarter}},
	} {
		job := exporttest.Job("x")
		p := &job.Panels[len(job.Panels)-1]
		p.Outline, p.Edging, p.Grain = o, make([]string, len(o)), parts.NoAxis
		job.Stock[0].Length, job.Stock[0].Width = 30_000*mm, 30_000*mm
		x := templateOf(t, job, "x", false, true)
		for _, page := range append(pagesOf(t, x, standard()), Sheet(x)) {
			on := Rect{X1: page.W, Y1: page.H}
			for _, item := range slices.Concat(page.Frame, page.Drawing) {
				switch item := item.(type) {
				case Words:
					start, end := item.start(), item.At.X+pdf.Width(item.Text, item.Size, item.Face)*(1-item.Anchor.share())
					if !on.has(item.At) || !on.has(start) || item.Turn == 0 && end > page.W {
						t.Errorf("%s, page %q: %q at %v leaves the page", name, page.Name, item.Text, item.At)
					}
				case Lines:
					for _, path := range item.Paths {
						for _, s := range path.Steps {
							if v := path.From.X + path.From.Y + s.To.X + s.To.Y + s.Bulge; math.IsNaN(v) || math.IsInf(v, 0) {
								t.Fatalf("%s, page %q: %s of %+v", name, page.Name, item.Class, path)
							}
						}
					}
				}
			}
		}
	}
}

// However much there is to say, the first page has room for it and for the map.
func TestFrontHasRoom(t *testing.T) {
	long := strings.Repeat("long name ", 20)
	job := exporttest.Job(long)
	job.Name, job.Variant, job.Units = long, long, length.IN
	job.Materials[0].Name, job.Bands[0].Name = long, long
	p := &job.Panels[len(job.Panels)-1]
	p.Material, p.Hand, p.PairOf, p.Edging = long, parts.Left, long, []string{long, long, long, long}
	for i := range 30 {
		p.Openings = append(p.Openings, parts.Opening{
			Name: long, Component: "component " + long, Outline: outline.Circle(4 * mm).Translate(geom.Pt(length.Length(9*i+5)*mm, 30*mm)),
		})
	}
	job.Stock[0].Material = long
	for _, paper := range PaperNames() {
		for _, landscape := range []bool{false, true} {
			for _, margin := range []length.Length{3 * mm, 30 * mm} {
				x := templateOf(t, job, long, false, false)
				front := pagesOf(t, x, Options{Paper: paper, Landscape: landscape, Overlap: DefaultOverlap, Margin: margin})[0]
				lowest, pagesMap := 0.0, Rect{Y0: math.Inf(1)}
				for _, item := range front.Frame {
					switch item := item.(type) {
					case Words:
						lowest = max(lowest, item.At.Y)
					case Lines:
						if item.Class == "pages" {
							a := item.Paths[0].From
							pagesMap = Rect{a.X, a.Y, item.Paths[0].Steps[0].To.X, item.Paths[0].Steps[1].To.Y}
						}
					}
				}
				if lowest > front.H-margin.MM() || pagesMap.width() < 10 || pagesMap.Y1 > front.H-margin.MM() {
					t.Errorf("%s, landscape %v, margin %v: text down to %.1f of %.1f mm, first page on the map %+v", paper, landscape, margin, lowest, front.H, pagesMap)
				}
			}
		}
	}
}

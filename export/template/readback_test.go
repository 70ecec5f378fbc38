package template

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/tdewolff/canvas"

	"panelyard/export/exporttest"
	"panelyard/parts/length"
	"panelyard/parts/partstest"
)

// These tests read the documents with programs we did not write: pdftotext, pdfinfo and
// pdftoppm of poppler, qpdf, rsvg-convert of librsvg.

// call runs a program and returns what it prints.
func call(t *testing.T, name string, args ...string) []byte {
	t.Helper()
	cmd := exec.Command(name, args...)
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil || errs.Len() > 0 {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, errs.String())
	}
	return out
}

// file writes a file for a program to read.
func file(t *testing.T, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// picture is a page in shades of grey, at so many pixels a mm.
type picture struct {
	w, h  int
	grey  []byte
	scale float64
}

// at returns the darkness of a pixel, 0 beyond the picture.
func (p *picture) at(x, y int) int {
	if x < 0 || y < 0 || x >= p.w || y >= p.h {
		return 0
	}
	return 255 - int(p.grey[y*p.w+x])
}

// pgm reads a picture.
func pgm(t *testing.T, data []byte, scale float64) *picture {
	t.Helper()
	var w, h, most int
	if _, err := fmt.Fscanf(bytes.NewReader(data), "P5\n%d %d\n%d\n", &w, &h, &most); err != nil || most != 255 || len(data) < w*h {
		t.Fatalf("no grey picture: %v, %d by %d to %d", err, w, h, most)
	}
	return &picture{w, h, data[len(data)-w*h:], scale}
}

// rasters draws the pages of a PDF at so many pixels a mm.
func rasters(t *testing.T, doc []byte, scale float64, first, last int) []*picture {
	t.Helper()
	tool := partstest.Tool(t, "pdftoppm")
	path := file(t, "t.pdf", doc)
	var list []*picture
	for n := first; n <= last; n++ {
		page := strconv.Itoa(n)
		list = append(list, pgm(t, call(t, tool, "-gray", "-r", fmt.Sprint(scale*25.4), "-f", page, "-l", page, path), scale))
	}
	return list
}

// spanOf returns the middles of the outermost long ticks of a ruler, along the row of
// pixels that crosses their feet only, in mm.
func spanOf(t *testing.T, p *picture, yMM, fromMM, toMM float64) (left, right float64) {
	t.Helper()
	y := int(yMM * p.scale)
	var ticks []float64
	for x := int(fromMM * p.scale); x < int(toMM*p.scale); x++ {
		weight, sum := 0, 0.0
		for ; p.at(x, y) > 40; x++ {
			weight += p.at(x, y)
			sum += float64(p.at(x, y)) * (float64(x) + 0.5)
		}
		if weight > 0 {
			ticks = append(ticks, sum/float64(weight)/p.scale)
		}
	}
	if len(ticks) < 5 {
		t.Fatalf("%d ticks at %.1f mm", len(ticks), yMM)
	}
	return ticks[0], ticks[len(ticks)-1]
}

// The rulers of every page are 100 mm and, in a job in inches, 4 in, measured on the
// page as poppler draws it at 508 dots an inch, where it moves thin lines to whole
// pixels: to two of them.
func TestRulers(t *testing.T) {
	job := exporttest.Job()
	job.Units = length.IN
	x := templateOf(t, job, "shelf", false, false)
	for _, o := range []Options{standard(), {Paper: "letter", Landscape: true, Overlap: 12 * mm, Margin: 15 * mm}} {
		pages := pagesOf(t, x, o)
		top := o.Margin.MM()
		for i, p := range rasters(t, pdfOf(t, x, pages), 20, 1, min(3, len(pages))) {
			from, to := pages[i].W-top-105, pages[i].W-top
			l, r := spanOf(t, p, top+4.5+2.6, from, to)
			if math.Abs(r-l-100) > 0.1 {
				t.Errorf("page %d: the ruler is %.3f mm long", i+1, r-l)
			}
			l, r = spanOf(t, p, top+12.5+2.6, from, to)
			if math.Abs(r-l-4*25.4) > 0.1 {
				t.Errorf("page %d: the ruler in inches is %.3f in long", i+1, (r-l)/25.4)
			}
		}
	}
}

// The pages laid over each other as their windows say, drawn by poppler, are the sheet
// drawn by librsvg, to a pixel of 0.2 mm and what its edge is blurred by.
func TestTilesMakeTheSheet(t *testing.T) {
	const scale = 5.0 // pixels a mm
	rsvg := partstest.Tool(t, "rsvg-convert")
	for _, c := range []struct {
		panel              string
		finished, mirrored bool
	}{{"side-left", false, false}, {"front", true, true}} {
		x := templateOf(t, exporttest.Job(), c.panel, c.finished, c.mirrored)
		pages := pagesOf(t, x, standard())
		for i := range pages {
			pages[i].Drawing = panelOnly(pages[i].Drawing)
			pages[i].Frame = nil
		}
		d := newDrawing(x)
		l, _ := standard().layout()
		g := newGrid(d.box, l.windowW, l.windowH, l.overlap)
		span := g.span()
		drawn := rasters(t, pdfOf(t, x, pages), scale, 2, len(pages))
		whole := &picture{w: int(span.width()*scale) + 1, h: int(span.height()*scale) + 1, scale: scale}
		whole.grey = bytes.Repeat([]byte{255}, whole.w*whole.h)
		for i, p := range drawn {
			for r := range g.rows {
				for col := range g.cols {
					if g.name(r, col) != pages[i+1].Name {
						continue
					}
					w := g.window(r, col)
					dx, dy := int(math.Round((w.X0-span.X0-l.windowX)*scale)), int(math.Round((span.Y1-w.Y1-l.windowY)*scale))
					for y := range p.h {
						for xx := range p.w {
							if X, Y := xx+dx, y+dy; X >= 0 && Y >= 0 && X < whole.w && Y < whole.h {
								at := &whole.grey[Y*whole.w+X]
								*at = min(*at, p.grey[y*p.w+xx])
							}
						}
					}
				}
			}
		}
		sheet := Sheet(x)
		// The box of the panel lies in the middle of both.
		left, top := sheet.Window.centre().X-span.width()/2, sheet.Window.centre().Y-span.height()/2
		sheet.Drawing, sheet.Frame = panelOnly(sheet.Drawing), nil
		var b bytes.Buffer
		if err := WriteSVG(&b, "", sheet); err != nil {
			t.Fatal(err)
		}
		path := file(t, "t.svg", b.Bytes())
		png := filepath.Join(t.TempDir(), "t.png")
		call(t, rsvg, "-d", fmt.Sprint(scale*25.4), "-p", fmt.Sprint(scale*25.4), "-o", png, path)
		reference := pngPicture(t, png, scale)
		dx, dy := int(math.Round(left*scale)), int(math.Round(top*scale))
		compare(t, c.panel+" in tiles", whole, reference, dx, dy)
		compare(t, c.panel+" on the sheet", reference, whole, -dx, -dy)
	}
}

// panelOnly keeps the outlines of a drawing.
func panelOnly(list []Item) (kept []Item) {
	for _, x := range list {
		if l, ok := x.(Lines); ok && (l.Class == "panel" || l.Class == "opening") {
			kept = append(kept, l)
		}
	}
	return kept
}

// compare wants every clearly dark pixel of a within a pixel of a dark one of b.
func compare(t *testing.T, name string, a, b *picture, dx, dy int) {
	t.Helper()
	dark, alone := 0, 0
	for y := range a.h {
		for x := range a.w {
			if a.at(x, y) < 140 {
				continue
			}
			dark++
			near := false
			for v := y - 2; v <= y+2; v++ {
				for u := x - 2; u <= x+2; u++ {
					near = near || b.at(u+dx, v+dy) >= 40 && (u-x)*(u-x)+(v-y)*(v-y) <= 4
				}
			}
			if !near {
				alone++
			}
		}
	}
	if dark < 3000 || alone > 0 {
		t.Errorf("%s: %d of %d dark pixels are not where they should be", name, alone, dark)
	}
}

// words are the words of a page with their boxes, as pdftotext -bbox writes them.
type pageText struct {
	W     float64 `xml:"width,attr"`
	H     float64 `xml:"height,attr"`
	Words []struct {
		X0   float64 `xml:"xMin,attr"`
		Y0   float64 `xml:"yMin,attr"`
		X1   float64 `xml:"xMax,attr"`
		Y1   float64 `xml:"yMax,attr"`
		Text string  `xml:",chardata"`
	} `xml:"word"`
}

// Whatever a panel, its edges and openings are called, the document is sound, its texts
// can be selected and lie within the margins of every page, and the name is there.
func TestNamesReadBack(t *testing.T) {
	text, qpdf := partstest.Tool(t, "pdftotext"), partstest.Tool(t, "qpdf")
	job := exporttest.Job(exporttest.Nasty...)
	for i, name := range exporttest.Nasty {
		p := &job.Panels[len(job.Panels)-len(exporttest.Nasty)+i]
		for k := range p.Outline {
			p.Outline[k].Edge = name
		}
		for _, o := range []Options{standard(), {Paper: "letter", Landscape: true, Overlap: 10 * mm, Margin: 20 * mm}} {
			x := templateOf(t, job, name, false, false)
			path := file(t, "t.pdf", pdfOf(t, x, pagesOf(t, x, o)))
			call(t, qpdf, "--check", path)
			var doc struct {
				Pages []pageText `xml:"body>doc>page"`
			}
			out := call(t, text, "-bbox", path, "-")
			if err := xml.Unmarshal(clean(out), &doc); err != nil {
				t.Fatalf("%q: %v", name, err)
			}
			if len(doc.Pages) < 3 {
				t.Fatalf("%q: %d pages read", name, len(doc.Pages))
			}
			for n, p := range doc.Pages {
				m := o.Margin.MM()*72/25.4 - 1
				all := ""
				for _, w := range p.Words {
					all += " " + w.Text
					if w.X0 < m || w.X1 > p.W-m || w.Y0 < m || w.Y1 > p.H-m {
						t.Errorf("%q, page %d: %q leaves the page: %+v", name, n+1, w.Text, w)
					}
				}
				if first := firstWord.FindString(name); first != "" && !strings.Contains(all, first) {
					t.Errorf("%q, page %d: not named: %s", name, n+1, all)
				}
				if !strings.Contains(all, "cut size, seen from the good face") || !strings.Contains(all, "100 mm") {
					t.Errorf("%q, page %d: no size or ruler: %s", name, n+1, all)
				}
			}
		}
	}
}

// firstWord is what of a name is read back letter by letter.
var firstWord = regexp.MustCompile(`^[A-Za-z]+`)

// clean takes out what poppler writes of a title that XML cannot hold.
func clean(doc []byte) []byte {
	if i := bytes.Index(doc, []byte("<body>")); i >= 0 {
		doc = append([]byte("<html>"), doc[i:]...)
	}
	return doc
}

// The document says its title and how many pages it has; Arabic can be read.
func TestInformation(t *testing.T) {
	info, text := partstest.Tool(t, "pdfinfo"), partstest.Tool(t, "pdftotext")
	const name = "لوح يمين"
	x := templateOf(t, exporttest.Job(name), name, false, false)
	pages := pagesOf(t, x, standard())
	path := file(t, "t.pdf", pdfOf(t, x, pages))
	out := string(call(t, info, path))
	for _, want := range []string{`Title: +Template of ` + name + `, cut size, seen from the good face`, fmt.Sprintf(`Pages: +%d\n`, len(pages)), `Page size: +595\.28 x 841\.89 pts \(A4\)`, `Creator: +` + Mark} {
		if !regexp.MustCompile(want).MatchString(out) {
			t.Errorf("no %s in\n%s", want, out)
		}
	}
	// poppler turns the line round and gives forms of letters as letters, or as forms.
	if out := call(t, text, path, "-"); !bytes.Contains(out, []byte(name)) && !bytes.Contains(out, []byte("\uFEDF\uFEEE\uFEA1")) {
		t.Errorf("%q is not read back:\n%.400s", name, out)
	}
}

// The sheet is a document of its size in mm in which the paths of the panel have the
// area of the panel, as a library reads them that we did not write; its arcs are arcs.
func TestSheetIsThePanel(t *testing.T) {
	for _, name := range append([]string{"side-left", "front"}, exporttest.Nasty...) {
		x := templateOf(t, exporttest.Job(exporttest.Nasty...), name, false, false)
		p := Sheet(x)
		var b bytes.Buffer
		if err := WriteSVG(&b, x.Title(), p); err != nil {
			t.Fatal(err)
		}
		area, arcs := 0.0, false
		for dec := xml.NewDecoder(&b); ; {
			token, err := dec.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%q: %v", name, err)
			}
			e, ok := token.(xml.StartElement)
			if !ok {
				continue
			}
			attr := map[string]string{}
			for _, a := range e.Attr {
				attr[a.Name.Local] = a.Value
			}
			if e.Name.Local == "svg" && (attr["width"] != fmt.Sprintf("%.3fmm", p.W) || !strings.HasSuffix(attr["viewBox"], fmt.Sprintf("%.3f %.3f", p.W, p.H))) {
				t.Errorf("%q: size %s, view %s", name, attr["width"], attr["viewBox"])
			}
			sign := map[string]float64{"panel": 1, "opening": -1}[attr["class"]]
			if sign == 0 {
				continue
			}
			arcs = arcs || strings.Contains(attr["d"], "A")
			q, err := canvas.ParseSVGPath(attr["d"])
			if err != nil {
				t.Fatal(err)
			}
			sum, c := 0.0, q.Flatten(1e-6).Coords()
			for i, u := range c {
				v := c[(i+1)%len(c)]
				sum += u.X*v.Y - u.Y*v.X
			}
			area += sign * math.Abs(sum) / 2
		}
		want := x.Outline.AreaMM2()
		curved := !x.Outline.Straight()
		for _, o := range x.Openings {
			want -= o.AreaMM2()
			curved = curved || !o.Straight()
		}
		if math.Abs(area-want) > 0.1 || arcs != curved {
			t.Errorf("%q: %.3f mm2 drawn, want %.3f; arcs %v, want %v", name, area, want, arcs, curved)
		}
	}
}

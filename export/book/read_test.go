package book_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"panelyard/export"
	"panelyard/export/pdf"
	"panelyard/export/planjson"
	"panelyard/parts/partstest"
	"panelyard/parts/rack"
)

func call(t *testing.T, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

func saved(t *testing.T, d *export.Dossier) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "book.pdf")
	if err := os.WriteFile(file, written(t, d), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// Programs that we did not write find every word of the layout on its page, whole and
// to be selected (pdftotext), each page of its size (pdfinfo), and no fault in the file
// (qpdf).
func TestReadBack(t *testing.T) {
	pdftotext, qpdf, pdfinfo := partstest.Tool(t, "pdftotext"), partstest.Tool(t, "qpdf"), partstest.Tool(t, "pdfinfo")
	for _, name := range []string{"saw", "router", "shared", "bends", "inches", "back", "tight", "recut", "in hand", "nothing", "no place", "nasty"} {
		d := dossiers(t)[name]
		file, list := saved(t, d), pages(t, d)
		call(t, qpdf, "--check", file)
		got := strings.Split(call(t, pdftotext, "-raw", file, "-"), "\f")
		if len(got) != len(list)+1 { // each page ends with a form feed
			t.Errorf("%s: %d pages, want %d", name, len(got)-1, len(list))
			continue
		}
		sizes := call(t, pdfinfo, "-l", fmt.Sprint(len(list)), file)
		squeeze := func(s string) string { return strings.Join(strings.Fields(s), "") }
		for n := range list {
			page := squeeze(got[n])
			for _, w := range words(&list[n]) {
				// Upright words, and those that run to the left, are read in another order.
				if !w.Upright && !strings.ContainsAny(w.Text, "🪵\u202E\t") && !strings.ContainsRune(w.Text, 'ل') && !strings.Contains(page, squeeze(w.Text)) {
					t.Errorf("%s, page %d: no %q", name, n+1, w.Text)
				}
			}
			var wide, high float64
			_, line, _ := strings.Cut(sizes, fmt.Sprintf("Page %4d size:", n+1))
			if _, err := fmt.Sscan(line, &wide); err != nil {
				t.Fatalf("%s: no size of page %d in %s", name, n+1, sizes)
			}
			if _, err := fmt.Sscanf(strings.TrimSpace(line[strings.Index(line, "x")+1:]), "%f", &high); err != nil {
				t.Fatal(err)
			}
			const pt = 25.4 / 72
			if math.Abs(wide*pt-list[n].W) > 0.01 || math.Abs(high*pt-list[n].H) > 0.01 {
				t.Errorf("%s: page %d is %g × %g mm, want %g × %g", name, n+1, wide*pt, high*pt, list[n].W, list[n].H)
			}
		}
	}
}

// Words stand where the layout says, level and upright ones: the boxes that pdftotext
// finds for them lie on theirs.
func TestPlaces(t *testing.T) {
	pdftotext := partstest.Tool(t, "pdftotext")
	upright := 0
	for _, name := range []string{"router", "back"} {
		d := dossiers(t)[name]
		out := call(t, pdftotext, "-bbox", saved(t, d), "-")
		found := strings.Split(out, "<page ")[1:]
		list := pages(t, d)
		if len(found) != len(list) {
			t.Fatalf("%s: %d pages, want %d", name, len(found), len(list))
		}
		for n := range list {
			type box struct{ x, y float64 } // the middle, in mm
			places := map[string][]box{}
			for _, line := range strings.Split(found[n], "\n") {
				var a, b, c, e float64
				if k, _ := fmt.Sscanf(strings.TrimSpace(line), `<word xMin="%f" yMin="%f" xMax="%f" yMax="%f">`, &a, &b, &c, &e); k == 4 {
					_, word, _ := strings.Cut(line, "\">")
					word = html.UnescapeString(strings.TrimSuffix(strings.TrimSpace(word), "</word>"))
					const pt = 25.4 / 72
					places[word] = append(places[word], box{(a + c) / 2 * pt, (b + e) / 2 * pt})
				}
			}
			if len(places) == 0 {
				t.Fatalf("%s: no words on page %d", name, n+1)
			}
			for _, w := range words(&list[n]) {
				at, wide, high := w.Box()
				for _, token := range strings.Fields(w.Text) {
					if !slices.ContainsFunc(places[token], func(p box) bool {
						const slack = 0.6 // pdftotext counts with what hangs below the line
						return p.x > at.X-slack && p.x < at.X+wide+slack && p.y > at.Y-slack && p.y < at.Y+high+slack
					}) {
						t.Errorf("%s, page %d: %q of %q is not at %.1f, %.1f: %v", name, n+1, token, w.Text, at.X, at.Y, places[token])
					} else if w.Upright {
						upright++
					}
				}
			}
		}
	}
	if upright == 0 {
		t.Error("the test has lost its point: no upright words")
	}
}

// Every page but those of the labels says which plan it belongs to: by the digits that
// the rack gives to the plan.json of the same plan.
func TestPlanDigits(t *testing.T) {
	d := dossiers(t)["saw"]
	var doc bytes.Buffer
	if err := planjson.Write(&doc, d); err != nil {
		t.Fatal(err)
	}
	digits, err := rack.Digest(doc.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	list := pages(t, d)
	for n := range list {
		labels := slices.ContainsFunc(list[n].Marks, func(m pdf.Mark) bool { return m.Name == "Labels" })
		if got := text(list[n : n+1]); strings.Contains(got, "plan "+digits) == labels || !labels && !strings.Contains(got, fmt.Sprintf("page %d of %d", n+1, len(list))) {
			t.Errorf("page %d: %.200q", n+1, got)
		}
		if labels {
			break
		}
	}
}

// outlines is an entry of the reader's outline as qpdf shows it.
type outlines struct {
	Title string     `json:"title"`
	Page  int        `json:"destpageposfrom1"`
	Dest  []any      `json:"dest"`
	Kids  []outlines `json:"kids"`
}

// The reader's outline has every part of the book once, on the page and at the height
// where it begins, cuts and paths below their sheet.
func TestOutline(t *testing.T) {
	qpdf := partstest.Tool(t, "qpdf")
	for _, name := range []string{"saw", "router", "tight", "back", "inches", "nothing"} {
		d := dossiers(t)[name]
		var doc struct {
			Outlines []outlines `json:"outlines"`
		}
		if err := json.Unmarshal([]byte(call(t, qpdf, "--json", "--json-key=outlines", saved(t, d))), &doc); err != nil {
			t.Fatal(err)
		}
		var got, want []string
		var walk func(list []outlines, level int)
		list := pages(t, d)
		walk = func(entries []outlines, level int) {
			for _, o := range entries {
				y := -1.0
				if len(o.Dest) > 3 && o.Page > 0 {
					if up, ok := o.Dest[3].(float64); ok {
						y = list[o.Page-1].H - up*25.4/72
					}
				}
				got = append(got, fmt.Sprintf("%d %s, page %d, %.1f", level, o.Title, o.Page, math.Abs(y)))
				walk(o.Kids, level+1)
			}
		}
		walk(doc.Outlines, 0)
		seen := map[string]bool{}
		for n := range list {
			for _, m := range list[n].Marks {
				want = append(want, fmt.Sprintf("%d %s, page %d, %.1f", m.Level, m.Name, n+1, m.Y))
				if seen[m.Name] {
					t.Errorf("%s: %q twice", name, m.Name)
				}
				seen[m.Name] = true
			}
		}
		if strings.Join(got, "\n") != strings.Join(want, "\n") {
			t.Errorf("%s: the outline is\n%s\nwant\n%s", name, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
		for i := range d.Sheets {
			if !seen[fmt.Sprintf("Sheet %s: %s", d.Sheets[i].ID, d.Sheets[i].Stock.Name)] {
				t.Errorf("%s: no sheet %s", name, d.Sheets[i].ID)
			}
		}
		if d.Totals.Panels > 0 && (!seen["Cut list"] || !seen["Labels"]) {
			t.Errorf("%s: no cut list, or no labels", name)
		}
	}
}

// lines returns the lines of a page with a pen of a width.
func lines(p *pdf.Page, width float64) []pdf.Path {
	var list []pdf.Path
	for _, x := range p.Items {
		if l, ok := x.(pdf.Lines); ok && l.Pen.Width == width {
			list = append(list, l.Paths...)
		}
	}
	return list
}

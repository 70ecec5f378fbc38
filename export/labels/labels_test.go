package labels_test

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/export/labels"
	"panelyard/export/pdf"
	"panelyard/kerf"
	"panelyard/parts/partstest"
)

func grid(t *testing.T, paper string, columns, rows int) labels.Grid {
	t.Helper()
	g, err := labels.NewGrid(paper, columns, rows, 8)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func write(t *testing.T, d *export.Dossier, g labels.Grid) []byte {
	t.Helper()
	pages, err := labels.Layout(d, g)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := labels.Write(&b, d, g, pages); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func call(t *testing.T, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

// Every panel has a label with its name and sheet, read back by programs that we did
// not write, and none is clipped at the edge of its label.
func TestReadBack(t *testing.T) {
	text, qpdf := partstest.Tool(t, "pdftotext"), partstest.Tool(t, "qpdf")
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		d := exporttest.Dossier(t, exporttest.Job("small", "it's <b> & \"c\"", strings.Repeat("long name ", 20)), cut)
		file := filepath.Join(t.TempDir(), "labels.pdf")
		if err := os.WriteFile(file, write(t, d, grid(t, "a4", 3, 8)), 0o644); err != nil {
			t.Fatal(err)
		}
		call(t, qpdf, "--check", file)
		got := call(t, text, "-layout", file, "-")
		for i := range d.Sheets {
			for k := range d.Sheets[i].Placements {
				p := &d.Sheets[i].Placements[k]
				name := p.Row.Name
				if len(name) > 30 {
					name = "long name"
				}
				if !strings.Contains(got, p.Row.Key+" "+name) {
					t.Errorf("%v: no label of %s", cut, p.Row.Name)
				}
			}
		}
		if n := strings.Count(got, "from S"); n != d.Totals.Panels {
			t.Errorf("%v: %d labels of %d panels", cut, n, d.Totals.Panels)
		}
		if (cut == kerf.Saw) != strings.Contains(got, ", step ") {
			t.Errorf("%v: steps", cut)
		}
	}
}

// A name that has no room on its label stands whole on a page behind the labels, with
// its key, once, however long it is; names that have room do not.
func TestWholeNames(t *testing.T) {
	text := partstest.Tool(t, "pdftotext")
	var many []string // as long as a job file may name them, on several pages
	for i := range 60 {
		many = append(many, fmt.Sprintf("row %d %s", i, strings.Repeat("slat of the tide table ", 9)[:190]))
	}
	for _, c := range []struct {
		names []string
		pages int // of names
	}{
		{nil, 0},
		{[]string{"deck", "seat"}, 0},
		{[]string{strings.Repeat("long name ", 20), "deck", "no blank" + strings.Repeat("s", 150)}, 1},
		{many, 3},
	} {
		d := exporttest.Dossier(t, exporttest.Job(c.names...), kerf.Saw)
		g := grid(t, "a4", 3, 8)
		pages, err := labels.Layout(d, g)
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(t.TempDir(), "labels.pdf")
		if err := os.WriteFile(file, write(t, d, g), 0o644); err != nil {
			t.Fatal(err)
		}
		// A form feed ends each page.
		all := strings.Split(strings.TrimSuffix(call(t, text, "-layout", file, "-"), "\f"), "\f")
		if len(all) != len(pages)+c.pages {
			t.Errorf("%.60q: %d pages, %d of labels", c.names, len(all), len(pages))
			continue
		}
		squeezed := strings.Join(strings.Fields(strings.ReplaceAll(strings.Join(all[len(pages):], ""), "Names too long for their labels, continued", "")), "")
		for i := range d.Panels {
			r := &d.Panels[i]
			want := 0
			if len(r.Name) > 30 {
				want = 1
			}
			if n := strings.Count(squeezed, r.Key+strings.ReplaceAll(r.Name, " ", "")); n != want {
				t.Errorf("%.60q stands %d times whole with its key, not %d", r.Name, n, want)
			}
		}
	}
}

// The codes can be read, by a program that we did not write.
func TestCodes(t *testing.T) {
	zbar, ppm := partstest.Tool(t, "zbarimg"), partstest.Tool(t, "pdftoppm")
	d := exporttest.Dossier(t, exporttest.Job("🪵 shelf"), kerf.Saw)
	dir := t.TempDir()
	file := filepath.Join(dir, "labels.pdf")
	if err := os.WriteFile(file, write(t, d, grid(t, "letter", 2, 5)), 0o644); err != nil {
		t.Fatal(err)
	}
	call(t, ppm, "-r", "200", "-png", file, filepath.Join(dir, "page"))
	pages, err := filepath.Glob(filepath.Join(dir, "page*.png"))
	if err != nil || len(pages) == 0 {
		t.Fatalf("%v, %d pages", err, len(pages))
	}
	read := ""
	for _, p := range pages {
		read += call(t, zbar, "--quiet", "--raw", p)
	}
	for i := range d.Sheets {
		for k := range d.Sheets[i].Placements {
			p := &d.Sheets[i].Placements[k]
			if want := fmt.Sprintf("%s %d/%d\n%s", p.Row.Name, p.Copy, p.Row.Of, d.Sheets[i].ID); !strings.Contains(read, want) {
				t.Errorf("no code says %q in\n%s", want, read)
			}
		}
	}
}

// A plain code says key, copy, sheet and step of its panel, and there is no other code.
func TestPlainCodes(t *testing.T) {
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		d := exporttest.Dossier(t, exporttest.Job(), cut)
		g := grid(t, "a4", 3, 8)
		g.Plain = true
		pages, err := labels.Layout(d, g)
		if err != nil {
			t.Fatal(err)
		}
		said := map[string]int{}
		for _, p := range pages {
			for _, x := range p.Items {
				switch x := x.(type) {
				case pdf.Words:
					said[x.Text]++
				case pdf.Lines:
					if len(x.Pen.Dash) > 0 {
						t.Fatalf("%v: a row of a QR code", cut)
					}
				}
			}
		}
		for i := range d.Sheets {
			m := &d.Sheets[i]
			for k := range m.Placements {
				p := &m.Placements[k]
				want := fmt.Sprintf("%s.%d %s", p.Row.Key, p.Copy, m.ID)
				for _, s := range m.Steps {
					if slices.Contains(s.Panels, p) {
						want += fmt.Sprintf("/%d", s.N)
					}
				}
				if said[want] != 1 {
					t.Errorf("%v: %q stands %d times", cut, want, said[want])
				}
			}
		}
	}
}

// Words stay within their label, and none lies on another or on the code, on large and
// small labels, with both codes.
func TestWordsApart(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), kerf.Saw)
	for _, g := range []labels.Grid{grid(t, "a4", 3, 8), grid(t, "letter", 1, 1), grid(t, "a4", 6, 17), grid(t, "a4", 2, 17)} {
		for _, plain := range []bool{false, true} {
			g.Plain = plain
			pages, err := labels.Layout(d, g)
			if err != nil {
				t.Fatal(err)
			}
			for n, p := range pages {
				type box struct {
					what       string
					x, y, w, h float64
				}
				var frames, boxes []box
				for _, x := range p.Items {
					switch x := x.(type) {
					case pdf.Lines:
						a := x.Paths[0]
						switch {
						case x.Pen.Grey > 0:
							frames = append(frames, box{"label", a.From.X, a.From.Y, a.Steps[1].To.X - a.From.X, a.Steps[1].To.Y - a.From.Y})
						case len(x.Pen.Dash) > 0: // a row of a code
							boxes = append(boxes, box{"code", a.From.X, a.From.Y - x.Pen.Width/2, a.Steps[0].To.X - a.From.X, x.Pen.Width})
						}
					case pdf.Words:
						at, w, h := x.Box()
						b := box{x.Text, at.X, at.Y, w, h}
						f := frames[len(frames)-1]
						if b.x < f.x || b.y < f.y || b.x+w > f.x+f.w || b.y+h > f.y+f.h {
							t.Errorf("%+v, page %d: %q leaves its label", g, n+1, x.Text)
						}
						for _, o := range boxes {
							const hair = 1e-6 // of the rows of a code
							if b.x+hair < o.x+o.w && o.x+hair < b.x+b.w && b.y+hair < o.y+o.h && o.y+hair < b.y+b.h {
								t.Errorf("%+v, page %d: %q lies on %q", g, n+1, x.Text, o.what)
							}
						}
						boxes = append(boxes, b)
					}
				}
				if len(frames) == 0 {
					t.Errorf("%+v: no labels on page %d", g, n+1)
				}
			}
		}
	}
}

// The same plan gives the same bytes, whatever the names are.
func TestSameBytes(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), kerf.Saw)
	g := grid(t, "a4", 5, 13)
	if a, b := write(t, d, g), write(t, d, g); !bytes.Equal(a, b) || !bytes.HasPrefix(a, []byte("%PDF")) {
		t.Error("two runs differ, or are no PDF")
	}
}

func TestNoPanels(t *testing.T) {
	j := exporttest.Job()
	j.Panels = nil
	if !bytes.HasPrefix(write(t, exporttest.Dossier(t, j, kerf.Saw), grid(t, "a4", 3, 8)), []byte("%PDF")) {
		t.Error("no PDF")
	}
}

func TestGridRefused(t *testing.T) {
	for _, c := range []struct {
		paper         string
		columns, rows int
		margin        float64
	}{{"a5", 3, 8, 8}, {"a4", 0, 8, 8}, {"a4", 3, 41, 8}, {"a4", 10, 8, 8}, {"a4", 3, 20, 8}, {"a4", 3, 8, -1}, {"a4", 3, 8, 60}} {
		if _, err := labels.NewGrid(c.paper, c.columns, c.rows, c.margin); err == nil {
			t.Errorf("%+v is accepted", c)
		}
	}
}

func TestWriterFails(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Saw)
	g := grid(t, "a4", 3, 8)
	size := len(write(t, d, g))
	pages, err := labels.Layout(d, g)
	if err != nil {
		t.Fatal(err)
	}
	for left := 0; left < size; left += 1 + size/50 {
		if err := labels.Write(&exporttest.Failing{Left: left}, d, g, pages); !errors.Is(err, exporttest.ErrFull) {
			t.Fatalf("after %d bytes: %v", left, err)
		}
	}
}

package labels_test

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/export/labels"
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
	var b bytes.Buffer
	if err := labels.Write(&b, d, g); err != nil {
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
	for left := 0; left < size; left += 1 + size/50 {
		if err := labels.Write(&exporttest.Failing{Left: left}, d, g); !errors.Is(err, exporttest.ErrFull) {
			t.Fatalf("after %d bytes: %v", left, err)
		}
	}
}

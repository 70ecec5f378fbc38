package book_test

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
	"panelyard/export/book"
	"panelyard/export/exporttest"
	"panelyard/export/pdf"
	"panelyard/kerf"
	"panelyard/parts/length"
	"panelyard/parts/partstest"
)

func written(t *testing.T, d *export.Dossier) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := book.Write(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Words lie on their page, and no two overlap: the boxes are measured by the widths of
// the face, without the descenders.
func TestWordsApart(t *testing.T) {
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		for _, job := range []func() *export.Dossier{
			func() *export.Dossier { return exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), cut) },
			func() *export.Dossier { return exporttest.Dossier(t, exporttest.Stands(), cut) },
		} {
			words := 0
			for n, p := range book.Layout(job()) {
				var list []book.Words
				for _, x := range p.Items {
					if w, ok := x.(book.Words); ok && w.Text != "" {
						list = append(list, w)
					}
				}
				words += len(list)
				right := func(w book.Words) float64 { return w.At.X + pdf.Width(w.Text, w.Size, w.Face) }
				for i, a := range list {
					if a.At.X < 10 || right(a) > p.W-10 || a.At.Y-a.Size < 0 || a.At.Y > p.H-6 {
						t.Errorf("%v, page %d: %q leaves the page", cut, n+1, a.Text)
					}
					for _, b := range list[:i] {
						const cap = 0.73 // height of capitals of the face, from memory
						if a.At.X < right(b) && b.At.X < right(a) && a.At.Y-cap*a.Size < b.At.Y && b.At.Y-cap*b.Size < a.At.Y {
							t.Errorf("%v, page %d: %q and %q overlap", cut, n+1, a.Text, b.Text)
						}
					}
				}
			}
			if words < 100 {
				t.Errorf("%v: only %d words", cut, words)
			}
		}
	}
}

// The file is sound by qpdf, and pdftotext, which we did not write, finds every panel,
// step and sheet to buy in it; pdfinfo finds the pages on A4, or Letter for inches.
func TestReadBack(t *testing.T) {
	text, qpdf, info := partstest.Tool(t, "pdftotext"), partstest.Tool(t, "qpdf"), partstest.Tool(t, "pdfinfo")
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		for unit, paper := range map[length.Unit]string{length.MM: "A4", length.IN: "letter"} {
			job := exporttest.Job("small", "it's <b> & \"c\"", "=SUM(A1)")
			job.Units = unit
			d := exporttest.Dossier(t, job, cut)
			file := filepath.Join(t.TempDir(), "book.pdf")
			if err := os.WriteFile(file, written(t, d), 0o644); err != nil {
				t.Fatal(err)
			}
			call := func(name string, args ...string) string {
				out, err := exec.Command(name, args...).CombinedOutput()
				if err != nil {
					t.Fatalf("%s: %v\n%s", name, err, out)
				}
				return string(out)
			}
			call(qpdf, "--check", file)
			got := strings.Join(strings.Fields(call(text, "-layout", file, "-")), " ")
			for _, p := range d.Panels {
				if !strings.Contains(got, p.Name) {
					t.Errorf("%v: no %s", cut, p.Name)
				}
			}
			w := d.Lengths()
			for i := range d.Sheets {
				for k := range d.Sheets[i].Steps {
					s := &d.Sheets[i].Steps[k]
					if want := fmt.Sprintf("%d %v %s", s.N, s.Kind, w.Size(s.Piece.Size())); !strings.Contains(got, want) {
						t.Errorf("%v: no step %q", cut, want)
					}
				}
				if !strings.Contains(got, "Sheet "+d.Sheets[i].ID) {
					t.Errorf("%v: no sheet %s", cut, d.Sheets[i].ID)
				}
			}
			pages := call(info, file)
			n := len(book.Layout(d))
			if !strings.Contains(pages, fmt.Sprintf("Pages:           %d\n", n)) || !strings.Contains(pages, paper) {
				t.Errorf("%v: not %d pages of %s:\n%s", cut, n, paper, pages)
			}
			if want := fmt.Sprintf("page %d of %d", n, n); !strings.Contains(got, want) {
				t.Errorf("%v: no %q", cut, want)
			}
		}
	}
}

// The same dossier gives the same bytes, and a writer that fails at one of some places fails the
// book.
func TestSameBytesAndFailingWriter(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), kerf.Saw)
	a := written(t, d)
	if !bytes.Equal(a, written(t, d)) {
		t.Error("other bytes")
	}
	for at := 0; at < len(a); at += len(a)/7 + 1 {
		if err := book.Write(&exporttest.Failing{Left: at}, d); !errors.Is(err, exporttest.ErrFull) {
			t.Errorf("broken at byte %d: %v", at, err)
		}
	}
}

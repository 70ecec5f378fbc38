package book_test

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"panelyard/export"
	"panelyard/export/book"
	"panelyard/export/exporttest"
	"panelyard/export/labels"
	"panelyard/export/pdf"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/jobfile"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// grid returns the label sheets of the tests.
func grid(tb rapid.TB) labels.Grid {
	tb.Helper()
	g, err := labels.NewGrid("a4", 3, 8, 8)
	if err != nil {
		tb.Fatal(err)
	}
	return g
}

// stuck returns the pages of the labels of d in a grid.
func stuck(tb rapid.TB, d *export.Dossier, g labels.Grid) []pdf.Page {
	tb.Helper()
	list, err := labels.Layout(d, g)
	if err != nil {
		tb.Fatal(err)
	}
	return list
}

func pages(tb rapid.TB, d *export.Dossier) []pdf.Page {
	tb.Helper()
	list, err := book.Layout(d, stuck(tb, d, grid(tb)))
	if err != nil {
		tb.Fatal(err)
	}
	return list
}

func written(tb testing.TB, d *export.Dossier) []byte {
	tb.Helper()
	var b bytes.Buffer
	if err := book.Write(&b, d, stuck(tb, d, grid(tb))); err != nil {
		tb.Fatal(err)
	}
	return b.Bytes()
}

// file returns the job of a file of testdata.
func file(tb testing.TB, name string) *parts.Job {
	tb.Helper()
	job, list := jobfile.ReadVariant("../../testdata/jobs/good/"+name+".yaml", "")
	if err := list.Err(); err != nil {
		tb.Fatal(err)
	}
	return job
}

// back returns a job whose sheets are seen from the back and are wider than long.
func back() *parts.Job {
	j := exporttest.Job()
	s := &j.Stock[0]
	s.Length, s.Width, s.Grain = s.Width, s.Length, parts.AlongWidth
	j.Saw.Kind, j.Saw.FaceDown = parts.TrackSaw, true
	return j
}

// tight returns a job of panels so small that a map has no room for all of its words.
func tight() *parts.Job {
	j := exporttest.Job()
	shelf := j.Panels[3]
	shelf.Name, shelf.Quantity, shelf.Edging = "peg", 150, make([]string, 4)
	shelf.Outline = slices.Clone(shelf.Outline)
	for i, at := range [][2]length.Length{{0, 0}, {45, 0}, {45, 38}, {0, 38}} {
		shelf.Outline[i].At.X, shelf.Outline[i].At.Y = at[0]*length.Millimetre, at[1]*length.Millimetre
	}
	j.Panels = append(j.Panels, shelf)
	j.Keep = parts.KeepRule{Short: 15 * length.Millimetre, Long: 40 * length.Millimetre}
	j.Stock[0].Length, j.Stock[0].Width = 6000*length.Millimetre, 2500*length.Millimetre
	return j
}

// fractions returns a job in fractions of an inch.
func fractions(j *parts.Job) *parts.Job {
	j.Figures = parts.Figures{Unit: length.IN, Fraction: 16}
	return j
}

// pins returns a job with holes that the bit does not enter.
func pins() *parts.Job {
	j := exporttest.Job()
	shelf := &j.Panels[3]
	for _, x := range []length.Length{37, 69} {
		hole := outline.Circle(5 * length.Millimetre).Translate(geom.Pt(x*length.Millimetre, 20*length.Millimetre))
		shelf.Openings = append(shelf.Openings, parts.Opening{Name: "pin", Outline: hole})
	}
	return j
}

// inHand returns a job that takes sheets from three places.
func inHand() *parts.Job {
	j := exporttest.Job()
	whole, kept := j.Stock[0], j.Stock[0]
	whole.Name, whole.Offcut, whole.InHand, whole.Available, whole.Price = "left of the last job", true, true, 1, 0
	kept.Name, kept.Offcut, kept.Available, kept.Length, kept.Width, kept.Price = "R7", true, 1, 710*length.Millimetre, 600*length.Millimetre, 0
	j.Stock = append(j.Stock, whole, kept)
	j.Panels[3].Quantity = 13
	return j
}

var (
	planned sync.Once
	plans   map[string]*export.Dossier
)

// dossiers returns plans with all parts of a book, by name.
func dossiers(tb testing.TB) map[string]*export.Dossier {
	tb.Helper()
	planned.Do(func() {
		plans = map[string]*export.Dossier{
			"saw":          exporttest.Dossier(tb, exporttest.Job(), kerf.Saw),
			"router":       exporttest.Dossier(tb, exporttest.Job(), kerf.Router),
			"nasty":        exporttest.Dossier(tb, exporttest.Job(exporttest.Nasty...), kerf.Saw),
			"nasty router": exporttest.Dossier(tb, exporttest.Job(exporttest.Nasty...), kerf.Router),
			"shared":       exporttest.Dossier(tb, exporttest.Stands(), kerf.Saw),
			"bought":       exporttest.Dossier(tb, exporttest.Bought(), kerf.Saw),
			"bends":        exporttest.Dossier(tb, file(tb, "bends"), kerf.Saw),
			"bends router": exporttest.Dossier(tb, file(tb, "bends"), kerf.Router),
			"inches":       exporttest.Dossier(tb, file(tb, "inches"), kerf.Saw),
			"museum":       exporttest.Dossier(tb, file(tb, "museum"), kerf.Router),
			"back":         exporttest.Dossier(tb, back(), kerf.Saw),
			"tight":        exporttest.Dossier(tb, tight(), kerf.Saw),
			"tight router": exporttest.Dossier(tb, tight(), kerf.Router),
			"fractions":    exporttest.Dossier(tb, fractions(exporttest.Job()), kerf.Saw),
			"bent":         exporttest.Dossier(tb, fractions(file(tb, "bends")), kerf.Saw),
			"pins":         exporttest.Dossier(tb, pins(), kerf.Router),
			"in hand":      exporttest.Dossier(tb, inHand(), kerf.Saw),
		}
		recut := *plans["saw"]
		recut.Done = []export.DoneRow{{Name: "back", Copy: 2, Sheet: "S9"}, {Name: "shelf", Copy: 4, Sheet: "S8"}, {Name: "shelf", Copy: 5, Sheet: "S8"}, {Name: "shelf", Copy: 6, Sheet: "S8"}}
		plans["recut"] = &recut
		none := exporttest.Job()
		none.Panels = nil
		plans["nothing"] = exporttest.Dossier(tb, none, kerf.Saw)
		large := exporttest.Job()
		large.Stock[0].Available = 0
		plans["no place"] = exporttest.Dossier(tb, large, kerf.Saw)
	})
	return plans
}

// words returns the words of a page.
func words(p *pdf.Page) []pdf.Words {
	var list []pdf.Words
	for _, x := range p.Items {
		if w, ok := x.(pdf.Words); ok {
			list = append(list, w)
		}
	}
	return list
}

// text returns the words of pages in the order in which they are drawn.
func text(list []pdf.Page) string {
	var b strings.Builder
	for i := range list {
		for _, w := range words(&list[i]) {
			b.WriteString(w.Text + " ")
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// The same dossier gives the same bytes, and a writer that fails fails the book: at one
// of forty places, since each is a book of its own.
func TestSameBytesAndFailingWriter(t *testing.T) {
	d := dossiers(t)["nasty"]
	a := written(t, d)
	if !bytes.Equal(a, written(t, d)) {
		t.Error("other bytes")
	}
	d = dossiers(t)["nothing"]
	a = written(t, d)
	for at := 0; at < len(a); at += len(a)/40 + 1 {
		if err := book.Write(&exporttest.Failing{Left: at}, d, stuck(t, d, grid(t))); !errors.Is(err, exporttest.ErrFull) {
			t.Errorf("broken at byte %d: %v", at, err)
		}
	}
	if err := book.Write(&exporttest.Failing{Left: len(a) - 1}, d, stuck(t, d, grid(t))); !errors.Is(err, exporttest.ErrFull) {
		t.Errorf("broken before the last byte: %v", err)
	}
}

// Every part of the book that a plan asks for stands in it, in this order.
func TestParts(t *testing.T) {
	for name, want := range map[string][]string{
		"saw": {
			"Tide-table kiosk, small", "Plan for the table saw, kerf 3.2 mm. Sizes in millimetres", "2 sheets, 7 panels, yield", "m of cuts,",
			"settings of fence or stop", "Board 101.00 EUR, edge band 1.69 EUR, together 102.69 EUR", "How good is it?", "(bound by ", "To buy",
			"Price of one", "birch 2440 x 1220", "Edge band to buy", "oak 1", "1.99", "Cautions", "heavy sheet", "Sheet S1: birch 2440 x 1220",
			"2440 × 1220 mm, 36.1 kg, scale 1:", "seen from the good face, grain along the length; birch 18", "panel: bold its number",
			"blank, shaped after sawing", "edge band", "Cuts in order, in millimetres.", "Piece in hand", "Cut list", "birch 18, 17.7 thick", "side-left",
			"MDF 6, 6 thick", "back", "Openings", "good face up", "3 front 1 display rectangle, corners of radius 8 500 × 280 100; 180",
			"3 front 1 loudspeaker left round ⌀ 90 80; 50 125; 95", "Edging list", "4 shelf 3 bottom oak 1 664", "Offcuts to keep",
		},
		"router": {
			"Plan for the router, bit 6 mm", "m of paths in", "without clamping", "Cautions", "Sheet S1: birch 2440 x 1220",
			"path of the bit and where it comes down", "Paths in order, in millimetres:", "Entry", "Held by", "outline", "Cut list", "Edging list",
			"Router notes", "feed 3000 mm a minute", "deepest pass 3 mm", "last pass 0.3 mm into the spoilboard", "direction climb", "may come loose", "Offcuts to keep",
		},
		"pins": {
			"Openings", "4 shelf 3 pin round ⌀ 5 37; 19 39.5; 21.5 does not enter: drill", "Router notes", "The bit does not enter these", "In each Panels In all",
			"4 shelf drill ⌀ 5 2 3 6 (39.5; 21.5), (71.5; 21.5)",
		},
		"museum":   {"notes on what the bit leaves are", "Router notes", "What the bit leaves, and what is in its way", "inside corners"},
		"shared":   {"in the same blank", "Cut list", "shared", "Shared blanks", "First panel", "Second panel", "1 gusset 1 gusset"},
		"bends":    {"kerf of a bend, in the back", "Cut list", "Edging list", "Bends Kerfs in the back, in millimetres", "Gap left", "skirt", "Offcuts to keep"},
		"inches":   {"Sizes in inches", "To buy", "Size, in", "96 × 48 in", "Cuts in order, in inches", "23 11/16", "Cut list Sizes are length × width in inches"},
		"back":     {"Plan for the track saw", "seen from the back, the good face lies down", "Left and right as seen from the back"},
		"tight":    {"No room on the map"},
		"recut":    {"4 panels were cut before", "Cut list", "Cut before", "back 2 S9", "shelf 4 to 6 S8"},
		"in hand":  {"To buy", "To take: what you have already", "whole, in hand left of the last job", "kept offcut R7", "Cautions"},
		"nothing":  {"0 sheets, 0 panels", "nothing to cut"},
		"no place": {"WITHOUT A PLACE: 1 × side-left", "Cut list", "no place"},
	} {
		list := pages(t, dossiers(t)[name])
		rest := text(list)
		for _, w := range want {
			_, after, ok := strings.Cut(rest, w)
			if !ok {
				t.Errorf("%s: no %q in its place; what follows is %.200q", name, w, rest)
				break
			}
			rest = after
		}
		absent := map[string]string{"saw": "Router notes", "router": "Cuts in order", "shared": "Edging list", "nothing": "Cut list", "recut": "Bends"}[name]
		if absent != "" && strings.Contains(text(list), absent) {
			t.Errorf("%s: has %q", name, absent)
		}
	}
}

// Names that break careless writers are all there, whole, in the cut list.
func TestNastyNames(t *testing.T) {
	got := text(pages(t, dossiers(t)["nasty"]))
	_, got, _ = strings.Cut(got, "Cut list")
	squeeze := func(s string) string { return strings.Join(strings.Fields(s), "") }
	for _, name := range exporttest.Nasty {
		if !strings.Contains(squeeze(got), squeeze(name)) {
			t.Errorf("no %q", name)
		}
	}
}

// Spare sheets and drops are on the bill of the cover.
func TestBought(t *testing.T) {
	d := dossiers(t)["bought"]
	cover := ""
	for _, w := range words(&pages(t, d)[0]) {
		cover += w.Text + "\n"
	}
	for _, want := range []string{"Delivery", "mill & sons", "1 to spare", "delivery " + d.Money(d.Totals.Delivery), d.Money(d.Totals.Cost)} {
		if !strings.Contains(cover, want) {
			t.Errorf("%q is not on the cover:\n%s", want, cover)
		}
	}
}

// No measure is broken where it stands in a column, however long it is in fractions.
func TestMeasuresWhole(t *testing.T) {
	for _, name := range []string{"fractions", "bent"} {
		d := dossiers(t)[name]
		w := d.Lengths()
		list := pages(t, d)
		there := map[string]bool{}
		for i := range list {
			for _, x := range words(&list[i]) {
				there[x.Text] = true
			}
		}
		var want []string
		for i := range d.Panels {
			r := &d.Panels[i]
			want = append(want, w.Size(r.Finished), w.Size(r.Cut))
			if r.Shaped {
				want = append(want, w.Size(r.Blank))
			}
		}
		for _, o := range d.Openings {
			want = append(want, w.Across(o), w.Place(o.At))
		}
		for i := range d.Sheets {
			for k := range d.Sheets[i].Steps {
				s := &d.Sheets[i].Steps[k]
				want = append(want, w.Size(s.Piece.Size()), w.Measure(s), w.Text(s.Long()))
			}
		}
		for _, s := range want {
			if !there[s] {
				t.Errorf("%s: %q is nowhere in one piece", name, s)
			}
		}
	}
}

// Kerfs are finer than sixteenths of an inch: their measures stay decimals.
func TestKerfsExact(t *testing.T) {
	d := dossiers(t)["bent"]
	w, got := d.Lengths(), text(pages(t, d))
	if want := "kerf " + w.Exact(d.Demand.Kerf) + " in."; !strings.Contains(got, want) {
		t.Errorf("no %q", want)
	}
	n := 0
	for i := range d.Panels {
		r := &d.Panels[i]
		b := r.Item.Bend
		if b == nil {
			continue
		}
		n++
		at := r.KerfsAt()
		want := fmt.Sprintf("%d %s %s %s %s; %s", b.Count, w.Exact(b.Depth), w.Exact(b.Pitch), w.Exact(b.Gap), w.Exact(at[0]), w.Exact(at[1]))
		if !strings.Contains(got, want) {
			t.Errorf("%s: no %q", r.Name, want)
		}
	}
	if n == 0 {
		t.Error("no bent panels")
	}
}

package book_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panelyard/export"
	"panelyard/export/book"
	"panelyard/export/exporttest"
	"panelyard/export/pdf"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// apart checks that all words lie within the margins of their page and none on another:
// by the boxes of their capitals, which the widths of the face give.
func apart(t rapid.TB, list []pdf.Page) {
	t.Helper()
	type box struct {
		pdf.Words
		at   pdf.Point
		w, h float64
	}
	for n := range list {
		p := &list[n]
		edge := 7.0 // the label sheets of the tests have a margin of 8
		var boxes []box
		for _, w := range words(p) {
			if strings.TrimSpace(w.Text) == "" {
				continue
			}
			at, wide, high := w.Box()
			b := box{w, at, wide, high}
			if at.X < edge || at.X+wide > p.W-edge || at.Y < edge || at.Y+high > p.H-edge {
				t.Errorf("page %d: %q leaves the page", n+1, w.Text)
			}
			for _, o := range boxes {
				if b.at.X < o.at.X+o.w && o.at.X < b.at.X+b.w && b.at.Y < o.at.Y+o.h && o.at.Y < b.at.Y+b.h {
					t.Errorf("page %d: %q and %q overlap", n+1, o.Text, w.Text)
				}
			}
			boxes = append(boxes, b)
		}
	}
}

// sheetPages returns the pages of each sheet: from its mark to the next one of level 0.
func sheetPages(list []pdf.Page, d *export.Dossier) [][]pdf.Page {
	sheets := make([][]pdf.Page, len(d.Sheets))
	at := -1
	for n := range list {
		for _, m := range list[n].Marks {
			if m.Level > 0 {
				continue
			}
			at = slices.IndexFunc(d.Sheets, func(s export.SheetMap) bool { return strings.HasPrefix(m.Name, "Sheet "+s.ID+": ") })
		}
		if at >= 0 {
			sheets[at] = append(sheets[at], list[n])
		}
	}
	return sheets
}

const (
	bodySize  = 2.9 // of text and tables; words of other sizes stand on the map
	signSize  = 2.3 // of the legend
	titleSize = 3   // of a title, at least
)

// rows returns the rows of the tables of pages, the first lines of their cells in order.
func rows(list []pdf.Page) []string {
	var texts []string
	for i := range list {
		var line []pdf.Words
		flush := func() {
			slices.SortStableFunc(line, func(a, b pdf.Words) int { return int(1000 * (a.At.X - b.At.X)) })
			var s []string
			for _, w := range line {
				s = append(s, w.Text)
			}
			texts = append(texts, strings.Join(s, " "))
			line = nil
		}
		for _, w := range words(&list[i]) {
			if w.Size != bodySize {
				continue
			}
			if len(line) > 0 && line[0].At.Y != w.At.Y {
				flush()
			}
			line = append(line, w)
		}
		flush()
	}
	return texts
}

// complete checks that every panel stands once on the map of its sheet or is named above
// it, that every cut or path is numbered so and has its row once, and that every panel
// has a label.
func complete(t rapid.TB, d *export.Dossier, list []pdf.Page) {
	t.Helper()
	w := d.Lengths()
	all := sheetPages(list, d)
	for i := range d.Sheets {
		m, sheet := &d.Sheets[i], all[i]
		if len(sheet) == 0 {
			t.Errorf("no page of sheet %s", m.ID)
			continue
		}
		var panels, numbers []string
		for _, x := range words(&sheet[0]) {
			switch {
			case x.Size == bodySize || x.Size == signSize || x.Size > titleSize || x.Size == 2.6 && x.Grey > 0:
			case x.Face == pdf.Bold:
				panels = append(panels, x.Text)
			default:
				numbers = append(numbers, x.Text)
			}
		}
		rest := missing(sheet)
		perRow := map[*export.PanelRow]int{}
		for k := range m.Placements {
			perRow[m.Placements[k].Row]++
		}
		for row, n := range perRow {
			got := 0
			for _, s := range panels {
				if s == row.Key || strings.HasPrefix(s, row.Key+" ") {
					got++
				}
			}
			for _, s := range rest["panels"] {
				if s == row.Key || strings.HasPrefix(s, row.Key+" (") {
					got++
				}
			}
			if got != n {
				t.Errorf("%s: panel %s stands %d times on the map, and lies there %d times", m.ID, row.Key, got, n)
			}
		}
		if len(panels)+len(rest["panels"]) != len(m.Placements) {
			t.Errorf("%s: %d panels on the map and %d without room are not %d", m.ID, len(panels), len(rest["panels"]), len(m.Placements))
		}
		kept := 0
		for _, o := range m.Offcuts {
			if !o.Keep {
				continue
			}
			kept++
			s := w.Size(o.Box.Size())
			if !slices.Contains(numbers, "keep "+s) && !slices.Contains(rest["offcuts to keep"], s) {
				t.Errorf("%s: the offcut of %s is nowhere", m.ID, s)
			}
		}
		steps := max(len(m.Steps), len(m.Paths))
		kind := "cuts"
		if d.Demand.Cut == kerf.Router {
			kind = "paths"
		}
		lines := rows(sheet)
		for n := 1; n <= steps; n++ {
			got := 0
			for _, s := range append(slices.Clone(numbers), rest[kind]...) {
				if s == fmt.Sprint(n) {
					got++
				}
			}
			if got != 1 {
				t.Errorf("%s: number %d stands %d times on the map or above it", m.ID, n, got)
			}
			begins := fmt.Sprintf("%d ", n)
			if kind == "cuts" {
				s := &m.Steps[n-1]
				begins = fmt.Sprintf("%d %v %s %s ", n, s.Kind, w.Size(s.Piece.Size()), w.Measure(s))
			}
			got = 0
			for _, s := range lines {
				if strings.HasPrefix(s, begins) {
					got++
				}
			}
			if kind == "cuts" && got != 1 || got == 0 {
				t.Errorf("%s: step %q has %d rows", m.ID, begins, got)
			}
		}
		if extra := len(numbers) + len(rest[kind]) + len(rest["offcuts to keep"]) - steps - kept; extra != 0 {
			t.Errorf("%s: %d numbers too many: %q", m.ID, extra, numbers)
		}
	}
}

// missing reads what the pages of a sheet say has no room on its map, by its kind.
func missing(sheet []pdf.Page) map[string][]string {
	list := map[string][]string{}
	s, found := "", false
	for i := range sheet {
		for _, w := range words(&sheet[i]) {
			switch {
			case strings.HasPrefix(w.Text, "No room on the map"):
				_, s, _ = strings.Cut(w.Text, "for: ")
				found = true
			case found && w.Size == bodySize && w.Face == pdf.Regular:
				s += " " + w.Text
			case found && (w.Size == 3.2 || strings.HasSuffix(w.Text, ": detail")): // the title of a table, or of a page
				found = false
			}
		}
	}
	for _, group := range strings.Split(s, "; ") {
		for _, kind := range []string{"panels ", "offcuts to keep ", "cuts ", "paths "} {
			names, ok := strings.CutPrefix(group, kind)
			if !ok {
				continue
			}
			kind = strings.TrimSpace(kind)
			for _, name := range strings.Split(names, ", ") {
				var a, z int
				if n, _ := fmt.Sscanf(name, "%d to %d", &a, &z); n == 2 {
					for ; a <= z; a++ {
						list[kind] = append(list[kind], fmt.Sprint(a))
					}
					continue
				}
				list[kind] = append(list[kind], name)
			}
		}
	}
	return list
}

func TestWordsApartAndComplete(t *testing.T) {
	for name, d := range dossiers(t) {
		t.Run(name, func(t *testing.T) {
			list := pages(t, d)
			apart(t, list)
			complete(t, d, list)
			labels := 0
			for _, p := range list {
				for _, w := range words(&p) {
					if strings.HasPrefix(w.Text, "from S") {
						labels++
					}
				}
			}
			if labels != d.Totals.Panels {
				t.Errorf("%d labels of %d panels", labels, d.Totals.Panels)
			}
		})
	}
}

// The same holds for jobs of any sizes and names, for both ways to cut.
func TestAnyJob(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := exporttest.Job()
		names := rapid.SliceOfN(rapid.SampledFrom(exporttest.Nasty), 0, 3).Draw(t, "names")
		job.Units = rapid.SampledFrom([]length.Unit{length.MM, length.IN}).Draw(t, "unit")
		if job.Units == length.IN {
			job.Figures.Fraction = rapid.SampledFrom([]int64{0, 16, 64}).Draw(t, "fraction")
		}
		job.Saw.FaceDown = rapid.Bool().Draw(t, "face down")
		if rapid.Bool().Draw(t, "upright") {
			s := &job.Stock[0]
			s.Length, s.Width, s.Grain = s.Width, s.Length, parts.AlongWidth
		}
		if rapid.Bool().Draw(t, "only others") {
			job.Panels = nil
		}
		n := rapid.IntRange(0, 6).Draw(t, "panels")
		for i := range n {
			mm := func(what string, most int) length.Length {
				return length.Length(rapid.IntRange(20, most).Draw(t, what)) * length.Millimetre
			}
			name := fmt.Sprintf("panel %d", i)
			if i < len(names) {
				name = names[i] + fmt.Sprint(i)
			}
			p := parts.Panel{
				Name: name, Material: "birch 18", Quantity: rapid.IntRange(1, 6).Draw(t, "quantity"), Note: name,
				Grain: rapid.SampledFrom([]parts.Axis{parts.NoAxis, parts.AlongLength}).Draw(t, "grain"), Edging: make([]string, 4),
			}
			p.Outline = outline.Rectangle(mm("length", 1150), mm("width", 500))
			for k := range p.Edging {
				if rapid.Bool().Draw(t, "banded") {
					p.Edging[k] = "oak 1"
				}
			}
			job.Panels = append(job.Panels, p)
		}
		cut := kerf.Cut(rapid.IntRange(0, 1).Draw(t, "cut"))
		d := exporttest.Dossier(t, job, cut)
		g := grid(t)
		g.Plain = true
		list, err := book.Layout(d, stuck(t, d, g))
		if err != nil {
			t.Fatal(err)
		}
		apart(t, list)
		complete(t, d, list)
	})
}

package html_test

import (
	"cmp"
	"html"
	"math"
	"os/exec"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"panelyard/export/exporttest"
	"panelyard/export/svgmap"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/length"
	"panelyard/parts/partstest"
)

// word is a word on a printed page, in mm from its upper left corner.
type word struct {
	text                    string
	left, top, right, below float64
}

// printedPage is a page read again by pdftotext.
type printedPage struct {
	wide, high float64
	words      []word
}

// has reports whether a word is on the page.
func (p printedPage) has(text string) bool {
	for _, w := range p.words {
		if w.text == text {
			return true
		}
	}
	return false
}

var (
	pageTag = regexp.MustCompile(`<page width="([\d.]+)" height="([\d.]+)">`)
	wordTag = regexp.MustCompile(`<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*)</word>`)
)

// printed returns the pages of a PDF file.
func printed(t *testing.T, file string) []printedPage {
	t.Helper()
	out, err := exec.Command(partstest.Tool(t, "pdftotext"), "-bbox", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	mm := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v * 25.4 / 72
	}
	var pages []printedPage
	for _, line := range strings.Split(string(out), "\n") {
		if m := pageTag.FindStringSubmatch(line); m != nil {
			pages = append(pages, printedPage{wide: mm(m[1]), high: mm(m[2])})
		} else if m := wordTag.FindStringSubmatch(line); m != nil {
			p := &pages[len(pages)-1]
			p.words = append(p.words, word{html.UnescapeString(m[5]), mm(m[1]), mm(m[2]), mm(m[3]), mm(m[4])})
		}
	}
	return pages
}

// Printed, every map has a page of A4 to itself at the scale it states, and nothing is
// cut off: also after maps were enlarged and panels marked, of which nothing is printed.
func TestPrint(t *testing.T) {
	t.Parallel()
	d := exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), kerf.Saw)
	page := write(t, d)
	b := launch(t, 1200, 900)
	var plain string
	for _, state := range []string{"without scripts", "as opened", "enlarged and marked"} {
		b.scripts(state != "without scripts")
		b.open(page, "")
		if state == "enlarged and marked" {
			b.eval(`document.querySelectorAll("[data-zoom=in]").forEach(e => { e.click(); e.click() })`)
			b.eval(`location.hash = "` + svgmap.RowID(&d.Panels[3]) + `"`)
			b.frame()
		}
		pages := printed(t, b.print())
		maps := 0
		var all strings.Builder
		for i, p := range pages {
			if math.Abs(p.wide-297) > 0.5 || math.Abs(p.high-210) > 0.5 {
				t.Errorf("%s, page %d: %.1f by %.1f mm, want A4 across", state, i+1, p.wide, p.high)
			}
			left, right := math.Inf(1), 0.0
			for _, w := range p.words {
				all.WriteString(w.text + " ")
				left, right = min(left, w.left), max(right, w.right)
				if w.left < 8 || w.right > p.wide-8 || w.top < 5 || w.below > p.high-5 {
					t.Errorf("%s, page %d: %q runs from %.1f, %.1f to %.1f, %.1f mm", state, i+1, w.text, w.left, w.top, w.right, w.below)
				}
			}
			if !p.has("scale") || !p.has("A4") || !p.has("seed") {
				continue
			}
			maps++
			if p.has("Fence") || p.has("Finished") {
				t.Errorf("%s, page %d holds more than a map", state, i+1)
			}
			// The first and the last letters stand at the margins of the map, 9 mm from
			// the edges of A4.
			if math.Abs(left-9) > 0.6 || math.Abs(right-288) > 0.6 {
				t.Errorf("%s, page %d: the map runs from %.2f to %.2f mm, want 9 to 288: it is not printed at its scale", state, i+1, left, right)
			}
		}
		if maps != len(d.Sheets) {
			t.Errorf("%s: %d pages hold a map, want %d", state, maps, len(d.Sheets))
		}
		// Names of letters that every face has; a long one is broken into lines.
		for i := range d.Panels {
			r := &d.Panels[i]
			for _, w := range strings.Fields(r.Name) {
				if strings.ContainsFunc(w, func(c rune) bool { return c > unicode.MaxASCII }) {
					continue
				}
				if !strings.Contains(all.String(), w) {
					t.Errorf("%s: %q of %q is not printed", state, w, r.Name)
				}
			}
		}
		for i := range d.Sheets {
			for _, s := range d.Sheets[i].Steps {
				if want := d.Lengths().Measure(&s); !strings.Contains(all.String(), want) {
					t.Errorf("%s: the measure %s is not printed", state, want)
				}
			}
		}
		if plain == "" {
			plain = all.String()
		} else if all.String() != plain {
			t.Errorf("%s, other words are printed than without scripts", state)
		}
	}
}

// lines returns the lines of a page from its head.
func (p printedPage) lines() []string {
	list := slices.Clone(p.words)
	slices.SortStableFunc(list, func(a, b word) int {
		if math.Abs(a.below-b.below) > 1 {
			return cmp.Compare(a.below, b.below)
		}
		return cmp.Compare(a.left, b.left)
	})
	var lines []string
	for i, w := range list {
		if i == 0 || w.below-list[i-1].below > 1 {
			lines = append(lines, w.text)
		} else {
			lines[len(lines)-1] += " " + w.text
		}
	}
	return lines
}

// A heading and the head of a table are on the page of the first rows, wherever on a
// page they come: a note of so many lines moves them down.
func TestPrintTogether(t *testing.T) {
	t.Parallel()
	b := launch(t, 1200, 900)
	heads := 0
	for n := 0; n < 36; n += 4 {
		j := exporttest.Job()
		j.Figures = parts.Figures{Unit: length.IN, Fraction: 16}
		j.Note = strings.Repeat(strings.Repeat("lamp ", 18), n)
		d := exporttest.Dossier(t, j, kerf.Saw)
		b.open(write(t, d), "")
		for i, p := range printed(t, b.print()) {
			if p.has("scale") {
				continue // a map
			}
			lines := p.lines()
			for k, s := range lines {
				head := strings.HasPrefix(s, "No. Panel ") || strings.HasPrefix(s, "Panel Qty ") || strings.HasPrefix(s, "Stock Material ")
				if head {
					heads++
				}
				if (head || s == "Panels" || s == "Openings" || s == "What to buy") && k+2 >= len(lines) {
					t.Errorf("note of %d lines, page %d: %q stands at its foot: %q", n, i+1, s, lines[k:])
				}
			}
		}
	}
	if heads < 27 {
		t.Errorf("%d heads of tables were seen", heads)
	}
}

// With the longest fractions the list of panels has room in a window of 1300 dots.
func TestListHasRoom(t *testing.T) {
	t.Parallel()
	j := exporttest.Job()
	j.Figures = parts.Figures{Unit: length.IN, Fraction: 16}
	b := launch(t, 1300, 900)
	b.open(write(t, exporttest.Dossier(t, j, kerf.Saw)), "")
	if over := b.eval(`[...document.querySelectorAll(".scroll")].map(e => e.scrollWidth - e.clientWidth).filter(w => w > 0).join(" ")`); over != "" {
		t.Errorf("tables are wider than the page by %s dots", over)
	}
}

package rack

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// word is what a column holds.
type word int

const (
	wordLabel word = iota
	wordMaterial
	wordThickness
	wordLength
	wordWidth
	wordGrain
	wordPrice
	wordDate
	wordFrom
	wordNote
	words
)

// String returns the heading of a word, without a unit.
func (w word) String() string {
	return [...]string{"label", "material", "thickness", "length", "width", "grain", "price", "date", "from", "note"}[w]
}

// size reports whether the cells of a column are lengths.
func (w word) size() bool { return w == wordThickness || w == wordLength || w == wordWidth }

// needed are the columns without which a row is no piece.
var needed = []word{wordLabel, wordMaterial, wordLength, wordWidth}

// columns says where each word stands in a row, -1 where it has no column, and the
// unit of its heading.
type columns [words]struct {
	at   int
	unit length.Unit
}

// sized is a heading with a unit: length (mm), length [in], length mm.
var sized = regexp.MustCompile(`^(\S+)\s*[(\[]?\s*([a-z"']+)\s*[)\]]?$`)

// readHeading reads a heading. The unit is zero where it says none.
func readHeading(s string) (word, length.Unit, bool) {
	s = strings.ToLower(strings.TrimSpace(s))
	for w := range words {
		if s == w.String() {
			return w, length.Unit{}, true
		}
	}
	if m := sized.FindStringSubmatch(s); m != nil {
		for w := range words {
			unit, err := length.ParseUnit(m[2])
			if w.size() && m[1] == w.String() && err == nil {
				return w, unit, true
			}
		}
	}
	return 0, length.Unit{}, false
}

// knownHeadings returns how many headings of a row are known.
func knownHeadings(cells []string) int {
	n := 0
	for _, c := range cells {
		if _, _, ok := readHeading(c); ok {
			n++
		}
	}
	return n
}

const headingRemedy = "begin with a row of headings: label, material, thickness (mm), length (mm), width (mm), grain, price, date, from, note"

// readColumns reads the row of headings, with a mistake for each that is missing, twice
// there, or has no unit.
func readColumns(row *row, list *diag.List) columns {
	var c columns
	for w := range c {
		c[w].at = -1
	}
	for i, cell := range row.cells {
		w, unit, ok := readHeading(cell)
		switch {
		case !ok:
			continue
		case c[w].at >= 0:
			list.Add(row.pos[i], "", fmt.Sprintf("%q is the heading of two columns", w), "keep one of them and rename the other")
			continue
		case w.size() && unit.Size == 0:
			list.Add(row.pos[i], "", fmt.Sprintf("heading %q has no unit", w), fmt.Sprintf("write %v (mm) or %v (in)", w, w))
			unit = length.MM
		}
		c[w].at, c[w].unit = i, unit
	}
	for _, w := range needed {
		if c[w].at < 0 {
			list.Add(row.at, "", fmt.Sprintf("has no column %q", w), headingRemedy)
		}
	}
	return c
}

// addColumn gives a word a column behind all others, where no row has a cell.
func (r *Rack) addColumn(w word) {
	at := slices.IndexFunc(r.lines, func(l line) bool { return l.kind == heading })
	h := &r.lines[at]
	text := strings.TrimRight(h.raw, "\r\n")
	cells := record(r.name, h.raw, 0, 1, r.sep).cells
	cell := w.String()
	if w.size() {
		r.columns[w].unit = r.columns[wordLength].unit
		cell += " (" + r.columns[w].unit.Name + ")"
	}
	h.raw = text + strings.Repeat(string(r.sep), r.width-len(cells)+1) + cell + r.eol
	r.columns[w].at = r.width
	r.width++
}

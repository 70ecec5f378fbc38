package partslist

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"panelyard/parts/length"
)

// word is what a column holds.
type word int

// The words. Other is a column that is not understood, and ignored.
const (
	other word = iota
	wordName
	wordQuantity
	wordLength
	wordWidth
	wordThickness
	wordMaterial
	wordGrain
	wordEdging
	wordNote
	wordDrawing
	wordUnit
	words
)

// String returns the first of the headings of a word.
func (w word) String() string {
	if w > other && w < words {
		return headings[w][0]
	}
	return "ignored"
}

// size reports whether the cells of a column are lengths.
func (w word) size() bool { return w == wordLength || w == wordWidth || w == wordThickness }

// headings are the headings that are understood, in lower case: our own words
// first, then plain synonyms.
var headings = [words][]string{
	wordName:      {"name", "panel", "panel name", "part", "part name", "piece"},
	wordQuantity:  {"quantity", "qty", "count", "copies", "pieces", "pcs", "how many"},
	wordLength:    {"length", "len", "l", "long"},
	wordWidth:     {"width", "w", "wide", "breadth"},
	wordThickness: {"thickness", "thick", "thk", "t"},
	wordMaterial:  {"material", "board", "mat"},
	wordGrain:     {"grain", "grain direction", "grain along"},
	wordEdging:    {"edging", "edges", "edge", "edge band", "edge bands", "edge banding", "banding"},
	wordNote:      {"note", "notes", "remark", "remarks", "comment", "comments"},
	wordDrawing:   {"drawing", "drawing file", "file"},
	wordUnit:      {"unit", "unit of length"},
}

// unclear are headings that may be one of several words, and are mistakes while a
// word of them that matters has no clear heading.
var unclear = map[string][]word{
	"description": {wordName, wordNote},
	"item":        {wordName, wordQuantity},
	"no":          {wordQuantity, wordName},
	"nr":          {wordQuantity, wordName},
	"number":      {wordQuantity, wordName},
	"amount":      {wordQuantity},
	"units":       {wordUnit, wordQuantity},
	"size":        {wordLength, wordWidth},
	"dimension":   {wordLength, wordWidth},
	"dimensions":  {wordLength, wordWidth},
	"height":      {wordLength, wordWidth},
	"h":           {wordLength, wordWidth},
	"depth":       {wordLength, wordWidth, wordThickness},
	"d":           {wordLength, wordWidth, wordThickness},
	"direction":   {wordGrain},
	"type":        {wordMaterial},
	"sheet":       {wordMaterial},
	"stock":       {wordMaterial},
}

// vital are the words whose loss would spoil a panel without a trace, or for which
// there is no panel.
var vital = []word{wordName, wordQuantity, wordLength, wordWidth, wordGrain, wordUnit}

const headingRemedy = "begin with a row of headings: name, quantity, length, width; and, as you need them, thickness, material, grain, edging, note, drawing, unit"

// title is a heading as read.
type title struct {
	word    word
	unit    length.Unit // zero when it says none
	meaning []word      // what it may mean, when it is unclear
}

// The ways to write a unit in a heading: in brackets, or last.
var (
	bracketed = regexp.MustCompile(`^([^()\[\]]+?)\s*[(\[]\s*(?:in )?\s*([^()\[\]]+?)\s*[)\]]$`)
	trailing  = regexp.MustCompile(`^(.+?)(?:[\s/,]+(?:in\s+)?|\s*")([a-z"]*)$`)
)

// readTitle reads a heading.
func readTitle(s string) title {
	if len(s) > 200 {
		return title{}
	}
	s = oneLine(strings.ToLower(strings.ReplaceAll(s, "_", " ")))
	s = trim(strings.TrimRight(s, ":*. "))
	if w := wordOf(s); w != other {
		return title{word: w}
	}
	if m := unclear[s]; m != nil {
		return title{meaning: m}
	}
	for _, form := range []*regexp.Regexp{bracketed, trailing} {
		m := form.FindStringSubmatch(s)
		if m == nil {
			continue
		}
		u, ok := unitOf(m[2])
		if !ok {
			continue
		}
		base := trim(m[1])
		if w := wordOf(base); w.size() {
			return title{word: w, unit: u}
		}
		if mean := unclear[base]; mean != nil {
			return title{meaning: mean}
		}
	}
	return title{}
}

// wordOf returns the word of a heading without a unit.
func wordOf(s string) word {
	for w := other + 1; w < words; w++ {
		if slices.Contains(headings[w], s) {
			return w
		}
	}
	return other
}

// unitOf returns the unit of a name as makers write it.
func unitOf(s string) (length.Unit, bool) {
	s = strings.TrimRight(strings.ToLower(trim(s)), ".")
	switch s {
	case "millimetre", "millimetres", "millimeter", "millimeters":
		s = "mm"
	case "centimetre", "centimetres", "centimeter", "centimeters":
		s = "cm"
	case "metre", "metres", "meter", "meters":
		s = "m"
	case "":
		return length.Unit{}, false
	}
	u, err := length.ParseUnit(s)
	return u, err == nil
}

// headingRow returns the row, among the first ones, that has the most different
// known headings, the first of equals; and their number.
func headingRow(g *grid) (row, score int) {
	for i := range g.rows[:min(len(g.rows), MaxTitle)] {
		if n := known(&g.rows[i]); n > score {
			row, score = i, n
		}
	}
	return row, score
}

// known returns how many different known headings a row has. A word that is no size
// and no name of a panel makes no heading alone.
func known(l *line) int {
	var have [words]bool
	n := 0
	for i := range l.cells {
		if l.cells[i].kind != text {
			continue
		}
		if w := readTitle(l.cells[i].text).word; w != other && !have[w] {
			have[w] = true
			n++
		}
	}
	if !have[wordLength] && !have[wordWidth] && !have[wordName] && !have[wordDrawing] {
		return 0
	}
	return n
}

// column is a column of the list.
type column struct {
	col    int
	title  string
	word   word
	unit   length.Unit // of its heading
	filled int
	own    int      // lengths with their unit
	bare   int      // lengths without
	units  []string // of the latter, and who says so
}

// called names a cell: C14 "length".
func (c *column) called(row int) string {
	return fmt.Sprintf("%s%d %q", letters(c.col), row, clip(c.title))
}

// columns reads the heading row. Mistakes are added; the columns are returned all
// the same, so that the reading can be shown.
func (t *table) columns(head *line) {
	var first [words]*column
	type doubt struct {
		c       *column
		meaning []word
	}
	var doubts []doubt
	t.cols = make([]*column, 0, len(head.cells))
	for i := range head.cells {
		h := &head.cells[i]
		read := readTitle(h.text)
		c := &column{col: h.col, title: h.text, word: read.word, unit: read.unit}
		t.cols = append(t.cols, c)
		t.at[c.col] = c
		if read.meaning != nil {
			doubts = append(doubts, doubt{c, read.meaning})
		}
		if c.word == other {
			continue
		}
		if f := first[c.word]; f != nil {
			t.add(head, fmt.Sprintf("%s and %s are both headings for %s", f.called(head.number), c.called(head.number), c.word),
				"keep one of them, and rename the other column")
			c.word = other
			continue
		}
		first[c.word] = c
	}
	t.by = first
	asked := map[word]bool{}
	for _, d := range doubts {
		var open, all []string
		for _, w := range d.meaning {
			all = append(all, w.String())
			board := w == wordMaterial && first[wordThickness] == nil
			if first[w] == nil && (board || slices.Contains(vital, w)) {
				open = append(open, w.String())
				asked[w] = true
			}
		}
		if open != nil {
			t.add(head, fmt.Sprintf("heading %s may mean %s, or something else", d.c.called(head.number), strings.Join(all, " or ")),
				fmt.Sprintf("rename it, to %s if it is that", strings.Join(open, " or ")))
		}
	}
	need := []word{wordName}
	if first[wordDrawing] == nil {
		need = []word{wordName, wordLength, wordWidth}
	}
	for _, w := range need {
		if first[w] == nil && !asked[w] {
			t.add(head, fmt.Sprintf("no heading in row %d means %s", head.number, w), "head its column with one of "+strings.Join(headings[w], ", "))
		}
	}
}

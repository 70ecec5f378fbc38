package partslist

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// grid is the filled cells of a sheet, row by row.
type grid struct {
	sheet  string // empty for CSV
	comma  bool   // cells are separated by commas
	rows   []line
	merges []merge  // by column, then by row
	hidden [][2]int // first and last of columns that are hidden together
}

// hides reports whether a column is hidden.
func (g *grid) hides(col int) bool {
	return slices.ContainsFunc(g.hidden, func(h [2]int) bool { return h[0] <= col && col <= h[1] })
}

// line is a row that has filled cells.
type line struct {
	number int // as a spreadsheet counts
	line   int // as an editor counts
	fields int // cells written, blank ones too; of CSV only
	hidden bool
	cells  []cell // by column
}

// kind tells what a cell holds.
type kind uint8

const (
	text    kind = iota
	number       // decimal digits, perhaps with an exponent
	boolean      // TRUE or FALSE
	date         // a number that the sheet shows as a date
	fault        // an error such as #REF!
	broken       // what the file says is none of these; the text says why
	pending      // a formula without a value; the text says why it has none
)

// cell is a filled cell.
type cell struct {
	col  int // from 1
	kind kind
	text string
	unit length.Unit // that the number format shows; zero when it shows none
}

// merge is the part of a merged area in one column.
type merge struct {
	col, first, last int // last row included
	anchor           int // column of the cell that holds the value
	wide             int // columns of the area
}

// at returns the cell in a column, blank when it is not filled.
func (l *line) at(col int) *cell {
	i, ok := slices.BinarySearchFunc(l.cells, col, func(c cell, col int) int { return cmp.Compare(c.col, col) })
	if !ok {
		return &cell{}
	}
	return &l.cells[i]
}

// merged returns the merged area that covers a cell, or nil.
func (g *grid) merged(row, col int) *merge {
	i, ok := slices.BinarySearchFunc(g.merges, merge{col: col, first: row}, compareMerges)
	if !ok {
		i--
	}
	if i < 0 || g.merges[i].col != col || g.merges[i].last < row {
		return nil
	}
	return &g.merges[i]
}

func compareMerges(a, b merge) int {
	return cmp.Or(cmp.Compare(a.col, b.col), cmp.Compare(a.first, b.first))
}

// row returns the row of a number, or nil when nothing in it is filled.
func (g *grid) row(number int) *line {
	i, ok := slices.BinarySearchFunc(g.rows, number, func(l line, n int) int { return cmp.Compare(l.number, n) })
	if !ok {
		return nil
	}
	return &g.rows[i]
}

// letters returns the name of a column: A, B, ..., AA.
func letters(col int) string {
	s, err := excelize.ColumnNumberToName(col)
	if err != nil {
		return "?"
	}
	return s
}

// trim removes blanks of every kind around s, and marks that show nothing.
func trim(s string) string {
	return strings.TrimFunc(s, func(c rune) bool { return unicode.IsSpace(c) || c == '\u200b' || c == '\ufeff' })
}

// oneLine returns s with every run of blanks as one, trimmed.
func oneLine(s string) string { return strings.Join(strings.Fields(trim(s)), " ") }

// clip shortens s for a finding or a table, on one line and printable.
func clip(s string) string {
	if len(s) > 400 {
		s = strings.ToValidUTF8(s[:400], "")
	}
	s = strings.Map(func(c rune) rune {
		if diag.Unprintable(c) {
			return '\ufffd'
		}
		return c
	}, oneLine(s))
	if utf8.RuneCountInString(s) > 40 {
		return string([]rune(s)[:40]) + "…"
	}
	return s
}

package xlsx

import (
	"fmt"
	"strings"
	"unicode"

	"github.com/xuri/excelize/v2"
)

// cell is one cell: a text, a number, or a formula with its value.
type cell struct {
	value   any    // nil, string, int or float64
	formula string // without the equals sign
	shown   string // the value as it is displayed, for the column's width
	look    look
}

// text returns a cell of text, which is never read as a formula.
func text(s string) cell {
	if s == "" {
		return cell{}
	}
	return cell{value: s, shown: s, look: look{wrap: true}}
}

// yes returns a cell that says yes, or nothing.
func yes(b bool) cell {
	if b {
		return text("yes")
	}
	return cell{}
}

// by makes a formula of a cell and keeps its value.
func (c cell) by(format string, args ...any) cell {
	c.formula = fmt.Sprintf(format, args...)
	return c
}

func (c cell) bold() cell { c.look.bold = true; return c }

func (c cell) left() cell { c.look.align = "left"; return c }

// input boxes a cell that is for the user to change, fill in or tick.
func (c cell) input() cell { c.look.input = true; return c }

// column is a column of a table. Its width follows its widest cell up to most
// characters, beyond which text wraps.
type column struct {
	title string
	most  float64 // 0 for a column of numbers
	wide  float64 // its width, when that follows from no cell
	align string
}

// row is a row of cells.
type row struct {
	cells  []cell
	spread bool    // the first cell takes the whole width
	first  bool    // a group of rows begins
	total  bool    // sums
	tall   float64 // its height in points, when that follows from no cell
}

// table is a worksheet.
type table struct {
	name     string
	columns  []column
	rows     []row
	titled   bool // the first row has the titles of the columns
	fixed    int  // columns that stay when the rest is scrolled
	filtered int  // rows the filter of a titled table reaches, without titles
	printed  int  // columns that are printed; 0 for all
	checks   []check
	pictures []picture
}

// check is a cell that holds a share of 1, and refuses what is none.
type check struct{ cell, say string }

// width returns the number of columns that are printed.
func (t *table) width() int {
	if t.printed > 0 {
		return t.printed
	}
	return len(t.columns)
}

// add appends a row of a table and returns its number on the worksheet.
func (t *table) add(cells ...cell) int {
	t.rows = append(t.rows, row{cells: cells})
	return t.next() - 1
}

// note appends a line of text below a table.
func (t *table) note(s string) {
	t.rows = append(t.rows, row{cells: []cell{text(s)}, spread: true})
}

// next returns the number of the row that will be added.
func (t *table) next() int {
	if t.titled {
		return len(t.rows) + 2
	}
	return len(t.rows) + 1
}

// at returns the reference of a cell, $ before column and row.
func at(column, row int) string { return reference(column, row, true) }

// name returns the reference of a cell, without $.
func name(column, row int) string { return reference(column, row, false) }

func reference(column, row int, absolute bool) string {
	s, err := excelize.CoordinatesToCellName(column, row, absolute)
	if err != nil {
		// Columns are constants of this package and rows count from 1.
		panic("xlsx: " + err.Error())
	}
	return s
}

// over returns the reference of a part of a column, both rows included.
func over(column, from, to int) string { return at(column, from) + ":" + at(column, to) }

// The widths of columns and the heights of rows are estimates that leave some
// room, as every office suite has fonts of its own.
const (
	least  = 4.0  // width of a column, in digits
	margin = 1.3  // added to a width for borders
	indent = 1.1  // added for the indent of text
	line   = 13.0 // height of a line of 10 points, in points
	loose  = 1.06 // what a text may be wider than estimated
	heavy  = 1.1  // what bold print is wider
	space  = 0.6  // a space and a narrow letter, in digits
)

// widths returns the widths of the columns, in digits.
func (t *table) widths() []float64 {
	w := make([]float64, len(t.columns))
	for i, c := range t.columns {
		w[i] = least
		if t.titled {
			for _, word := range strings.Fields(c.title) {
				w[i] = max(w[i], loose*heavy*breadth(word)+c.margin())
			}
		}
	}
	for _, r := range t.rows {
		if r.spread {
			continue
		}
		for i := range r.cells {
			c := &r.cells[i]
			b := c.breadth(r.total)
			if _, isText := c.value.(string); isText && !c.look.header {
				b = min(b, t.columns[i].most)
			}
			w[i] = max(w[i], b+t.columns[i].margin())
		}
	}
	for i := range w {
		w[i] = min(max(w[i], t.columns[i].wide), excelize.MaxColumnWidth)
	}
	return w
}

// margin returns what a column is wider than its text.
func (c *column) margin() float64 {
	if c.most == 0 {
		return margin
	}
	return margin + indent
}

// breadth returns the width that the text of a cell takes on one line.
func (c *cell) breadth(bold bool) float64 {
	b := loose * breadth(c.shown)
	if bold || c.look.bold || c.look.header || c.look.alarm {
		b *= heavy
	}
	if c.look.size > 0 {
		b *= c.look.size / 10
	}
	return b
}

// height returns the height of a row in points, or 0 when one line of the
// default height will do. Programs fit rows to wrapped text or do not, and never
// over merged cells.
func (t *table) height(r *row, widths []float64) float64 {
	if r.tall > 0 {
		return r.tall
	}
	lines, size := 1, 10.0
	for i := range r.cells {
		c := &r.cells[i]
		size = max(size, c.look.size)
		if _, isText := c.value.(string); !isText || c.formula != "" {
			continue
		}
		width := widths[i]
		if r.spread {
			width = 0
			for _, w := range widths[:t.width()] {
				width += w
			}
		}
		width -= t.columns[i].margin()
		// Bold and large letters are taken as a narrower cell.
		if n := breadth(c.shown); n > 0 {
			width *= n / c.breadth(r.total)
		}
		lines = max(lines, wrapped(c.shown, width))
	}
	if lines == 1 && size == 10 {
		return 0
	}
	return min(line*size/10*float64(lines)+2, excelize.MaxRowHeight)
}

// wrapped returns how many lines a text takes in a width.
func wrapped(s string, width float64) int {
	width = max(width, 1) + 1e-6 // a column as wide as its text holds it
	lines := 0
	for _, paragraph := range strings.Split(s, "\n") {
		lines++
		used := 0.0
		for _, word := range strings.Fields(paragraph) {
			b := breadth(word)
			switch {
			case used > 0 && used+space+b <= width:
				used += space + b
				continue
			case used > 0:
				lines++
			}
			// A word that is too long is broken where the line ends.
			for b > width {
				lines++
				b -= width
			}
			used = b
		}
	}
	return lines
}

// breadth estimates the width of a text in digits, from the widths of common
// sans-serif faces.
func breadth(s string) float64 {
	n := 0.0
	for _, r := range s {
		switch {
		case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		case strings.ContainsRune(" .,;:'|!()[]ijltfI", r):
			n += space
		case strings.ContainsRune("mwMW@%", r):
			n += 1.6
		case r >= 0x1F000, r >= 0x1100 && unicode.In(r, unicode.Han, unicode.Hangul, unicode.Hiragana, unicode.Katakana):
			n += 2
		case unicode.IsUpper(r):
			n += 1.25
		default:
			n++
		}
	}
	return n
}

package book

import (
	"fmt"

	"panelyard/export/pdf"
)

// column is a column of a table: its heading, its weight where columns have to share
// what width there is, and where its cells stand.
type column struct {
	head  string
	share float64
	align align
}

type align int

const (
	left     align = iota
	unbroken       // left, and never broken into lines: measures
	right          // nor broken
)

// cell is a cell of a table.
type cell struct {
	text string
	face pdf.Face
	form form
}

// form is what a cell holds: text, a box to tick, or a line to write on.
type form int

const (
	written form = iota
	toTick
	toWrite
)

var (
	tick  = cell{form: toTick}
	blank = cell{form: toWrite}
)

// row makes a row of texts, numbers and cells.
func row(list ...any) []cell {
	cells := make([]cell, len(list))
	for i, x := range list {
		if c, ok := x.(cell); ok {
			cells[i] = c
			continue
		}
		cells[i] = cell{text: fmt.Sprint(x)}
	}
	return cells
}

// The measures of rows in mm.
const (
	rowGap  = 1.2 // below the text of a row
	colGap  = 3.0 // between columns
	headGap = 3.0 // below a table
	caption = 3.2 // size of a table's title
)

// section writes a table under a name of its own, listed in the reader's outline: on
// the page where that has room for its beginning, or for all of it when it is short,
// and else on a page of its own.
func (b *book) section(name, title string, columns []column, rows [][]cell) {
	if len(rows) == 0 {
		return
	}
	fit := b.fitted(columns, rows)
	const short = 10 // rows that are kept on a page
	begin := rows
	if len(rows) > short {
		begin = rows[:3]
	}
	if b.page().W < b.page().H || !b.room(headingH+b.fittedHigh(title, fit, begin)) {
		b.open(name, false)
	} else {
		b.heading(name)
	}
	b.fittedTable(title, fit, rows)
}

// headingH is the height of a heading within a page, in mm.
const headingH = 9.2

// heading writes the name of a section that begins on a page.
func (b *book) heading(name string) {
	b.y += 4
	b.title = name
	b.mark(name, 0, b.y)
	s, size := pdf.Fit(name, 4.2, 3, b.width(), pdf.Bold)
	b.y += 4.2
	b.words(margin, b.y, size, pdf.Bold, 0, s)
	b.y++
}

// tableHigh returns how high a table is with its title.
func (b *book) tableHigh(title string, columns []column, rows [][]cell) float64 {
	return b.fittedHigh(title, b.fitted(columns, rows), rows)
}

func (b *book) fittedHigh(title string, columns []fitted, rows [][]cell) float64 {
	lines := len(pdf.Wrap(title, caption, b.width(), pdf.Bold))
	return 2 + caption*(lead*float64(lines)+0.5) + b.high(columns, rows)
}

// high returns how high the headings and rows are; it stops above a page.
func (b *book) high(columns []fitted, rows [][]cell) float64 {
	_, n := b.wrapped(columns, nil)
	h := body*lead*float64(n) + rowGap
	for _, r := range rows {
		_, n := b.wrapped(columns, r)
		if h += body*lead*float64(n) + rowGap; h > b.long {
			break
		}
	}
	return h
}

// table writes rows under headings that are repeated on every page; a row that is
// higher than a page goes on on the next one.
func (b *book) table(title string, columns []column, rows [][]cell) {
	if len(rows) > 0 {
		b.fittedTable(title, b.fitted(columns, rows), rows)
	}
}

func (b *book) fittedTable(title string, columns []fitted, rows [][]cell) {
	if !b.room(b.fittedHigh(title, columns, rows[:1])) {
		b.next()
	}
	b.y += 2
	b.text(title, caption, pdf.Bold)
	b.row(columns, nil)
	for _, r := range rows {
		b.row(columns, r)
	}
	b.y += headGap
}

// wrapped returns the lines of the cells of a row, or of the headings when that is
// nil, and how many the highest has.
func (b *book) wrapped(columns []fitted, cells []cell) (lines [][]string, high int) {
	lines = make([][]string, len(columns))
	high = 1
	for i, c := range columns {
		at := cell{text: c.head, face: pdf.Bold}
		if cells != nil {
			at = cells[i]
		}
		if at.form == written {
			lines[i] = pdf.Wrap(at.text, body, c.wide-colGap, at.face)
			high = max(high, len(lines[i]))
		}
	}
	return lines, high
}

// row writes a row, or the headings when it is nil.
func (b *book) row(columns []fitted, cells []cell) {
	const together = 20 // lines of a row that are kept on a page
	lines, high := b.wrapped(columns, cells)
	for from := 0; from < high; {
		if !b.room(body*lead*float64(min(high-from, together)) + rowGap) {
			b.next()
			if cells != nil {
				b.row(columns, nil)
			}
		}
		n := min(high-from, max(1, int((b.bottom()-b.y-rowGap)/(body*lead))))
		x := margin
		for i, c := range columns {
			w := c.wide
			at := cell{face: pdf.Bold}
			if cells != nil {
				at = cells[i]
			}
			switch {
			case at.form == toTick && from == 0:
				b.add(pdf.Lines{Pen: pdf.Pen{Width: 0.25}, Paths: []pdf.Path{pdf.Rectangle(x+0.5, b.y+0.9, 2.9, 2.9)}})
			case at.form == toWrite && from == 0:
				b.add(pdf.Lines{Pen: pdf.Pen{Width: 0.15}, Paths: []pdf.Path{pdf.Straight(x, b.y+body*lead-0.3, x+w-colGap, b.y+body*lead-0.3)}})
			}
			for k := from; k < min(from+n, len(lines[i])); k++ {
				at, s := x, lines[i][k]
				face := pdf.Bold
				if cells != nil {
					face = cells[i].face
				}
				if c.align == right {
					at += w - colGap - pdf.Width(s, body, face)
				}
				if s != "" {
					b.words(at, b.y+body*(0.95+lead*float64(k-from))+0.4, body, face, 0, s)
				}
			}
			x += w
		}
		b.y += body*lead*float64(n) + rowGap
		from += n
		pen := pdf.Pen{Width: 0.1, Grey: 140}
		if cells == nil {
			pen = pdf.Pen{Width: 0.3}
		}
		b.add(pdf.Lines{Pen: pen, Paths: []pdf.Path{pdf.Straight(margin, b.y, margin+b.width(), b.y)}})
	}
}

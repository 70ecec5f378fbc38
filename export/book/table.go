package book

import "panelyard/export/pdf"

// column is a column of a table: its heading and its share of the width.
type column struct {
	head  string
	share float64
}

// tick is a cell that holds a box to tick, blank one with a line to write on.
const (
	tick  = "\x00tick"
	blank = "\x00blank"
)

// table writes rows under headings that are repeated on every page; a row that is
// higher than a page goes on on the next one.
func (b *book) table(title string, columns []column, rows [][]string) {
	if len(rows) == 0 {
		return
	}
	if !b.room(30) {
		b.open(b.page().Name, false)
	}
	b.y += 2
	b.text(title, 3.2, pdf.Bold)
	b.row(columns, nil, true)
	for _, r := range rows {
		b.row(columns, r, false)
	}
	b.y += 3
}

// row writes a row, or the headings.
func (b *book) row(columns []column, cells []string, head bool) {
	total := 0.0
	for _, c := range columns {
		total += c.share
	}
	face := pdf.Regular
	if head {
		face = pdf.Bold
	}
	lines := make([][]string, len(columns))
	high := 1
	for i, c := range columns {
		s := c.head
		if !head {
			s = cells[i]
		}
		if s == tick || s == blank {
			continue
		}
		lines[i] = pdf.Wrap(s, body, c.share/total*b.width()-2, face)
		high = max(high, len(lines[i]))
	}
	for from := 0; from < high; {
		if !b.room(body*lead*float64(min(high-from, 20)) + 1.2) {
			b.open(b.page().Name, false)
			if !head {
				b.row(columns, nil, true)
			}
		}
		n := min(high-from, max(1, int((b.bottom()-b.y-1.2)/(body*lead))))
		x := margin
		for i, c := range columns {
			switch {
			case head:
			case cells[i] == tick && from == 0:
				b.add(Lines{pdf.Pen{Width: 0.25}, []pdf.Path{pdf.Rectangle(x+0.5, b.y+0.9, 2.9, 2.9)}})
			case cells[i] == blank && from == 0:
				b.add(Lines{pdf.Pen{Width: 0.15}, []pdf.Path{pdf.Straight(x, b.y+body*lead, x+c.share/total*b.width()-2, b.y+body*lead)}})
			}
			for k := from; k < min(from+n, len(lines[i])); k++ {
				b.add(Words{pdf.Point{X: x, Y: b.y + body*(0.95+lead*float64(k-from)) + 0.4}, body, face, 0, lines[i][k]})
			}
			x += c.share / total * b.width()
		}
		b.y += body*lead*float64(n) + 1.2
		from += n
		pen := pdf.Pen{Width: 0.1, Grey: 140}
		if head {
			pen = pdf.Pen{Width: 0.3}
		}
		b.add(Lines{pen, []pdf.Path{pdf.Straight(margin, b.y, margin+b.width(), b.y)}})
	}
}

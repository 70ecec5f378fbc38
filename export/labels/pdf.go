package labels

import (
	"fmt"
	"image/color"
	"io"
	"strings"

	"github.com/boombuler/barcode"
	"github.com/boombuler/barcode/qr"

	"panelyard/export"
	"panelyard/export/pdf"
)

// Mark tells the files of this package from others.
const Mark = "labels by panelyard"

// The drawing of a label, in mm.
const (
	pad       = 2.0
	titleSize = 4.2
	lineSize  = 2.9
	leastSize = 1.8
	mostCode  = 24.0
	codeShare = 0.36 // of the width of a label, at most
)

// Write writes the labels of d as a PDF. The error is the writer's first, or the
// library's. A plan without panels gives one empty page. Cost: the labels.
func Write(w io.Writer, d *export.Dossier, g Grid) error {
	doc := pdf.New(d.Title()+": labels", Mark)
	list := labels(d)
	last := -1
	page := func(n int) {
		for ; last < n; last++ {
			doc.Page(g.PageW, g.PageH, fmt.Sprintf("Labels %d", last+2))
		}
	}
	page(0)
	for i := range list {
		n, at := g.at(i)
		page(n)
		if err := list[i].draw(doc, g, at); err != nil {
			return err
		}
	}
	return doc.Write(w)
}

// draw draws a label with its upper left corner at a point.
func (l *label) draw(doc *pdf.Doc, g Grid, at pdf.Point) error {
	w, h := g.label()
	doc.Stroke(pdf.Pen{Width: 0.1, Grey: 200}, pdf.Rectangle(at.X, at.Y, w, h))
	side := min(mostCode, h-2*pad, w*codeShare)
	code, err := l.matrix()
	if err != nil {
		return err
	}
	text := w - 2*pad
	if code != nil {
		modules(doc, code, at.X+w-pad-side, at.Y+pad, side)
		text -= side + pad
	}
	title, size := pdf.Fit(oneLine(l.title), titleSize, leastSize, text, pdf.Bold)
	y := at.Y + pad + size
	doc.Text(pdf.Point{X: at.X + pad, Y: y}, size, pdf.Bold, 0, 0, title)
	rows, size := l.fitted(text, at.Y+h-pad-y)
	for _, s := range rows {
		y += size * leading
		doc.Text(pdf.Point{X: at.X + pad, Y: y}, size, pdf.Regular, 0, 0, s)
	}
	return nil
}

// leading is the distance of lines in their size.
const leading = 1.35

// fitted returns the lines of a label, wrapped, in the largest size in which all have
// room; when even the least has none for all, the last that has ends with an ellipsis.
func (l *label) fitted(width, height float64) (rows []string, size float64) {
	for size = lineSize; ; size = max(leastSize, size-0.1) {
		rows = nil
		for _, s := range l.lines {
			rows = append(rows, pdf.Wrap(oneLine(s), size, width, pdf.Regular)...)
		}
		most := int(height / (size * leading))
		switch {
		case len(rows) <= most:
			return rows, size
		case size > leastSize:
			continue
		case most == 0:
			return nil, size
		}
		rows = rows[:most]
		rows[most-1] = pdf.Cut(rows[most-1]+" …", size, width, pdf.Regular)
		return rows, size
	}
}

// oneLine writes a text on one line.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// matrix returns the QR code of a label, nil where even its shortest text has no room.
// Texts of more than a code of a handy size holds are cut: the last line, with sheet
// and step, stays.
func (l *label) matrix() (barcode.Barcode, error) {
	const most = 180 // bytes that a code of this size still prints legibly
	head, tail := l.code, ""
	if i := strings.LastIndexByte(l.code, '\n'); i >= 0 {
		head, tail = l.code[:i], l.code[i:]
	}
	for len(head)+len(tail) > most && head != "" {
		r := []rune(head)
		head = string(r[:len(r)-1])
	}
	return qr.Encode(head+tail, qr.M, qr.Unicode)
}

// modules draws a code as dark squares, rows of them joined, with no quiet zone of its
// own: the label is white around it.
func modules(doc *pdf.Doc, code barcode.Barcode, x, y, side float64) {
	n := code.Bounds().Dx()
	m := side / float64(n)
	var paths []pdf.Path
	for row := range n {
		for from := 0; from < n; from++ {
			to := from
			for to < n && dark(code, to, row) {
				to++
			}
			if to > from {
				paths = append(paths, pdf.Rectangle(x+float64(from)*m, y+float64(row)*m, float64(to-from)*m, m))
				from = to
			}
		}
	}
	if len(paths) > 0 {
		doc.Fill(0, paths...)
	}
}

func dark(code barcode.Barcode, x, y int) bool {
	grey := color.GrayModel.Convert(code.At(x, y)).(color.Gray)
	return grey.Y < 128
}

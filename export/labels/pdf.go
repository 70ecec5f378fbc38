package labels

import (
	"image/color"
	"io"
	"slices"
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
	plainSize = 3.6
)

// Write writes the labels of d, whose pages are those of [Layout], as a PDF, and after them
// the names that have no room on theirs. The error is the writer's first, or a library's.
// A plan without panels gives one empty page. Cost: the labels.
func Write(w io.Writer, d *export.Dossier, g Grid, pages []pdf.Page) error {
	if len(pages) == 0 {
		pages = []pdf.Page{{W: g.PageW, H: g.PageH}}
	}
	return pdf.Write(w, d.Title()+": labels", Mark, slices.Concat(pages, names(d, g)))
}

// Layout returns the pages of labels of d; there are none without panels. Names may be
// cut short, so what takes the pages has to list names elsewhere. The error is that of
// the library that makes the codes. Cost: a code for each panel, which takes most of the time.
func Layout(d *export.Dossier, g Grid) ([]pdf.Page, error) {
	var pages []pdf.Page
	for i, l := range labels(d) {
		n, at := g.at(i)
		if n == len(pages) {
			pages = append(pages, pdf.Page{W: g.PageW, H: g.PageH})
		}
		items, err := l.items(g, at)
		if err != nil {
			return nil, err
		}
		pages[n].Items = append(pages[n].Items, items...)
	}
	if len(pages) > 0 {
		pages[0].Marks = []pdf.Mark{{Name: "Labels"}}
	}
	return pages, nil
}

// items returns what is drawn of a label with its upper left corner at a point.
func (l *label) items(g Grid, at pdf.Point) ([]pdf.Item, error) {
	w, h := g.label()
	list := []pdf.Item{pdf.Lines{Pen: pdf.Pen{Width: 0.1, Grey: 200}, Paths: []pdf.Path{pdf.Rectangle(at.X, at.Y, w, h)}}}
	side, text := g.columns()
	if g.Plain {
		s, size := pdf.Fit(l.plain, plainSize, leastSize, side, pdf.Bold)
		list = append(list,
			pdf.Lines{Pen: pdf.Pen{Width: 0.3}, Paths: []pdf.Path{pdf.Rectangle(at.X+w-pad-side, at.Y+pad, side, 2*plainSize)}},
			pdf.Words{At: pdf.Point{X: at.X + w - pad - side/2 - pdf.Width(s, size, pdf.Bold)/2, Y: at.Y + pad + plainSize + size*0.36}, Size: size, Face: pdf.Bold, Text: s})
	} else {
		code, err := l.matrix()
		if err != nil {
			return nil, err
		}
		list = append(list, modules(code, at.X+w-pad-side, at.Y+pad, side)...)
	}
	title, size := l.heading(text)
	y := at.Y + pad + size
	list = append(list, pdf.Words{At: pdf.Point{X: at.X + pad, Y: y}, Size: size, Face: pdf.Bold, Text: title})
	rows, size := l.fitted(text, at.Y+h-pad-y)
	for _, s := range rows {
		y += size * leading
		list = append(list, pdf.Words{At: pdf.Point{X: at.X + pad, Y: y}, Size: size, Text: s})
	}
	return list, nil
}

// columns returns the side of the code of a label and the width that texts have beside
// it.
func (g Grid) columns() (code, text float64) {
	w, h := g.label()
	code = min(mostCode, h-2*pad, w*codeShare)
	return code, w - 2*pad - code - pad
}

// heading returns the title of a label as it has room in a width, and its size.
func (l *label) heading(width float64) (string, float64) {
	return pdf.Fit(oneLine(l.title), titleSize, leastSize, width, pdf.Bold)
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

// matrix returns the QR code of a label.
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

// modules returns the rows of a code as lines as high as they are, the light squares
// their gaps: that takes a sixth of the room that areas take in a file. The code has no
// quiet zone of its own: the label is white around it.
func modules(code barcode.Barcode, x, y, side float64) []pdf.Item {
	n := code.Bounds().Dx()
	m := side / float64(n)
	var rows []pdf.Item
	for row := range n {
		from := 0
		for from < n && !dark(code, from, row) {
			from++
		}
		var runs []float64 // dark and light by turns
		end := from        // of the last dark run
		for at := from; at < n; {
			to := at
			for to < n && dark(code, to, row) == dark(code, at, row) {
				to++
			}
			if dark(code, at, row) {
				end = to
			}
			runs = append(runs, float64(to-at)*m)
			at = to
		}
		if len(runs) == 0 {
			continue
		}
		if len(runs)%2 == 1 {
			runs = append(runs, side) // the last dark run is not followed by another
		}
		at := y + (float64(row)+0.5)*m
		rows = append(rows, pdf.Lines{Pen: pdf.Pen{Width: m, Dash: runs}, Paths: []pdf.Path{pdf.Straight(x+float64(from)*m, at, x+float64(end)*m, at)}})
	}
	return rows
}

func dark(code barcode.Barcode, x, y int) bool {
	grey := color.GrayModel.Convert(code.At(x, y)).(color.Gray)
	return grey.Y < 128
}

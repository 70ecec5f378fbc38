package book

import (
	"bytes"
	"fmt"
	"io"

	"panelyard/export"
	"panelyard/export/pdf"
	"panelyard/export/planjson"
	"panelyard/parts/length"
	"panelyard/parts/rack"
)

// Mark is what the book says made it, in ASCII.
const Mark = "shop book by panelyard"

// Measures of a page in mm.
const (
	margin = 12.0
	foot   = 8.0 // below the content, for the number of the page
	body   = 2.9 // size of text
	small  = 2.6
	least  = 1.8 // the smallest text
	lead   = 1.35
)

// Write writes the book of d, with the pages of its labels, as their package lays them out,
// at the end. The error is the writer's first, or a library's. Cost: what is on the pages,
// which are held in memory.
func Write(w io.Writer, d *export.Dossier, labels []pdf.Page) error {
	pages, err := Layout(d, labels)
	if err != nil {
		return err
	}
	return pdf.Write(w, d.Title(), Mark, pages)
}

// Layout returns the pages of the book of d.
func Layout(d *export.Dossier, labels []pdf.Page) ([]pdf.Page, error) {
	b := &book{d: d, w: d.Lengths(), short: 210, long: 297}
	if b.w.Unit() == "in" {
		b.short, b.long = 8.5*length.Inch.MM(), 11*length.Inch.MM()
	}
	var err error
	if b.plan, err = digest(d); err != nil {
		return nil, err
	}
	b.cover()
	for i := range d.Sheets {
		b.sheet(d.Seen(i))
	}
	b.lists()
	b.feet(len(b.pages) + len(labels))
	return append(b.pages, labels...), nil
}

// digest returns the digits by which the rack knows the plan of d.
func digest(d *export.Dossier) (string, error) {
	var doc bytes.Buffer
	if err := planjson.Write(&doc, d); err != nil {
		return "", err
	}
	return rack.Digest(doc.Bytes())
}

// book is a book that is being laid out: y is how far its last page is filled, title
// what further pages are headed with.
type book struct {
	d           *export.Dossier
	w           export.Lengths
	plan        string
	short, long float64
	pages       []pdf.Page
	title       string
	y           float64
}

func (b *book) page() *pdf.Page      { return &b.pages[len(b.pages)-1] }
func (b *book) width() float64       { return b.page().W - 2*margin }
func (b *book) bottom() float64      { return b.page().H - margin - foot }
func (b *book) add(list ...pdf.Item) { b.page().Items = append(b.page().Items, list...) }
func (b *book) room(h float64) bool  { return b.y+h <= b.bottom() }

// open begins a page with a title, and lists it in the reader's outline.
func (b *book) open(title string, upright bool) {
	b.title = title
	b.sheetOfPaper(title, upright)
	b.mark(title, 0, 0)
}

// next begins a further page of what was begun.
func (b *book) next() { b.sheetOfPaper(b.title+", continued", false) }

// sheetOfPaper begins a page with a heading.
func (b *book) sheetOfPaper(heading string, upright bool) {
	p := pdf.Page{W: b.long, H: b.short}
	if upright {
		p.W, p.H = p.H, p.W
	}
	b.pages = append(b.pages, p)
	s, size := pdf.Fit(heading, 5, 3, b.width(), pdf.Bold)
	b.y = margin + 5
	b.words(margin, b.y, size, pdf.Bold, 0, s)
	b.y += 3
}

// mark lists a place of the page in the reader's outline.
func (b *book) mark(name string, level int, y float64) {
	b.page().Marks = append(b.page().Marks, pdf.Mark{Name: name, Level: level, Y: y})
}

// words adds a line of text with its foot at x, y.
func (b *book) words(x, y, size float64, f pdf.Face, grey int, s string) {
	b.add(pdf.Words{At: pdf.Point{X: x, Y: y}, Size: size, Face: f, Grey: grey, Text: s})
}

// text writes a paragraph, on further pages where it needs them.
func (b *book) text(s string, size float64, f pdf.Face) {
	for _, line := range pdf.Wrap(s, size, b.width(), f) {
		if !b.room(size * lead) {
			b.next()
		}
		b.y += size * lead
		b.words(margin, b.y, size, f, 0, line)
	}
	b.y += size * 0.5
}

// feet writes the title, the plan and the number at the foot of the pages, of all that
// the book has with its labels.
func (b *book) feet(of int) {
	for i := range b.pages {
		p := &b.pages[i]
		y := p.H - foot
		line := func(x float64, size float64, s string) {
			p.Items = append(p.Items, pdf.Words{At: pdf.Point{X: x, Y: y}, Size: size, Grey: 60, Text: s})
		}
		n := fmt.Sprintf("page %s of %s", b.w.Count(i+1), b.w.Count(of))
		line(p.W-margin-pdf.Width(n, small, pdf.Regular), small, n)
		plan := "plan " + b.plan
		middle := (p.W - pdf.Width(plan, small, pdf.Regular)) / 2
		line(middle, small, plan)
		s, size := pdf.Fit(b.d.Title(), small, least, middle-margin-4, pdf.Regular)
		line(margin, size, s)
	}
}

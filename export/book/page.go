package book

import (
	"fmt"
	"io"

	"panelyard/export"
	"panelyard/export/pdf"
	"panelyard/parts/length"
)

// Mark is what the book says made it, in ASCII.
const Mark = "shop book by panelyard"

// Measures of a page in mm.
const (
	margin = 12.0
	foot   = 8.0 // below the content, for the number of the page
	body   = 2.9 // size of text
	least  = 1.8 // the smallest text
	lead   = 1.35
)

// Page is a page of the book in mm, its name that in the reader's outline.
type Page struct {
	W, H  float64
	Name  string
	Items []Item
}

// Item is what is drawn on a page: Lines, Area or Words.
type Item interface{ draw(*pdf.Doc) }

// Lines are paths drawn with a pen.
type Lines struct {
	Pen   pdf.Pen
	Paths []pdf.Path
}

// Area is filled paths; those within others are holes.
type Area struct {
	Grey  int
	Paths []pdf.Path
}

// Words are a line of text with its foot at a point.
type Words struct {
	At   pdf.Point
	Size float64 // mm
	Face pdf.Face
	Grey int
	Text string
}

func (x Lines) draw(d *pdf.Doc) { d.Stroke(x.Pen, x.Paths...) }
func (x Area) draw(d *pdf.Doc)  { d.Fill(x.Grey, x.Paths...) }
func (x Words) draw(d *pdf.Doc) { d.Text(x.At, x.Size, x.Face, x.Grey, 0, x.Text) }

// Write writes the book of d. The error is the writer's first, or the library's. Cost:
// what is on the pages, which are held in memory.
func Write(w io.Writer, d *export.Dossier) error {
	doc := pdf.New(d.Title(), Mark)
	for _, p := range Layout(d) {
		doc.Page(p.W, p.H, p.Name)
		for _, x := range p.Items {
			x.draw(doc)
		}
	}
	return doc.Write(w)
}

// Layout returns the pages of the book of d.
func Layout(d *export.Dossier) []Page {
	b := &book{d: d, w: d.Lengths(), short: 210, long: 297}
	if d.Lengths().Unit() == "in" {
		b.short, b.long = 8.5*length.Inch.MM(), 11*length.Inch.MM()
	}
	b.cover()
	for i := range d.Sheets {
		m := d.Seen(i)
		b.sheetMap(m)
		b.steps(m)
		b.paths(m)
	}
	b.lists()
	for i := range b.pages {
		p := &b.pages[i]
		n := fmt.Sprintf("page %d of %d", i+1, len(b.pages))
		y := p.H - foot
		p.Items = append(p.Items, Words{pdf.Point{X: p.W - margin - pdf.Width(n, 2.6, pdf.Regular), Y: y}, 2.6, pdf.Regular, 60, n})
		s, size := pdf.Fit(d.Title(), 2.6, least, p.W/2, pdf.Regular)
		p.Items = append(p.Items, Words{pdf.Point{X: margin, Y: y}, size, pdf.Regular, 60, s})
	}
	return b.pages
}

// book is a book that is being laid out: y is how far its last page is filled.
type book struct {
	d           *export.Dossier
	w           export.Lengths
	short, long float64
	pages       []Page
	y           float64
}

func (b *book) page() *Page         { return &b.pages[len(b.pages)-1] }
func (b *book) width() float64      { return b.page().W - 2*margin }
func (b *book) bottom() float64     { return b.page().H - margin - foot }
func (b *book) add(list ...Item)    { b.page().Items = append(b.page().Items, list...) }
func (b *book) room(h float64) bool { return b.y+h <= b.bottom() }

// open begins a page with a title.
func (b *book) open(title string, upright bool) {
	p := Page{W: b.long, H: b.short, Name: title}
	if upright {
		p.W, p.H = p.H, p.W
	}
	b.pages = append(b.pages, p)
	s, size := pdf.Fit(title, 5, 3, b.width(), pdf.Bold)
	b.y = margin + 5
	b.add(Words{pdf.Point{X: margin, Y: b.y}, size, pdf.Bold, 0, s})
	b.y += 3
}

// text writes a paragraph, on further pages with the same title where it needs them.
func (b *book) text(s string, size float64, f pdf.Face) {
	for _, line := range pdf.Wrap(s, size, b.width(), f) {
		if !b.room(size * lead) {
			b.open(b.page().Name, false)
		}
		b.y += size * lead
		b.add(Words{pdf.Point{X: margin, Y: b.y}, size, f, 0, line})
	}
	b.y += size * 0.5
}

package template

import (
	"io"

	"panelyard/export/pdf"
)

// Mark tells the files of this package from others. It stands near the end of a PDF and
// at the beginning of an SVG.
const Mark = "drawn by panelyard template"

// WritePDF writes pages as a PDF with a title. The error is the writer's first, or the
// library's. Cost: what is on the pages.
func WritePDF(w io.Writer, title string, pages []Page) error {
	doc := pdf.New(title, Mark)
	for _, p := range pages {
		name := p.Name
		if name == "" {
			name = "Page map"
		}
		doc.Page(p.W, p.H, name)
		if len(p.Drawing) > 0 {
			r := p.Window
			doc.Clip(r.X0, r.Y0, r.width(), r.height(), func() { draw(doc, p.Drawing) })
		}
		draw(doc, p.Frame)
	}
	return doc.Write(w)
}

func draw(doc *pdf.Doc, list []Item) {
	for _, x := range list {
		switch x := x.(type) {
		case Lines:
			doc.Stroke(x.Pen, x.Paths...)
		case Area:
			doc.Fill(x.Grey, x.Paths...)
		case Words:
			doc.Text(x.start(), x.Size, x.Face, x.Grey, x.Turn, x.Text)
		}
	}
}

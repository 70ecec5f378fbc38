package pdf

import (
	"io"
	"strings"
	"time"
	"unicode/utf16"

	"codeberg.org/go-pdf/fpdf"
)

// Point is a place on a page in mm, y downwards.
type Point struct{ X, Y float64 }

// Step is a step of a path: a line, or with a bulge (tan(angle/4), positive from x
// towards y) an arc.
type Step struct {
	To    Point
	Bulge float64
}

// Path is a path of lines and arcs.
type Path struct {
	From   Point
	Steps  []Step
	Closed bool
}

// Straight returns a straight path.
func Straight(x0, y0, x1, y1 float64) Path {
	return Path{From: Point{x0, y0}, Steps: []Step{{To: Point{x1, y1}}}}
}

// Rectangle returns the path round a rectangle with its upper left corner at x, y.
func Rectangle(x, y, w, h float64) Path {
	return Path{From: Point{x, y}, Closed: true, Steps: []Step{{To: Point{x + w, y}}, {To: Point{x + w, y + h}}, {To: Point{x, y + h}}}}
}

// Pen is what lines are drawn with. Dash holds lengths of dashes and gaps in mm.
type Pen struct {
	Width float64 // mm
	Grey  int     // 0 is black, 255 white
	Dash  []float64
}

// Doc is a document that is being written. What goes wrong is kept and returned by
// Write.
type Doc struct {
	f      *fpdf.Fpdf
	loaded [2]bool
}

// epoch is the date of every document: the date of a file is that of its file system,
// and the same content is to give the same bytes.
var epoch = time.Date(2000, time.January, 1, 0, 0, 0, 0, time.UTC)

// New returns an empty document. The title is shown by readers; the creator says what
// wrote it and stands in the file as it is, in ASCII.
func New(title, creator string) *Doc {
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", SizeStr: "A4"})
	f.SetCreationDate(epoch)
	f.SetModificationDate(epoch)
	f.SetCatalogSort(true)
	f.SetProducer("panelyard", false)
	f.SetCreator(creator, false)
	f.SetTitle(utf16BE(title), false)
	f.SetMargins(0, 0, 0)
	f.SetAutoPageBreak(false, 0)
	f.SetLineJoinStyle("round")
	f.SetLineCapStyle("butt")
	return &Doc{f: f}
}

// Page begins a page of a size in mm, listed in the reader's outline under a name, or
// not listed when that is empty.
func (d *Doc) Page(w, h float64, name string) {
	d.f.AddPageFormat("P", fpdf.SizeType{Wd: w, Ht: h})
	d.face(Regular)
	if name != "" {
		d.bookmark(name, 0, 0)
	}
}

// bookmark lists a place of the page in the reader's outline.
func (d *Doc) bookmark(name string, level int, y float64) {
	d.f.Bookmark(strings.Map(func(r rune) rune {
		if r > 0xFFFF {
			return missing
		}
		return r
	}, strings.ToValidUTF8(name, string(missing))), level, y)
}

// utf16BE encodes a text string of a PDF (ISO 32000-1, 7.9.2.2): the library's own
// encoder stumbles over characters beyond U+FFFF and over what is no UTF-8.
func utf16BE(s string) string {
	b := []byte{0xFE, 0xFF}
	for _, u := range utf16.Encode([]rune(s)) {
		b = append(b, byte(u>>8), byte(u))
	}
	return string(b)
}

// face chooses a face, which is loaded when it is needed first.
func (d *Doc) face(f Face) {
	if !d.loaded[f] {
		d.f.AddUTF8FontFromBytes(family, f.style(), f.data())
		d.loaded[f] = true
	}
	d.f.SetFont(family, f.style(), 10)
}

// Text writes a line of text, its foot at a point, turned counter-clockwise by degrees
// about it. The size is in mm.
func (d *Doc) Text(at Point, size float64, f Face, grey int, turn float64, s string) {
	d.face(f)
	d.f.SetFontUnitSize(size)
	d.f.SetTextColor(grey, grey, grey)
	if turn != 0 {
		d.f.TransformBegin()
		d.f.TransformRotate(turn, at.X, at.Y)
		defer d.f.TransformEnd()
	}
	d.f.Text(at.X, at.Y, f.visual(s))
}

// Stroke draws paths.
func (d *Doc) Stroke(pen Pen, paths ...Path) {
	d.f.SetLineWidth(pen.Width)
	d.f.SetDrawColor(pen.Grey, pen.Grey, pen.Grey)
	d.f.SetDashPattern(pen.Dash, 0)
	d.trace(paths)
	d.f.DrawPath("D")
}

// Fill fills paths with a grey, by the even-odd rule: a path within another is a hole.
func (d *Doc) Fill(grey int, paths ...Path) {
	d.f.SetFillColor(grey, grey, grey)
	d.trace(paths)
	d.f.DrawPath("F*")
}

func (d *Doc) trace(paths []Path) {
	for _, p := range paths {
		d.f.MoveTo(p.From.X, p.From.Y)
		at := p.From
		for _, s := range p.Steps {
			if s.Bulge == 0 {
				d.f.LineTo(s.To.X, s.To.Y)
			} else {
				for _, b := range arcBeziers(at.X, at.Y, s.To.X, s.To.Y, s.Bulge) {
					d.f.CurveBezierCubicTo(b.x1, b.y1, b.x2, b.y2, b.x, b.y)
				}
			}
			at = s.To
		}
		if p.Closed {
			d.f.ClosePath()
		}
	}
}

// Clip draws what f draws only within a rectangle.
func (d *Doc) Clip(x, y, w, h float64, f func()) {
	d.f.ClipRect(x, y, w, h, false)
	f()
	d.f.ClipEnd()
}

// Write writes the document, complete, and ends it. The error is the library's or the
// writer's first.
func (d *Doc) Write(w io.Writer) error { return d.f.Output(w) }

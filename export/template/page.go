package template

import "panelyard/export/pdf"

// Page is a page that is laid out.
type Page struct {
	Name string  // "B3"; the first page has none
	W, H float64 // mm
	// Window is where Drawing is seen, the panel at true size; the rest of the page,
	// Frame, is drawn over it.
	Window  Rect
	Drawing []Item
	Frame   []Item
}

// Rect is a rectangle, x0 <= x1 and y0 <= y1, in mm.
type Rect struct{ X0, Y0, X1, Y1 float64 }

func (r Rect) width() float64  { return r.X1 - r.X0 }
func (r Rect) height() float64 { return r.Y1 - r.Y0 }

// grown returns r with its sides moved outwards.
func (r Rect) grown(by float64) Rect { return Rect{r.X0 - by, r.Y0 - by, r.X1 + by, r.Y1 + by} }

// has reports whether a point lies in r or on its edge.
func (r Rect) has(p pdf.Point) bool {
	return r.X0 <= p.X && p.X <= r.X1 && r.Y0 <= p.Y && p.Y <= r.Y1
}

// touches reports whether two rectangles, with their edges, have a common point.
func (r Rect) touches(s Rect) bool {
	return r.X0 <= s.X1 && s.X0 <= r.X1 && r.Y0 <= s.Y1 && s.Y0 <= r.Y1
}

// path returns the outline of r.
func (r Rect) path() pdf.Path {
	return pdf.Rectangle(r.X0, r.Y0, r.width(), r.height())
}

// Item is something on a page: Lines, an Area or Words.
type Item interface{ item() }

// Lines are paths drawn with a pen. Class says what they are.
type Lines struct {
	Class string
	Pen   pdf.Pen
	Paths []pdf.Path
}

// Area is what paths enclose, by the even-odd rule, filled with a grey.
type Area struct {
	Grey  int
	Paths []pdf.Path
}

// Words are a line of text. At is the foot of its beginning, middle or end, and Turn
// how far it is turned counter-clockwise about At, in degrees.
type Words struct {
	At     pdf.Point
	Size   float64 // mm
	Face   pdf.Face
	Grey   int
	Anchor Anchor
	Turn   float64
	Text   string
}

func (Lines) item() {}
func (Area) item()  {}
func (Words) item() {}

// Anchor is the part of a text that stands at its place.
type Anchor int

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// share returns how much of the width of a text lies before its place.
func (a Anchor) share() float64 { return float64(a) / 2 }

// circle returns a circle.
func circle(c pdf.Point, r float64) pdf.Path {
	return pdf.Path{
		From:   pdf.Point{X: c.X - r, Y: c.Y},
		Steps:  []pdf.Step{{To: pdf.Point{X: c.X + r, Y: c.Y}, Bulge: 1}, {To: pdf.Point{X: c.X - r, Y: c.Y}, Bulge: 1}},
		Closed: true,
	}
}

// The pens: thin, because a thick line leaves open where to cut.
var (
	outlinePen = pdf.Pen{Width: 0.25}
	centrePen  = pdf.Pen{Width: 0.15, Grey: 90, Dash: []float64{8, 1.5, 1, 1.5}}
	crossPen   = pdf.Pen{Width: 0.15}
	framePen   = pdf.Pen{Width: 0.12, Grey: 110}
	markPen    = pdf.Pen{Width: 0.15}
	rulerPen   = pdf.Pen{Width: 0.15}
	bendPen    = pdf.Pen{Width: 0.2, Dash: []float64{3, 1}}
)

const soft = 90 // grey of what is read after the rest

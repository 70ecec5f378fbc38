package pdf

import "io"

// Page is a page that is laid out, in mm.
type Page struct {
	W, H  float64
	Marks []Mark
	Items []Item
}

// Mark is a place that the reader's outline lists. A document's first mark has level
// 0, and none is more than one level deeper than the one before it.
type Mark struct {
	Name  string
	Level int
	Y     float64
}

// Item is what is drawn on a page: Lines, Area, Words or a Clip of them.
type Item interface{ draw(*Doc) }

// Lines are paths drawn with a pen.
type Lines struct {
	Pen   Pen
	Paths []Path
}

// Area is filled paths; those within others are holes.
type Area struct {
	Grey  int
	Paths []Path
}

// Words are a line of text with its foot at a point; upright ones run upwards from it.
type Words struct {
	At      Point
	Size    float64 // mm
	Face    Face
	Grey    int
	Upright bool
	Text    string
}

// Clip is items of which only what lies within a rectangle is drawn; Min is its upper
// left corner.
type Clip struct {
	Min   Point
	W, H  float64
	Items []Item
}

// capHeight is the height of the capitals of the face in its size, from memory.
const capHeight = 0.73

// Box returns the upper left corner and the size of the box round the capitals of
// words.
func (x Words) Box() (at Point, w, h float64) {
	w, h = Width(x.Text, x.Size, x.Face), capHeight*x.Size
	if x.Upright {
		return Point{x.At.X - h, x.At.Y - w}, h, w
	}
	return Point{x.At.X, x.At.Y - h}, w, h
}

func (x Lines) draw(d *Doc) { d.Stroke(x.Pen, x.Paths...) }
func (x Area) draw(d *Doc)  { d.Fill(x.Grey, x.Paths...) }
func (x Words) draw(d *Doc) {
	turn := 0.0
	if x.Upright {
		turn = 90
	}
	d.Text(x.At, x.Size, x.Face, x.Grey, turn, x.Text)
}

func (x Clip) draw(d *Doc) {
	d.Clip(x.Min.X, x.Min.Y, x.W, x.H, func() {
		for _, i := range x.Items {
			i.draw(d)
		}
	})
}

// Write writes a document of pages; title and creator are those of [New]. The error
// is the library's or the writer's first. Cost: the items, which are held in memory
// as text.
func Write(w io.Writer, title, creator string, pages []Page) error {
	d := New(title, creator)
	for i := range pages {
		p := &pages[i]
		d.Page(p.W, p.H, "")
		// The library counts places from the upper edge of the last page.
		lower := pages[len(pages)-1].H - p.H
		for _, m := range p.Marks {
			d.bookmark(m.Name, m.Level, m.Y+lower)
		}
		for _, x := range p.Items {
			x.draw(d)
		}
	}
	return d.Write(w)
}

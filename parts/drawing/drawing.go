package drawing

import (
	"fmt"
	"slices"

	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// Drawing is what a reader found in a file, in the order of the file.
type Drawing struct {
	File   string
	Unit   length.Unit // of the drawing: findings give coordinates in it
	Layers []Layer
	Pieces []Piece
	Texts  []Text
}

// Layer is a layer of a drawing.
type Layer struct {
	Name   string
	Colour string // as the format writes it; empty when unknown
	Hidden bool   // it is switched off, or is not plotted
}

// Source is where something was drawn.
type Source struct {
	Entity string // "LINE, handle 2F"
	Line   int    // in the file, from 1; 0 when unknown
}

// String returns entity and line.
func (s Source) String() string {
	if s.Line == 0 {
		return s.Entity
	}
	return fmt.Sprintf("%s, line %d", s.Entity, s.Line)
}

// Piece is a run of lines and true arcs that was drawn as one: a line, an arc, a
// circle, a polyline, or a curve turned into lines. The segment that leaves a
// vertex is described there; in a piece that is not closed the last vertex has
// none. A circle is a closed piece of two half arcs.
type Piece struct {
	Source
	Layer  string
	Colour string // as the format writes it; empty when it is that of the layer
	Path   []outline.Vertex
	Closed bool
	Name   string // that the drawing gives it; empty when it gives none
	// Within is how far the path may stand off the curve that was drawn; 0 for
	// lines and arcs, which are what was drawn.
	Within length.Length
}

// Text is a text of a drawing.
type Text struct {
	Source
	Layer   string
	At      geom.Point // the insertion point
	Content string     // plain, lines separated by \n
}

// place writes a point in the unit of the drawing, to four decimals.
func (d *Drawing) place(p geom.Point) string {
	return fmt.Sprintf("(%s, %s)", d.number(float64(p.X)), d.number(float64(p.Y)))
}

// distance writes a length in the unit of the drawing.
func (d *Drawing) distance(units float64) string {
	return d.number(units) + " " + d.unit().Name
}

// unit returns the unit of the drawing, millimetres when it has none.
func (d *Drawing) unit() length.Unit {
	if d.Unit.Size == 0 {
		return length.MM
	}
	return d.Unit
}

// Box returns the box of all pieces.
func (d *Drawing) Box() geom.Box {
	var box geom.Box
	for i, p := range d.Pieces {
		path := p.Path
		if n := len(path); !p.Closed && n > 0 { // without the segment back to the start
			path = append(slices.Clone(path[:n-1]), outline.Vertex{At: path[n-1].At})
		}
		b := outline.Outline(path).Box()
		if i == 0 {
			box = b
			continue
		}
		box.Min = geom.Pt(min(box.Min.X, b.Min.X), min(box.Min.Y, b.Min.Y))
		box.Max = geom.Pt(max(box.Max.X, b.Max.X), max(box.Max.Y, b.Max.Y))
	}
	return box
}

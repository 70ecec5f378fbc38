package svgmap

import (
	"io"

	svg "github.com/ajstarks/svgo/float"

	"panelyard/export"
)

// Paper is a sheet of paper, landscape, in mm.
type Paper struct {
	Name string
	W, H float64
}

// The papers.
var (
	A4     = Paper{"A4", 297, 210}
	A3     = Paper{"A3", 420, 297}
	Letter = Paper{"Letter", 279.4, 215.9}
)

// Look is how a map is drawn. The zero value is on A4, as the sheet lies when it is cut.
type Look struct {
	Paper    Paper
	Mirrored bool // from the other side
	Linked   bool // to be part of a page: panels are links to their rows, see [RowID]
}

// Write writes the map of sheet i of d as an SVG document of the size of its paper, in
// mm. The error is the writer's first. Cost: the vertices of the panels, and for texts
// the square of their number.
func Write(w io.Writer, d *export.Dossier, i int, look Look) error {
	e := &errWriter{w: w}
	p := layout(d, i, look)
	c := svg.New(e)
	c.Decimals = 3
	p.draw(c)
	return e.err
}

// errWriter keeps the first error: the library that draws does not look at it.
type errWriter struct {
	w   io.Writer
	err error
}

func (e *errWriter) Write(b []byte) (int, error) {
	if e.err != nil {
		return 0, e.err
	}
	n, err := e.w.Write(b)
	if err == nil && n < len(b) {
		err = io.ErrShortWrite
	}
	e.err = err
	return n, err
}

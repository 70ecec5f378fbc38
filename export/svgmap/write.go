package svgmap

import (
	"io"

	svg "github.com/ajstarks/svgo/float"

	"panelyard/export"
)

// Write writes the map of sheet i of d as an SVG document of A4 size, in mm. The
// error is the writer's first. Cost: the vertices of the panels, and for texts
// the square of their number.
func Write(w io.Writer, d *export.Dossier, i int) error {
	e := &errWriter{w: w}
	p := layout(d, i)
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

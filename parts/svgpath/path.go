// Package svgpath makes loops of lines and true arcs of SVG path data (W3C, Scalable
// Vector Graphics 1.1, section 8.3). Circular arcs stay arcs; elliptical arcs and
// Bézier curves become lines within a tolerance. The other way round it writes arcs as
// path data.
package svgpath

import (
	"errors"
	"fmt"
	"math"

	"github.com/tdewolff/canvas"

	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// MaxVertices is how many vertices a loop may have.
const MaxVertices = 10_000

// The faults of path data.
var (
	ErrEmpty   = errors.New("the path is empty")
	ErrTooLong = fmt.Errorf("the path needs more than %d corners", MaxVertices)
	errNoPath  = errors.New("cannot be understood")
)

// Loop is a part of a path that is drawn in one go. The last vertex of one that is not
// closed has no segment.
type Loop struct {
	Path   []outline.Vertex
	Closed bool
	Curved bool // some of it was made lines, within the tolerance
}

// Parse parses path data. The parser is that of github.com/tdewolff/canvas; it may
// panic on odd input, which is caught.
func Parse(s string) (p *canvas.Path, err error) {
	defer func() {
		if recover() != nil {
			p, err = nil, errNoPath
		}
	}()
	if p, err = canvas.ParseSVGPath(s); err == nil && p.Empty() {
		return nil, ErrEmpty
	}
	return p, err
}

// Loops returns the loops of a path whose coordinates are in a unit of so many grid
// units, its y axis pointing down; in the loops it points up.
func Loops(p *canvas.Path, unit float64, tolerance length.Length) (list []Loop, err error) {
	defer func() {
		if recover() != nil {
			list, err = nil, errNoPath
		}
	}()
	b := builder{unit: unit}
	for sc := p.Scanner(); sc.Scan(); {
		if b.closed && sc.Cmd() != canvas.MoveToCmd {
			b.next() // after a loop was closed the next begins where it did
			err = b.add(sc.Start(), 0)
		}
		if err != nil {
			return nil, err
		}
		switch sc.Cmd() {
		case canvas.MoveToCmd:
			b.next()
			err = b.add(sc.End(), 0)
		case canvas.LineToCmd:
			err = b.add(sc.End(), 0)
		case canvas.CloseCmd:
			err = b.add(sc.End(), 0)
			b.closed = true
		case canvas.ArcToCmd:
			err = b.arc(sc, float64(tolerance)/unit)
		default:
			b.curved = true
			err = flatten(sc, float64(tolerance)/unit, b.add)
		}
		if err != nil {
			return nil, err
		}
	}
	b.next()
	return b.list, nil
}

// builder gathers the vertices of loops.
type builder struct {
	unit           float64
	list           []Loop
	path           []outline.Vertex
	closed, curved bool
}

// next ends a loop.
func (b *builder) next() {
	n := len(b.path)
	if n > 1 && b.path[n-1].At == b.path[0].At {
		b.path, b.closed = b.path[:n-1], true
	}
	if n > 0 {
		b.list = append(b.list, Loop{b.path, b.closed, b.curved})
	}
	b.path, b.closed, b.curved = nil, false, false
}

func (b *builder) grid(q canvas.Point) (geom.Point, error) {
	x, y := math.Round(q.X*b.unit), math.Round(-q.Y*b.unit) // y points down in SVG
	if !(math.Abs(x) <= float64(length.Max) && math.Abs(y) <= float64(length.Max)) {
		return geom.Point{}, length.ErrTooLong
	}
	return geom.Pt(length.Length(x), length.Length(y)), nil
}

// add adds the end of a segment.
func (b *builder) add(to canvas.Point, bulge float64) error {
	at, err := b.grid(to)
	n := len(b.path)
	switch {
	case err != nil:
		return err
	case n > 0 && b.path[n-1].At == at:
		return nil // shorter than the grid
	case n > MaxVertices:
		return ErrTooLong
	case n > 0:
		b.path[n-1].Bulge = bulge
	}
	b.path = append(b.path, outline.Vertex{At: at})
	return nil
}

// arc adds an arc: a true one when it is circular.
func (b *builder) arc(sc *canvas.PathScanner, tolerance float64) error {
	rx, ry, _, large, sweep := sc.Arc()
	if math.Abs(rx-ry) > 1e-9*rx {
		b.curved = true
		return flatten(sc, tolerance, b.add)
	}
	from, to := sc.Start(), sc.End()
	bulge, err := arcBulge(from, to, rx, large, sweep)
	if err != nil {
		return err
	}
	if math.Abs(bulge) <= 1 {
		return b.add(to, bulge)
	}
	// A chord that is short on the grid says little about a long arc: it is cut in two.
	half := math.Copysign(math.Tan(math.Atan(math.Abs(bulge))/2), bulge)
	if err := b.add(ellipse(from, to, rx, rx, 0, large, sweep).at(0.5), half); err != nil {
		return err
	}
	return b.add(to, half)
}

// arcBulge returns the bulge of a circular arc of path data, whose ends are not on the
// grid yet: near a half circle a little of the chord is much of the angle. SVG's sweep
// turns clockwise as seen with y up.
func arcBulge(a, b canvas.Point, radius float64, large, sweep bool) (float64, error) {
	c := math.Hypot(b.X-a.X, b.Y-a.Y)
	if c == 0 {
		return 0, outline.ErrNoChord
	}
	theta := 2 * math.Asin(min(1, c/2/radius)) // a radius too small is scaled up, as SVG says
	if large {
		theta = 2*math.Pi - theta
	}
	bulge := math.Tan(theta / 4)
	if sweep {
		// With y flipped the positive direction of SVG is counter-clockwise's mirror.
		return -bulge, nil
	}
	return bulge, nil
}

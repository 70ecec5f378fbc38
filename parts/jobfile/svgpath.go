package jobfile

import (
	"errors"
	"fmt"
	"math"

	"github.com/tdewolff/canvas"

	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// path reads SVG path data (W3C, Scalable Vector Graphics 1.1, section 8.3), its
// numbers in the unit of the job and its y axis pointing down, as one closed loop.
// Circular arcs stay arcs; elliptical arcs and Bézier curves become lines within a
// quarter of the job's tolerance.
func (r *reader) path(g *group, v *value) outline.Outline {
	s, at := g.word("path")
	if at == nil {
		return nil
	}
	o, err := fromPath(s, r.out.Units, r.out.Tolerance/4)
	if err != nil {
		g.add(v, "path: "+diag.Brief(err), `write one closed loop of SVG path data, such as "M0 0 H600 V400 H0 Z"`)
		return nil
	}
	return o
}

// The faults of path data.
var (
	errUnclosed = errors.New("the path is not closed")
	errTwoLoops = errors.New("the path has more than one loop")
	errNoPath   = errors.New("the path is empty")
	errLongPath = fmt.Errorf("the path needs more than %d corners", MaxVertices)
)

// fromPath makes an outline of path data. The parser is that of
// github.com/tdewolff/canvas; it may panic on odd input, which is caught.
func fromPath(s string, unit length.Unit, tolerance length.Length) (o outline.Outline, err error) {
	defer func() {
		if p := recover(); p != nil {
			o, err = nil, errors.New("cannot be understood")
		}
	}()
	p, err := canvas.ParseSVGPath(s)
	if err != nil {
		return nil, err
	}
	if p.Empty() {
		return nil, errNoPath
	}
	scale := float64(unit.Size)
	grid := func(q canvas.Point) (geom.Point, error) {
		x, y := math.Round(q.X*scale), math.Round(-q.Y*scale) // y points down in SVG
		if !(math.Abs(x) <= float64(length.Max) && math.Abs(y) <= float64(length.Max)) {
			return geom.Point{}, length.ErrTooLong
		}
		return geom.Pt(length.Length(x), length.Length(y)), nil
	}
	add := func(to canvas.Point, bulge float64) error {
		at, err := grid(to)
		if err != nil {
			return err
		}
		if n := len(o); n > 0 && o[n-1].At == at {
			return nil // shorter than the grid
		}
		if len(o) > MaxVertices {
			return errLongPath
		}
		if n := len(o); n > 0 {
			o[n-1].Bulge = bulge
		}
		o = append(o, outline.Vertex{At: at})
		return nil
	}
	loops, closed := 0, false
	for sc := p.Scanner(); sc.Scan(); {
		if closed && sc.Cmd() != canvas.MoveToCmd {
			return nil, errTwoLoops
		}
		switch sc.Cmd() {
		case canvas.MoveToCmd:
			if loops++; loops > 1 {
				return nil, errTwoLoops
			}
			err = add(sc.End(), 0)
		case canvas.LineToCmd:
			err = add(sc.End(), 0)
		case canvas.CloseCmd:
			err = add(sc.End(), 0)
			closed = true
		case canvas.ArcToCmd:
			rx, ry, _, large, sweep := sc.Arc()
			if math.Abs(rx-ry) <= 1e-9*rx {
				a, e1 := grid(sc.Start())
				b, e2 := grid(sc.End())
				if err = errors.Join(e1, e2); err != nil {
					return nil, err
				}
				bulge, e := arcBulge(a, b, rx*scale, large, sweep)
				if e != nil {
					return nil, e
				}
				err = add(sc.End(), bulge)
				break
			}
			fallthrough
		default:
			err = flatten(sc, float64(tolerance)/scale, add)
		}
		if err != nil {
			return nil, err
		}
	}
	n := len(o)
	if n > 1 && o[n-1].At == o[0].At {
		o, closed = o[:n-1], true
	}
	if !closed {
		return nil, errUnclosed
	}
	if len(o) > MaxVertices {
		return nil, errLongPath
	}
	return o, nil
}

// arcBulge returns the bulge of a circular arc of path data. SVG's sweep turns
// clockwise as seen with y up.
func arcBulge(a, b geom.Point, radius float64, large, sweep bool) (float64, error) {
	c := math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))
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

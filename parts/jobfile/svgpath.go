package jobfile

import (
	"errors"
	"fmt"
	"math"

	"github.com/tdewolff/canvas"

	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// path reads SVG path data, its numbers in the unit of the job and its y axis
// pointing down, as one closed loop. Circular arcs stay arcs; elliptical arcs and
// Bézier curves become lines within a quarter of the job's tolerance.
func (r *reader) path(g *group, v *value) outline.Outline {
	s, _ := g.text("path")
	o, err := fromPath(s, r.out.Units, r.out.Tolerance/4)
	if err != nil {
		g.add(v, "path: "+clipped(err), `write one closed loop of SVG path data, such as "M0 0 H600 V400 H0 Z"`)
		return nil
	}
	if len(o) > MaxVertices {
		g.add(v, fmt.Sprintf("a path of %d vertices is too long", len(o)), fmt.Sprintf("use %d or fewer", MaxVertices))
		return nil
	}
	return o
}

// The faults of path data.
var (
	errUnclosed = errors.New("the path is not closed")
	errTwoLoops = errors.New("the path has more than one loop")
	errNoPath   = errors.New("the path is empty")
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

// flatten adds points of one curved segment so that lines between them leave it
// by less than tolerance. A chord over a step h of the parameter leaves a curve by
// h²/8 times its greatest second derivative at most.
func flatten(sc *canvas.PathScanner, tolerance float64, add func(canvas.Point, float64) error) error {
	at, most := curve(sc)
	n := int(math.Ceil(math.Sqrt(most / 8 / tolerance)))
	if n > MaxVertices {
		return fmt.Errorf("a curve needs more than %d points", MaxVertices)
	}
	for k := 1; k < n; k++ {
		if err := add(at(float64(k)/float64(n)), 0); err != nil {
			return err
		}
	}
	return add(sc.End(), 0)
}

// curve returns a segment as a function of a parameter from 0 to 1, and a bound
// of its second derivative.
func curve(sc *canvas.PathScanner) (at func(t float64) canvas.Point, most float64) {
	a, b := sc.Start(), sc.End()
	mix := func(t float64, p, q canvas.Point) canvas.Point {
		return canvas.Point{X: p.X + t*(q.X-p.X), Y: p.Y + t*(q.Y-p.Y)}
	}
	second := func(p, q, r canvas.Point) float64 { return math.Hypot(p.X-2*q.X+r.X, p.Y-2*q.Y+r.Y) }
	switch sc.Cmd() {
	case canvas.QuadToCmd:
		c := sc.CP1()
		return func(t float64) canvas.Point { return mix(t, mix(t, a, c), mix(t, c, b)) }, 2 * second(a, c, b)
	case canvas.CubeToCmd:
		c, d := sc.CP1(), sc.CP2()
		return func(t float64) canvas.Point {
			p, q, r := mix(t, a, c), mix(t, c, d), mix(t, d, b)
			return mix(t, mix(t, p, q), mix(t, q, r))
		}, 6 * max(second(a, c, d), second(c, d, b))
	}
	// An elliptical arc by its centre: SVG 1.1, appendix F.6.5 (from memory).
	rx, ry, deg, large, sweep := sc.Arc()
	sin, cos := math.Sincos(deg * math.Pi / 180)
	dx, dy := (a.X-b.X)/2, (a.Y-b.Y)/2
	x, y := (cos*dx+sin*dy)/rx, (-sin*dx+cos*dy)/ry // on the unit circle, centred on the chord
	if l := math.Hypot(x, y); l > 1 {
		rx, ry, x, y = rx*l, ry*l, x/l, y/l
	}
	h := math.Sqrt(max(0, 1/(x*x+y*y)-1))
	if large == sweep {
		h = -h
	}
	cx, cy := h*y, -h*x
	from := math.Atan2(y-cy, x-cx)
	by := math.Atan2(-y-cy, -x-cx) - from
	if sweep && by < 0 {
		by += 2 * math.Pi
	} else if !sweep && by > 0 {
		by -= 2 * math.Pi
	}
	return func(t float64) canvas.Point {
		s, c := math.Sincos(from + t*by)
		u, v := rx*(c+cx), ry*(s+cy)
		return canvas.Point{X: cos*u - sin*v + (a.X+b.X)/2, Y: sin*u + cos*v + (a.Y+b.Y)/2}
	}, by * by * max(rx, ry)
}

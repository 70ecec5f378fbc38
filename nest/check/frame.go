package check

import (
	"math"

	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// blankBox returns where a placement lays the blank of a part. The turn is a
// multiple of 90 degrees; a box does not see flips and half turns.
func blankBox(t *nest.Part, pl nest.Placement) geom.Box {
	w, h := t.Blank.X, t.Blank.Y
	if pl.Turn%180 != 0 {
		w, h = h, w
	}
	return geom.Box{Min: pl.At, Max: geom.Point{X: pl.At.X + w, Y: pl.At.Y + h}}
}

// shapeRegion returns the shape of a part where a placement lays it: mirrored in a
// vertical line with its blank, then turned, then moved so that the lower left
// corner of the turned blank comes to At. For the router the blank is the box of the
// shape and Inset is zero; for other than quarter turns the box of the turned shape
// counts by definition.
func shapeRegion(t *nest.Part, pl nest.Placement) *region {
	turn := turner(pl.Turn)
	lay := func(r []geom.Point) []geom.Point {
		out := make([]geom.Point, 0, len(r))
		for _, p := range r {
			p.X, p.Y = p.X+t.Inset.X, p.Y+t.Inset.Y
			if pl.Flip {
				p.X = -p.X
			}
			p = turn(p)
			if n := len(out); n == 0 || out[n-1] != p {
				out = append(out, p)
			}
		}
		for len(out) > 1 && out[len(out)-1] == out[0] {
			out = out[:len(out)-1]
		}
		return out
	}
	rings := make([][]geom.Point, 0, 1+len(t.Shape.Holes))
	rings = append(rings, lay(t.Shape.Outer))
	for _, h := range t.Shape.Holes {
		rings = append(rings, lay(h))
	}
	corner := boxOf(rings[0]).Min
	if pl.Turn%90 == 0 {
		far := t.Blank
		if pl.Flip {
			far.X = -far.X
		}
		far = turn(far)
		corner = geom.Point{X: min(0, far.X), Y: min(0, far.Y)}
	}
	dx, dy := pl.At.X-corner.X, pl.At.Y-corner.Y
	for _, r := range rings {
		for i := range r {
			r[i].X += dx
			r[i].Y += dy
		}
	}
	g := newRegion(rings)
	g.free = pl.Turn%90 != 0
	return g
}

// turner returns the function that turns a point counter-clockwise about the
// origin, exactly for multiples of 90 degrees and otherwise as geom documents
// it: x cos a - y sin a and x sin a + y cos a, each rounded half away from zero.
func turner(deg int) func(geom.Point) geom.Point {
	switch deg {
	case 0:
		return func(p geom.Point) geom.Point { return p }
	case 90:
		return func(p geom.Point) geom.Point { return geom.Point{X: -p.Y, Y: p.X} }
	case 180:
		return func(p geom.Point) geom.Point { return geom.Point{X: -p.X, Y: -p.Y} }
	case 270:
		return func(p geom.Point) geom.Point { return geom.Point{X: p.Y, Y: -p.X} }
	}
	s, c := math.Sincos(math.Pi * float64(deg) / 180)
	return func(p geom.Point) geom.Point {
		x, y := float64(p.X), float64(p.Y)
		return geom.Point{X: roundAway(x*c - y*s), Y: roundAway(x*s + y*c)}
	}
}

// roundAway rounds to the nearest whole number, halves away from zero.
func roundAway(f float64) length.Length { return length.Length(math.Round(f)) }

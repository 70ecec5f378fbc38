package geom

import (
	"math"
	"slices"

	"panelyard/parts/length"
)

// Ring is a closed polyline; the last point is joined to the first.
type Ring []Point

// Polygon is an outer ring, counter-clockwise, and holes, clockwise.
type Polygon struct {
	Outer Ring
	Holes []Ring
}

// Area2 returns twice the signed area of r, positive when r runs
// counter-clockwise. Intermediate sums may wrap; the result is exact when the
// box of r is under 2^31 units a side.
func (r Ring) Area2() int64 {
	var sum int64
	if len(r) == 0 {
		return 0
	}
	// Relative to the first point, to keep products small.
	o := r[0]
	for i := 1; i+1 < len(r); i++ {
		sum += r[i].Sub(o).Cross(r[i+1].Sub(o))
	}
	return sum
}

// Box returns the smallest box that holds r; it is zero for an empty ring.
func (r Ring) Box() Box {
	if len(r) == 0 {
		return Box{}
	}
	b := Box{r[0], r[0]}
	for _, p := range r[1:] {
		b.Min.X, b.Min.Y = min(b.Min.X, p.X), min(b.Min.Y, p.Y)
		b.Max.X, b.Max.Y = max(b.Max.X, p.X), max(b.Max.Y, p.Y)
	}
	return b
}

// Translate returns r moved by d.
func (r Ring) Translate(d Point) Ring {
	s := make(Ring, len(r))
	for i, p := range r {
		s[i] = p.Add(d)
	}
	return s
}

// Reversed returns r run the other way round.
func (r Ring) Reversed() Ring {
	s := slices.Clone(r)
	slices.Reverse(s)
	return s
}

// Flipped returns r mirrored in the y axis (x becomes -x) and run so that its
// orientation is kept.
func (r Ring) Flipped() Ring {
	s := make(Ring, len(r))
	for i, p := range r {
		s[len(r)-1-i] = Point{-p.X, p.Y}
	}
	return s
}

// Turned returns r turned counter-clockwise about the origin. Multiples of 90
// degrees are exact; other angles round each vertex to the grid, by at most
// half a unit a coordinate.
func (r Ring) Turned(deg int) Ring {
	s := make(Ring, len(r))
	for i, p := range r {
		s[i] = p.Turned(deg)
	}
	return s
}

// Turned returns p turned counter-clockwise about the origin; see [Ring.Turned].
func (p Point) Turned(deg int) Point {
	switch ((deg % 360) + 360) % 360 {
	case 0:
		return p
	case 90:
		return Point{-p.Y, p.X}
	case 180:
		return Point{-p.X, -p.Y}
	case 270:
		return Point{p.Y, -p.X}
	}
	sin, cos := math.Sincos(float64(deg) * math.Pi / 180)
	x, y := float64(p.X), float64(p.Y)
	return Point{length.Length(math.Round(x*cos - y*sin)), length.Length(math.Round(x*sin + y*cos))}
}

// Side is where a point lies relative to a ring.
type Side int

// The sides of a ring.
const (
	Outside Side = iota - 1
	Boundary
	Inside
)

// Locate returns on which side of r, taken as a region, p lies. It is exact and
// costs O(n); the orientation of r does not matter.
func (r Ring) Locate(p Point) Side {
	in := false
	for i, a := range r {
		b := r[(i+1)%len(r)]
		if a.Y > b.Y {
			a, b = b, a
		}
		if p.Y < a.Y || p.Y > b.Y {
			continue
		}
		if a.Y == b.Y {
			if p.X >= min(a.X, b.X) && p.X <= max(a.X, b.X) {
				return Boundary
			}
			continue
		}
		switch Orient(a, b, p) {
		case Collinear:
			return Boundary
		case CounterClockwise: // p is left of the upward edge
			if p.Y < b.Y {
				in = !in
			}
		}
	}
	if in {
		return Inside
	}
	return Outside
}

// Box returns the box of the outer ring.
func (p Polygon) Box() Box { return p.Outer.Box() }

// Area2 returns twice the area of p, holes taken off.
func (p Polygon) Area2() int64 {
	a := p.Outer.Area2()
	for _, h := range p.Holes {
		a += h.Area2()
	}
	return a
}

// each returns p with f applied to every ring.
func (p Polygon) each(f func(Ring) Ring) Polygon {
	q := Polygon{Outer: f(p.Outer)}
	for _, h := range p.Holes {
		q.Holes = append(q.Holes, f(h))
	}
	return q
}

// Translate returns p moved by d.
func (p Polygon) Translate(d Point) Polygon {
	return p.each(func(r Ring) Ring { return r.Translate(d) })
}

// Turned returns p turned counter-clockwise about the origin; see [Ring.Turned].
func (p Polygon) Turned(deg int) Polygon {
	return p.each(func(r Ring) Ring { return r.Turned(deg) })
}

// Flipped returns p mirrored in the y axis, orientations kept.
func (p Polygon) Flipped() Polygon { return p.each(Ring.Flipped) }

// IsRectangle reports whether r is an axis-parallel rectangle of four points
// that is not empty.
func (r Ring) IsRectangle() bool {
	if len(r) != 4 || r[0].X == r[2].X || r[0].Y == r[2].Y {
		return false
	}
	return r[0].X == r[1].X && r[1].Y == r[2].Y && r[2].X == r[3].X && r[3].Y == r[0].Y ||
		r[0].Y == r[1].Y && r[1].X == r[2].X && r[2].Y == r[3].Y && r[3].X == r[0].X
}

package main

import (
	"fmt"
	"math"
	"slices"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// grid is an instance on the integer grid: a problem, and how its numbers are
// those of the instance.
//
// The scale is the largest power of ten with which everything stays within reach.
// When all coordinates are then whole numbers, as they are for most published
// instances, nothing is rounded and the grid is exact.
//
// Otherwise the scale is as large as it can be, and outlines are grown by three
// halves of a unit before they are rounded, so that no piece shrinks: what keeps
// apart on the grid keeps apart in truth. A layout then loses about three units a
// piece, less than a millionth of the container. When a piece would no longer fit
// the container for that, outlines are rounded to the nearest point instead, which
// moves each edge by less than a unit.
//
// Turns by other than quarter turns are rounded once more, and the judge forgives
// two units there: then pieces may overlap, or stand over the edge, by three units.
type grid struct {
	problem *nest.Problem
	scale   float64 // units for one of the instance's own
	exact   bool
	origin  []geom.Point // of each part: its piece times scale, less origin, is its shape
}

// reach bounds every coordinate on the grid; see [length.Max] for why there is one.
const reach = 1 << 27

// growth is by how many units outlines are grown that are not exact: more than the
// 1/√2 that rounding a corner may take from an edge, with room for float64.
const growth = 1.5

// newGrid puts an instance on the grid. The error is for instances with more
// reach than the grid has.
func newGrid(in *instance, cut kerf.Cut) (*grid, error) {
	extent := in.extent()
	g := &grid{scale: math.Pow(10, math.Floor(math.Log10(reach/extent)))}
	g.exact = g.whole(in)
	if !g.exact {
		// So that at least the width is whole.
		g.scale = math.Floor(reach/extent*in.Container.Width) / in.Container.Width
	}
	if !(g.scale > 0) || math.IsInf(g.scale, 0) {
		return nil, fmt.Errorf("container and pieces reach over %v, and the grid over %d units only", extent, reach)
	}
	by := growth
	if g.exact {
		by = 0
	}
	if err := g.build(in, cut, by); err != nil {
		return nil, err
	}
	if by > 0 && g.homeless() > g.homelessAt(in, cut, 0) {
		if err := g.build(in, cut, 0); err != nil {
			return nil, err
		}
	}
	return g, nil
}

// extent returns the largest coordinate the grid must hold.
func (in *instance) extent() float64 {
	most := max(in.Container.Width, in.Container.Height)
	for i := range in.Pieces {
		w, h := ringSize(in.Pieces[i].Outer)
		most = max(most, math.Hypot(w, h))
	}
	if in.strip() {
		most = max(most, in.enough())
	}
	return most
}

// enough returns a length of strip that is surely enough: all boxes in a row, or
// what shelves need, the less. Shelves of boxes by falling height are no longer
// than twice their area over the width, and the longest box: Coffman, Garey,
// Johnson & Tarjan, SIAM J. Computing 9, 1980 (from memory). Here it is three
// times the area, for solvers that build otherwise.
func (in *instance) enough() float64 {
	row, area, longest := 0.0, 0.0, 0.0
	for i := range in.Pieces {
		p := &in.Pieces[i]
		long := 0.0
		for _, t := range p.turns {
			w, _ := ringSize(turned(p.Outer, t))
			long = max(long, w)
		}
		w, h := ringSize(p.Outer)
		row += float64(p.copies) * long
		area += float64(p.copies) * w * h
		longest = max(longest, long)
	}
	return max(1.01*longest, min(row, 3*area/in.Container.Width+2*longest))
}

// whole reports whether every number of an instance is whole on the grid; what
// float64 itself loses is no fraction.
func (g *grid) whole(in *instance) bool {
	ok := func(v float64) bool {
		v *= g.scale
		return math.Abs(v-math.Round(v)) <= 1e-6
	}
	ring := func(r [][2]float64) bool {
		return !slices.ContainsFunc(r, func(p [2]float64) bool { return !ok(p[0]) || !ok(p[1]) })
	}
	if !ok(in.Container.Width) || !ok(in.Container.Height) {
		return false
	}
	for i := range in.Pieces {
		if p := &in.Pieces[i]; !ring(p.Outer) || slices.ContainsFunc(p.Holes, func(r [][2]float64) bool { return !ring(r) }) {
			return false
		}
	}
	return true
}

// build makes the problem with outlines grown by some units.
func (g *grid) build(in *instance, cut kerf.Cut, by float64) error {
	p := &nest.Problem{Cut: cut, Strip: in.strip()}
	g.problem, g.origin = p, nil
	for i := range in.Pieces {
		q := &in.Pieces[i]
		var shape geom.Polygon
		shape.Outer = g.ring(q.Outer, by, false)
		for _, h := range q.Holes {
			if r := g.ring(h, by, true); r.Area2() < 0 {
				shape.Holes = append(shape.Holes, r)
			}
		}
		if shape.Outer.Area2() <= 0 {
			return fmt.Errorf("piece %q: too small for a grid over %v: it has no area left", q.name, in.extent())
		}
		min := shape.Box().Min
		g.origin = append(g.origin, min)
		shape = shape.Translate(min.Neg())
		p.Parts = append(p.Parts, nest.Part{
			Name: q.name, Copies: q.copies, Shape: shape, Blank: shape.Box().Size(), Turns: q.turns,
		})
	}
	stock := nest.Stock{Name: in.Container.Kind, Cost: 1, Available: parts.Unlimited}
	stock.Size = geom.Pt(g.down(in.Container.Width), g.down(in.Container.Height))
	if in.strip() {
		stock.Size = geom.Pt(g.down(in.enough()), g.down(in.Container.Width))
		stock.Available = 1
	}
	stock.Usable = geom.BoxFromSize(geom.Point{}, stock.Size)
	p.Stocks = []nest.Stock{stock}
	return nil
}

// down returns a length in units, rounded down; 1e-6 of a unit is no fraction.
func (g *grid) down(v float64) length.Length {
	return length.Length(math.Floor(v*g.scale + 1e-6))
}

// ring returns a ring in units, outlines counter-clockwise and holes clockwise,
// its material grown on all sides.
func (g *grid) ring(r [][2]float64, by float64, hole bool) geom.Ring {
	pts := make([][2]float64, len(r))
	for i, p := range r {
		pts[i] = [2]float64{p[0] * g.scale, p[1] * g.scale}
	}
	if (ringArea(r) < 0) != hole {
		slices.Reverse(pts)
	}
	if by != 0 {
		pts = grown(pts, by)
	}
	ring := make(geom.Ring, 0, len(pts))
	for _, p := range pts {
		q := geom.Pt(length.Length(math.Round(p[0])), length.Length(math.Round(p[1])))
		if n := len(ring); n == 0 || ring[n-1] != q {
			ring = append(ring, q)
		}
	}
	for len(ring) > 1 && ring[0] == ring[len(ring)-1] {
		ring = ring[:len(ring)-1]
	}
	return ring
}

// grown moves the edges of a ring that has its material on the left outwards, or
// inwards by less than nothing.
// Corners are mitred; the mitre of one sharper than about 11 degrees is cut off
// square, ten times by from it.
func grown(r [][2]float64, by float64) [][2]float64 {
	out := make([][2]float64, 0, len(r))
	n := len(r)
	unit := func(a, b [2]float64) (x, y float64) {
		x, y = b[0]-a[0], b[1]-a[1]
		l := math.Hypot(x, y)
		return x / l, y / l
	}
	for i, p := range r {
		ux, uy := unit(r[(i+n-1)%n], p) // the edge that comes
		vx, vy := unit(p, r[(i+1)%n])   // and the one that goes
		// The outward normals are (uy, -ux) and (vy, -vx); the mitre is along their
		// sum, by/(1+cos) times it.
		if d := 1 + ux*vx + uy*vy; d > 0.02 {
			out = append(out, [2]float64{p[0] + by*(uy+vy)/d, p[1] - by*(ux+vx)/d})
			continue
		}
		const cap = 10
		if ux*vy-uy*vx < 0 { // the floor of a slit, which is filled as far
			x, y := vx-ux, vy-uy
			l := math.Hypot(x, y)
			out = append(out, [2]float64{p[0] + by*cap*x/l, p[1] + by*cap*y/l})
			continue
		}
		out = append(out,
			[2]float64{p[0] + by*(uy+cap*ux), p[1] + by*(-ux+cap*uy)},
			[2]float64{p[0] + by*(vy-cap*vx), p[1] + by*(-vx-cap*vy)})
	}
	return out
}

// homeless returns how many copies fit the container in no turn.
func (g *grid) homeless() int {
	u := g.problem.Stocks[0].Usable
	n := 0
	for i := range g.problem.Parts {
		p := &g.problem.Parts[i]
		if !slices.ContainsFunc(p.Turns, func(t int) bool {
			b := p.Shape.Turned(t).Box()
			return b.Dx() <= u.Dx() && b.Dy() <= u.Dy()
		}) {
			n += p.Copies
		}
	}
	return n
}

// homelessAt is homeless for another growth.
func (g *grid) homelessAt(in *instance, cut kerf.Cut, by float64) int {
	h := grid{scale: g.scale, exact: g.exact}
	if h.build(in, cut, by) != nil {
		return math.MaxInt
	}
	return h.homeless()
}

// rings returns the outline of a placed piece and its holes, in units of the
// instance: the piece itself, turned and moved, not what the grid made of it.
func (g *grid) rings(in *instance, pl nest.Placement) [][][2]float64 {
	d := pl.At.Sub(g.problem.Parts[pl.Part].Shape.Turned(pl.Turn).Box().Min)
	o := g.origin[pl.Part]
	p := &in.Pieces[pl.Part]
	rings := make([][][2]float64, 0, 1+len(p.Holes))
	for _, r := range slices.Concat([][][2]float64{p.Outer}, p.Holes) {
		ring := make([][2]float64, len(r))
		for i, q := range r {
			x, y := q[0]*g.scale, q[1]*g.scale
			if g.exact {
				x, y = math.Round(x), math.Round(y)
			}
			q = turnedPoint([2]float64{x - float64(o.X), y - float64(o.Y)}, pl.Turn)
			ring[i] = [2]float64{(q[0] + float64(d.X)) / g.scale, (q[1] + float64(d.Y)) / g.scale}
		}
		rings = append(rings, ring)
	}
	return rings
}

// turned returns a ring turned counter-clockwise about the origin.
func turned(r [][2]float64, deg int) [][2]float64 {
	s := make([][2]float64, len(r))
	for i, p := range r {
		s[i] = turnedPoint(p, deg)
	}
	return s
}

// turnedPoint is exact for quarter turns.
func turnedPoint(p [2]float64, deg int) [2]float64 {
	switch deg {
	case 0:
		return p
	case 90:
		return [2]float64{-p[1], p[0]}
	case 180:
		return [2]float64{-p[0], -p[1]}
	case 270:
		return [2]float64{p[1], -p[0]}
	}
	sin, cos := math.Sincos(float64(deg) * math.Pi / 180)
	return [2]float64{p[0]*cos - p[1]*sin, p[0]*sin + p[1]*cos}
}

// ringSize returns the extents of a ring.
func ringSize(r [][2]float64) (w, h float64) {
	lo, hi := r[0], r[0]
	for _, p := range r {
		lo = [2]float64{min(lo[0], p[0]), min(lo[1], p[1])}
		hi = [2]float64{max(hi[0], p[0]), max(hi[1], p[1])}
	}
	return hi[0] - lo[0], hi[1] - lo[1]
}

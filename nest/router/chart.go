package router

import (
	"cmp"
	"math"
	"slices"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// chart is the boundary of the union of a pair's convex polygons: where the two
// shapes touch. It says how far an overlap really is from being resolved, which a
// single convex polygon of a shape with notches does not, and is made for search:
// whether shapes meet is decided by the pair, exactly.
type chart struct {
	sides []side
	ends  []geom.Point // corners of the boundary at which the shapes do not meet, at least one
	// cells is a table over the box of the pair, row by row, and sx, sy are the
	// cells a unit of length.
	cells  []cell
	sx, sy float32
	fringe []fringe
	close  []side
	tests  []test
}

// side is a stretch of the boundary.
type side struct {
	x, y, dx, dy float64 // start and direction
	inv          float64 // 1 / length squared; 0 is a single point
}

// grid is the number of cells of a chart in either direction.
const grid = 32

// cell is a cell of a chart: the depth at its middle and how it changes over the
// width and height of the cell. Less than 0 is a cell wholly outside, 0 a cell the
// boundary may go through.
type cell struct {
	depth, gx, gy float32
	fringe        int32 // where depth is 0
}

// fringe is what has to be looked at in a cell the boundary may go through.
type fringe struct {
	from, upto  int32 // of chart.close: the sides that may be the nearest
	first, last int32 // of chart.tests
	covered     bool  // the shapes meet wherever in the cell
}

// test is an edge of a convex polygon that goes through a cell; a place is inside
// the polygon when it is on the left of all its edges there.
type test struct {
	ax, ay, ex, ey int32
	end            int32 // of the tests of this polygon, counted from the first of the cell
}

// maxChart is the number of edges times pieces up to which a pair has a chart.
const maxChart = 100_000

// charted returns the chart of a pair, or nil when it has too many pieces or no
// corner that can be used. Two workers may make the same.
func (p *pair) charted() *chart {
	c := p.chart.Load()
	if c == nil {
		c = &chart{}
		if len(p.edges)*len(p.pieces) <= maxChart {
			c = newChart(p)
		}
		p.chart.Store(c)
	}
	if c.cells == nil {
		return nil
	}
	return c
}

// newChart returns the chart of a pair, empty when there is no corner that can be
// used. Cost: edges times edges, and cells times sides.
func newChart(p *pair) *chart {
	c := &chart{}
	for i := range p.pieces {
		f := &p.pieces[i]
		for k := range p.edges[f.from:f.upto] {
			c.outline(p, i, &p.edges[int(f.from)+k])
		}
	}
	slices.SortFunc(c.ends, comparePoints)
	c.ends = slices.Compact(c.ends)
	if len(c.ends) == 0 || len(c.sides) == 0 {
		return c
	}
	c.fill(p)
	return c
}

func comparePoints(a, b geom.Point) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) }

// span is a stretch of an edge, from 0 to 1.
type span struct{ from, upto float64 }

// outline adds the stretches of an edge of piece i that are inside no other piece.
// Slits and single points, where one shape fits exactly into the other, count.
func (c *chart) outline(p *pair, i int, e *edge) {
	const noise = 1e-9
	ax, ay, bx, by := int64(e.ax), int64(e.ay), int64(e.ax)+int64(e.ex), int64(e.ay)+int64(e.ey)
	var cover []span
	for k := range p.pieces {
		g := &p.pieces[k]
		if k == i || max(ax, bx) <= int64(g.lox) || min(ax, bx) >= int64(g.hix) || max(ay, by) <= int64(g.loy) || min(ay, by) >= int64(g.hiy) {
			continue
		}
		if s := p.stretch(g, ax, ay, bx, by); s.from < s.upto {
			cover = append(cover, s)
		}
	}
	slices.SortFunc(cover, func(a, b span) int { return cmp.Compare(a.from, b.from) })
	at := 0.0
	for _, s := range cover {
		if s.from >= at-noise {
			c.add(p, e, span{at, max(at, s.from)})
		}
		at = max(at, s.upto)
	}
	if at <= 1 {
		c.add(p, e, span{at, 1})
	}
}

// stretch returns the part of the segment from a to b that is inside a convex
// polygon; it is empty or reversed when there is none.
func (p *pair) stretch(g *forbidden, ax, ay, bx, by int64) span {
	s := span{0, 1}
	for _, o := range p.edges[g.from:g.upto] {
		c0 := int64(o.ex)*(ay-int64(o.ay)) - int64(o.ey)*(ax-int64(o.ax))
		c1 := int64(o.ex)*(by-int64(o.ay)) - int64(o.ey)*(bx-int64(o.ax))
		switch {
		case c0 <= 0 && c1 <= 0:
			return span{}
		case c0 < 0:
			s.from = max(s.from, float64(c0)/float64(c0-c1))
		case c1 < 0:
			s.upto = min(s.upto, float64(c0)/float64(c0-c1))
		}
		if s.from >= s.upto {
			break
		}
	}
	return s
}

// add adds a free stretch of an edge, and its ends as corners.
func (c *chart) add(p *pair, e *edge, s span) {
	x0, y0 := float64(e.ax)+s.from*float64(e.ex), float64(e.ay)+s.from*float64(e.ey)
	x1, y1 := float64(e.ax)+s.upto*float64(e.ex), float64(e.ay)+s.upto*float64(e.ey)
	v, ok := p.onGrid(x0, y0, e)
	if ok {
		c.ends = append(c.ends, v)
	}
	if s.upto < 1 { // the end of a whole edge is the start of the next
		if w, ok := p.onGrid(x1, y1, e); ok {
			c.ends = append(c.ends, w)
		}
	}
	dx, dy := x1-x0, y1-y0
	switch l := dx*dx + dy*dy; {
	case l >= 1:
		c.sides = append(c.sides, side{x0, y0, dx, dy, 1 / l})
	case ok:
		c.sides = append(c.sides, side{x: float64(v.X), y: float64(v.Y)})
	}
}

// onGrid returns a grid point next to a place on an edge at which the shapes do not
// meet: the nearest, or one a step or two away from the inside.
func (p *pair) onGrid(x, y float64, e *edge) (geom.Point, bool) {
	nx, ny := float64(e.ey)*float64(e.inv), -float64(e.ex)*float64(e.inv)
	for step := range 3 {
		q := geom.Pt(length.Length(math.Round(x+float64(step)*nx)), length.Length(math.Round(y+float64(step)*ny)))
		if !p.inside(q) {
			return q, true
		}
	}
	return geom.Point{}, false
}

// fill fills the table, block by block, so that a cell looks only at the sides that
// may be near its block.
func (c *chart) fill(p *pair) {
	const block = 4
	w, h := float64(p.hi.X-p.lo.X)/grid, float64(p.hi.Y-p.lo.Y)/grid
	c.sx, c.sy = float32(1/w), float32(1/h)
	c.cells = make([]cell, grid*grid)
	half := math.Hypot(w, h)/2*1.001 + 2
	middle := func(i, j, n int) (x, y float64) {
		return float64(p.lo.X) + (float64(i)+float64(n)/2)*w, float64(p.lo.Y) + (float64(j)+float64(n)/2)*h
	}
	var local []side
	for bj := 0; bj < grid; bj += block {
		for bi := 0; bi < grid; bi += block {
			x, y := middle(bi, bj, block)
			local = near(local[:0], c.sides, x, y, 2*block*half)
			for j := bj; j < bj+block; j++ {
				for i := bi; i < bi+block; i++ {
					x, y := middle(i, j, 1)
					vx, vy := nearest(local, x, y)
					d := math.Hypot(vx, vy)
					e := &c.cells[j*grid+i]
					switch {
					case d <= half:
						e.fringe = int32(len(c.fringe))
						f := fringe{from: int32(len(c.close)), first: int32(len(c.tests))}
						c.close = near(c.close, local, x, y, 2*half)
						f.covered = c.through(p, x-w/2, y-h/2, x+w/2, y+h/2)
						f.upto, f.last = int32(len(c.close)), int32(len(c.tests))
						c.fringe = append(c.fringe, f)
					case !p.inside(geom.Pt(length.Length(math.Round(x)), length.Length(math.Round(y)))):
						e.depth = -1
					default:
						e.depth, e.gx, e.gy = float32(d), float32(-vx/d*w), float32(-vy/d*h)
					}
				}
			}
		}
	}
}

// through adds the tests of a cell. It reports whether all of the cell is inside
// one polygon, and then adds none.
func (c *chart) through(p *pair, x0, y0, x1, y1 float64) bool {
	// A place is counted to a cell with the precision of a float32.
	mx, my := 2+3e-7*float64(p.hi.X-p.lo.X), 2+3e-7*float64(p.hi.Y-p.lo.Y)
	lx, ly := int64(math.Floor(x0-mx)), int64(math.Floor(y0-my))
	hx, hy := int64(math.Ceil(x1+mx)), int64(math.Ceil(y1+my))
	first := len(c.tests)
next:
	for i := range p.pieces {
		f := &p.pieces[i]
		if hx <= int64(f.lox) || lx >= int64(f.hix) || hy <= int64(f.loy) || ly >= int64(f.hiy) {
			continue
		}
		begin := len(c.tests)
		for _, e := range p.edges[f.from:f.upto] {
			ex, ey, ax, ay := int64(e.ex), int64(e.ey), int64(e.ax), int64(e.ay)
			a, b := ex*(ly-ay)-ey*(lx-ax), ex*(ly-ay)-ey*(hx-ax)
			d, g := ex*(hy-ay)-ey*(lx-ax), ex*(hy-ay)-ey*(hx-ax)
			if max(a, b, d, g) <= 0 {
				c.tests = c.tests[:begin]
				continue next
			}
			if min(a, b, d, g) <= 0 {
				c.tests = append(c.tests, test{e.ax, e.ay, e.ex, e.ey, 0})
			}
		}
		if len(c.tests) == begin {
			c.tests = c.tests[:first]
			return true
		}
		for k := begin; k < len(c.tests); k++ {
			c.tests[k].end = int32(len(c.tests) - first)
		}
	}
	return false
}

// inside reports, exactly, whether the shapes meet at a place of a cell.
func (c *chart) inside(f *fringe, x, y int64) bool {
	if f.covered {
		return true
	}
	list := c.tests[f.first:f.last]
	for k := 0; k < len(list); {
		t := &list[k]
		if int64(t.ex)*(y-int64(t.ay))-int64(t.ey)*(x-int64(t.ax)) <= 0 {
			k = int(t.end)
			continue
		}
		if k++; k == int(t.end) {
			return true
		}
	}
	return false
}

// near appends to out the sides that are at most further away from a place than
// the nearest of them is.
func near(out, sides []side, x, y, further float64) []side {
	vx, vy := nearest(sides, x, y)
	r := math.Hypot(vx, vy) + further
	for k := range sides {
		if vx, vy := nearest(sides[k:k+1], x, y); vx*vx+vy*vy <= r*r {
			out = append(out, sides[k])
		}
	}
	return out
}

// nearest returns the vector from a place to the nearest of some sides.
func nearest(sides []side, x, y float64) (vx, vy float64) {
	least := math.Inf(1)
	for i := range sides {
		s := &sides[i]
		px, py := x-s.x, y-s.y
		t := (px*s.dx + py*s.dy) * s.inv
		if t < 0 {
			t = 0
		} else if t > 1 {
			t = 1
		}
		px -= t * s.dx
		py -= t * s.dy
		if v := px*px + py*py; v < least {
			least, vx, vy = v, -px, -py
		}
	}
	return vx, vy
}

// depthIn returns the depth of a place in the box of a pair: exactly 0 when the
// shapes do not meet, else about the distance to the boundary, more than 0. A cell
// the boundary does not go through is known to be inside or outside: its middle is
// further from the boundary than its corners are from the middle.
func (c *chart) depthIn(p *pair, d geom.Point) float64 {
	x, y := float32(d.X-p.lo.X)*c.sx, float32(d.Y-p.lo.Y)*c.sy
	i, j := min(int(x), grid-1), min(int(y), grid-1)
	e := &c.cells[j*grid+i]
	switch {
	case e.depth < 0:
		return 0
	case e.depth > 0:
		return max(1, float64(e.depth+(x-float32(i)-0.5)*e.gx+(y-float32(j)-0.5)*e.gy))
	}
	f := &c.fringe[e.fringe]
	if !c.inside(f, int64(d.X), int64(d.Y)) {
		return 0
	}
	vx, vy := nearest(c.close[f.from:f.upto], float64(d.X), float64(d.Y))
	return math.Sqrt(vx*vx+vy*vy) + 1e-3
}

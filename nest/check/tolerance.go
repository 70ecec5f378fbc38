package check

import (
	"math"
	"slices"

	"panelyard/parts/length"
)

// Tolerance is the fault between two shapes, in units, that is forgiven when
// one of them is turned by other than a multiple of 90 degrees.
const Tolerance length.Length = 2

// overlapDeeply reports whether two regions overlap by more than Tolerance: a
// point of one's border lies inside the other and farther than Tolerance from
// its border, or one holds the deepest point of the other.
//
// Ours. Write A' for the points of A more than the tolerance from its border.
// If no border runs deep in the other region and some x lies in A' and in B,
// then all of A' that hangs together with x lies in B, because on the way out
// one would pass a point of B's border deep in A. So where A' hangs together,
// a single point of it answers the rest. Shapes are therefore taken to have no
// neck narrower than twice the tolerance, half a micrometre.
//
// It computes in float64, whose error for coordinates up to 2^29 is far below
// a unit. Cost: the near pairs of edges, and edges times edges of the stretches
// that lie clear of the other's border.
func (m *meeter) overlapDeeply(a, b *region) bool {
	if !m.overlap(a, b) {
		return false
	}
	return m.borderDeep(a, b) || m.borderDeep(b, a) || b.holdsDeepest(a) || a.holdsDeepest(b)
}

// stretch is a part of an edge, from 0 at its start to 1 at its end.
type stretch struct{ from, to float64 }

// borderDeep reports whether a point of the border of a lies inside b and
// farther than Tolerance from the border of b.
func (m *meeter) borderDeep(a, b *region) bool {
	covered := make([][]stretch, len(a.edges))
	m.pairs(a, b, Tolerance, func(i, k int32) bool {
		if s := nearStretch(a.edges[i], b.edges[k], float64(Tolerance)); s.from < s.to {
			covered[i] = append(covered[i], s)
		}
		return false
	})
	for i, list := range covered {
		slices.SortFunc(list, func(s, t stretch) int {
			switch {
			case s.from < t.from:
				return -1
			case s.from > t.from:
				return 1
			}
			return 0
		})
		e := a.edges[i]
		if !e.within(b.box, 0) {
			continue
		}
		free := 0.0 // everything before it is covered or was looked at
		for _, s := range append(list, stretch{1, 1}) {
			if s.from > free+1e-9 {
				x, y := e.pointAt((free + s.from) / 2)
				if b.holdsFloat(x, y) {
					return true
				}
			}
			free = max(free, s.to)
		}
	}
	return false
}

// pointAt returns the point of e at t.
func (e *edge) pointAt(t float64) (x, y float64) {
	return float64(e.a.X) + t*float64(e.b.X-e.a.X), float64(e.a.Y) + t*float64(e.b.Y-e.a.Y)
}

// nearStretch returns the stretch of e within a distance of f; from > to when
// there is none. The points within a distance of a segment are convex, so it
// is the hull of what two discs and the slab between them take of e.
func nearStretch(e, f edge, reach float64) stretch {
	s := stretch{math.Inf(1), math.Inf(-1)}
	take := func(from, to float64) {
		from, to = max(from, 0), min(to, 1)
		if from <= to {
			s.from, s.to = min(s.from, from), max(s.to, to)
		}
	}
	ex, ey := float64(e.b.X-e.a.X), float64(e.b.Y-e.a.Y)
	fx, fy := float64(f.b.X-f.a.X), float64(f.b.Y-f.a.Y)
	e2, f2 := ex*ex+ey*ey, fx*fx+fy*fy
	for _, p := range [2][2]float64{
		{float64(f.a.X - e.a.X), float64(f.a.Y - e.a.Y)},
		{float64(f.b.X - e.a.X), float64(f.b.Y - e.a.Y)},
	} {
		foot := (p[0]*ex + p[1]*ey) / e2
		off := (p[0]*ey - p[1]*ex) / math.Sqrt(e2)
		if h := reach*reach - off*off; h >= 0 {
			h = math.Sqrt(h / e2)
			take(foot-h, foot+h)
		}
	}
	// Along f: 0 <= u0 + t*u <= 1. Across it: |w0 + t*w| <= reach.
	dx, dy := float64(e.a.X-f.a.X), float64(e.a.Y-f.a.Y)
	u0, u := (dx*fx+dy*fy)/f2, (ex*fx+ey*fy)/f2
	w0, w := (fx*dy-fy*dx)/math.Sqrt(f2), (fx*ey-fy*ex)/math.Sqrt(f2)
	p, q := solve(u0, u, 0, 1), solve(w0, w, -reach, reach)
	take(max(p.from, q.from), min(p.to, q.to))
	return s
}

// solve returns the t with lo <= c + t*k <= hi.
func solve(c, k, lo, hi float64) stretch {
	switch {
	case k > 0:
		return stretch{(lo - c) / k, (hi - c) / k}
	case k < 0:
		return stretch{(hi - c) / k, (lo - c) / k}
	case c >= lo && c <= hi:
		return stretch{math.Inf(-1), math.Inf(1)}
	}
	return stretch{math.Inf(1), math.Inf(-1)}
}

// holdsFloat reports whether a point far from the border of g lies inside.
func (g *region) holdsFloat(x, y float64) bool {
	odd := false
	for i := range g.edges {
		if cx, ok := g.edges[i].crossingAt(y); ok && cx > x {
			odd = !odd
		}
	}
	return odd
}

// crossingAt returns the x at which e crosses the level y, if it does; the lower
// end counts, the upper does not.
func (e *edge) crossingAt(y float64) (x float64, ok bool) {
	if lo, hi := float64(e.minY()), float64(e.maxY()); y < lo || y >= hi {
		return 0, false
	}
	t := (y - float64(e.a.Y)) / float64(e.b.Y-e.a.Y)
	x, _ = e.pointAt(t)
	return x, true
}

// holdsDeepest reports whether the deepest of some points of a lies inside g.
func (g *region) holdsDeepest(a *region) bool {
	x, y, depth := a.deepest()
	return depth > float64(Tolerance) && g.holdsFloat(x, y)
}

// levels is the number of lines across a shape on which deepest looks.
const levels = 15

// deepest returns a point well inside g and its distance from the border: of
// the middles of the widest stretches inside g at some levels, the one farthest
// from the border. The distance is 0 when no level crosses the inside.
func (g *region) deepest() (x, y, depth float64) {
	for l := 1; l <= levels; l++ {
		level := float64(g.box.Min.Y) + float64(g.box.Max.Y-g.box.Min.Y)*float64(l)/(levels+1)
		var xs []float64
		for i := range g.edges {
			if cx, ok := g.edges[i].crossingAt(level); ok {
				xs = append(xs, cx)
			}
		}
		slices.Sort(xs)
		var middle, widest float64
		for i := 0; i+1 < len(xs); i += 2 {
			if w := xs[i+1] - xs[i]; w > widest {
				middle, widest = (xs[i]+xs[i+1])/2, w
			}
		}
		if widest == 0 {
			continue
		}
		d := math.Inf(1)
		for i := range g.edges {
			d = min(d, g.edges[i].distanceTo(middle, level))
		}
		if d > depth {
			x, y, depth = middle, level, d
		}
	}
	return x, y, depth
}

// distanceTo returns the distance of a point from e.
func (e *edge) distanceTo(x, y float64) float64 {
	dx, dy := x-float64(e.a.X), y-float64(e.a.Y)
	ex, ey := float64(e.b.X-e.a.X), float64(e.b.Y-e.a.Y)
	t := min(1, max(0, (dx*ex+dy*ey)/(ex*ex+ey*ey)))
	return math.Hypot(dx-t*ex, dy-t*ey)
}

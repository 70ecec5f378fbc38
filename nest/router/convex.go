package router

import (
	"slices"

	"panelyard/parts/geom"
)

// convexPieces cuts a polygon into convex pieces, counter-clockwise, that cover
// it exactly and do not overlap. Holes are joined to the outer ring by bridges,
// the result is triangulated by clipping ears (Meisters 1975), and triangles are
// merged while they stay convex (Hertel & Mehlhorn 1983; both from memory): at
// most four times as many pieces as the least. All tests are exact. It reports
// false when the polygon is too degenerate for it; the caller then has its convex
// hull, which contains it. Cost: the square of the vertices.
func convexPieces(p geom.Polygon) ([]geom.Ring, bool) {
	ring := tidy(p.Outer)
	if len(ring) < 3 {
		return nil, false
	}
	want := ring.Area2()
	holes := make([]geom.Ring, 0, len(p.Holes))
	for _, h := range p.Holes {
		if h = tidy(h); len(h) >= 3 {
			holes = append(holes, h)
			want += h.Area2()
		}
	}
	if len(holes) == 0 && isConvex(ring) {
		return []geom.Ring{ring}, true
	}
	// Holes from right to left, so that a bridge never ends on a hole not joined yet.
	slices.SortFunc(holes, func(a, b geom.Ring) int { return int(b.Box().Max.X - a.Box().Max.X) })
	for i, h := range holes {
		var ok bool
		if ring, ok = bridge(ring, h, holes[i+1:]); !ok {
			return nil, false
		}
	}
	triangles, ok := clipEars(ring)
	if !ok {
		return nil, false
	}
	pieces := merge(triangles)
	for _, q := range pieces {
		want -= q.Area2()
	}
	return pieces, want == 0
}

// tidy drops repeated points and corners of 180 degrees.
func tidy(r geom.Ring) geom.Ring {
	s := slices.Clone(r)
	for changed := true; changed && len(s) >= 3; {
		changed = false
		for i := 0; i < len(s) && len(s) >= 3; i++ {
			a, b, c := s[(i+len(s)-1)%len(s)], s[i], s[(i+1)%len(s)]
			if geom.Orient(a, b, c) == geom.Collinear {
				s = slices.Delete(s, i, i+1)
				changed = true
				i--
			}
		}
	}
	return s
}

func isConvex(r geom.Ring) bool {
	n := len(r)
	for i := range r {
		if geom.Orient(r[i], r[(i+1)%n], r[(i+2)%n]) == geom.Clockwise {
			return false
		}
	}
	return true
}

// bridge joins a clockwise hole to a ring by a double edge from the hole's
// rightmost vertex to the nearest vertex that can be seen from it.
func bridge(ring, hole geom.Ring, others []geom.Ring) (geom.Ring, bool) {
	start := 0
	for i, p := range hole {
		if p.X > hole[start].X || p.X == hole[start].X && p.Y > hole[start].Y {
			start = i
		}
	}
	m := hole[start]
	order := make([]int, len(ring))
	for i := range order {
		order[i] = i
	}
	far := func(i int) float64 {
		d := ring[i].Sub(m)
		return float64(d.X)*float64(d.X) + float64(d.Y)*float64(d.Y)
	}
	slices.SortFunc(order, func(i, j int) int {
		switch a, b := far(i), far(j); {
		case a < b:
			return -1
		case a > b:
			return 1
		}
		return i - j
	})
	blocked := func(v geom.Point, r geom.Ring) bool {
		for i, a := range r {
			b := r[(i+1)%len(r)]
			if a == v || b == v || a == m || b == m {
				// An edge at an end blocks only when it runs along the bridge.
				if geom.Orient(m, v, a) == geom.Collinear && geom.Orient(m, v, b) == geom.Collinear && overlapsAlong(m, v, a, b) {
					return true
				}
				continue
			}
			if geom.Orient(a, b, m)*geom.Orient(a, b, v) <= 0 && geom.Orient(m, v, a)*geom.Orient(m, v, b) <= 0 {
				return true
			}
		}
		return false
	}
next:
	for _, i := range order {
		v := ring[i]
		if v == m || !inCone(ring, i, m) || blocked(v, ring) || blocked(v, hole) {
			continue
		}
		for _, o := range others {
			if blocked(v, o) {
				continue next
			}
		}
		out := slices.Clone(ring[:i+1])
		out = append(out, hole[start:]...)
		out = append(out, hole[:start+1]...)
		return append(out, ring[i:]...), true
	}
	return nil, false
}

// overlapsAlong reports whether two collinear segments share more than a point.
func overlapsAlong(a, b, c, d geom.Point) bool {
	along := func(p geom.Point) int64 { return b.Sub(a).Dot(p.Sub(a)) }
	lo, hi := min(along(c), along(d)), max(along(c), along(d))
	return lo < along(b) && hi > 0
}

// inCone reports whether the direction from vertex i of a counter-clockwise ring
// to p points into the ring.
func inCone(ring geom.Ring, i int, p geom.Point) bool {
	n := len(ring)
	a, v, b := ring[(i+n-1)%n], ring[i], ring[(i+1)%n]
	if geom.Orient(a, v, b) != geom.Clockwise {
		return geom.Orient(v, p, a) == geom.CounterClockwise && geom.Orient(v, b, p) == geom.CounterClockwise
	}
	return geom.Orient(v, p, b) != geom.CounterClockwise || geom.Orient(v, a, p) != geom.CounterClockwise
}

// clipEars triangulates a ring that may touch itself along bridges.
func clipEars(ring geom.Ring) ([]geom.Ring, bool) {
	s := slices.Clone(ring)
	var out []geom.Ring
	for len(s) > 3 {
		n := len(s)
		// The ear with the shortest diagonal of the first few found keeps triangles fat.
		best, bestLen, found := -1, 0.0, 0
		for i := 0; i < n && found < 8; i++ {
			a, b, c := s[(i+n-1)%n], s[i], s[(i+1)%n]
			o := geom.Orient(a, b, c)
			if o == geom.Collinear { // nothing is lost with it
				best = i
				break
			}
			if o != geom.CounterClockwise || !isEar(s, i) {
				continue
			}
			d := c.Sub(a)
			l := float64(d.X)*float64(d.X) + float64(d.Y)*float64(d.Y)
			if best < 0 || l < bestLen {
				best, bestLen = i, l
			}
			found++
		}
		if best < 0 {
			return nil, false
		}
		a, b, c := s[(best+n-1)%n], s[best], s[(best+1)%n]
		if geom.Orient(a, b, c) == geom.CounterClockwise {
			out = append(out, geom.Ring{a, b, c})
		}
		s = slices.Delete(s, best, best+1)
	}
	if geom.Orient(s[0], s[1], s[2]) == geom.CounterClockwise {
		out = append(out, s)
	}
	return out, true
}

// isEar reports whether no other vertex lies in the triangle at vertex i, its
// corners' doubles left out.
func isEar(s geom.Ring, i int) bool {
	n := len(s)
	a, b, c := s[(i+n-1)%n], s[i], s[(i+1)%n]
	box := geom.Ring{a, b, c}.Box()
	for k := range n - 3 {
		p := s[(i+2+k)%n]
		if p.X < box.Min.X || p.X > box.Max.X || p.Y < box.Min.Y || p.Y > box.Max.Y || p == a || p == b || p == c {
			continue
		}
		if geom.Orient(a, b, p) != geom.Clockwise && geom.Orient(b, c, p) != geom.Clockwise && geom.Orient(c, a, p) != geom.Clockwise {
			return false
		}
	}
	return true
}

// merge joins convex pieces along common edges, the longest first, while the
// result is convex.
func merge(pieces []geom.Ring) []geom.Ring {
	type edge struct{ a, b geom.Point }
	owner := map[edge]int{}
	var shared []edge
	for i, p := range pieces {
		for k := range p {
			owner[edge{p[k], p[(k+1)%len(p)]}] = i
		}
	}
	for i, p := range pieces {
		for k := range p {
			e := edge{p[k], p[(k+1)%len(p)]}
			if j, ok := owner[edge{e.b, e.a}]; ok && i < j {
				shared = append(shared, e)
			}
		}
	}
	long := func(e edge) float64 {
		d := e.b.Sub(e.a)
		return float64(d.X)*float64(d.X) + float64(d.Y)*float64(d.Y)
	}
	slices.SortStableFunc(shared, func(a, b edge) int {
		switch x, y := long(a), long(b); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	root := make([]int, len(pieces))
	for i := range root {
		root[i] = i
	}
	find := func(i int) int {
		for root[i] != i {
			i = root[i]
		}
		return i
	}
	rings := slices.Clone(pieces)
	for _, e := range shared {
		i, j := find(owner[e]), find(owner[edge{e.b, e.a}])
		if i == j {
			continue
		}
		if r, ok := joined(rings[i], rings[j], e.a, e.b); ok {
			rings[i], rings[j] = r, nil
			root[j] = i
		}
	}
	var out []geom.Ring
	for _, r := range rings {
		if r != nil {
			out = append(out, r)
		}
	}
	return out
}

// joined returns p and q as one convex ring, joined along p's edge a-b.
func joined(p, q geom.Ring, a, b geom.Point) (geom.Ring, bool) {
	i := edgeAt(p, a, b)
	j := edgeAt(q, b, a)
	if i < 0 || j < 0 {
		return nil, false
	}
	// p from b round to a, then q from a round to b.
	r := make(geom.Ring, 0, len(p)+len(q)-2)
	for k := range len(p) {
		r = append(r, p[(i+1+k)%len(p)])
	}
	for k := 1; k < len(q)-1; k++ {
		r = append(r, q[(j+1+k)%len(q)])
	}
	r = tidy(r)
	return r, len(r) >= 3 && isConvex(r)
}

// edgeAt returns the index of the edge from a to b, or -1.
func edgeAt(r geom.Ring, a, b geom.Point) int {
	for i := range r {
		if r[i] == a && r[(i+1)%len(r)] == b {
			return i
		}
	}
	return -1
}

// hull returns the convex hull, counter-clockwise (Andrew's monotone chain).
func hull(r geom.Ring) geom.Ring {
	pts := slices.Clone(r)
	slices.SortFunc(pts, func(a, b geom.Point) int {
		switch {
		case a.Less(b):
			return -1
		case b.Less(a):
			return 1
		}
		return 0
	})
	pts = slices.Compact(pts)
	if len(pts) < 3 {
		return pts
	}
	half := func(seq []geom.Point) []geom.Point {
		var h []geom.Point
		for _, p := range seq {
			for len(h) >= 2 && geom.Orient(h[len(h)-2], h[len(h)-1], p) != geom.CounterClockwise {
				h = h[:len(h)-1]
			}
			h = append(h, p)
		}
		return h[:len(h)-1]
	}
	lower := half(pts)
	slices.Reverse(pts)
	return append(geom.Ring(lower), half(pts)...)
}

package check

import (
	"slices"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// meeter answers questions about two regions. It only holds memory for reuse.
type meeter struct {
	a, b             []int32 // edges that may meet, by least x
	openA, openB     []int32 // of them, those the sweep line crosses
	touchA, touchB   []bool  // starts of edges that lie on the other's border
	splitsA, splitsB []split
	cuts             []geom.Point
}

// split is a vertex of the other region that lies within an edge.
type split struct {
	edge int32
	at   geom.Point
}

// overlap reports whether the interiors of two regions meet. It is exact.
//
// Ours. If two edges cross properly the interiors meet. Otherwise the borders
// meet only in vertices and along edges, so that splitting the edges of a at
// vertices of b, and those of b at vertices of a, makes pieces each of which
// lies inside the other region, outside it, or on its border. Then the
// interiors meet if and only if a piece lies inside the other region, or two
// pieces coincide with material on the same side: where the interiors meet,
// the border of their intersection is made of such pieces. Which it is, is
// read at the middle of a piece, a half-integer point; it holds from there
// until the borders next meet.
//
// Cost: the pairs of edges with boxes that meet, and contacts times edges.
func (m *meeter) overlap(a, b *region) bool {
	if dx, dy := clearance(a.box, b.box); dx >= 0 || dy >= 0 {
		return false
	}
	if a.rect && b.rect {
		return true
	}
	m.touchA = append(m.touchA[:0], make([]bool, len(a.edges))...)
	m.touchB = append(m.touchB[:0], make([]bool, len(b.edges))...)
	m.splitsA, m.splitsB = m.splitsA[:0], m.splitsB[:0]
	crossed := m.pairs(a, b, 0, func(i, k int32) bool {
		e, f := &a.edges[i], &b.edges[k]
		if crossing(e.a, e.b, f.a, f.b) {
			return true
		}
		// Every vertex is the start of one edge: starts are enough.
		if onSegment(f.a, e.a, e.b) {
			m.touchB[k] = true
			if f.a != e.a && f.a != e.b {
				m.splitsA = append(m.splitsA, split{i, f.a})
			}
		}
		if onSegment(e.a, f.a, f.b) {
			m.touchA[i] = true
			if e.a != f.a && e.a != f.b {
				m.splitsB = append(m.splitsB, split{k, e.a})
			}
		}
		return false
	})
	return crossed || m.enters(a, b, m.touchA, m.splitsA) || m.enters(b, a, m.touchB, m.splitsB)
}

// enters reports whether a piece of the border of a lies inside b, or on its
// border with material on the same side.
func (m *meeter) enters(a, b *region, touch []bool, splits []split) bool {
	slices.SortStableFunc(splits, func(s, t split) int { return int(s.edge - t.edge) })
	for r := 0; r+1 < len(a.rings); r++ {
		known := false
		for i := a.rings[r]; i < a.rings[r+1]; i++ {
			e := a.edges[i]
			m.cuts = m.cuts[:0]
			for len(splits) > 0 && int(splits[0].edge) == i {
				m.cuts = append(m.cuts, splits[0].at)
				splits = splits[1:]
			}
			slices.SortFunc(m.cuts, func(p, q geom.Point) int { return sign(dot(q, p, e.a, e.b)) })
			m.cuts = append(m.cuts, e.b)
			from := e.a
			known = known && !touch[i]
			for _, to := range m.cuts {
				if to == from {
					continue // two vertices of b in one place
				}
				if !known {
					at, along := b.locate(geom.Point{X: from.X + to.X, Y: from.Y + to.Y}, e)
					if at == inside || at == border && dot(e.a, e.b, along.a, along.b) > 0 {
						return true
					}
				}
				from, known = to, to == e.b
			}
		}
	}
	return false
}

// nearer reports whether two regions are less than gap apart, gap > 0, or
// overlap. It is exact. Unless borders come that near, the regions overlap only
// if one holds the other's outer ring, so one vertex of each decides.
func (m *meeter) nearer(a, b *region, gap length.Length) bool {
	dx, dy := clearance(a.box, b.box)
	switch {
	case dx >= gap || dy >= gap:
		return false
	case a.rect && b.rect:
		return dx < 0 || dy < 0 || int64(dx)*int64(dx)+int64(dy)*int64(dy) < int64(gap)*int64(gap)
	}
	if m.pairs(a, b, gap, func(i, k int32) bool {
		e, f := &a.edges[i], &b.edges[k]
		return segmentsNearer(e.a, e.b, f.a, f.b, gap)
	}) {
		return true
	}
	return b.holdsStart(a) || a.holdsStart(b)
}

// distance returns the least distance of two borders that do not cross, if it
// is below reach, for facts only.
func (m *meeter) distance(a, b *region, reach length.Length) float64 {
	least := float64(reach)
	m.pairs(a, b, reach, func(i, k int32) bool {
		e, f := &a.edges[i], &b.edges[k]
		least = min(least, segmentDistance(e.a, e.b, f.a, f.b))
		return false
	})
	return least
}

// holdsStart reports whether the first point of another region lies inside g.
func (g *region) holdsStart(a *region) bool {
	if len(a.edges) == 0 {
		return false // a speck that a free turn rounded to a point
	}
	p := a.edges[0].a
	s, _ := g.locate(geom.Point{X: 2 * p.X, Y: 2 * p.Y}, edge{})
	return s == inside
}

// pairs calls visit for the pairs of edges whose boxes are at most reach apart
// along both axes, until one returns true, and returns whether one did. Edges
// far from the other's box are dropped first; then a line sweeps along x.
func (m *meeter) pairs(a, b *region, reach length.Length, visit func(i, k int32) bool) bool {
	m.a, m.b = near(m.a[:0], a, b.box, reach), near(m.b[:0], b, a.box, reach)
	m.openA, m.openB = m.openA[:0], m.openB[:0]
	i, k := 0, 0
	for i < len(m.a) || k < len(m.b) {
		// Once one side is used up, new edges of the other still meet open ones.
		if k == len(m.b) || i < len(m.a) && a.edges[m.a[i]].minX() <= b.edges[m.b[k]].minX() {
			e := &a.edges[m.a[i]]
			m.openB = stillOpen(m.openB, b, e.minX()-reach)
			for _, f := range m.openB {
				if e.minY() <= b.edges[f].maxY()+reach && b.edges[f].minY() <= e.maxY()+reach && visit(m.a[i], f) {
					return true
				}
			}
			m.openA = append(m.openA, m.a[i])
			i++
			continue
		}
		f := &b.edges[m.b[k]]
		m.openA = stillOpen(m.openA, a, f.minX()-reach)
		for _, e := range m.openA {
			if f.minY() <= a.edges[e].maxY()+reach && a.edges[e].minY() <= f.maxY()+reach && visit(e, m.b[k]) {
				return true
			}
		}
		m.openB = append(m.openB, m.b[k])
		k++
	}
	return false
}

// near appends the edges of g that are within reach of a box, by least x.
func near(to []int32, g *region, box geom.Box, reach length.Length) []int32 {
	for _, i := range g.byX {
		e := &g.edges[i]
		if e.minX() > box.Max.X+reach {
			break
		}
		if e.within(box, reach) {
			to = append(to, i)
		}
	}
	return to
}

// stillOpen drops the edges that end before x.
func stillOpen(open []int32, g *region, x length.Length) []int32 {
	kept := open[:0]
	for _, i := range open {
		if g.edges[i].maxX() >= x {
			kept = append(kept, i)
		}
	}
	return kept
}

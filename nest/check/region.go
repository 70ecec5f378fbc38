package check

import (
	"slices"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// edge is a directed edge of a region, material on its left.
type edge struct{ a, b geom.Point }

// region is a shape laid on a sheet: its edges, ring after ring, without edges
// of no length.
type region struct {
	edges []edge
	rings []int    // index of the first edge of each ring, and len(edges) at the end
	box   geom.Box // of the outer ring
	byX   []int32  // edges in the order of their least x
	rect  bool     // the region is its box
	free  bool     // turned by other than a multiple of 90 degrees
}

// newRegion makes a region of an outer ring and holes, and runs them so that
// material is on the left.
func newRegion(rings [][]geom.Point) *region {
	g := &region{box: boxOf(rings[0])}
	for i, r := range rings {
		if hole := i > 0; hole == (area2(r) > 0) {
			slices.Reverse(r)
		}
		g.rings = append(g.rings, len(g.edges))
		for k, p := range r {
			if q := r[(k+1)%len(r)]; p != q {
				g.edges = append(g.edges, edge{p, q})
			}
		}
	}
	g.rings = append(g.rings, len(g.edges))
	g.byX = make([]int32, len(g.edges))
	for i := range g.byX {
		g.byX[i] = int32(i)
	}
	slices.SortFunc(g.byX, func(i, k int32) int {
		if d := g.edges[i].minX() - g.edges[k].minX(); d != 0 {
			return sign(int64(d))
		}
		return int(i - k)
	})
	g.rect = len(rings) == 1 && len(g.edges) == 4
	for _, e := range g.edges {
		g.rect = g.rect && (e.a.X == e.b.X || e.a.Y == e.b.Y)
	}
	return g
}

// boxRegion returns a box as a region.
func boxRegion(b geom.Box) *region {
	return newRegion([][]geom.Point{{
		b.Min, {X: b.Max.X, Y: b.Min.Y}, b.Max, {X: b.Min.X, Y: b.Max.Y},
	}})
}

func (e *edge) minX() length.Length { return min(e.a.X, e.b.X) }
func (e *edge) maxX() length.Length { return max(e.a.X, e.b.X) }
func (e *edge) minY() length.Length { return min(e.a.Y, e.b.Y) }
func (e *edge) maxY() length.Length { return max(e.a.Y, e.b.Y) }

// within reports whether the box of e is at most reach from b along both axes.
func (e *edge) within(b geom.Box, reach length.Length) bool {
	return e.minX() <= b.Max.X+reach && e.maxX() >= b.Min.X-reach &&
		e.minY() <= b.Max.Y+reach && e.maxY() >= b.Min.Y-reach
}

// locate returns where the point m/2 lies. Points are doubled so that the
// middle of an edge is a point of the grid. When the answer is border, along
// is an edge it lies on that has a positive scalar product with dir, or any
// edge it lies on. Cost: one pass over the edges.
//
// The differences are within 2^30 and 2^31 units, the determinant within 2^62.
func (g *region) locate(m geom.Point, dir edge) (at side, along edge) {
	if m.X < 2*g.box.Min.X || m.X > 2*g.box.Max.X || m.Y < 2*g.box.Min.Y || m.Y > 2*g.box.Max.Y {
		return outside, edge{}
	}
	odd := false
	for _, e := range g.edges {
		lo, hi := e.a, e.b
		if lo.Y > hi.Y {
			lo, hi = hi, lo
		}
		if m.Y < 2*lo.Y || m.Y > 2*hi.Y || m.X > 2*max(lo.X, hi.X) {
			continue
		}
		// Positive where m/2 is left of the line upwards.
		d := int64(hi.X-lo.X)*int64(m.Y-2*lo.Y) - int64(hi.Y-lo.Y)*int64(m.X-2*lo.X)
		if d == 0 && m.X >= 2*min(lo.X, hi.X) {
			if at != border || dot(e.a, e.b, dir.a, dir.b) > 0 {
				at, along = border, e
			}
			continue
		}
		if d > 0 && m.Y < 2*hi.Y && lo.Y != hi.Y {
			odd = !odd
		}
	}
	if at == border {
		return border, along
	}
	if odd {
		return inside, edge{}
	}
	return outside, edge{}
}

package router

import (
	"math"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// A job of very many shapes has more pairs than memory, and asks each only a few
// times. Its shop keeps none: what a pair would say is worked out from the convex
// pieces each time, edge by edge of their sum, without the sum being made.

// flake is a convex piece of a shape made ready for sums: its corners from the lowest
// on, its box, and the corners furthest left, right, down and up.
type flake struct {
	ring   geom.Ring
	lo, hi geom.Point
	ends   [4]geom.Point
}

func newFlake(r geom.Ring) flake {
	k := lowest(r)
	ring := append(append(make(geom.Ring, 0, len(r)), r[k:]...), r[:k]...)
	f := flake{ring: ring, ends: [4]geom.Point{ring[0], ring[0], ring[0], ring[0]}}
	for _, p := range ring {
		if p.X < f.ends[0].X {
			f.ends[0] = p
		}
		if p.X > f.ends[1].X {
			f.ends[1] = p
		}
		if p.Y < f.ends[2].Y {
			f.ends[2] = p
		}
		if p.Y > f.ends[3].Y {
			f.ends[3] = p
		}
	}
	f.lo = geom.Pt(f.ends[0].X, f.ends[2].Y)
	f.hi = geom.Pt(f.ends[1].X, f.ends[3].Y)
	return f
}

// flakes fills in what a shape needs to be fixed, and to be moved.
func (sh *shape) flakes(gap geom.Ring) {
	for _, r := range sh.pieces {
		grown := r
		if gap != nil {
			grown = minkowski(r, gap)
		}
		sh.fixed = append(sh.fixed, newFlake(grown))
		sh.moved = append(sh.moved, newFlake(mirrored(r)))
	}
}

// depth returns how deep a point lies in the sum of two flakes, 0 when it is not
// inside, and the direction of the shortest way out. It is exact about being 0.
func (f *flake) depth(g *flake, x, y int64) (least, nx, ny float64) {
	if x <= int64(f.lo.X+g.lo.X) || x >= int64(f.hi.X+g.hi.X) || y <= int64(f.lo.Y+g.lo.Y) || y >= int64(f.hi.Y+g.hi.Y) {
		return 0, 0, 0
	}
	a, b := f.ring, g.ring
	n, m := len(a), len(b)
	at := a[0].Add(b[0])
	px, py := int64(at.X), int64(at.Y)
	least = math.Inf(1)
	d, e := next(a, 0), next(b, 0)
	for i, j := 0, 0; i < n || j < m; {
		// The edges of both by their directions; parallel ones are one.
		c := int64(0)
		switch {
		case i == n:
			c = -1
		case j == m:
			c = 1
		default:
			c = d.Cross(e)
		}
		var step geom.Point
		if c >= 0 {
			step = d
			if i++; i < n {
				d = next(a, i)
			}
		}
		if c <= 0 {
			step = step.Add(e)
			if j++; j < m {
				e = next(b, j)
			}
		}
		ex, ey := int64(step.X), int64(step.Y)
		side := ex*(y-py) - ey*(x-px)
		if side <= 0 {
			return 0, 0, 0
		}
		long := math.Sqrt(float64(ex)*float64(ex) + float64(ey)*float64(ey))
		if v := float64(side) / long; v < least {
			least, nx, ny = v, float64(ey)/long, -float64(ex)/long
		}
		px, py = px+ex, py+ey
	}
	return least, nx, ny
}

// next returns the edge that leaves corner i of a ring.
func next(r geom.Ring, i int) geom.Point {
	if i+1 < len(r) {
		return r[i+1].Sub(r[i])
	}
	return r[0].Sub(r[i])
}

// looseMeets is [shop.meets] without pairs.
func looseMeets(a, b *shape, d geom.Point) bool {
	for i := range a.fixed {
		for j := range b.moved {
			if v, _, _ := a.fixed[i].depth(&b.moved[j], int64(d.X), int64(d.Y)); v > 0 {
				return true
			}
		}
	}
	return false
}

// looseDepth is [shop.depth] without pairs.
func looseDepth(a, b *shape, d geom.Point) float64 {
	sum := 0.0
	for i := range a.fixed {
		for j := range b.moved {
			v, _, _ := a.fixed[i].depth(&b.moved[j], int64(d.X), int64(d.Y))
			sum += v
		}
	}
	return sum
}

// loosePush is [shop.push] without pairs.
func loosePush(a, b *shape, d geom.Point) (vx, vy float64) {
	deepest := 0.0
	for i := range a.fixed {
		for j := range b.moved {
			if v, nx, ny := a.fixed[i].depth(&b.moved[j], int64(d.X), int64(d.Y)); v > deepest {
				deepest, vx, vy = v, nx*(v+1), ny*(v+1)
			}
		}
	}
	return vx, vy
}

// looseCorners calls f for some corners of the no-fit polygon of two shapes.
func looseCorners(a, b *shape, f func(x, y length.Length)) {
	n := len(a.fixed) * len(b.moved)
	const ends = 4
	step := 1 + n*ends/maxCorners
	for k := 0; k < n; k += step {
		p := looseEnds(a, b, k)
		for _, q := range p {
			f(q.X, q.Y)
		}
	}
}

// looseEnds returns the corners of the sum of the k-th two pieces that are furthest
// left, right, down and up.
func looseEnds(a, b *shape, k int) (p [4]geom.Point) {
	x, y := &a.fixed[k/len(b.moved)], &b.moved[k%len(b.moved)]
	for e := range p {
		p[e] = x.ends[e].Add(y.ends[e])
	}
	return p
}

// The memory that the pairs of a shop may take, and what an edge and the rest of
// a pair take of it, about.
const (
	pairsBytes = 700 << 20
	edgeBytes  = 20
	pairBytes  = 300
)

// isLoose reports whether the pairs of all shapes would take too much memory, with a
// gap polygon of some corners.
func isLoose(shapes []*shape, corners int) bool {
	n := float64(len(shapes))
	// The edges of a pair: those of two convex pieces and of the gap for each two
	// pieces.
	pieces, edges := 0.0, 0.0
	for _, sh := range shapes {
		if sh.square {
			continue // two rectangles need no pair
		}
		pieces += float64(len(sh.pieces))
		for _, r := range sh.pieces {
			edges += float64(len(r))
		}
	}
	return n*n*pairBytes+edgeBytes*(2*pieces*edges+pieces*pieces*float64(corners)) > pairsBytes
}

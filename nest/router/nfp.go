package router

import (
	"cmp"
	"math"
	"slices"
	"sync/atomic"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// A pair holds where one shape may not lie relative to another: the no-fit
// polygon of both, kept as the union of convex polygons, one for each two convex
// pieces, because no union has to be computed then and every test is exact.
//
// With A fixed and B moved by d, the interiors of A and B meet when d is inside
// A ⊕ (-B), the Minkowski sum of A and B mirrored in its origin; for convex
// pieces its boundary is the edges of both in the order of their directions.
// With a gap, a polygon around the circle of its radius is added as well.
type pair struct {
	lo, hi geom.Point // box of all pieces
	pieces []forbidden
	edges  []edge
	chart  atomic.Pointer[chart] // made when it is first asked for
}

// forbidden is one convex polygon of a pair.
type forbidden struct {
	lox, loy, hix, hiy int32
	from, upto         int32 // its edges in pair.edges
}

// edge is a directed edge of a convex polygon, its inside on the left. Sums of two
// shapes stay below 2^30 and fit 32 bits; there may be millions of edges.
type edge struct {
	ax, ay, ex, ey int32   // start and direction
	inv            float32 // 1 / length
}

// newPair returns the pair of two shapes.
func newPair(a, b *shape, gap geom.Ring) *pair {
	p := &pair{}
	first := true
	for _, q := range a.pieces {
		for _, r := range b.pieces {
			sum := minkowski(q, mirrored(r))
			if gap != nil {
				sum = minkowski(sum, gap)
			}
			f := forbidden{from: int32(len(p.edges))}
			box := sum.Box()
			f.lox, f.loy, f.hix, f.hiy = int32(box.Min.X), int32(box.Min.Y), int32(box.Max.X), int32(box.Max.Y)
			for i, s := range sum {
				d := sum[(i+1)%len(sum)].Sub(s)
				p.edges = append(p.edges, edge{
					int32(s.X), int32(s.Y), int32(d.X), int32(d.Y),
					float32(1 / math.Hypot(float64(d.X), float64(d.Y))),
				})
			}
			f.upto = int32(len(p.edges))
			// Long edges first: they are the likeliest to say that a point is outside.
			slices.SortStableFunc(p.edges[f.from:f.upto], func(a, b edge) int { return cmp.Compare(a.inv, b.inv) })
			if first {
				p.lo, p.hi, first = box.Min, box.Max, false
			}
			p.lo.X, p.lo.Y = min(p.lo.X, box.Min.X), min(p.lo.Y, box.Min.Y)
			p.hi.X, p.hi.Y = max(p.hi.X, box.Max.X), max(p.hi.Y, box.Max.Y)
			p.pieces = append(p.pieces, f)
		}
	}
	return p
}

// mirrored returns -r.
func mirrored(r geom.Ring) geom.Ring {
	s := make(geom.Ring, len(r))
	for i, q := range r {
		s[i] = q.Neg()
	}
	return s
}

// minkowski returns the sum of two convex counter-clockwise rings, exact.
func minkowski(a, b geom.Ring) geom.Ring {
	i0, j0 := lowest(a), lowest(b)
	out := make(geom.Ring, 0, len(a)+len(b))
	i, j := 0, 0
	for i < len(a) || j < len(b) {
		p, q := a[(i0+i)%len(a)], b[(j0+j)%len(b)]
		sum := p.Add(q)
		if n := len(out); n < 2 || geom.Orient(out[n-2], out[n-1], sum) != geom.Collinear {
			if n == 0 || out[n-1] != sum {
				out = append(out, sum)
			}
		} else {
			out[n-1] = sum
		}
		switch {
		case i == len(a):
			j++
		case j == len(b):
			i++
		default:
			d, e := a[(i0+i+1)%len(a)].Sub(p), b[(j0+j+1)%len(b)].Sub(q)
			c := d.Cross(e)
			if c >= 0 {
				i++
			}
			if c <= 0 {
				j++
			}
		}
	}
	for len(out) > 3 && geom.Orient(out[len(out)-2], out[len(out)-1], out[0]) == geom.Collinear {
		out = out[:len(out)-1]
	}
	return out
}

// lowest returns the index of the lowest, then leftmost, vertex.
func lowest(r geom.Ring) int {
	k := 0
	for i, p := range r {
		if p.Y < r[k].Y || p.Y == r[k].Y && p.X < r[k].X {
			k = i
		}
	}
	return k
}

// gapPolygon returns a polygon around the circle of a radius, with a number of
// sides that is a multiple of four, sides parallel to the axes among them, its
// corners rounded outwards. It is nil for no gap. Its corners stand off the circle
// by 8 % of the radius with 8 sides, by 2 % with 16.
func gapPolygon(gap length.Length, sides int) geom.Ring {
	if gap <= 0 {
		return nil
	}
	r := make(geom.Ring, 0, sides)
	radius := float64(gap) / math.Cos(math.Pi/float64(sides))
	for k := range sides {
		sin, cos := math.Sincos((float64(k) + 0.5) * 2 * math.Pi / float64(sides))
		r = append(r, geom.Pt(away(radius*cos), away(radius*sin)))
	}
	return hull(r)
}

// away rounds away from zero, noise left aside.
func away(v float64) length.Length {
	const noise = 1e-6
	if v < 0 {
		return -length.Length(math.Ceil(-v - noise))
	}
	return length.Length(math.Ceil(v - noise))
}

// inside reports, exactly, whether the shapes meet.
func (p *pair) inside(d geom.Point) bool {
	if d.X <= p.lo.X || d.X >= p.hi.X || d.Y <= p.lo.Y || d.Y >= p.hi.Y {
		return false
	}
	x, y := int64(d.X), int64(d.Y)
next:
	for i := range p.pieces {
		f := &p.pieces[i]
		if x <= int64(f.lox) || x >= int64(f.hix) || y <= int64(f.loy) || y >= int64(f.hiy) {
			continue
		}
		es := p.edges[f.from:f.upto]
		for k := range es {
			e := &es[k]
			if int64(e.ex)*(y-int64(e.ay))-int64(e.ey)*(x-int64(e.ax)) <= 0 {
				continue next
			}
		}
		return true
	}
	return false
}

// depth returns how deep d lies in the pair: 0 when the shapes do not meet, else
// the depth in the convex polygon in which it is deepest, more than 0. It is
// exact about being 0.
func (p *pair) depth(d geom.Point) float64 {
	if d.X <= p.lo.X || d.X >= p.hi.X || d.Y <= p.lo.Y || d.Y >= p.hi.Y {
		return 0
	}
	deepest := 0.0
	x, y := int64(d.X), int64(d.Y)
	for i := range p.pieces {
		f := &p.pieces[i]
		if x <= int64(f.lox) || x >= int64(f.hix) || y <= int64(f.loy) || y >= int64(f.hiy) {
			continue
		}
		least := math.Inf(1)
		inside := true
		es := p.edges[f.from:f.upto]
		for k := range es {
			e := &es[k]
			c := int64(e.ex)*(y-int64(e.ay)) - int64(e.ey)*(x-int64(e.ax))
			if c <= 0 {
				inside = false
				break
			}
			if v := float64(c) * float64(e.inv); v < least {
				least = v
			}
		}
		if inside {
			deepest += least
		}
	}
	return deepest
}

// boxDepth returns how deep two rectangles overlap, the second moved by d, each
// side of the first moved out by the gap. With a gap it is a little on the safe
// side at the corners, where a pair would round it.
func boxDepth(a, b *shape, gap length.Length, d geom.Point) float64 {
	least := min(d.X+b.w+gap, a.w+gap-d.X, d.Y+b.h+gap, a.h+gap-d.Y)
	return float64(max(0, least))
}

// boxPush is push for two rectangles.
func boxPush(a, b *shape, gap length.Length, d geom.Point) (vx, vy float64) {
	left, right, down, up := d.X+b.w+gap, a.w+gap-d.X, d.Y+b.h+gap, a.h+gap-d.Y
	switch least := min(left, right, down, up); {
	case least <= 0:
		return 0, 0
	case least == left:
		return -float64(least), 0
	case least == right:
		return float64(least), 0
	case least == down:
		return 0, -float64(least)
	default:
		return 0, float64(least)
	}
}

// push returns a vector that moves d out of the convex polygon in which it is
// deepest, the shortest way; zero when d is not inside.
func (p *pair) push(d geom.Point) (vx, vy float64) {
	deepest := 0.0
	x, y := int64(d.X), int64(d.Y)
	for i := range p.pieces {
		f := &p.pieces[i]
		least, nx, ny := math.Inf(1), 0.0, 0.0
		for _, e := range p.edges[f.from:f.upto] {
			c := int64(e.ex)*(y-int64(e.ay)) - int64(e.ey)*(x-int64(e.ax))
			if c <= 0 {
				least = 0
				break
			}
			if v := float64(c) * float64(e.inv); v < least {
				least, nx, ny = v, float64(e.ey)*float64(e.inv), -float64(e.ex)*float64(e.inv)
			}
		}
		if least > deepest {
			deepest, vx, vy = least, nx*(least+1), ny*(least+1)
		}
	}
	return vx, vy
}

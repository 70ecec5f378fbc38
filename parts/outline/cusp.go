package outline

import (
	"math"
	"slices"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// reach is how many pieces on each side of a joint are examined. The pieces of
// two arcs that touch part after a few of them.
const reach = 64

// opened returns ring without the loops that tangents and chords make about the
// joints of o in which an arc meets its neighbour under next to no angle, as the
// scallops of an edge do: both sides are moved into the notch between them and
// run into one another there.
//
//	 scallop  /            \  /            \ | /
//	---------<    becomes   ><     then     >
//	 scallop  \            /  \            / | \
//
// What a loop encloses is on its left and on the left of the rest of the ring as
// well, so no part of the panel is lost with the loop, and the crossing, which
// takes its place, is no further out than the sides that cross.
func (o Outline) opened(ring geom.Ring) geom.Ring {
	for i, v := range o {
		if !v.curved() && !o[(i+len(o)-1)%len(o)].curved() {
			continue
		}
		for at := slices.Index(ring, v.At); at >= 0; {
			ring, at = cutLoop(ring, at)
		}
	}
	return ring
}

// cutLoop looks for the smallest loop of ring about the point at an index, and
// returns the ring with a point in place of the loop and the index of that point,
// which is -1 when there is no loop.
func cutLoop(ring geom.Ring, at int) (geom.Ring, int) {
	n := len(ring)
	point := func(i int) geom.Point { return ring[(at+i+n)%n] }
	if p := point(0); n < 5 || point(-1).Sub(p).Dot(point(1).Sub(p)) <= 0 {
		return ring, -1
	}
	most := min(reach, n/2-1)
	for sum := 1; sum <= min(2*(most-1), n-4); sum++ {
		for j := max(0, sum-most+1); j <= min(sum, most-1); j++ {
			k := sum - j
			e, f := piece{a: point(-j - 1), b: point(-j)}, piece{a: point(k), b: point(k + 1)}
			x, ok := meet(e, f)
			if !ok {
				continue
			}
			loop := geom.Ring{x}
			for i := -j; i <= k; i++ {
				loop = append(loop, point(i))
			}
			// The loop must be the lesser part, or it is the panel itself.
			if a := loop.Area2(); a < 0 || a > max(ring.Area2(), -ring.Area2())/2 {
				continue
			}
			if x, ok = corner(e, f, x); !ok {
				continue
			}
			cut := geom.Ring{x}
			for i := k + 1; i < n-j; i++ {
				cut = append(cut, point(i))
			}
			return cut, 0
		}
	}
	return ring, -1
}

// corner returns a point of the grid near the crossing x of pieces e and f that
// is to the right of both, or on them, so that the ring may turn from one into
// the other there.
func corner(e, f piece, x geom.Point) (geom.Point, bool) {
	ex, ey := float64(e.a.X-x.X), float64(e.a.Y-x.Y)
	fx, fy := float64(f.b.X-x.X), float64(f.b.Y-x.Y)
	el, fl := math.Hypot(ex, ey), math.Hypot(fx, fy)
	if el == 0 || fl == 0 {
		return x, true // an end of one lies on the other
	}
	// The two open into a wedge along (mx, my). It may be narrow: walk along it
	// until a grid point lies in it.
	mx, my := ex/el+fx/fl, ey/el+fy/fl
	for walk := 0.0; walk < min(el, fl); walk = 2*walk + 0.5 {
		near := geom.Pt(x.X+length.Length(math.Round(walk*mx)), x.Y+length.Length(math.Round(walk*my)))
		for _, d := range []geom.Point{{}, {X: 1}, {X: -1}, {Y: 1}, {Y: -1}, {X: 1, Y: 1}, {X: 1, Y: -1}, {X: -1, Y: 1}, {X: -1, Y: -1}} {
			p := near.Add(d)
			if geom.Orient(e.a, e.b, p) <= 0 && geom.Orient(f.a, f.b, p) <= 0 {
				return p, true
			}
		}
	}
	return x, false
}

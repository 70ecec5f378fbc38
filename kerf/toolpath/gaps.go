package toolpath

import (
	"math"

	"panelyard/parts/length"
)

// Exact is how much of the board a bit may leave in a corner, or a path stand off
// where it should be, before it is named.
const Exact = length.Millimetre / 100

// gapKind says what keeps the bit from a part of a wall.
type gapKind int

const (
	corner gapKind = iota // an inside corner between two segments
	curved                // one arc of a lesser radius than the bit; kerf.Build has said so
	hollow                // several short segments that are together tighter than the bit
	narrow                // walls that stand less than the bit apart
)

// gap is a part of a wall that the bit does not reach from where it turns.
type gap struct {
	kind     gapKind
	bit      vec     // the bit's centre there
	mouth    float64 // distance of the two places at which it touches the wall
	residual float64 // the farthest of what stays, from the bit's edge
	vertex   int     // of a corner, the segment that starts there
}

// gap returns what the bit leaves of the wall between pieces p and q of a loop, and
// whether that is anything.
func (w *wall) gap(tracks []track, p, q *piece, r float64) (gap, bool) {
	out := p.b.add(p.heading(p.len).left().mul(r))
	in := q.a.add(q.heading(0).left().mul(r))
	g := gap{kind: narrow, bit: mid(p.b, q.a), mouth: out.to(in)}
	if g.mouth <= 2*loose {
		return g, false
	}
	// The wall from one contact to the other. What is longer than many vertices is no
	// corner or hollow.
	const most = 2000
	first, last := w.next(tracks[p.track].src), tracks[q.track].src
	n := 1
	far := 0.0
	for i := first; ; i = w.next(i) {
		far = max(far, w.list[i].a.to(g.bit))
		if i == last {
			break
		}
		far = max(far, w.list[i].farthest(g.bit))
		if n++; n > most {
			return g, true
		}
	}
	g.residual = far - r
	switch {
	case g.residual <= float64(Exact):
		return g, false
	case n == 1 && w.turn(first) < 0:
		g.kind, g.vertex = corner, first
	case n == 2 && w.list[first].arc && w.list[first].sweep < 0 && w.list[first].r < r:
		g.kind = curved
	case g.residual <= r:
		g.kind = hollow
	case g.mouth > 2*(r-depth):
		return g, false // it just passes
	}
	return g, true
}

// farthest returns the distance from p of the place of an arc that lies straight
// beyond its centre, 0 when it has none.
func (c *curve) farthest(p vec) float64 {
	if !c.arc {
		return 0
	}
	v := c.c.sub(p)
	if _, ok := c.turnedTo(math.Atan2(v.y, v.x)); !ok {
		return 0
	}
	return v.norm() + c.r
}

// Residual returns how far the board that a bit of radius r leaves in an inside
// corner of an angle in degrees reaches from the bit's edge: r(1/sin(a/2) - 1), for a
// right angle r(√2-1).
func Residual(r length.Length, degrees float64) length.Length {
	return length.Length(math.Round(float64(r) * (1/math.Sin(degrees*math.Pi/360) - 1)))
}

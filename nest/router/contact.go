package router

import (
	"cmp"
	"math"
	"slices"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// ringSide is an edge of a ring of a shape, or of a board, with what can lie along
// it: the material is on its left.
type ringSide struct {
	from, upto geom.Point
	dx, dy     float64 // direction, of length 1
	long       float64
	angle      float64 // of the direction, above -pi up to pi
	// A shape that touches the side lies off it by the gap: lift is the corner of the
	// gap polygon furthest out, high how far that is.
	lift geom.Point
	high float64
}

// Two sides lie along each other when their directions are opposite up to flush,
// in radians, and their distance is up to contactSlack.
const (
	flush        = 2e-4
	contactSlack = float64(20 * length.Micrometre)
)

// shortSide is the share of the length of a ring below which a side counts for
// nothing.
const shortSide = 0.02

// sidesOf returns the sides of rings, the outer one first, in the order of their
// angles, and the length of the outer one. The short chords of a curve are left out.
func sidesOf(rings []geom.Ring, gap geom.Ring) ([]ringSide, float64) {
	var list []ringSide
	around := 0.0
	for n, r := range rings {
		for i, p := range r {
			q := r[(i+1)%len(r)]
			if q == p {
				continue
			}
			list = append(list, newSide(p, q, gap))
			if n == 0 {
				around += list[len(list)-1].long
			}
		}
	}
	list = slices.DeleteFunc(list, func(s ringSide) bool { return s.long < shortSide*around })
	slices.SortFunc(list, func(a, b ringSide) int { return cmp.Compare(a.angle, b.angle) })
	return list, around
}

func newSide(p, q geom.Point, gap geom.Ring) ringSide {
	d := q.Sub(p)
	x, y := float64(d.X), float64(d.Y)
	n := math.Hypot(x, y)
	s := ringSide{from: p, upto: q, dx: x / n, dy: y / n, long: n, angle: math.Atan2(y, x)}
	for _, v := range gap {
		if h := float64(v.X)*s.dy - float64(v.Y)*s.dx; h > s.high {
			s.high, s.lift = h, v
		}
	}
	return s
}

// opposed calls f for the sides of a list, in the order of angles, that run
// opposite to a side.
func opposed(list []ringSide, t *ringSide, f func(*ringSide)) {
	want := t.angle + math.Pi
	if want > math.Pi {
		want -= 2 * math.Pi
	}
	inRange(list, want-flush, want+flush, f)
	if want < -math.Pi+flush { // an angle may be on the other side of the gap in angles
		inRange(list, want+2*math.Pi-flush, math.Pi, f)
	}
	if want > math.Pi-flush {
		inRange(list, -math.Pi, want-2*math.Pi+flush, f)
	}
}

// inRange calls f for the sides of a list whose angles are in a range.
func inRange(list []ringSide, from, upto float64, f func(*ringSide)) {
	low, high := 0, len(list)
	for low < high {
		if m := (low + high) / 2; list[m].angle < from {
			low = m + 1
		} else {
			high = m
		}
	}
	for ; low < len(list) && list[low].angle <= upto; low++ {
		f(&list[low])
	}
}

// along returns over which length a side of a shape at b lies along a side of one
// at a. When it covers all of both, ends meet ends and it counts half as much again:
// what was drawn to fit fits there.
func along(t *ringSide, a geom.Point, s *ringSide, b geom.Point) float64 {
	vx, vy := float64(b.X+s.from.X-a.X-t.from.X), float64(b.Y+s.from.Y-a.Y-t.from.Y)
	if off := vx*t.dy - vy*t.dx - t.high; off > contactSlack || off < -contactSlack {
		return 0
	}
	from := vx*t.dx + vy*t.dy // where s begins; it runs back to from - s.long
	low, high := max(0, from-s.long), min(t.long, from)
	switch c := high - low; {
	case c <= 0:
		return 0
	case c > t.long-contactSlack && c > s.long-contactSlack:
		return 1.5 * c
	default:
		return c
	}
}

// rimOf returns the sides of a board.
func rimOf(w, h length.Length) [4]ringSide {
	a, b, c, d := geom.Pt(0, 0), geom.Pt(w, 0), geom.Pt(w, h), geom.Pt(0, h)
	return [4]ringSide{newSide(b, a, nil), newSide(c, b, nil), newSide(d, c, nil), newSide(a, d, nil)}
}

// contact returns over which length a shape at a place of a board lies along what
// is there and the edges of the board.
func (s *searcher) contact(bd *board, edges *[4]ringSide, sh *shape, x, y length.Length) float64 {
	sum := 0.0
	at := geom.Pt(x, y)
	for e := range edges {
		opposed(sh.sides, &edges[e], func(o *ringSide) { sum += along(&edges[e], geom.Point{}, o, at) })
	}
	for _, j := range bd.items {
		p := &s.cur.places[j]
		if slack := s.gap + length.Millimetre; p.x > x+sh.w+slack || x > p.x+p.sh.w+slack || p.y > y+sh.h+slack || y > p.y+p.sh.h+slack {
			continue
		}
		from := geom.Pt(p.x, p.y)
		for k := range p.sh.sides {
			t := &p.sh.sides[k]
			opposed(sh.sides, t, func(o *ringSide) { sum += along(t, from, o, at) })
		}
	}
	return sum
}

package router

import (
	"cmp"
	"math"
	"slices"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// couple is two congruent panels, or one and its mirror image, laid so that they
// interlock: how much less box they take together than one by one. Pairing before
// the search: Elkeran, European Journal of Operational Research 231, 2013 (from
// memory). The search moves each by itself. Strips begin without couples: measured on
// nine published ones, first layouts were 0 to 7 % longer with them.
type couple struct {
	a, b  int32 // kinds
	group group
	saved float64 // share of the boxes of both
}

// The limits of couples: which are worth it, how many are made, and how many
// places of a pair are tried.
const (
	savedLeast   = 0.04
	maxCouples   = 200
	coupleTrials = 240
	maxCoupled   = 30 // convex pieces of a shape
)

// makeCouples fills in the couples of a shop, those that save most first.
func (s *shop) makeCouples() {
	n := int32(len(s.kinds))
	tried := 0
	for a := range n {
		for b := a; b < n && tried < maxCouples; b++ {
			if a == b && s.kinds[a].copies < 2 || !congruent(&s.kinds[a], &s.kinds[b]) {
				continue
			}
			tried++
			s.couple(a, b)
		}
	}
	slices.SortStableFunc(s.couples, func(a, b couple) int { return cmp.Compare(b.saved, a.saved) })
}

// congruent reports whether two kinds that leave much of their boxes open have the
// same outline, or one that of the other's face down, by their measures.
func congruent(a, b *kind) bool {
	p, q := a.any(), b.any()
	if p == nil || q == nil || len(p.pieces) > maxCoupled || a.area > 0.97*float64(p.w)*float64(p.h) {
		return false
	}
	const share = 1e-4 // the mirror image of a simplified outline is not quite its own
	return math.Abs(a.area-b.area) <= share*a.area && math.Abs(p.around-q.around) <= 10*share*p.around &&
		(p.w == q.w && p.h == q.h || p.w == q.h && p.h == q.w)
}

// any returns a shape of a kind; nil when it fits no stock.
func (k *kind) any() *shape {
	for _, ways := range k.ways {
		if len(ways) > 0 {
			return ways[0]
		}
	}
	return nil
}

// couple adds the best ways in which two kinds lie beside each other, one for each
// direction of the first.
func (s *shop) couple(a, b int32) {
	seen := map[*shape]bool{}
	for _, j := range s.stocks {
		for _, p := range s.kinds[a].ways[j] {
			if seen[p] || p.turn >= 180 {
				continue
			}
			seen[p] = true
			best := couple{a: a, b: b, saved: savedLeast}
			for _, q := range s.kinds[b].ways[j] {
				if q.w != p.w {
					continue // crosswise
				}
				s.beside(p, q, &best)
			}
			if best.group.n > 0 {
				s.couples = append(s.couples, best)
			}
		}
	}
}

// beside makes best the place of shape q beside shape p that saves most.
func (s *shop) beside(p, q *shape, best *couple) {
	pr := s.pair(p, q)
	boxes := float64(p.w)*float64(p.h) + float64(q.w)*float64(q.h)
	try := func(d geom.Point) {
		lo := geom.Pt(min(0, d.X), min(0, d.Y))
		hi := geom.Pt(max(p.w, d.X+q.w), max(p.h, d.Y+q.h))
		size := hi.Sub(lo)
		saved := 1 - float64(size.X)*float64(size.Y)/boxes
		if saved <= best.saved || pr.inside(d) {
			return
		}
		best.saved = saved
		best.group = group{w: size.X, h: size.Y, shapes: [2]*shape{p, q}, at: [2]geom.Point{lo.Neg(), d.Sub(lo)}, n: 2}
	}
	step := 1 + len(pr.edges)/coupleTrials
	for k := 0; k < len(pr.edges); k += step {
		e := &pr.edges[k]
		try(geom.Pt(length.Length(e.ax), length.Length(e.ay)))
		try(geom.Pt(length.Length(e.ax+e.ex/2), length.Length(e.ay+e.ey/2)))
	}
}

// mates says which item is laid with which; nil lays all alone.
type mates []int32

func (m mates) of(i int32) int32 {
	if m == nil {
		return -1
	}
	return m[i]
}

// pairUp returns mates for the items: those that save most first.
func (s *searcher) pairUp() mates {
	if len(s.couples) == 0 {
		return nil
	}
	m := make(mates, len(s.items))
	idle := make([][]int32, len(s.kinds))
	for i := range m {
		m[i] = -1
		idle[s.items[i]] = append(idle[s.items[i]], int32(i))
	}
	for _, c := range s.couples {
		for {
			x, y := len(idle[c.a]), len(idle[c.b])
			if x == 0 || y == 0 || c.a == c.b && x < 2 {
				break
			}
			i := idle[c.a][x-1]
			idle[c.a] = idle[c.a][:x-1]
			j := idle[c.b][len(idle[c.b])-1]
			idle[c.b] = idle[c.b][:len(idle[c.b])-1]
			m[i], m[j] = j, i
		}
	}
	return m
}

// fitTwo places two items on a board as a couple, like fit.
func (s *searcher) fitTwo(i, j, b int32) bool {
	stock := s.cur.boards[b].stock
	spot := vacancy{rank: math.Inf(1)}
	k, l := s.items[i], s.items[j]
	turned := false
	for c := range s.couples {
		p := &s.couples[c]
		if p.a == k && p.b == l || p.a == l && p.b == k {
			ways, others := s.kinds[p.a].ways[stock], s.kinds[p.b].ways[stock]
			if slices.Contains(ways, p.group.shapes[0]) && slices.Contains(others, p.group.shapes[1]) {
				turned = p.a != k
				s.vacant(b, p.group, &spot)
			}
		}
	}
	if spot.n == 0 {
		return false
	}
	if turned {
		i, j = j, i
	}
	for n, it := range [2]int32{i, j} {
		s.move(it, place{b, spot.shapes[n], spot.x + spot.at[n].X, spot.y + spot.at[n].Y})
	}
	return true
}

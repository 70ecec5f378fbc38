package router

import (
	"math"
	"slices"
)

// measureAll measures the overlap of every pair on every board: raw is the sum,
// load what each item shares in.
func (s *searcher) measureAll(pairs func(i, j int32, v float64)) {
	s.raw = 0
	s.load = slices.Grow(s.load[:0], len(s.items))[:len(s.items)]
	clear(s.load)
	for b := range s.cur.boards {
		list := s.cur.boards[b].items
		for k, i := range list {
			for _, j := range list[k+1:] {
				if v := s.overlap(i, j); v > 0 {
					s.raw += v
					s.load[i] += v
					s.load[j] += v
					if pairs != nil {
						pairs(i, j, v)
					}
				}
			}
		}
	}
}

// The factors of weights: guided local search in the way of Umetani et al. 2009
// and Egeblad et al. 2007 (from memory); the numbers are ours.
const (
	raiseLeast = 1.2
	raiseMost  = 2.0
	decay      = 0.95
)

// separate removes all overlap of the current layout, moving one overlapping item
// at a time to the place of least weighted overlap and raising the weights of the
// pairs that persist. It gives up after `patience` passes without less overlap
// than ever, or when the budget is spent, and then leaves the layout of least
// overlap; or when another chain has found a better layout, and then leaves
// nothing of use. It reports whether no overlap is left.
func (s *searcher) separate(patience int, boards func(i int32) []int32) bool {
	n := len(s.items)
	for k := range s.weight {
		s.weight[k] = 1
	}
	leastRaw := math.Inf(1)
	hits := s.hits
	defer func() { s.hits = hits }()
	idle := 0
	for {
		hits = hits[:0]
		s.measureAll(func(i, j int32, v float64) { hits = append(hits, hit{i, j, v}) })
		if s.raw == 0 {
			return true
		}
		if s.raw < leastRaw {
			if s.raw < 0.98*leastRaw {
				idle = 0
			}
			leastRaw = s.raw
			s.least.copyFrom(&s.cur)
		} else {
			idle++
		}
		if idle > patience || s.spent() {
			s.cur.copyFrom(&s.least)
			s.raw = leastRaw
			return false
		}
		if s.pass() {
			return false
		}
		// Weights: those of pairs that overlap rise, the more the deeper; all others
		// sink back towards 1.
		most := 0.0
		for _, h := range hits {
			most = max(most, h.v)
		}
		for k, w := range s.weight {
			if w > 1 {
				s.weight[k] = max(1, w*decay)
			}
		}
		for _, h := range hits {
			f := float32((raiseLeast + (raiseMost-raiseLeast)*h.v/most) / decay)
			w := min(s.weight[int(h.i)*n+int(h.j)]*f, 1e6)
			s.weight[int(h.i)*n+int(h.j)], s.weight[int(h.j)*n+int(h.i)] = w, w
		}
		s.order = s.order[:0]
		for i, v := range s.load {
			if v > 0 {
				s.order = append(s.order, int32(i))
			}
		}
		s.rng.Shuffle(len(s.order), func(a, b int) { s.order[a], s.order[b] = s.order[b], s.order[a] })
		for _, i := range s.order {
			p := s.cur.places[i]
			s.look(i, p.board)
			now := s.cost(p.sh, p.x, p.y, math.Inf(1))
			if now == 0 {
				continue // a neighbour has moved away
			}
			if f := s.best(i, boards(i)); f.cost < now {
				s.move(i, f.place)
			}
			if s.spent() {
				break
			}
		}
	}
}

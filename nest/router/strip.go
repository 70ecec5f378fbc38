package router

import "panelyard/parts/length"

// The effort of a strip search: shares by which the strip is shrunk, and passes
// without progress after which a length is given up.
const (
	shrinkFirst   = 0.01
	shrinkSmall   = 0.001  // the least of the first part of the budget
	shrinkLeast   = 0.0002 // and of the rest
	squeezeMost   = 0.002
	explorePasses = 80
	squeezePasses = 25
	exploreShare  = 0.75 // of the budget; the rest squeezes the best layout
	lengthShare   = 0.05 // of the budget, after which a length is given up
)

// strip shortens the only board as far as it can: it is cut short, the overlap
// that makes is removed, and so on. When a length cannot be reached, the attempt
// goes on from one of the layouts of least overlap there were, two large items of
// it exchanged; when a length is given up the steps become smaller. The last part
// of the budget squeezes the best layout by small steps.
func (s *chain) strip() {
	used := s.used(0)
	only := []int32{0}
	all := func(int32) []int32 { return only }
	shrink := shrinkFirst
	begun := s.progress() // with this length
	s.pool.clear()
	for !s.spent() && used > s.floor() {
		squeeze := s.progress() > exploreShare
		step, patience := shrink, explorePasses
		if squeeze {
			s.refine()
			step, patience = shrinkLeast+squeezeMost*(1-s.progress())/(1-exploreShare)*s.rng.Float64(), squeezePasses
		}
		if squeeze || s.pool.n == 0 {
			s.cur.copyFrom(&s.best)
			s.shorten(used, max(s.floor(), used-max(1, length.Length(float64(used)*step))))
		} else {
			s.pool.pick(&s.cur, s.rng)
			s.swapTwo()
		}
		if s.separate(patience, all) {
			used = s.used(0)
			s.take()
			begun = s.progress()
			s.pool.clear()
			continue
		}
		if squeeze {
			continue
		}
		s.pool.add(&s.cur, s.raw)
		if p := s.progress(); p-begun > lengthShare || p < begun {
			begun = p
			s.pool.clear()
			shrink = max(shrink/2, shrinkSmall)
		}
	}
}

// used returns the used length of a board.
func (s *searcher) used(b int) length.Length {
	var most length.Length
	for _, i := range s.cur.boards[b].items {
		p := &s.cur.places[i]
		most = max(most, p.x+p.sh.w)
	}
	return most
}

// floor returns a length no layout can be under.
func (s *searcher) floor() length.Length {
	area := 0.0
	var least length.Length
	for _, k := range s.items {
		area += s.kinds[k].area
		w := length.Length(1) << 40
		for _, sh := range s.kinds[k].ways[s.cur.boards[0].stock] {
			if sh.h <= s.cur.boards[0].h {
				w = min(w, sh.w)
			}
		}
		least = max(least, w)
	}
	return max(least, length.Length(area/float64(s.cur.boards[0].h)))
}

// shorten cuts the board of a used length to a shorter one: what lies right of a
// place chosen by chance moves to the left, and what still reaches beyond the end
// is moved in.
func (s *searcher) shorten(used, to length.Length) {
	bd := &s.cur.boards[0]
	bd.w = to
	at := s.upTo(used)
	for _, i := range bd.items {
		if p := &s.cur.places[i]; p.x+p.sh.w/2 > at {
			p.x = max(0, p.x-(used-to))
		}
	}
	for _, i := range bd.items {
		p := &s.cur.places[i]
		if p.x+p.sh.w <= to {
			continue
		}
		if p.sh.w > to { // only another turn fits
			for _, sh := range s.kinds[s.items[i]].ways[bd.stock] {
				if sh.w <= to && sh.h <= bd.h {
					p.sh = sh
					p.y = min(p.y, bd.h-sh.h)
					break
				}
			}
		}
		p.x = max(0, to-p.sh.w)
	}
}

package router

import (
	"cmp"
	"math"
	"slices"

	"panelyard/parts/length"
)

// The effort of a strip search: shares by which the strip is shrunk, and passes
// without progress after which something is given up.
const (
	shrinkFirst   = 0.01
	shrinkSmall   = 0.001  // the least of an episode
	shrinkLeast   = 0.0002 // and of the squeeze
	squeezeMost   = 0.002
	squeezePasses = 25

	exploreShare  = 0.85 // of the budget; the rest is for the squeeze
	leastPatience = 50
	patienceItem  = 4  // passes of an attempt, an item: many items need more
	lengthPatient = 20 // times that, for a length
	episodeLeast  = 75 // times that, for an episode
	episodeShare  = 2  // or this share of what the episode took to its best
)

// strip shortens the only board as far as it can: it is cut short, the overlap
// that makes is removed, and so on. Where that ends depends much on where it
// begins, so that most of the budget goes into a number of episodes, each from a
// new first layout; the rest squeezes the best layout of all.
func (s *chain) strip() {
	only := []int32{0}
	all := func(int32) []int32 { return only }
	for n := 0; s.exploring(); n++ {
		if n > 0 {
			if s.mates = nil; n%2 == 1 {
				s.mates = s.pairUp()
			}
			s.construct(s.shuffled(), false)
			if s.stop() {
				break // not complete
			}
			s.take()
		}
		s.episode(all)
	}
	s.squeeze(all)
}

// exploring reports whether there is more to explore and budget for it.
func (s *chain) exploring() bool {
	return !s.spent() && s.progress() < exploreShare && s.worth.used > s.floor()
}

// shuffled returns the items, large ones first by and large.
func (s *searcher) shuffled() []int32 {
	list := slices.Clone(s.large)
	key := make([]float64, len(s.items))
	for i := range key {
		key[i] = s.kinds[s.items[i]].size * math.Exp(s.rng.NormFloat64()*0.5)
	}
	slices.SortStableFunc(list, func(a, b int32) int { return -cmp.Compare(key[a], key[b]) })
	return list
}

// episode shortens the strip from the current layout, which has no overlap. When a
// length cannot be reached, the attempt goes on from one of the layouts of least
// overlap there were, two large items of it exchanged; when a length is given up
// the steps become smaller. It ends when nothing has come of a good part of it.
func (s *chain) episode(all func(int32) []int32) {
	s.base.copyFrom(&s.cur)
	used := s.used(0)
	begun, better, fresh := s.passes, s.passes, s.passes
	shrink := shrinkFirst
	patience := max(leastPatience, patienceItem*len(s.items))
	s.pool.clear()
	for s.exploring() {
		if s.pool.n == 0 {
			s.cur.copyFrom(&s.base)
			s.shorten(used, max(s.floor(), used-max(1, length.Length(float64(used)*shrink))))
		} else {
			s.pool.pick(&s.cur, s.rng)
			s.swapTwo()
		}
		if s.separate(patience, all) {
			used = s.used(0)
			s.base.copyFrom(&s.cur)
			s.take()
			s.pool.clear()
			better, fresh = s.passes, s.passes
			continue
		}
		s.pool.add(&s.cur, s.raw)
		if s.passes-fresh > lengthPatient*patience {
			fresh = s.passes
			s.pool.clear()
			shrink = max(shrink/2, shrinkSmall)
		}
		if s.passes-better > max(episodeLeast*patience, episodeShare*(better-begun)) {
			break
		}
	}
}

// squeeze shortens the best layout by small steps.
func (s *chain) squeeze(all func(int32) []int32) {
	s.refine()
	s.meets = true
	if s.meeting.meet(s) {
		s.passed()
	}
	begun := s.progress()
	for !s.spent() && s.worth.used > s.floor() {
		left := (1 - s.progress()) / (1 - begun)
		step := shrinkLeast + squeezeMost*left*s.rng.Float64()
		s.cur.copyFrom(&s.best)
		used := s.worth.used
		s.shorten(used, max(s.floor(), used-max(1, length.Length(float64(used)*step))))
		if s.separate(squeezePasses, all) {
			s.take()
		}
		s.passed()
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

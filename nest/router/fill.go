package router

import (
	"cmp"
	"math"
	"slices"

	"panelyard/parts/geom"
)

// filling is how a sheet was filled with some of the items there were.
type filling struct {
	items  []int32
	places []place
	area   float64
}

// taste is how a filling chooses among places: by the share of its outline with
// which an item touches, by its size, and by chance.
type taste struct{ size, chance float64 }

// The range of tastes. They are drawn anew for each filling.
const (
	tasteSize   = 0.5
	tasteChance = 0.25
	fillings    = 6 // tries a sheet

	// evals is how many places are looked at for a pass, an item.
	evals = 100

	// What to lay next is chosen when about so many places were looked at.
	enoughLooks = 4000

	// firstShare is how much of the budget may go into filling all sheets at first.
	firstShare = 0.2
)

// fill lays items on an empty board, one after the other at the place and of the
// kind that touches most, until no more does, and reports what it used. Places are
// those at which an end of a side meets an end of a side it lies along.
//
// The touching perimeter of Lodi, Martello & Vigo, INFORMS Journal on Computing 11,
// 1999 (there for rectangles), carried over to polygons; from memory.
func (s *searcher) fill(b int32, pool []int32, out *filling) {
	bd := &s.cur.boards[b]
	edges := rimOf(bd.w, bd.h)
	like := taste{tasteSize * s.rng.Float64(), tasteChance * s.rng.Float64()}
	out.items, out.places, out.area = out.items[:0], out.places[:0], 0
	free := float64(bd.w) * float64(bd.h)
	s.heap = s.heap[:0]
	s.heap = append(s.heap, pool...)
	for len(s.heap) > 0 && !s.stop() {
		n, p := s.touchMost(b, &edges, like, free, len(out.items) == 0)
		if n < 0 {
			break
		}
		i := s.heap[n]
		s.heap = slices.Delete(s.heap, n, n+1)
		s.move(i, p)
		out.items, out.places = append(out.items, i), append(out.places, p)
		a := s.kinds[s.items[i]].area
		out.area += a
		free -= a
	}
}

// touchMost returns which item of the heap goes to which place; less than 0 is none.
func (s *searcher) touchMost(b int32, edges *[4]ringSide, like taste, free float64, first bool) (int, place) {
	bd := &s.cur.boards[b]
	best, to, rank := -1, place{board: b}, math.Inf(-1)
	largest := 0.0
	for _, i := range s.heap {
		if k := &s.kinds[s.items[i]]; k.area <= free {
			largest = max(largest, k.area)
		}
	}
	clear(s.seen)
	start, before := s.rng.IntN(len(s.heap)), s.looks
	for at := range s.heap {
		n := (start + at) % len(s.heap)
		i := s.heap[n]
		k := &s.kinds[s.items[i]]
		if k.area > free || s.seen[s.items[i]] {
			continue
		}
		if s.looks-before > enoughLooks {
			break
		}
		s.seen[s.items[i]] = true
		size := like.size * math.Sqrt(k.area/largest)
		luck := 1 + like.chance*s.rng.NormFloat64()
		if first { // chance alone decides on what a sheet begins with, large ones before small ones
			size, luck = math.Sqrt(k.area/largest)*s.rng.Float64(), 0
		}
		for _, sh := range k.ways[bd.stock] {
			mx, my := bd.w-sh.w, bd.h-sh.h
			if mx < 0 || my < 0 {
				continue
			}
			try := func(p geom.Point) {
				if p.X < 0 || p.Y < 0 || p.X > mx || p.Y > my {
					return
				}
				s.looks++
				r := size + luck*s.contact(bd, edges, sh, p.X, p.Y)/sh.around
				if r > rank && !s.meets(-1, b, sh, p.X, p.Y) {
					best, rank, to.sh, to.x, to.y = n, r, sh, p.X, p.Y
				}
			}
			both := func(t *ringSide, from geom.Point) {
				opposed(sh.sides, t, func(o *ringSide) {
					try(from.Add(t.from).Add(t.lift).Sub(o.upto))
					try(from.Add(t.upto).Add(t.lift).Sub(o.from))
				})
			}
			for e := range edges {
				both(&edges[e], geom.Point{})
			}
			for _, j := range bd.items {
				p := &s.cur.places[j]
				for e := range p.sh.sides {
					both(&p.sh.sides[e], geom.Pt(p.x, p.y))
				}
			}
		}
	}
	return best, to
}

// empty takes all items off a board.
func (s *searcher) empty(b int32) {
	bd := &s.cur.boards[b]
	for _, i := range bd.items {
		s.cur.places[i].board = -1
	}
	bd.items = bd.items[:0]
}

// fillBest fills an empty board several times and leaves the fullest filling. It
// returns what is left of the pool.
func (s *searcher) fillBest(b int32, pool []int32) []int32 {
	bd := &s.cur.boards[b]
	whole := float64(bd.w) * float64(bd.h)
	best := &s.fullest
	best.area = -1
	for range fillings {
		s.fill(b, pool, &s.filled)
		s.empty(b)
		if s.filled.area > best.area {
			s.fullest, s.filled = s.filled, s.fullest
		}
		if best.area > 0.999999*whole || len(best.items) == len(pool) || s.stop() {
			break
		}
	}
	for k, i := range best.items {
		s.move(i, best.places[k])
	}
	return slices.DeleteFunc(pool, func(i int32) bool { return s.cur.places[i].board >= 0 })
}

// squares returns the sum of the squared shares of the boards that items cover:
// more when some are full and others nearly empty.
func (s *searcher) squares() float64 {
	sum := 0.0
	for b := range s.cur.boards {
		bd := &s.cur.boards[b]
		a := 0.0
		for _, i := range bd.items {
			a += s.kinds[s.items[i]].area
		}
		a /= float64(bd.w) * float64(bd.h)
		sum += a * a
	}
	return sum
}

// refill empties some boards of the current layout, the less full ones rather,
// and fills them again, each with what fills it best of what is there. It reports
// whether everything found a place; the layout is of no use otherwise.
//
// Ruin and recreate: Schrimpf, Schneider, Stamm-Wilbrandt & Dueck, Journal of
// Computational Physics 159, 2000; a sheet filled as full as it goes before the
// next: Gupta & Ho, Production Planning & Control 10, 1999 (both from memory).
func (c *chain) refill() bool {
	n := len(c.cur.boards)
	share := make([]float64, n)
	list := make([]int32, n)
	for b := range list {
		list[b] = int32(b)
		bd := &c.cur.boards[b]
		for _, i := range bd.items {
			share[b] += c.kinds[c.items[i]].area
		}
		share[b] = share[b]/(float64(bd.w)*float64(bd.h)) + 0.15*c.rng.NormFloat64()
	}
	slices.SortFunc(list, func(a, b int32) int { return cmp.Or(cmp.Compare(share[a], share[b]), int(a-b)) })
	list = list[:min(n, 1+c.rng.IntN(4))]
	c.rng.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
	var pool []int32
	for i := range c.cur.places {
		if c.cur.places[i].board < 0 {
			pool = append(pool, int32(i))
		}
	}
	for _, b := range list {
		pool = append(pool, c.cur.boards[b].items...)
		c.empty(b)
	}
	for _, b := range list {
		if pool = c.fillBest(b, pool); len(pool) == 0 {
			break
		}
	}
	// What is left may fit where it touches less.
	c.largeFirst(pool)
	for _, i := range pool {
		fits := false
		for b := range c.cur.boards {
			if fits = c.fit(i, int32(b)); fits {
				break
			}
		}
		if !fits {
			return false
		}
	}
	return true
}

// first fills sheet after sheet and takes the layout when it is the best.
func (c *chain) first() {
	c.cur.boards = c.cur.boards[:0]
	pool := make([]int32, len(c.items))
	for i := range c.cur.places {
		c.cur.places[i] = place{board: -1}
		pool[i] = int32(i)
	}
	for len(pool) > 0 && !c.stop() {
		b, ok := c.open(pool[0], false)
		if !ok {
			return
		}
		n := len(pool)
		if pool = c.fillBest(b, pool); len(pool) == n {
			if !c.fit(pool[0], b) {
				return
			}
			pool = pool[1:]
		}
		c.charge()
		c.passed()
		if c.progress() > firstShare {
			return
		}
	}
	if len(pool) == 0 {
		c.take()
	}
}

// refills is how many refills are tried in vain before the overlap search has its
// turn.
const refills = 20

// refillAll refills the best layout again and again, and goes on from what is not
// worse: fewer boards, or the same with fuller and emptier ones. It takes no more
// than half of the budget.
func (c *chain) refillAll() {
	c.base.copyFrom(c.ground())
	c.cur.copyFrom(&c.base)
	at, squares := c.value(), c.squares()
	defer func() {
		at.offcut = 0
		c.leanAt = at
		c.lean.copyFrom(&c.base)
	}()
	for vain := 0; vain < refills && 2*c.filling <= c.passes; vain++ {
		c.cur.copyFrom(&c.base)
		if c.refill() {
			c.dropEmpty()
			w, q := c.value(), c.squares()
			w.offcut, at.offcut = 0, 0
			if w.less(at) || w == at && q >= squares {
				if q > squares+1e-9 {
					vain = 0
				}
				at, squares = w, q
				c.base.copyFrom(&c.cur)
				c.take()
			}
		}
		if c.charge() || c.spent() {
			c.passed()
			return
		}
	}
}

// ground returns the layout to go on from: a lean one, if there is one as cheap as
// the best.
func (c *chain) ground() *layout {
	w := c.worth
	if w.offcut = 0; c.lean.places != nil && c.leanAt == w {
		return &c.lean
	}
	return &c.best
}

// charge counts the places that were looked at as passes and reports whether there
// is a better layout to go on from.
func (c *chain) charge() bool {
	for ; c.looks > 0; c.looks -= evals * len(c.items) {
		c.filling++
		if c.pass() || c.spent() {
			c.looks = 0
			return true
		}
	}
	return false
}

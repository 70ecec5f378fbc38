package router

import (
	"cmp"
	"math"
	"slices"

	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// group is one shape, or two that are laid as one, in a box of their own.
type group struct {
	w, h   length.Length
	shapes [2]*shape
	at     [2]geom.Point // places in the box
	n      int
}

func alone(sh *shape) group { return group{w: sh.w, h: sh.h, shapes: [2]*shape{sh}, n: 1} }

// maxCorners is how many corners of one pair are tried when an item is placed
// next to another.
const maxCorners = 24

// fit places item i on board b without overlap, as far left as it goes, lowest
// first where equal, or as far down, in a position where corners of no-fit
// polygons or the edges of the board are touched. It reports whether there is one.
func (s *searcher) fit(i, b int32) bool {
	spot := vacancy{rank: math.Inf(1)}
	for _, sh := range s.kinds[s.items[i]].ways[s.cur.boards[b].stock] {
		s.vacant(b, alone(sh), &spot)
	}
	if spot.n == 0 {
		return false
	}
	s.move(i, place{b, spot.shapes[0], spot.x, spot.y})
	return true
}

// vacancy is a place for a group, with its rank: less is better.
type vacancy struct {
	group
	x, y length.Length
	rank float64
}

// vacant makes best the place of a group on a board when that is better.
func (s *searcher) vacant(b int32, g group, best *vacancy) {
	bd := &s.cur.boards[b]
	mx, my := bd.w-g.w, bd.h-g.h
	if mx < 0 || my < 0 {
		return
	}
	add := func(x, y length.Length) {
		if x < 0 || y < 0 || x > mx || y > my {
			return
		}
		rank := float64(x+g.w) + 1e-3*float64(y)
		if s.down {
			rank = float64(y+g.h) + 1e-3*float64(x)
		}
		if rank >= best.rank {
			return
		}
		for k := range g.n {
			if s.meets(-1, b, g.shapes[k], x+g.at[k].X, y+g.at[k].Y) {
				return
			}
		}
		*best = vacancy{g, x, y, rank}
	}
	add(0, 0)
	add(0, my)
	for _, j := range bd.items {
		a := &s.cur.places[j]
		for k := range g.n {
			s.corners(a.sh, g.shapes[k], func(x, y length.Length) {
				x, y = a.x+x-g.at[k].X, a.y+y-g.at[k].Y
				add(x, y)
				add(0, y)
				add(x, 0)
				add(x, my)
			})
		}
	}
}

// meets reports whether a shape at a place on a board overlaps anything.
func (s *searcher) meets(i, b int32, sh *shape, x, y length.Length) bool {
	for _, j := range s.cur.boards[b].items {
		a := &s.cur.places[j]
		if j == i || !s.near(a, sh, x, y) {
			continue
		}
		if s.shop.meets(a.sh, sh, geom.Pt(x-a.x, y-a.y)) {
			return true
		}
	}
	return false
}

// open adds a board for item i, of the stock that is cheapest for its area, or at
// random of all that are left. It reports false when none is left that holds it.
func (s *searcher) open(i int32, anyStock bool) (int32, bool) {
	k := &s.kinds[s.items[i]]
	best, bestKey := -1, 0.0
	for _, j := range s.stocks {
		if !s.holds(k, j) || s.left(j) == 0 {
			continue
		}
		st := &s.p.Stocks[j]
		key := float64(st.Cost) / (float64(st.Usable.Dx()) * float64(st.Usable.Dy()))
		if anyStock && st.Cost > 0 {
			key = 1 + s.rng.Float64()
		}
		if best < 0 || key < bestKey {
			best, bestKey = j, key
		}
	}
	if best < 0 {
		return 0, false
	}
	return s.addBoard(best), true
}

// addBoard adds an empty board of a stock.
func (s *searcher) addBoard(stock int) int32 {
	u := s.p.Stocks[stock].Usable
	n := len(s.cur.boards)
	if cap(s.cur.boards) > n {
		s.cur.boards = s.cur.boards[:n+1]
	} else {
		s.cur.boards = append(s.cur.boards, board{})
	}
	b := &s.cur.boards[n]
	b.stock, b.w, b.h, b.items = stock, u.Dx(), u.Dy(), b.items[:0]
	return int32(n)
}

// holds reports whether a kind fits an empty sheet of a stock.
func (s *shop) holds(k *kind, stock int) bool {
	u := s.p.Stocks[stock].Usable
	for _, sh := range k.ways[stock] {
		if sh.w <= u.Dx() && sh.h <= u.Dy() {
			return true
		}
	}
	return false
}

// left returns how many more sheets of a stock may be used: -1 is any number.
func (s *searcher) left(stock int) int {
	n := s.p.Stocks[stock].Available
	if n == parts.Unlimited {
		return -1
	}
	for b := range s.cur.boards {
		if s.cur.boards[b].stock == stock {
			n--
		}
	}
	return max(0, n)
}

// construct places all items in an order, each on the first board where it fits,
// together with its mate when it has one and there is room for both. Boards that
// refused a kind are not asked again until they change, which they only do by
// becoming fuller. When the search is stopped, the rest is shelved.
func (s *searcher) construct(order []int32, anyStock bool) {
	s.cur.boards = s.cur.boards[:0]
	for i := range s.cur.places {
		s.cur.places[i] = place{board: -1}
	}
	type refusal struct{ kind, mate, board int32 }
	refused := map[refusal]bool{}
	free := []float64{}
	// lay lays item i, and its mate when j is not less than 0.
	lay := func(i, j, b int32) bool {
		area, r := s.kinds[s.items[i]].area, refusal{s.items[i], -1, b}
		if j >= 0 {
			area, r.mate = area+s.kinds[s.items[j]].area, s.items[j]
		}
		if free[b] < area || refused[r] {
			return false
		}
		if j < 0 && !s.fit(i, b) || j >= 0 && !s.fitTwo(i, j, b) {
			refused[r] = true
			return false
		}
		free[b] -= area
		return true
	}
	anywhere := func(i, j int32) bool {
		for b := range s.cur.boards {
			if lay(i, j, int32(b)) {
				return true
			}
		}
		return false
	}
	for n, i := range order {
		if s.stop() {
			s.shelve(order[n:])
			return
		}
		if s.cur.places[i].board >= 0 {
			continue // laid with its mate
		}
		j := s.mates.of(i)
		if j >= 0 && anywhere(i, j) || anywhere(i, -1) {
			continue
		}
		if b, ok := s.open(i, anyStock); ok {
			bd := &s.cur.boards[b]
			free = append(free, float64(bd.w)*float64(bd.h))
			if j < 0 || !lay(i, j, b) {
				lay(i, -1, b)
			}
		}
	}
}

// bySize returns the items, large ones first, by one of several measures.
func (s *searcher) bySize(by int) []int32 {
	list := make([]int32, len(s.items))
	for i := range list {
		list[i] = int32(i)
	}
	key := func(i int32) float64 {
		k := &s.kinds[s.items[i]]
		var w, h length.Length
		for _, ways := range k.ways {
			if len(ways) > 0 {
				w, h = ways[0].w, ways[0].h
				break
			}
		}
		switch by {
		case 0:
			return k.size
		case 1:
			return float64(max(w, h))
		case 2:
			return float64(w) * float64(h)
		}
		return float64(min(w, h))
	}
	slices.SortStableFunc(list, func(a, b int32) int { return -cmp.Compare(key(a), key(b)) })
	return list
}

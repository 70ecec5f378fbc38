package router

import (
	"math"
	"math/rand/v2"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// place is where an item lies: on which board, in which shape, the lower left
// corner of its box from the lower left of the usable area.
type place struct {
	board int32
	sh    *shape
	x, y  length.Length
}

// board is a sheet that is being filled; overlaps are allowed while searching.
type board struct {
	stock int
	w, h  length.Length // usable
	items []int32
}

// layout is a state of the search.
type layout struct {
	places []place // of each item; board < 0 is not placed
	boards []board
}

// copyFrom makes l the same as o.
func (l *layout) copyFrom(o *layout) {
	l.places = append(l.places[:0], o.places...)
	for len(l.boards) < len(o.boards) {
		l.boards = append(l.boards, board{})
	}
	l.boards = l.boards[:len(o.boards)]
	for i := range o.boards {
		b, c := &l.boards[i], &o.boards[i]
		b.stock, b.w, b.h = c.stock, c.w, c.h
		b.items = append(b.items[:0], c.items...)
	}
}

// searcher is the work space of one chain.
type searcher struct {
	*shop
	rng   *rand.Rand
	items []int32 // kind of each item
	cur   layout
	// weight of each pair of items, row by row, symmetric: how much an overlap of
	// the two counts. It grows while they overlap.
	weight []float32
	// totals of the last measure.
	raw      float64 // sum of overlaps
	load     []float64
	order    []int32
	passes   int
	pass     func() bool // counts a pass; reports whether there is a better layout to go on from
	number   int         // of the chain
	large    []int32     // the items, large ones first
	some     []int32
	stop     func() bool    // the context has ended
	spent    func() bool    // the budget is spent
	progress func() float64 // of the budget, from 0 to 1
	samples  int
	least    layout
	hits     []hit
	spots    []spot // what lies on the board that is looked at
	down     bool   // fit looks for the lowest place instead of the leftmost
	pool     pool
	mates    mates
	heap     []int32        // items that are not laid yet, of a filling
	seen     map[int32]bool // kinds that were looked at
	looks    int            // places that a filling has looked at
	filled   filling
	fullest  filling
}

// hit is a pair of items that overlap, and how much.
type hit struct {
	i, j int32
	v    float64
}

// overlap returns how much two placed items overlap, unweighted: the depth in
// millimetres times the scale of the two.
func (s *searcher) overlap(i, j int32) float64 {
	a, b := &s.cur.places[i], &s.cur.places[j]
	if !s.near(a, b.sh, b.x, b.y) {
		return 0
	}
	d := s.depth(a.sh, b.sh, geom.Pt(b.x-a.x, b.y-a.y))
	if d == 0 {
		return 0
	}
	return (d/float64(length.Millimetre) + tooth) * float64(scale(s.kinds[s.items[i]].size, s.kinds[s.items[j]].size))
}

// near reports whether the box of a placed item is within the gap of another.
func (s *searcher) near(a *place, sh *shape, x, y length.Length) bool {
	return a.x < x+sh.w+s.gap && x < a.x+a.sh.w+s.gap && a.y < y+sh.h+s.gap && y < a.y+a.sh.h+s.gap
}

// move takes item i to a place.
func (s *searcher) move(i int32, to place) {
	from := &s.cur.places[i]
	if from.board != to.board {
		if from.board >= 0 {
			list := s.cur.boards[from.board].items
			for k, j := range list {
				if j == i {
					list[k] = list[len(list)-1]
					s.cur.boards[from.board].items = list[:len(list)-1]
					break
				}
			}
		}
		s.cur.boards[to.board].items = append(s.cur.boards[to.board].items, i)
	}
	*from = to
}

// found is a place with its cost.
type found struct {
	place
	cost float64
}

// keep is how many samples are refined.
const keep = 3

// best searches the least weighted overlap for item i: at random over the boards
// given, near where it lies, and touching its neighbours; the best few are
// refined by moving out of what is overlapped and by descent along single
// directions.
func (s *searcher) best(i int32, boards []int32) found {
	k := &s.kinds[s.items[i]]
	cur := s.cur.places[i]
	top := [keep]found{}
	n := 0
	try := func(b int32, sh *shape, x, y length.Length) {
		bd := &s.cur.boards[b]
		x, y = max(0, min(x, bd.w-sh.w)), max(0, min(y, bd.h-sh.h))
		bound := math.Inf(1)
		if n == keep {
			bound = top[keep-1].cost
		}
		c := s.cost(sh, x, y, bound)
		if c >= bound {
			return
		}
		at := min(n, keep-1)
		for at > 0 && top[at-1].cost > c {
			top[at] = top[at-1]
			at--
		}
		top[at] = found{place{b, sh, x, y}, c}
		n = min(n+1, keep)
	}
	for _, b := range boards {
		bd := &s.cur.boards[b]
		ways := k.ways[bd.stock]
		s.look(i, b)
		count := s.samples
		if b == cur.board {
			try(b, cur.sh, cur.x, cur.y)
		} else {
			count /= 2
		}
		for range count {
			sh := ways[s.rng.IntN(len(ways))]
			if sh.w > bd.w || sh.h > bd.h {
				continue
			}
			try(b, sh, s.upTo(bd.w-sh.w), s.upTo(bd.h-sh.h))
		}
		if b == cur.board {
			s.nearby(i, bd, ways, try)
		}
		s.touching(b, bd, ways, try)
	}
	out := found{cost: math.Inf(1)}
	for t := range n {
		if len(boards) > 1 {
			s.look(i, top[t].board)
		}
		f := s.descend(s.exit(top[t]))
		if f.cost < out.cost {
			out = f
		}
		if out.cost == 0 {
			break
		}
	}
	return out
}

// upTo returns a random length from 0 to most.
func (s *searcher) upTo(most length.Length) length.Length {
	if most <= 0 {
		return 0
	}
	return length.Length(s.rng.Int64N(int64(most) + 1))
}

// nearby tries places around where item i lies.
func (s *searcher) nearby(i int32, bd *board, ways []*shape, try func(int32, *shape, length.Length, length.Length)) {
	cur := s.cur.places[i]
	for range s.samples / 2 {
		sh := cur.sh
		if s.rng.IntN(4) == 0 {
			sh = ways[s.rng.IntN(len(ways))]
		}
		if sh.w > bd.w || sh.h > bd.h {
			continue
		}
		r := 0.3 * float64(max(sh.w, sh.h))
		x := cur.x + (cur.sh.w-sh.w)/2 + length.Length(s.rng.NormFloat64()*r)
		y := cur.y + (cur.sh.h-sh.h)/2 + length.Length(s.rng.NormFloat64()*r)
		try(cur.board, sh, x, y)
	}
}

// touching tries places where a corner of a no-fit polygon or of the board is
// touched: perfect fits cannot be met by chance.
func (s *searcher) touching(b int32, bd *board, ways []*shape, try func(int32, *shape, length.Length, length.Length)) {
	if len(s.spots) == 0 {
		return
	}
	for range s.samples / 2 {
		sh := ways[s.rng.IntN(len(ways))]
		if sh.w > bd.w || sh.h > bd.h {
			continue
		}
		a := &s.cur.places[s.spots[s.rng.IntN(len(s.spots))].item]
		if a.sh.square && sh.square {
			x, y := s.corner(a, sh)
			if x >= 0 && y >= 0 && x <= bd.w-sh.w && y <= bd.h-sh.h {
				try(b, sh, x, y)
			}
			continue
		}
		v := s.end(a.sh, sh)
		x, y := a.x+v.X, a.y+v.Y
		switch s.rng.IntN(8) {
		case 0:
			x = 0
		case 1:
			x = bd.w - sh.w
		case 2:
			y = 0
		case 3:
			y = bd.h - sh.h
		}
		if x < 0 || y < 0 || x > bd.w-sh.w || y > bd.h-sh.h {
			continue
		}
		try(b, sh, x, y)
	}
}

// end returns a random corner of the no-fit polygon of two shapes, or at least of
// one of the convex polygons it is made of.
func (s *searcher) end(a, b *shape) geom.Point {
	if s.loose {
		ends := looseEnds(a, b, s.rng.IntN(len(a.fixed)*len(b.moved)))
		return ends[s.rng.IntN(len(ends))]
	}
	p := s.pair(a, b)
	if s.charts {
		if c := p.charted(); c != nil {
			return c.ends[s.rng.IntN(len(c.ends))]
		}
	}
	e := &p.edges[s.rng.IntN(len(p.edges))]
	return geom.Pt(length.Length(e.ax), length.Length(e.ay))
}

// corner returns a random place at which a rectangle lies flush against another:
// at one of its sides, along a side of it or at the edge of the board.
func (s *searcher) corner(a *place, sh *shape) (x, y length.Length) {
	x, y = a.x-sh.w-s.gap, a.y-sh.h-s.gap
	if s.rng.IntN(2) == 0 {
		x = a.x + a.sh.w + s.gap
	}
	if s.rng.IntN(2) == 0 {
		y = a.y + a.sh.h + s.gap
	}
	switch s.rng.IntN(8) {
	case 0:
		x = a.x
	case 1:
		y = a.y
	case 2:
		x = a.x + a.sh.w - sh.w
	case 3:
		y = a.y + a.sh.h - sh.h
	case 4:
		x = 0
	case 5:
		y = 0
	}
	return x, y
}

// descend refines a place: steps in one of four directions, longer after a
// success and shorter after a failure, down to a unit of the grid; and pushes out
// of what is overlapped.
func (s *searcher) descend(f found) found {
	bd := &s.cur.boards[f.board]
	mx, my := bd.w-f.sh.w, bd.h-f.sh.h
	step := [2]float64{0.05 * float64(f.sh.w), 0.05 * float64(f.sh.h)}
	fails := 0
	for f.cost > 0 && (step[0] >= 1 || step[1] >= 1) {
		var dx, dy float64
		switch s.rng.IntN(4) {
		case 0:
			dx = step[0]
		case 1:
			dy = step[1]
		case 2:
			dx, dy = step[0], step[1]
		default:
			dx, dy = step[0], -step[1]
		}
		if s.rng.IntN(2) == 0 {
			dx, dy = -dx, -dy
		}
		if fails%8 == 7 {
			if vx, vy := s.pushed(f); vx != 0 || vy != 0 {
				dx, dy = vx, vy
			}
		}
		x := max(0, min(mx, f.x+length.Length(math.Round(dx))))
		y := max(0, min(my, f.y+length.Length(math.Round(dy))))
		if x != f.x || y != f.y {
			if c := s.cost(f.sh, x, y, f.cost); c < f.cost {
				f.x, f.y, f.cost = x, y, c
				step[0], step[1] = step[0]*1.1, step[1]*1.1
				fails = 0
				continue
			}
		}
		fails++
		step[0], step[1] = step[0]*0.7, step[1]*0.7
	}
	return f
}

// exit moves a place out of what it overlaps, one after the other or all at once,
// as long as that helps.
func (s *searcher) exit(f found) found {
	bd := &s.cur.boards[f.board]
	mx, my := bd.w-f.sh.w, bd.h-f.sh.h
	for f.cost > 0 {
		better := f
		var sx, sy float64
		n := 0
		try := func(vx, vy float64) {
			x := max(0, min(mx, f.x+length.Length(math.Round(vx))))
			y := max(0, min(my, f.y+length.Length(math.Round(vy))))
			if c := s.cost(f.sh, x, y, better.cost); c < better.cost {
				better.x, better.y, better.cost = x, y, c
			}
		}
		for k := range s.spots {
			a := &s.cur.places[s.spots[k].item]
			if !s.near(a, f.sh, f.x, f.y) {
				continue
			}
			vx, vy := s.push(a.sh, f.sh, geom.Pt(f.x-a.x, f.y-a.y))
			if vx == 0 && vy == 0 {
				continue
			}
			n++
			sx, sy = sx+vx, sy+vy
			try(vx, vy)
		}
		if n > 1 {
			try(sx, sy)
			try(sx/2, sy/2)
		}
		if !(better.cost < 0.98*f.cost) {
			return better
		}
		f = better
	}
	return f
}

// pushed returns the sum of the shortest ways out of what a place overlaps.
func (s *searcher) pushed(f found) (vx, vy float64) {
	for k := range s.spots {
		a := &s.cur.places[s.spots[k].item]
		if !s.near(a, f.sh, f.x, f.y) {
			continue
		}
		px, py := s.push(a.sh, f.sh, geom.Pt(f.x-a.x, f.y-a.y))
		vx, vy = vx+px, vy+py
	}
	return vx, vy
}

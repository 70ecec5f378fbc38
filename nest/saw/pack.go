package saw

import (
	"math"
	"math/rand/v2"
	"slices"

	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/length"
)

// item is one copy of a part.
type item struct {
	part int32
	w, h length.Length // of the blank, enlarged by the kerf
	area float64
}

// shop is a problem of one material as the search sees it.
type shop struct {
	p     *nest.Problem
	kerf  length.Length
	items []item
	// level and upright say, for part and stock, whether the part may lie as
	// drawn and a quarter turn.
	level, upright [][]bool
	w, h           []length.Length // usable area of each stock, enlarged
	stocks         []int           // stocks that can hold anything, cheapest board first
	narrow         length.Length   // the least side of any item
}

// newShop returns the shop of a material, or nil when it has no parts.
func newShop(p *nest.Problem, material string) *shop {
	s := &shop{p: p, kerf: p.Kerf, narrow: math.MaxInt64}
	s.level, s.upright = make([][]bool, len(p.Parts)), make([][]bool, len(p.Parts))
	for j := range p.Stocks {
		u := p.Stocks[j].Usable
		s.w, s.h = append(s.w, u.Dx()+p.Kerf), append(s.h, u.Dy()+p.Kerf)
		if p.Stocks[j].Material == material && !u.Empty() && p.Stocks[j].Available != 0 {
			s.stocks = append(s.stocks, j)
		}
	}
	for i := range p.Parts {
		part := &p.Parts[i]
		s.level[i], s.upright[i] = make([]bool, len(p.Stocks)), make([]bool, len(p.Stocks))
		if part.Material != material || part.Copies == 0 {
			continue
		}
		it := item{part: int32(i), w: part.Blank.X + p.Kerf, h: part.Blank.Y + p.Kerf}
		it.area = float64(part.Blank.X) * float64(part.Blank.Y)
		for j := range p.Stocks {
			for _, t := range p.Turns(i, j) {
				s.level[i][j] = s.level[i][j] || t%180 == 0
				s.upright[i][j] = s.upright[i][j] || t%180 == 90
			}
		}
		for range part.Copies {
			s.items = append(s.items, it)
		}
		s.narrow = min(s.narrow, it.w, it.h)
	}
	if len(s.items) == 0 {
		return nil
	}
	slices.SortStableFunc(s.stocks, func(a, b int) int {
		x, y := s.costPerArea(a), s.costPerArea(b)
		switch {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	return s
}

func (s *shop) costPerArea(stock int) float64 {
	return float64(s.p.Stocks[stock].Cost) / (float64(s.w[stock]) * float64(s.h[stock]))
}

// fits reports in which ways an item fits into a piece of a stock.
func (s *shop) fits(it *item, stock int, w, h length.Length) (level, upright bool) {
	return s.level[it.part][stock] && it.w <= w && it.h <= h,
		s.upright[it.part][stock] && it.h <= w && it.w <= h
}

// fitsAny reports whether an item fits some sheet of its material.
func (s *shop) fitsAny(it *item) bool {
	for j := range s.p.Stocks {
		if s.p.Stocks[j].Material == s.p.Parts[it.part].Material {
			if a, b := s.fits(it, j, s.w[j], s.h[j]); a || b {
				return true
			}
		}
	}
	return false
}

// rules are how an item chooses its place.
type rules struct {
	fit   uint8 // which free piece: see score
	split uint8 // which cut first: see uprightFirst
	stock uint8 // which sheet is opened: see open
}

const (
	fitKinds   = 4
	splitKinds = 5
	stockKinds = 4
)

// score says how well an item of size w x h lies in a free piece; less is better.
func (r rules) score(c *node, w, h length.Length) int64 {
	dx, dy := int64(c.w-w), int64(c.h-h)
	switch r.fit {
	case 0: // the shorter leftover
		return min(dx, dy)<<28 + max(dx, dy)
	case 1: // the longer leftover
		return max(dx, dy)<<28 + min(dx, dy)
	case 2: // the least area left, in units that do not overflow
		return (int64(c.w)*int64(c.h) - int64(w)*int64(h)) >> 3
	}
	// An exact side first of all, then the smallest piece.
	if dx == 0 || dy == 0 {
		return max(dx, dy)
	}
	return 1<<58 + (int64(c.w)*int64(c.h))>>3
}

// uprightFirst says which cut frees an item of size w x h from a piece first.
func (r rules) uprightFirst(c *node, w, h length.Length, rng *rand.Rand) bool {
	dx, dy := c.w-w, c.h-h
	switch r.split {
	case 0: // the larger leftover stays whole
		return int64(dx)*int64(c.h) >= int64(dy)*int64(c.w)
	case 1: // the shorter leftover axis is cut off last
		return dx >= dy
	case 2:
		return dx < dy
	case 3: // along the longer side of the piece: strips
		return c.w < c.h
	}
	return rng.IntN(2) == 0
}

// layout is a state of the search.
type layout struct {
	trees    []*tree
	used     []int // sheets of each stock
	unplaced []int32
}

// worth is how good a layout is; less is better, in the order of the fields.
type worth struct {
	unplaced float64 // area
	cost     int64
	sheets   int
	guide    float64 // concentrates what is free
}

func (a worth) less(b worth) bool {
	switch {
	case a.unplaced != b.unplaced:
		return a.unplaced < b.unplaced
	case a.cost != b.cost:
		return a.cost < b.cost
	case a.sheets != b.sheets:
		return a.sheets < b.sheets
	}
	return a.guide < b.guide
}

// worth returns how good l is. The guide is minus the sum of the squares of the
// largest free piece a sheet and of what else is free at a discount: one large
// free rectangle is worth more than the same area in pieces, and a sheet that is
// nearly empty is next to be saved.
func (s *shop) worth(l *layout) worth {
	w := worth{sheets: len(l.trees)}
	for _, i := range l.unplaced {
		w.unplaced += s.items[i].area
	}
	for _, t := range l.trees {
		w.cost += s.p.Stocks[t.stock].Cost
		most, all := 0.0, 0.0
		for i := range t.nodes {
			if t.nodes[i].kind == free {
				a := float64(t.nodes[i].w) * float64(t.nodes[i].h)
				most = max(most, a)
				all += a
			}
		}
		// In square metres, so that the numbers stay readable.
		const unit = float64(length.Metre) * float64(length.Metre)
		most, all = most/unit, all/unit
		w.guide -= most*most + 0.1*all*all
	}
	return w
}

// packer is the work space of one search.
type packer struct {
	*shop
	rng  *rand.Rand
	pool []*tree
}

func (k *packer) newTree() *tree {
	if n := len(k.pool); n > 0 {
		t := k.pool[n-1]
		k.pool = k.pool[:n-1]
		return t
	}
	return &tree{}
}

// add puts an item into the best place of l, opening a sheet when there is none.
// Only trees from number `from` on are looked at. It reports whether a place was
// found.
func (k *packer) add(l *layout, i int32, r rules) bool {
	it := &k.items[i]
	best, bestTree, bestFree, bestTurned := int64(math.MaxInt64), -1, 0, false
	for ti, t := range l.trees {
		level, upright := k.level[it.part][t.stock], k.upright[it.part][t.stock]
		for fi, n := range t.free {
			c := &t.nodes[n]
			if level && it.w <= c.w && it.h <= c.h {
				if sc := r.score(c, it.w, it.h); sc < best {
					best, bestTree, bestFree, bestTurned = sc, ti, fi, false
				}
			}
			if upright && it.h <= c.w && it.w <= c.h {
				if sc := r.score(c, it.h, it.w); sc < best {
					best, bestTree, bestFree, bestTurned = sc, ti, fi, true
				}
			}
		}
	}
	if bestTree < 0 {
		stock, ok := k.open(l, it, r)
		if !ok {
			l.unplaced = append(l.unplaced, i)
			return false
		}
		t := k.newTree()
		t.reset(stock, k.w[stock], k.h[stock])
		l.trees = append(l.trees, t)
		l.used[stock]++
		bestTree, bestFree = len(l.trees)-1, 0
		level, upright := k.fits(it, stock, k.w[stock], k.h[stock])
		c := &t.nodes[0]
		bestTurned = !level || upright && r.score(c, it.h, it.w) < r.score(c, it.w, it.h)
	}
	w, h := it.w, it.h
	if bestTurned {
		w, h = h, w
	}
	t := l.trees[bestTree]
	c := &t.nodes[t.free[bestFree]]
	before := len(t.free)
	t.put(bestFree, i, w, h, bestTurned, r.uprightFirst(c, w, h, k.rng), k.kerf)
	// Pieces that can hold nothing are no longer looked at.
	for f := len(t.free) - 1; f >= before-1 && f >= 0; f-- {
		if c := &t.nodes[t.free[f]]; c.w < k.narrow || c.h < k.narrow {
			t.free = append(t.free[:f], t.free[f+1:]...)
		}
	}
	return true
}

// open returns the stock to open for an item: the cheapest board by area, the
// cheapest sheet, the dearest board's rivals by chance, or the largest.
func (k *packer) open(l *layout, it *item, r rules) (int, bool) {
	best, found := 0, false
	var bestKey float64
	for _, j := range k.stocks {
		st := &k.p.Stocks[j]
		if st.Available != parts.Unlimited && l.used[j] >= st.Available {
			continue
		}
		if a, b := k.fits(it, j, k.w[j], k.h[j]); !a && !b {
			continue
		}
		var key float64
		switch {
		case st.Cost == 0: // a kept offcut that costs nothing comes first
			key = -1 / (float64(k.w[j]) * float64(k.h[j]))
		case r.stock == 0:
			key = k.costPerArea(j)
		case r.stock == 1:
			key = float64(st.Cost)
		case r.stock == 2:
			key = k.rng.Float64()
		default:
			key = 1 / (float64(k.w[j]) * float64(k.h[j]))
		}
		if !found || key < bestKey {
			best, bestKey, found = j, key, true
		}
	}
	return best, found
}

// copyInto makes dst the same as l, reusing its trees.
func (k *packer) copyInto(dst, l *layout) {
	for len(dst.trees) > len(l.trees) {
		n := len(dst.trees) - 1
		k.pool = append(k.pool, dst.trees[n])
		dst.trees = dst.trees[:n]
	}
	for len(dst.trees) < len(l.trees) {
		dst.trees = append(dst.trees, k.newTree())
	}
	for i, t := range l.trees {
		d := dst.trees[i]
		d.stock, d.area = t.stock, t.area
		d.nodes = append(d.nodes[:0], t.nodes...)
		d.free = append(d.free[:0], t.free...)
	}
	dst.used = append(dst.used[:0], l.used...)
	dst.unplaced = append(dst.unplaced[:0], l.unplaced...)
}

// clear empties l.
func (k *packer) clear(l *layout) {
	k.pool = append(k.pool, l.trees...)
	l.trees = l.trees[:0]
	l.unplaced = l.unplaced[:0]
	l.used = append(l.used[:0], make([]int, len(k.p.Stocks))...)
}

// remove takes sheet number n out of l and appends its items to list.
func (k *packer) remove(l *layout, n int, list []int32) []int32 {
	t := l.trees[n]
	for i := range t.nodes {
		if t.nodes[i].kind == blank {
			list = append(list, t.nodes[i].item)
		}
	}
	l.used[t.stock]--
	l.trees = append(l.trees[:n], l.trees[n+1:]...)
	k.pool = append(k.pool, t)
	return list
}

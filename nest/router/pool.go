package router

import (
	"math"
	"math/rand/v2"
	"slices"
)

// pool keeps the layouts of least overlap that a length was given up with.
type pool struct {
	list []pooled
	n    int
}

type pooled struct {
	layout
	raw float64
}

const poolSize = 6

func (p *pool) clear() { p.n = 0 }

// add keeps a layout when it is among the best, in order of overlap.
func (p *pool) add(l *layout, raw float64) {
	if len(p.list) == 0 {
		p.list = make([]pooled, poolSize)
	}
	if p.n == poolSize {
		if raw >= p.list[p.n-1].raw {
			return
		}
		p.n--
	}
	p.list[p.n].copyFrom(l)
	p.list[p.n].raw = raw
	p.n++
	for i := p.n - 1; i > 0 && p.list[i].raw < p.list[i-1].raw; i-- {
		p.list[i], p.list[i-1] = p.list[i-1], p.list[i]
	}
}

// swapTwo lets two of the larger items change places, centre on centre, in a shape
// they may have there; nothing happens when one does not fit where the other lies.
func (s *searcher) swapTwo() {
	n := max(2, len(s.large)/2)
	if n > len(s.large) {
		return
	}
	i := s.large[s.rng.IntN(n)]
	var j int32
	for range 20 {
		if j = s.large[s.rng.IntN(n)]; s.items[i] != s.items[j] {
			break
		}
	}
	p, q := s.cur.places[i], s.cur.places[j]
	if i == j || p.board < 0 || q.board < 0 {
		return
	}
	a, ok := s.instead(i, q)
	b, fits := s.instead(j, p)
	if ok && fits {
		s.move(i, a)
		s.move(j, b)
	}
}

// instead returns a place for item i with its centre where that of another place
// is, in the shape it has if it may, or another by chance.
func (s *searcher) instead(i int32, at place) (place, bool) {
	bd := &s.cur.boards[at.board]
	ways := s.kinds[s.items[i]].ways[bd.stock]
	if len(ways) == 0 {
		return place{}, false
	}
	sh := s.cur.places[i].sh
	if !slices.Contains(ways, sh) || sh.w > bd.w || sh.h > bd.h {
		sh = ways[s.rng.IntN(len(ways))]
	}
	x := max(0, min(bd.w-sh.w, at.x+(at.sh.w-sh.w)/2))
	y := max(0, min(bd.h-sh.h, at.y+(at.sh.h-sh.h)/2))
	return place{at.board, sh, x, y}, sh.w <= bd.w && sh.h <= bd.h
}

// pick copies one of the layouts, mostly one of the better.
func (p *pool) pick(to *layout, rng *rand.Rand) {
	i := int(math.Abs(rng.NormFloat64()) * 0.25 * float64(p.n))
	to.copyFrom(&p.list[min(i, p.n-1)].layout)
}

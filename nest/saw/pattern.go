package saw

import (
	"cmp"
	"slices"
)

// pattern is a full sheet that was met in the search.
type pattern struct {
	s      sheet
	counts []entry // copies by kind
	hash   uint64
	useful bool // was part of a plan, or of the solution of a program
}

// pool is the patterns that a chain remembers.
type pool struct {
	list  []*pattern
	seen  map[uint64]bool
	fresh []*pattern // found to be useful since the last exchange
}

const (
	// fullEnough is how many hundredths of a sheet a pattern fills at least, unless it is
	// part of a plan.
	fullEnough = 90
	// mostPatterns is how many are kept when there are twice as many.
	mostPatterns = 1500
	// mostPatternNodes bounds their memory: about fifty bytes each.
	mostPatternNodes = 200_000
	// mostRows is for how many kinds of blanks patterns are remembered: programs take time
	// with the square of it.
	mostRows = 250
)

// remembers reports whether patterns of the job are worth remembering.
func (j *job) remembers() bool { return len(j.kinds) <= mostRows && !j.p.Strip }

// newPattern returns what lies on a sheet as a pattern.
func newPattern(s *sheet) *pattern {
	p := &pattern{hash: s.hash()}
	p.s.copyFrom(s)
	var list []int32
	for i := range s.nodes {
		if k := s.nodes[i].kind; k >= 0 {
			list = append(list, k)
		}
	}
	slices.Sort(list)
	for _, k := range list {
		if n := len(p.counts); n > 0 && p.counts[n-1].row == k {
			p.counts[n-1].value++
		} else {
			p.counts = append(p.counts, entry{k, 1})
		}
	}
	return p
}

// hash returns a number for the board of a sheet and its numbers of blanks of each kind.
func (s *sheet) hash() uint64 {
	mix := func(x uint64) uint64 { // the finaliser of SplitMix64 (from memory)
		x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
		x = (x ^ x>>27) * 0x94d049bb133111eb
		return x ^ x>>31
	}
	h := mix(^uint64(s.board))
	for i := range s.nodes {
		if k := s.nodes[i].kind; k >= 0 {
			h += mix(uint64(k) + 1)
		}
	}
	return h
}

// remember takes a sheet into the pool if it is full enough, or if it is useful.
func (c *chain) remember(s *sheet, useful bool) {
	if s.board == none || s.leaves == 0 || !c.j.remembers() {
		return
	}
	b := &c.j.boards[s.board]
	if s.w != b.w || s.h != b.h || !useful && s.used*100 < b.area*fullEnough {
		return
	}
	if h := s.hash(); !c.pool.seen[h] {
		p := newPattern(s)
		c.keep(p)
		if useful {
			c.use(p)
		}
	}
}

// keep adds a pattern that is not in the pool yet.
func (c *chain) keep(p *pattern) {
	if c.pool.seen == nil {
		c.pool.seen = map[uint64]bool{}
	}
	c.pool.seen[p.hash] = true
	c.pool.list = append(c.pool.list, p)
	if n := len(c.pool.list); n >= 2*mostPatterns || n > 40 && n*len(p.s.nodes) > mostPatternNodes {
		c.prune(n / 2)
	}
}

// use marks a pattern as useful, so that it is kept and the other chains learn of it.
func (c *chain) use(p *pattern) {
	if !p.useful {
		p.useful = true
		c.pool.fresh = append(c.pool.fresh, p)
	}
}

// prune leaves so many patterns: useful ones, and the fullest. Of the useful ones half as
// many at most are useful the next time.
func (c *chain) prune(n int) {
	fill := func(p *pattern) int64 { return p.s.used << 20 / c.j.boards[p.s.board].area }
	list := c.pool.list
	slices.SortStableFunc(list, func(a, b *pattern) int {
		if a.useful != b.useful {
			if a.useful {
				return -1
			}
			return 1
		}
		return -cmp.Compare(fill(a), fill(b))
	})
	for i, p := range list {
		if i >= n/4 {
			p.useful = false
		}
		if i >= n {
			delete(c.pool.seen, p.hash)
			list[i] = nil
		}
	}
	c.pool.list = list[:n]
}

// share tells chains of the patterns that others found useful. The sheets are the same
// memory, which nobody changes.
func share(list []*chain) {
	for _, c := range list {
		for _, d := range list {
			for _, p := range c.pool.fresh {
				if c != d && !d.pool.seen[p.hash] {
					q := *p
					q.useful = true
					d.keep(&q)
				}
			}
		}
	}
	for _, c := range list {
		clear(c.pool.fresh)
		c.pool.fresh = c.pool.fresh[:0]
	}
}

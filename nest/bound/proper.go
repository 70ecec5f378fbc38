package bound

import (
	"cmp"
	"context"
	"slices"
)

// lister lists proper patterns, which have no more copies of a kind than are wanted: those
// that weigh nearly as much as the table says a sheet can. It is the recursion of the table
// once more, with all patterns of a point instead of their best value. Each point has a
// slack, how much less than the best its patterns may weigh to be part of what is sought:
//
//	slack(a, y) = slack(x, y) - (F(x, y) - F(a, y) - F(x-a, y))   of the x that gives most
//
// Few points have one of 0 or more while the slack of the sheet is small.
//
// Every pattern that straight cuts can make is met: the points of the rasters leave none
// out (raster.go), only sizes are rounded, so that there may be some more.
//
// Cost: two patterns are added for each pair that two points bring together, at some
// nanoseconds each; their number grows fast with the slack.
type lister struct {
	words int      // of the copies of a pattern, a byte for each kind
	limit []uint64 // copies wanted, as a pattern
	most  int      // patterns of a point
	beam  bool     // of more of them the heaviest are kept
	work  int      // additions so far, about
	until int      // of them

	slack []int32 // by point; -1 where nothing is sought
	least int32   // that a pattern of the point in hand weighs
	bags  []bag
	round uint32 // of the marks
	marks []mark
	pairs map[[2]int32]bool // bags that were brought together for a point
	names int32
	sum   []uint64
}

// bag is the patterns of a point, the heaviest first. Each has its weight and then its
// copies. Bags of one name are the same.
type bag struct {
	name int32
	list []uint64
}

// mark says in which bag and where a pattern of some hash is.
type mark struct {
	round uint32
	at    int32
}

const (
	// mostCopies is how many copies of a kind patterns may have, so that those of two of
	// them fit a byte.
	mostCopies = 63
	// mostWords bounds the memory of all bags: 128 MB.
	mostWords = 16_000_000
	// tops are the highest bits of all bytes.
	tops = 0x8080808080808080
)

// newLister returns a lister for so many copies of each kind, at most mostCopies. It lists
// up to most patterns of a sheet.
func newLister(limit []int, most int) *lister {
	l := &lister{words: (len(limit) + 7) / 8, most: most, pairs: map[[2]int32]bool{}}
	l.limit = make([]uint64, l.stride())
	for k, n := range limit {
		setCopies(l.limit, k, n)
	}
	size := 1
	for size < 3*most {
		size *= 2
	}
	l.marks, l.sum = make([]mark, size), make([]uint64, l.stride())
	return l
}

// stride is how many words a pattern takes.
func (l *lister) stride() int { return l.words + 1 }

// copiesOf returns the copies of a kind that a pattern has.
func copiesOf(pattern []uint64, kind int) int {
	return int(pattern[1+kind/8] >> (kind % 8 * 8) & 0xff)
}

// setCopies gives a pattern so many copies of a kind of which it has none.
func setCopies(pattern []uint64, kind, n int) {
	pattern[1+kind/8] |= uint64(n) << (kind % 8 * 8)
}

// noMore reports whether no byte of a is more than that of b; none is over 127.
func noMore(a, b uint64) bool { return ((b|tops)-a)&tops == tops }

// near returns the patterns of a point that weigh no less than its best value less slack.
// It reports false when there are too many, they take more additions than most, or ctx ends.
func (l *lister) near(ctx context.Context, t *table, x, y, slack int32, most int) ([]uint64, bool) {
	l.until = l.work + most
	ny := len(t.y.points)
	n := (int(x) + 1) * ny
	if len(l.slack) < n {
		l.slack, l.bags = make([]int32, n), make([]bag, n)
	}
	for i := range n {
		l.slack[i], l.bags[i] = -1, bag{}
	}
	l.spread(t, x, y, slack)
	total := 0
	for i := int32(1); i <= x; i++ {
		if ctx.Err() != nil {
			return nil, false
		}
		for k := int32(1); k <= y; k++ {
			at := int(i)*ny + int(k)
			if l.slack[at] < 0 {
				continue
			}
			b, ok := l.gather(t, i, k, l.slack[at])
			if total += len(b.list); !ok || total > mostWords {
				return nil, false
			}
			l.bags[at] = b
		}
	}
	return l.bags[int(x)*ny+int(y)].list, true
}

// spread works out the slack of all points, from the largest down.
func (l *lister) spread(t *table, x, y, slack int32) {
	ny := len(t.y.points)
	l.slack[int(x)*ny+int(y)] = slack
	for i := x; i > 0; i-- {
		row, left := t.row(i), t.row(i-1)
		for k := y; k > 0; k-- {
			s := l.slack[int(i)*ny+int(k)]
			if s < 0 {
				continue
			}
			f := row[k]
			pass := func(x, y, loss int32) {
				at := int(x)*ny + int(y)
				l.slack[at] = max(l.slack[at], s-loss)
			}
			if left[k] > 0 {
				pass(i-1, k, f-left[k])
			}
			if row[k-1] > 0 {
				pass(i, k-1, f-row[k-1])
			}
			for _, c := range t.x.cuts[i] {
				if a, b := t.row(c.a)[k], t.row(c.b)[k]; a > 0 && b > 0 && f-a-b <= s {
					pass(c.a, k, f-a-b)
					pass(c.b, k, f-a-b)
				}
			}
			for _, c := range t.y.cuts[k] {
				if a, b := row[c.a], row[c.b]; a > 0 && b > 0 && f-a-b <= s {
					pass(i, c.a, f-a-b)
					pass(i, c.b, f-a-b)
				}
			}
			l.work += len(t.x.cuts[i]) + len(t.y.cuts[k])
		}
	}
}

// gather makes the bag of a point from those of lesser points. It reports false when there
// are too many patterns.
func (l *lister) gather(t *table, x, y, slack int32) (bag, bool) {
	ny := len(t.y.points)
	at := func(x, y int32) *bag { return &l.bags[int(x)*ny+int(y)] }
	f := t.row(x)[y]
	l.least = f - slack
	l.round++
	clear(l.pairs)
	var b bag
	left, below := at(x-1, y), at(x, y-1)
	for _, o := range []*bag{left, below} {
		for i := 0; i < len(o.list) && int32(o.list[i]) >= l.least; i += l.stride() {
			l.put(&b, o.list[i:i+l.stride()])
		}
		l.work += len(o.list)
	}
	for _, i := range t.fit[x] {
		q := &t.blanks[i]
		if w := t.weight[q.kind]; q.y == y && w > 0 && w >= l.least && copiesOf(l.limit, q.kind) > 0 {
			clear(l.sum)
			l.sum[0] = uint64(w)
			setCopies(l.sum, q.kind, 1)
			l.put(&b, l.sum)
		}
	}
	for _, c := range t.x.cuts[x] {
		if f-t.row(c.a)[y]-t.row(c.b)[y] <= slack && !l.join(&b, at(c.a, y), at(c.b, y)) {
			return b, false
		}
	}
	for _, c := range t.y.cuts[y] {
		if f-t.row(x)[c.a]-t.row(x)[c.b] <= slack && !l.join(&b, at(x, c.a), at(x, c.b)) {
			return b, false
		}
	}
	if len(b.list) > l.most*l.stride() {
		if !l.beam {
			return b, false
		}
		l.trim(&b)
	}
	n := len(b.list)
	if n == 0 {
		return b, true
	}
	for _, o := range []*bag{left, below} {
		if len(o.list) == n && int32(o.list[n-l.stride()]) >= f-slack && l.least == f-slack {
			return *o, true // nothing was added to it
		}
	}
	l.names++
	return bag{l.names, l.sorted(b.list)}, true
}

// join puts the sums of the patterns of two bags into a third.
func (l *lister) join(to, a, b *bag) bool {
	if a.name == 0 || b.name == 0 {
		return true
	}
	pair := [2]int32{min(a.name, b.name), max(a.name, b.name)}
	if l.pairs[pair] {
		return true
	}
	l.pairs[pair] = true
	stride := l.stride()
	for i := 0; i < len(a.list); i += stride {
		p := a.list[i : i+stride]
	others:
		for k := 0; k < len(b.list); k += stride {
			q := b.list[k : k+stride]
			l.work += 4
			w := int32(p[0]) + int32(q[0])
			if w < l.least {
				break
			}
			for n := 1; n < stride; n++ {
				s := p[n] + q[n]
				if !noMore(s, l.limit[n]) {
					continue others // more than are wanted
				}
				l.sum[n] = s
			}
			l.sum[0] = uint64(w)
			l.work += 25
			if l.put(to, l.sum); len(to.list) > l.most*stride {
				if !l.beam {
					return false
				}
				if len(to.list) > 2*l.most*stride {
					l.trim(to)
				}
			}
		}
		if l.work > l.until {
			return false
		}
	}
	return true
}

// trim leaves as many patterns in the bag that is made as there may be, the heaviest. Others
// must be heavier than the last of them from now on.
func (l *lister) trim(b *bag) {
	list := l.sorted(b.list)[:l.most*l.stride()]
	l.work += 20 * len(b.list)
	l.least = int32(list[len(list)-l.stride()]) + 1
	l.round++
	b.list = b.list[:0]
	for i := 0; i < len(list); i += l.stride() {
		l.put(b, list[i:i+l.stride()])
	}
}

// put adds a pattern to the bag that is made, unless it is there.
func (l *lister) put(b *bag, p []uint64) {
	h := uint64(0)
	for _, w := range p[1:] {
		h = (h ^ w) * 0x9e3779b97f4a7c15 // of the golden ratio, as in SplitMix64 (from memory)
		h ^= h >> 31
	}
	for i := h; ; i++ {
		m := &l.marks[i%uint64(len(l.marks))]
		if m.round != l.round {
			*m = mark{l.round, int32(len(b.list))}
			b.list = append(b.list, p...)
			return
		}
		if slices.Equal(b.list[m.at+1:int(m.at)+len(p)], p[1:]) {
			return
		}
	}
}

// sorted returns patterns, the heaviest first.
func (l *lister) sorted(list []uint64) []uint64 {
	stride := l.stride()
	order := make([]int, len(list)/stride)
	for i := range order {
		order[i] = i * stride
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(list[b], list[a]), slices.Compare(list[a+1:a+stride], list[b+1:b+stride]))
	})
	sorted := make([]uint64, 0, len(list))
	for _, i := range order {
		sorted = append(sorted, list[i:i+stride]...)
	}
	return sorted
}

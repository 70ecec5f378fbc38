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
// A pattern is kept once, at the least point that holds it (builds.go), and is put beside and
// above all others that it may lie with. Where rasters round, it has its true size as well: a
// sheet may hold it in units and be too small for it, and so may the piece that it would be
// cut from.
//
// Every pattern that straight cuts can make is met: the points of the rasters leave none out
// (raster.go). Along an axis, let panels take q units of a sheet of W beside a pattern. Then the
// piece that it comes from need be no longer than the last point within W-q; and no shorter than
// the last one within the true length of the pattern, because that takes no more units than
// are left.
//
// Cost: some microseconds and a hundred bytes for each pattern that is kept.
type lister struct {
	builds
	limit []uint64 // copies wanted, as a pattern
	kinds []rectangle
	exact bool // the rasters do not round
	most  int  // patterns of a sheet
	best  bool // of more of them the heaviest are listed
	work  int  // additions so far, about
	until int  // of them

	*losses
	slack int32

	// Of each point, in rows along x, how many points of its column have patterns of their own up to
	// there, and what the heaviest of those weighs.
	count, top []int32
	columns    []prefixes // patterns that are as wide as a point, by height
	rows       []heap     // patterns that are as high, and no wider than the column in hand
	across     [][]own    // of each row the patterns of its points
	up         []own      // and of the column in hand
	held       int        // patterns of all lists
}

const (
	// mostCopies is how many copies of a kind patterns may have, so that those of two of
	// them fit a byte.
	mostCopies = 63
	// mostBuilds and mostHeld bound the memory: patterns, and how many all lists have together.
	mostBuilds, mostHeld = 600_000, 20_000_000
	// tops are the highest bits of all bytes.
	tops = 0x8080808080808080
)

// newLister returns a lister of patterns of kinds, with at most so many copies of each, none
// more than mostCopies. It lists up to most patterns of a sheet.
func newLister(kinds []rectangle, exact bool, limit []int, most int) *lister {
	l := &lister{builds: builds{index: newIndex(wordsFor(len(limit)))}, kinds: kinds, exact: exact, most: most}
	l.limit = make([]uint64, l.stride())
	for k, n := range limit {
		setCopies(l.limit, k, n)
	}
	l.sum = make([]uint64, l.words)
	return l
}

// stride is how many words a pattern takes.
func (l *lister) stride() int { return l.words + 1 }

// wordsFor returns how many words the copies of so many kinds take.
func wordsFor(kinds int) int { return (kinds + 7) / 8 }

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

// near returns the patterns of a sheet that weigh no less than its best value less slack, the
// heaviest first; each is its weight and then its copies. It reports false when there are too
// many, they take more additions than most, or ctx ends.
func (l *lister) near(ctx context.Context, c *losses, slack int32, most int) ([]uint64, bool) {
	l.until = l.work + most
	l.losses, l.slack = c, slack
	l.work += c.spread(slack)
	l.clear()
	cells := int(c.x+1) * int(c.y+1)
	l.count, l.top = make([]int32, cells), make([]int32, cells)
	l.columns, l.rows, l.across = make([]prefixes, c.x+1), make([]heap, c.y+1), make([][]own, c.y+1)
	l.held = 0
	for x := int32(1); x <= c.x; x++ {
		if ctx.Err() != nil {
			return nil, false
		}
		l.up = l.up[:0]
		for y := int32(1); y <= c.y; y++ {
			at, below := l.cell(x, y), l.cell(x, y-1)
			l.count[at], l.top[at] = l.count[below], l.top[below]
			if s := l.slackAt(x, y); s >= 0 && !l.gather(x, y, c.t.row(x)[y]-s) {
				return nil, false
			}
		}
	}
	return l.heavier(c.t.row(c.x)[c.y] - slack)
}

// release gives back the memory that listing took.
func (l *lister) release() {
	l.builds = builds{index: newIndex(l.words), sum: l.sum}
	l.count, l.top, l.columns, l.rows, l.across, l.up = nil, nil, nil, nil, nil, nil
}

// cell is the index of a point in rows along x.
func (l *lister) cell(x, y int32) int { return int(y)*int(l.x+1) + int(x) }

// slackAt is the slack of a point, below 0 where nothing is sought.
func (l *lister) slackAt(x, y int32) int32 { return l.slack - l.at(x, y) }

// heavier returns the patterns that weigh at least so much, the heaviest first.
func (l *lister) heavier(least int32) ([]uint64, bool) {
	l.listed = l.listed[:0]
	for i := range l.all {
		if l.all[i].weight >= least {
			l.listed = append(l.listed, int32(i))
		}
	}
	slices.SortFunc(l.listed, func(a, b int32) int {
		return cmp.Or(cmp.Compare(l.all[b].weight, l.all[a].weight), slices.Compare(l.copiesOf(a), l.copiesOf(b)), cmp.Compare(a, b))
	})
	// A pattern may be listed in several sizes.
	l.listed = slices.CompactFunc(l.listed, func(a, b int32) bool { return slices.Equal(l.copiesOf(a), l.copiesOf(b)) })
	if len(l.listed) > l.most {
		if !l.best {
			return nil, false
		}
		l.listed = l.listed[:l.most]
	}
	list := make([]uint64, 0, len(l.listed)*l.stride())
	for _, i := range l.listed {
		list = append(append(list, uint64(l.all[i].weight)), l.copiesOf(i)...)
	}
	return list, true
}

// gather makes the patterns of a point that weigh at least so much from those of lesser
// points. It reports false when there are too many patterns.
func (l *lister) gather(x, y, least int32) bool {
	from := len(l.all)
	l.blanks(x, y, least)
	for _, o := range l.across[y] {
		need := least - o.top
		a, b := l.t.x.partners(x, o.at)
		for ; a <= b; a++ {
			at := l.cell(a, y)
			if l.top[at] == 0 || l.top[at] < need {
				continue
			}
			for list := range l.columns[a].upTo(l.count[at]) {
				if !l.join(o.list, list, build{x: x, y: y}, least) {
					return false
				}
			}
		}
	}
	for _, o := range l.up {
		need := least - o.top
		a, b := l.t.y.partners(y, o.at)
		for ; a <= b; a++ {
			if l.rows[a].top == 0 || l.rows[a].top < need {
				continue
			}
			for _, list := range l.rows[a].lists {
				if !l.join(o.list, list, build{x: x, y: y, upward: true}, least) {
					return false
				}
			}
		}
	}
	l.work += 4 * (len(l.across[y]) + len(l.up))
	if len(l.all) > from {
		l.keep(x, y, int32(from))
	}
	return len(l.all) <= mostBuilds && l.held <= mostHeld
}

// blanks makes the patterns of a point that are one blank.
func (l *lister) blanks(x, y, least int32) {
	for _, i := range l.t.fit[x] {
		b := &l.t.blanks[i]
		weight := l.t.weight[b.kind]
		if b.y != y || weight <= 0 || weight < least || copiesOf(l.limit, b.kind) == 0 {
			continue
		}
		w, h := l.kinds[b.kind].w, l.kinds[b.kind].h
		if b.upright {
			w, h = h, w
		}
		if w <= l.w && h <= l.h {
			clear(l.sum)
			l.sum[b.kind/8] = 1 << (b.kind % 8 * 8)
			l.put(build{weight: weight, x: x, y: y, left: -1 - i, w: w, h: h}, l.exact)
		}
	}
}

// join makes patterns of those of two lists, which lie as the build that is given, and weigh at
// least so much.
func (l *lister) join(as, bs []int32, n build, least int32) bool {
	top := l.all[bs[0]].weight
	for _, i := range as {
		p := l.all[i]
		if p.weight+top < least {
			break
		}
		copies := l.copiesOf(i)
	others:
		for _, k := range bs {
			q := &l.all[k]
			l.work += 4
			if n.weight = p.weight + q.weight; n.weight < least {
				break
			}
			if n.w, n.h = p.w+q.w, max(p.h, q.h); n.upward {
				n.w, n.h = max(p.w, q.w), p.h+q.h
			}
			if !l.holds(&n) {
				continue
			}
			more := l.copiesOf(k)
			for m, c := range copies {
				s := c + more[m]
				if !noMore(s, l.limit[m+1]) {
					continue others // more than are wanted
				}
				l.sum[m] = s
			}
			l.work += 120
			n.left, n.right = i, k
			l.put(n, l.exact)
		}
		if l.work > l.until {
			return false
		}
	}
	return true
}

// holds reports whether the sheet is large enough for a build, and whether the piece that it is
// cut from may be.
func (l *lister) holds(b *build) bool {
	if b.w > l.w || b.h > l.h {
		return false
	}
	if l.exact {
		return true
	}
	x, y := max(b.x, l.t.x.at(b.w)), max(b.y, l.t.y.at(b.h))
	s := l.slackAt(x, y)
	return s >= 0 && b.weight >= l.t.row(x)[y]-s
}

// keep makes the builds from an index on those of a point.
func (l *lister) keep(x, y, from int32) {
	list := make([]int32, 0, len(l.all)-int(from))
	for i := from; int(i) < len(l.all); i++ {
		list = append(list, i)
	}
	slices.SortStableFunc(list, func(a, b int32) int { return cmp.Compare(l.all[b].weight, l.all[a].weight) })
	top, at := l.all[list[0]].weight, l.cell(x, y)
	l.columns[x].add(list, l.merged)
	l.rows[y].add(list, top, l.merged)
	l.count[at]++
	l.top[at] = max(l.top[at], top)
	l.across[y], l.up = append(l.across[y], own{x, top, list}), append(l.up, own{y, top, list})
}

// merged returns the patterns of two lists, the heaviest first.
func (l *lister) merged(a, b []int32) []int32 {
	list := make([]int32, 0, len(a)+len(b))
	l.work += 4 * (len(a) + len(b))
	l.held += len(a) + len(b)
	for len(a) > 0 && len(b) > 0 {
		if l.all[a[0]].weight >= l.all[b[0]].weight {
			list, a = append(list, a[0]), a[1:]
		} else {
			list, b = append(list, b[0]), b[1:]
		}
	}
	return append(append(list, a...), b...)
}

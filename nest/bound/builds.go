package bound

import (
	"slices"

	"panelyard/parts/length"
)

// builds are patterns that are made of one another: those of Wang, "Two algorithms for
// constrained two-dimensional cutting stock problems", Operations Research 31, 1983 (from
// memory).
type builds struct {
	words  int // of the copies of a build, a byte for each kind
	all    []build
	copies []uint64
	hash   []int32  // of copies: 1 more than the index of a build, 0 where there is none
	sum    []uint64 // the copies of the next one
	listed []int32  // those that were listed last
}

// build is a blank, or two builds beside or above one another.
type build struct {
	weight      int32
	x, y        int32         // the least point that holds it
	left, right int32         // of a blank left is less than 0: -1 less its index in the table
	w, h        length.Length // true
	upward      bool
}

// clear takes all builds away.
func (l *builds) clear() {
	l.all, l.copies, l.hash = l.all[:0], l.copies[:0], make([]int32, 1<<12)
}

// copiesOf returns the copies of a build, as a pattern without its weight.
func (l *builds) copiesOf(i int32) []uint64 { return l.copies[int(i)*l.words:][:l.words] }

// put adds a build with the copies of sum, unless there is one that is as good: with the same
// copies, and no larger. By how much it is larger than points say is of no account where they
// are exact.
func (l *builds) put(b build, exact bool) {
	i, mask := hashOf(l.sum), uint64(len(l.hash)-1)
	for ; l.hash[i&mask] > 0; i++ {
		n := l.hash[i&mask] - 1
		o := &l.all[n]
		if o.x <= b.x && o.y <= b.y && (exact || o.w <= b.w && o.h <= b.h) && slices.Equal(l.copiesOf(n), l.sum) {
			return
		}
	}
	l.all, l.copies = append(l.all, b), append(l.copies, l.sum...)
	l.hash[i&mask] = int32(len(l.all))
	if 2*len(l.all) > len(l.hash) {
		l.rehash()
	}
}

// rehash makes room in the hash.
func (l *builds) rehash() {
	l.hash = make([]int32, 4*len(l.hash))
	mask := uint64(len(l.hash) - 1)
	for n := range l.all {
		i := hashOf(l.copiesOf(int32(n)))
		for l.hash[i&mask] > 0 {
			i++
		}
		l.hash[i&mask] = int32(n + 1)
	}
}

// hashOf returns a hash of copies.
func hashOf(copies []uint64) uint64 {
	h := uint64(0)
	for _, w := range copies {
		h = (h ^ w) * 0x9e3779b97f4a7c15 // of the golden ratio, as in SplitMix64 (from memory)
		h ^= h >> 31
	}
	return h
}

// tree returns how a build is cut, if its blanks are those of a table.
func (l *builds) tree(t *table, i int32) *piece {
	b := &l.all[i]
	if b.left < 0 {
		return &piece{kind: t.blanks[-1-b.left].kind, w: b.w, h: b.h}
	}
	return &piece{w: b.w, h: b.h, upward: b.upward, parts: [2]*piece{l.tree(t, b.left), l.tree(t, b.right)}}
}

package bound

import "panelyard/parts/length"

// builds are patterns that are made of one another: those of Wang, "Two algorithms for
// constrained two-dimensional cutting stock problems", Operations Research 31, 1983 (from
// memory).
type builds struct {
	index  // of their copies
	all    []build
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
	l.index, l.all = newIndex(l.words), l.all[:0]
}

// put adds a build with the copies of sum, unless there is one that is as good: with the same
// copies, and no larger. By how much it is larger than points say is of no account where they
// are exact.
func (l *builds) put(b build, exact bool) {
	good := func(i int32) bool {
		o := &l.all[i]
		return o.x <= b.x && o.y <= b.y && (exact || o.w <= b.w && o.h <= b.h)
	}
	if l.find(l.sum, good) < 0 {
		l.all = append(l.all, b)
		l.add(l.sum)
	}
}

// tree returns how a build is cut, if its blanks are those of a table.
func (l *builds) tree(t *table, i int32) *piece {
	b := &l.all[i]
	if b.left < 0 {
		return &piece{kind: t.blanks[-1-b.left].kind, w: b.w, h: b.h}
	}
	return &piece{w: b.w, h: b.h, upward: b.upward, parts: [2]*piece{l.tree(t, b.left), l.tree(t, b.right)}}
}

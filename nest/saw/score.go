package saw

import (
	"cmp"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// score is how good a plan is; the fields count in their order.
type score struct {
	count   int   // panels without a place
	area    int64 // of those, in grains
	cost    int64
	sheets  int
	largest int64 // area of the largest offcut that is kept, in square units
	kept    int64 // area of all offcuts that are kept, in grains
}

// compare returns a number below, equal to or above 0 when a is better than, as
// good as or worse than b.
func (a score) compare(b score) int {
	return cmp.Or(a.required(b), -cmp.Compare(a.largest, b.largest), -cmp.Compare(a.kept, b.kept))
}

// required compares all but the offcuts.
func (a score) required(b score) int {
	return cmp.Or(cmp.Compare(a.count, b.count), cmp.Compare(a.area, b.area),
		cmp.Compare(a.cost, b.cost), cmp.Compare(a.sheets, b.sheets))
}

// score returns how good st is. Its sheets must be finished.
func (st *state) score(j *job) score {
	x := score{count: st.count, area: st.area}
	for i := range st.sheets {
		s := &st.sheets[i]
		if s.board == none || s.leaves == 0 {
			continue
		}
		x.cost += j.boards[s.board].cost
		x.sheets++
		most, all := j.kept(s)
		x.largest = max(x.largest, most)
		x.kept += all
	}
	return x
}

// finish gives a sheet all of its board and turns the first cut so that the
// larger offcut is left.
func (s *sheet) finish(j *job) {
	s.w, s.h = j.boards[s.board].w, j.boards[s.board].h
	s.settle(j)
	if s.root == none || j.tooDeep(s.deep+1) {
		return
	}
	r := &s.nodes[s.root]
	dir := rowX
	switch x, y := j.keeps(s.w-r.w, s.h), j.keeps(s.w, s.h-r.h); {
	case r.kind == rowX || r.kind >= 0 && y > x:
		dir = rowY
		if y <= x {
			return
		}
	case r.kind == rowY && x <= y:
		return
	}
	n := s.root
	row := s.alloc(dir)
	s.root = row
	s.adopt(row, n)
	s.measure(row)
	s.settle(j)
}

// keeps returns the area, in square units, of a free piece w x h, enlarged, if it
// is kept, and 0 if it is not.
func (j *job) keeps(w, h int32) int64 {
	w, h = w-j.kerf, h-j.kerf
	if w <= 0 || h <= 0 || !j.p.Keep.Keeps(geom.Pt(length.Length(w), length.Length(h))) {
		return 0
	}
	return int64(w) * int64(h)
}

// kept returns the areas of the largest kept offcut of a sheet, in square units,
// and of all, in grains.
func (j *job) kept(s *sheet) (most, all int64) {
	if s.root == none {
		return 0, 0
	}
	s.frees(func(w, h int32) {
		a := j.keeps(w, h)
		most = max(most, a)
		all += a >> j.shift
	})
	return most, all
}

// frees calls f with the size of every free piece of a sheet that is not empty.
func (s *sheet) frees(f func(w, h int32)) {
	for i := range s.nodes {
		switch n := &s.nodes[i]; {
		case n.kind == rowX:
			f(n.aw-n.w, n.ah)
		case n.kind == rowY:
			f(n.aw, n.ah-n.h)
		case n.kind >= 0 && n.under == rowX:
			f(n.w, n.ah-n.h)
		case n.kind >= 0 && n.under == rowY:
			f(n.aw-n.w, n.h)
		case n.kind >= 0: // alone on the sheet, and as large as it
			f(s.w-n.w, s.h)
			f(n.w, s.h-n.h)
		}
	}
}

package bound

import (
	"math"
	"slices"

	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// piece is what straight cuts make of a sheet: a blank, or two pieces one after the other.
// Its size is true, a kerf on two sides included.
type piece struct {
	kind   int
	w, h   length.Length
	upward bool // the second lies above the first, not beside it
	parts  [2]*piece
}

// fill returns where the panels of patterns lie on sheets. The sheets are in the order of
// the patterns; of panels of which patterns have more than wanted, the last have no place, unless
// others may lie in theirs (places.go), and those of kinds that patterns leave out are put where
// there is room. It reports false when they find none, or when patterns that fit the rasters do
// not fit the sheets.
func (t *choice) fill(p *nest.Problem, index []int) (*nest.Plan, bool) {
	var roots []*piece
	var kinds []int
	for _, f := range t.found {
		c := &t.columns[f.column]
		if len(c.shares) == 0 {
			continue // a sheet that stays whole
		}
		root := t.cut(f.column)
		if root == nil {
			return nil, false
		}
		for range f.sheets {
			roots, kinds = append(roots, root.clone()), append(kinds, c.sheet)
		}
	}
	exchange(t.unmet(), t.placesOf(), func(kind, other int, copies int32) {
		for _, root := range roots {
			for copies > 0 && t.relabel(root, other, kind) {
				copies--
			}
		}
	})
	for k := range t.p.kinds {
		if t.wanted[k] > 0 {
			continue
		}
		for range int(math.Ceil(t.p.kinds[k].copies)) {
			if !t.squeeze(roots, kinds, k) {
				return nil, false
			}
		}
	}
	plan := &nest.Plan{}
	placed := make([]int, len(p.Parts))
	for i, root := range roots {
		sheet := nest.Sheet{Stock: index[kinds[i]]}
		t.place(p, &sheet, placed, root, p.Stocks[sheet.Stock].Usable.Min)
		plan.Sheets = append(plan.Sheets, sheet)
	}
	for k := range t.p.kinds {
		for _, i := range t.p.kinds[k].parts {
			if placed[i] < p.Parts[i].Copies {
				return nil, false
			}
		}
	}
	return plan, true
}

// squeeze puts a blank of a kind on one of some sheets, beside or above a piece of it, and
// reports whether there was room.
func (t *choice) squeeze(roots []*piece, sheets []int, kind int) bool {
	k := &t.p.kinds[kind]
	for i, j := range sheets {
		for _, q := range []struct {
			way  byte
			w, h length.Length
		}{{lyingLevel, k.w, k.h}, {lyingUpright, k.h, k.w}} {
			if k.ways[j]&q.way != 0 && insert(&roots[i], &piece{kind: kind, w: q.w, h: q.h}, &t.p.sheets[j]) {
				return true
			}
		}
	}
	return false
}

// insert puts a blank beside or above a piece of the sheet whose root is given, the first one
// where the sheet has room for it, and reports whether there is one.
func insert(root **piece, blank *piece, s *sheet) bool {
	var at func(p **piece) bool
	at = func(p **piece) bool {
		was := *p
		for _, upward := range []bool{false, true} {
			*p = &piece{upward: upward, parts: [2]*piece{was, blank}}
			if (*root).measure(); (*root).fits(s) {
				return true
			}
		}
		*p = was
		return was.parts[0] != nil && (at(&was.parts[0]) || at(&was.parts[1]))
	}
	if at(root) {
		return true
	}
	(*root).measure()
	return false
}

// fits reports whether a sheet can be cut into q.
func (q *piece) fits(s *sheet) bool { return q.w <= s.w && q.h <= s.h }

// measure works out the size of q from those of the blanks in it.
func (q *piece) measure() {
	a, b := q.parts[0], q.parts[1]
	if a == nil {
		return
	}
	a.measure()
	b.measure()
	if q.w, q.h = a.w+b.w, max(a.h, b.h); q.upward {
		q.w, q.h = max(a.w, b.w), a.h+b.h
	}
}

// clone returns a copy of q and all that is in it.
func (q *piece) clone() *piece {
	if q == nil {
		return nil
	}
	c := *q
	for i := range c.parts {
		c.parts[i] = c.parts[i].clone()
	}
	return &c
}

// cut returns how a sheet is cut into a pattern; nil when the pattern fits the rasters, but not
// the sheet.
func (t *choice) cut(column int) *piece {
	if root, ok := t.trees[column]; ok {
		return root
	}
	if t.trees == nil {
		t.trees = map[int]*piece{}
	}
	t.trees[column] = t.tree(column)
	return t.trees[column]
}

// tree works that out.
func (t *choice) tree(column int) *piece {
	c := &t.columns[column]
	pattern := t.pattern(column)
	// Only what is part of the pattern is listed: there are so many such parts.
	limit, parts := make([]int, len(t.wanted)), 1
	for _, s := range c.shares {
		limit[s.kind] = int(s.copies)
		parts = min(parts*int(s.copies+1), mostListed)
	}
	l := newLister(t.p.kinds, t.p.exact, limit, parts)
	at := t.losses(c.sheet)
	if !slices.Equal(at.t.weight, t.weight) {
		at.t.fill(t.weight)
		*t.work += at.t.work()
	}
	_, ok := l.near(t.ctx, at, at.t.row(at.x)[at.y]-int32(pattern[0]), columnWork/4)
	if *t.work += l.work; !ok {
		return nil
	}
	for _, i := range l.listed {
		if slices.Equal(l.copiesOf(i), pattern[1:]) {
			return l.tree(at.t, i)
		}
	}
	return nil
}

// pattern returns a pattern as it is listed.
func (t *choice) pattern(column int) []uint64 {
	pattern := make([]uint64, 1+wordsFor(len(t.wanted)))
	for k, m := range t.row(int32(column)) {
		setCopies(pattern, k, int(m))
		pattern[0] += uint64(t.weight[k]) * uint64(m)
	}
	return pattern
}

// place puts the blanks of a piece, the lower left of which is at, on a sheet.
func (t *choice) place(p *nest.Problem, sheet *nest.Sheet, placed []int, q *piece, at geom.Point) {
	if a := q.parts[0]; a != nil {
		t.place(p, sheet, placed, a, at)
		if q.upward {
			at.Y += a.h
		} else {
			at.X += a.w
		}
		t.place(p, sheet, placed, q.parts[1], at)
		return
	}
	by := enlargement(p)
	for _, i := range t.p.kinds[q.kind].parts {
		if placed[i] == p.Parts[i].Copies {
			continue
		}
		for _, turn := range p.Turns(i, sheet.Stock) {
			if turnedSize(p, i, turn) == geom.Pt(q.w-by, q.h-by) {
				placed[i]++
				sheet.Placements = append(sheet.Placements, nest.Placement{Part: i, Copy: placed[i], Turn: turn, At: at})
				return
			}
		}
	}
}

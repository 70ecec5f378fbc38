package bound

import (
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
// the patterns; of panels of which patterns have more than wanted, the last have no place. It
// reports false when patterns that fit the rasters do not fit the sheets.
func (t *choice) fill(p *nest.Problem, index []int) (*nest.Plan, bool) {
	plan := &nest.Plan{}
	placed := make([]int, len(p.Parts))
	for _, f := range t.found {
		c := &t.columns[f.column]
		root := t.cut(f.column)
		if root == nil {
			continue // a sheet that stays whole
		}
		if s := &t.p.sheets[c.sheet]; root.w > s.w || root.h > s.h {
			return nil, false
		}
		for range f.sheets {
			sheet := nest.Sheet{Stock: index[c.sheet]}
			t.place(p, &sheet, placed, root, p.Stocks[sheet.Stock].Usable.Min)
			plan.Sheets = append(plan.Sheets, sheet)
		}
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

// cut returns how a sheet is cut into a pattern, nil when nothing is cut.
func (t *choice) cut(column int) *piece {
	c := &t.columns[column]
	n := len(t.wanted)
	pattern := make([]uint64, t.lister.stride())
	weight := int32(0)
	for k, m := range t.copies[column*n : (column+1)*n] {
		setCopies(pattern, k, int(m))
		weight += t.weight[k] * int32(m)
	}
	if weight == 0 {
		return nil
	}
	pattern[0] = uint64(weight)
	at := t.p.tables[t.p.of[c.sheet]]
	at.fill(t.weight)
	x, y := t.p.x[c.sheet], t.p.y[c.sheet]
	if _, ok := t.lister.near(t.ctx, at, x, y, at.row(x)[y]-weight, columnWork/4); !ok {
		return nil
	}
	return t.trace(at, x, y, pattern)
}

// trace returns how a point is cut into a pattern that its bag has.
func (t *choice) trace(at *table, x, y int32, pattern []uint64) *piece {
	l, ny := t.lister, len(at.y.points)
	has := func(x, y int32, pattern []uint64) bool {
		list := l.bags[int(x)*ny+int(y)].list
		for i := 0; i < len(list); i += l.stride() {
			if slices.Equal(list[i:i+l.stride()], pattern) {
				return true
			}
		}
		return false
	}
	for {
		if x > 1 && has(x-1, y, pattern) {
			x--
		} else if y > 1 && has(x, y-1, pattern) {
			y--
		} else {
			break
		}
	}
	one := 0
	for k := range t.wanted {
		one += copiesOf(pattern, k)
	}
	for _, i := range at.fit[x] {
		if b := &at.blanks[i]; one == 1 && b.y == y && copiesOf(pattern, b.kind) == 1 {
			k := &t.p.kinds[b.kind]
			if b.upright {
				return &piece{kind: b.kind, w: k.h, h: k.w}
			}
			return &piece{kind: b.kind, w: k.w, h: k.h}
		}
	}
	rest := make([]uint64, l.stride())
	split := func(ax, ay, bx, by int32, upward bool) *piece {
		list := l.bags[int(ax)*ny+int(ay)].list
	patterns:
		for i := 0; i < len(list); i += l.stride() {
			for k, v := range list[i : i+l.stride()] {
				if k > 0 && !noMore(v, pattern[k]) {
					continue patterns
				}
				rest[k] = pattern[k] - v
			}
			if !has(bx, by, rest) {
				continue
			}
			q := &piece{upward: upward}
			second := slices.Clone(rest)
			q.parts[0], q.parts[1] = t.trace(at, ax, ay, list[i:i+l.stride()]), t.trace(at, bx, by, second)
			a, b := q.parts[0], q.parts[1]
			if a == nil || b == nil {
				return nil
			}
			if q.w, q.h = a.w+b.w, max(a.h, b.h); upward {
				q.w, q.h = max(a.w, b.w), a.h+b.h
			}
			return q
		}
		return nil
	}
	for _, c := range at.x.cuts[x] {
		if q := split(c.a, y, c.b, y, false); q != nil {
			return q
		}
	}
	for _, c := range at.y.cuts[y] {
		if q := split(x, c.a, x, c.b, true); q != nil {
			return q
		}
	}
	return nil
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

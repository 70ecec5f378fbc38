package saw

import (
	"cmp"
	"slices"

	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// plan returns the best plan of all jobs.
func (r *run) plan() *nest.Plan {
	plan := &nest.Plan{}
	for i, j := range r.jobs {
		if list := r.chains[i]; len(list) > 0 {
			j.write(&bestOf(list).best, plan)
		}
		plan.Unplaced = append(plan.Unplaced, j.hopeless...)
	}
	slices.SortStableFunc(plan.Unplaced, func(a, b nest.Unplaced) int { return cmp.Compare(a.Part, b.Part) })
	return plan
}

// write appends the sheets of a state to a plan, the one with the largest offcut
// at the end, and what has no place.
func (j *job) write(st *state, plan *nest.Plan) {
	w := &writer{j: j, next: make([]int, len(j.p.Parts)), plan: plan}
	type ranked struct {
		s    *sheet
		most int64
	}
	var list []ranked
	for i := range st.sheets {
		if s := &st.sheets[i]; s.board != none && s.leaves > 0 {
			most, _ := j.kept(s)
			list = append(list, ranked{s, most})
		}
	}
	slices.SortStableFunc(list, func(a, b ranked) int {
		return cmp.Or(cmp.Compare(j.boards[a.s.board].stock, j.boards[b.s.board].stock), -cmp.Compare(a.s.used, b.s.used), cmp.Compare(a.most, b.most))
	})
	for _, x := range list {
		w.sheet(x.s)
	}
	for k, n := range st.left {
		// Copies of the parts of a kind are taken part by part.
		for _, part := range j.kinds[k].parts {
			c := min(int(n), j.p.Parts[part].Copies-w.next[part])
			if c > 0 {
				plan.Unplaced = append(plan.Unplaced, nest.Unplaced{Part: part, Copies: c, Reason: ranOut})
				w.next[part] += c
				n -= int32(c)
			}
		}
	}
}

// writer writes sheets.
type writer struct {
	j    *job
	next []int // copies of each part that are written
	plan *nest.Plan

	s      *sheet
	usable geom.Box
	out    nest.Sheet
	levels [][]nest.Cut // cuts by depth in the tree
}

// smallest is the least width of a remainder that is called an offcut: anything
// narrower is a sliver.
const smallest = 10 * length.Millimetre

// sheet writes a sheet. Cuts come level by level of the tree, each level with its
// larger fence settings first, so that strips of one width, wherever they lie,
// are ripped one after the other.
func (w *writer) sheet(s *sheet) {
	st := &w.j.p.Stocks[w.j.boards[s.board].stock]
	w.s, w.usable, w.out, w.levels = s, st.Usable, nest.Sheet{Stock: w.j.boards[s.board].stock}, nil
	w.node(s.root, s.w, s.h, st.Usable.Min, 0)
	if len(w.out.Placements) != 1 || s.nodes[s.root].kind < 0 || len(w.levels) > 0 || st.Usable != (geom.Box{Max: st.Size}) {
		w.trim(st)
	}
	for _, cuts := range w.levels {
		slices.SortStableFunc(cuts, func(a, b nest.Cut) int { return -cmp.Compare(a.Fence, b.Fence) })
		w.out.Cuts = append(w.out.Cuts, cuts...)
	}
	w.plan.Sheets = append(w.plan.Sheets, w.out)
}

// trim writes the cuts that leave the usable area. The blade eats what is outside.
func (w *writer) trim(st *nest.Stock) {
	half := w.j.p.Kerf / 2
	raw, u := geom.Box{Max: st.Size}, st.Usable
	level := func(y length.Length) {
		w.out.Cuts = append(w.out.Cuts, nest.Cut{
			From: geom.Pt(raw.Min.X, y), To: geom.Pt(raw.Max.X, y), Fence: raw.Dy(), Trim: true,
		})
	}
	upright := func(x length.Length) {
		w.out.Cuts = append(w.out.Cuts, nest.Cut{
			From: geom.Pt(x, raw.Min.Y), To: geom.Pt(x, raw.Max.Y), Fence: raw.Dx(), Trim: true,
		})
	}
	// Each cut leaves less for the next, and the fence is set to what stays.
	if u.Min.Y > raw.Min.Y {
		raw.Min.Y = u.Min.Y
		level(u.Min.Y - half)
	}
	if u.Max.Y < raw.Max.Y {
		raw.Max.Y = u.Max.Y
		level(u.Max.Y + half)
	}
	if u.Min.X > raw.Min.X {
		raw.Min.X = u.Min.X
		upright(u.Min.X - half)
	}
	if u.Max.X < raw.Max.X {
		raw.Max.X = u.Max.X
		upright(u.Max.X + half)
	}
}

// cut adds a cut to a level of the tree.
func (w *writer) cut(depth int, from, to geom.Point, fence length.Length) {
	for len(w.levels) <= depth {
		w.levels = append(w.levels, nil)
	}
	w.levels[depth] = append(w.levels[depth], nest.Cut{From: from, To: to, Fence: fence})
}

// node writes node n in the piece aw x ah, enlarged, whose lower left is at.
func (w *writer) node(n, aw, ah int32, at geom.Point, depth int) {
	kerf, half := w.j.p.Kerf, w.j.p.Kerf/2
	q := &w.s.nodes[n]
	x1, y1 := at.X+length.Length(aw)-kerf, at.Y+length.Length(ah)-kerf
	upright := func(width int32) {
		x := at.X + length.Length(width) - half
		w.cut(depth, geom.Pt(x, at.Y), geom.Pt(x, y1), length.Length(width)-kerf)
		at.X += length.Length(width)
		aw -= width
	}
	level := func(height int32) {
		y := at.Y + length.Length(height) - half
		w.cut(depth, geom.Pt(at.X, y), geom.Pt(x1, y), length.Length(height)-kerf)
		at.Y += length.Length(height)
		ah -= height
	}
	switch q.kind {
	case rowX:
		for _, c := range w.children(q) {
			corner, width := at, w.s.nodes[c].w
			if aw > width {
				upright(width)
			} else {
				aw = 0
			}
			w.node(c, width, ah, corner, depth+1)
		}
		w.free(geom.Box{Min: at, Max: geom.Pt(x1, y1)}, aw)
	case rowY:
		for _, c := range w.children(q) {
			corner, height := at, w.s.nodes[c].h
			if ah > height {
				level(height)
			} else {
				ah = 0
			}
			w.node(c, aw, height, corner, depth+1)
		}
		w.free(geom.Box{Min: at, Max: geom.Pt(x1, y1)}, ah)
	default:
		// A blank in its strip, or alone on the sheet: what is wider comes off first.
		corner := at
		if aw > q.w {
			upright(q.w)
			w.free(geom.Box{Min: at, Max: geom.Pt(x1, y1)}, aw)
			at, x1, depth = corner, corner.X+length.Length(q.w)-kerf, depth+1
		}
		if ah > q.h {
			level(q.h)
			w.free(geom.Box{Min: at, Max: geom.Pt(x1, y1)}, ah)
		}
		w.blank(q, corner)
	}
}

// children returns the children of a row in the order in which they are cut off:
// those with blanks of the largest size along the row first.
func (w *writer) children(q *node) []int32 {
	var list []int32
	for c := q.first; c != none; c = w.s.nodes[c].next {
		list = append(list, c)
	}
	slices.SortStableFunc(list, func(a, b int32) int {
		m, n := &w.s.nodes[a], &w.s.nodes[b]
		if q.kind == rowX {
			return -cmp.Or(cmp.Compare(m.w, n.w), cmp.Compare(m.h, n.h), cmp.Compare(m.kind, n.kind))
		}
		return -cmp.Or(cmp.Compare(m.h, n.h), cmp.Compare(m.w, n.w), cmp.Compare(m.kind, n.kind))
	})
	return list
}

// free writes an offcut, unless it is a sliver or nothing is left.
func (w *writer) free(b geom.Box, left int32) {
	if left <= 0 || min(b.Dx(), b.Dy()) < smallest {
		return
	}
	keep := w.j.p.Keep
	w.out.Offcuts = append(w.out.Offcuts, nest.Offcut{
		Box: b, Keep: min(b.Dx(), b.Dy()) >= keep.Short && max(b.Dx(), b.Dy()) >= keep.Long,
	})
}

// blank writes a placement of the next copy of a part of the kind.
func (w *writer) blank(q *node, at geom.Point) {
	p := w.j.p
	parts := w.j.kinds[q.kind].parts
	n := 0
	for w.next[parts[n]] == p.Parts[parts[n]].Copies {
		n++
	}
	pl := nest.Placement{Part: parts[n], At: at}
	w.next[pl.Part]++
	pl.Copy = w.next[pl.Part]
	for _, t := range p.Turns(pl.Part, w.out.Stock) {
		if (t%180 == 90) == q.odd {
			pl.Turn = t
			break
		}
	}
	w.out.Placements = append(w.out.Placements, pl)
}

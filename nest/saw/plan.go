package saw

import (
	"cmp"
	"slices"

	"panelyard/nest"
	"panelyard/nest/order"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// plan returns the best plan of all jobs with its cuts in order.
func (r *run) plan() (*nest.Plan, error) {
	plan := &nest.Plan{}
	for i, j := range r.jobs {
		if list := r.chains[i]; len(list) > 0 {
			best, err := j.easiest(list, r.set.Seed)
			if err != nil {
				return nil, err
			}
			plan.Sheets = append(plan.Sheets, best.Sheets...)
			plan.Unplaced = append(plan.Unplaced, best.Unplaced...)
		}
		plan.Unplaced = append(plan.Unplaced, j.hopeless...)
	}
	slices.SortStableFunc(plan.Unplaced, func(a, b nest.Unplaced) int { return cmp.Compare(a.Part, b.Part) })
	return plan, nil
}

// easiest returns the plan of the best chain. Of several that are as good it is the
// one with the fewest fence settings, and then the least length of cuts.
func (j *job) easiest(list []*chain, seed uint64) (*nest.Plan, error) {
	var best *nest.Plan
	var least effort
	top := bestOf(list).bestScore
	for _, c := range list {
		if !c.started() || c.bestScore.compare(top) != 0 {
			continue
		}
		plan := &nest.Plan{}
		var st state
		st.copyFrom(&c.best)
		if err := j.tidy(&st, seed); err != nil {
			return nil, err
		}
		j.write(&st, plan)
		if err := order.Plan(j.p, plan); err != nil {
			return nil, err
		}
		n, l := order.Effort(plan)
		if e := (effort{n, l}); best == nil || e.compare(least) < 0 {
			best, least = plan, e
		}
	}
	return best, nil
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
				plan.Unplaced = append(plan.Unplaced, nest.Unplaced{Part: part, Copies: c, Reason: nest.RanOut})
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

	s   *sheet
	out nest.Sheet
}

// sheet writes a sheet: what lies where, and which offcuts are kept. The cuts
// follow from that.
func (w *writer) sheet(s *sheet) {
	st := &w.j.p.Stocks[w.j.boards[s.board].stock]
	w.s, w.out = s, nest.Sheet{Stock: w.j.boards[s.board].stock}
	w.node(s.root, s.w, s.h, st.Usable.Min)
	w.plan.Sheets = append(w.plan.Sheets, w.out)
}

// node writes node n in the piece aw x ah, enlarged, whose lower left is at.
func (w *writer) node(n, aw, ah int32, at geom.Point) {
	q := &w.s.nodes[n]
	switch q.kind {
	case rowX:
		for _, c := range w.children(q) {
			width := w.s.nodes[c].w
			w.node(c, width, ah, at)
			at.X += length.Length(width)
			aw -= width
		}
		w.free(at, aw, ah)
	case rowY:
		for _, c := range w.children(q) {
			height := w.s.nodes[c].h
			w.node(c, aw, height, at)
			at.Y += length.Length(height)
			ah -= height
		}
		w.free(at, aw, ah)
	default:
		// A blank in its strip, or alone on the sheet: what is wider comes off first.
		w.free(geom.Pt(at.X+length.Length(q.w), at.Y), aw-q.w, ah)
		w.free(geom.Pt(at.X, at.Y+length.Length(q.h)), q.w, ah-q.h)
		w.blank(q, at)
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

// free writes the free piece w x h, enlarged, at a place when it is kept.
func (w *writer) free(at geom.Point, dx, dy int32) {
	if w.j.keeps(dx, dy) > 0 {
		k := w.j.p.Kerf
		size := geom.Pt(length.Length(dx)-k, length.Length(dy)-k)
		w.out.Offcuts = append(w.out.Offcuts, nest.Offcut{Box: geom.BoxFromSize(at, size), Keep: true})
	}
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

package saw

import (
	"cmp"
	"slices"

	"panelyard/nest"
)

// adopt takes over a plan that others found, where it costs less than all plans so far: the
// search goes on from it, for less or for larger offcuts. Where stages are limited plans are
// left alone, because nothing is known of the order of their cuts.
func (r *run) adopt() {
	if r.set.Found == nil || r.p.Saw.Stages > 0 {
		return
	}
	plan := r.set.Found()
	if plan == nil || plan == r.adopted {
		return
	}
	r.adopted = plan
	for i, j := range r.jobs {
		if len(r.chains[i]) == 0 {
			continue
		}
		c := r.chains[i][0]
		if st := j.stateOf(plan); st != nil && st.score(j).required(bestOf(r.chains[i]).bestScore) < 0 {
			c.leaveMix()
			c.now, c.mix = *st, nil
			c.goal, c.ended = cheaper, true
			c.record()
		}
	}
	r.exchange()
}

// laid is a blank and where its lower left corner lies, enlarged.
type laid struct {
	kind       int32
	w, h, x, y int32
	odd        bool
}

// stateOf returns a plan as a state; nil when it has sheets or panels that are not of the job,
// too many of them, or straight cuts do not part them.
func (j *job) stateOf(plan *nest.Plan) *state {
	st := j.newState()
	for n := range plan.Sheets {
		sh := &plan.Sheets[n]
		b := slices.IndexFunc(j.boards, func(b board) bool { return b.stock == sh.Stock })
		if b < 0 || st.used[b] == j.boards[b].available {
			return nil
		}
		var list []laid
		at := j.p.Stocks[sh.Stock].Usable.Min
		for _, p := range sh.Placements {
			k := int32(slices.IndexFunc(j.kinds, func(k kind) bool { return slices.Contains(k.parts, p.Part) }))
			if k < 0 || st.left[k] == 0 {
				return nil
			}
			st.leave(j, k, -1)
			l := laid{kind: k, w: j.kinds[k].w, h: j.kinds[k].h, x: int32(p.At.X - at.X), y: int32(p.At.Y - at.Y)}
			if p.Turn%180 != 0 {
				l.w, l.h, l.odd = l.h, l.w, true
			}
			list = append(list, l)
		}
		if len(list) == 0 {
			continue
		}
		s := &st.sheets[st.openSheet(j, int32(b))]
		st.whole -= s.whole
		if s.root = s.part(j, list); s.root == none {
			return nil
		}
		if s.remeasure(j); !s.fits() {
			return nil
		}
		st.whole += s.whole
	}
	return st
}

// part returns the tree of blanks that straight cuts part, or none. It puts the list in
// order. Cost: for each row as many comparisons as it takes to sort what is in it.
func (s *sheet) part(j *job, list []laid) int32 {
	if len(list) == 1 {
		l := &list[0]
		n := s.alloc(l.kind)
		s.nodes[n].w, s.nodes[n].h, s.nodes[n].odd = l.w, l.h, l.odd
		s.leaves++
		s.used += j.kinds[l.kind].area
		return n
	}
	for _, way := range []int32{rowX, rowY} {
		stretch := func(l *laid) (from, to int32) {
			if way == rowX {
				return l.x, l.x + l.w
			}
			return l.y, l.y + l.h
		}
		slices.SortStableFunc(list, func(a, b laid) int {
			from, _ := stretch(&a)
			other, _ := stretch(&b)
			return cmp.Compare(from, other)
		})
		row, begin, reach := none, 0, int32(0)
		for i := range list {
			from, to := stretch(&list[i])
			if i > begin && from >= reach {
				if row == none {
					row = s.alloc(way)
				}
				n := s.part(j, slices.Clone(list[begin:i]))
				if n == none {
					return none
				}
				s.adopt(row, n)
				begin = i
			}
			reach = max(reach, to)
		}
		if row == none {
			continue
		}
		n := s.part(j, slices.Clone(list[begin:]))
		if n == none {
			return none
		}
		s.adopt(row, n)
		return row
	}
	return none
}

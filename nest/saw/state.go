package saw

import (
	"math/rand/v2"
)

// source is where chance comes from. It is seeded, and the same on every machine.
type source struct{ *rand.PCG }

func newSource(a, b uint64) *source { return &source{rand.NewPCG(a, b)} }

// below returns a number from 0 to n-1. The bias of a remainder of 64 bits is of
// no account here.
func (r *source) below(n int) int { return int(r.Uint64() % uint64(n)) }

// state is sheets with what lies on them, and what has no place.
type state struct {
	sheets []sheet // those with board none are not there
	used   []int32 // sheets of each board
	left   []int32 // copies of each kind that have no place
	// lack lists the kinds with copies left, at says where in lack a kind is.
	lack, at []int32
	count    int   // copies left
	area     int64 // of the copies left, in grains
	cost     int64
	open     int
	whole    int64 // sum over the sheets
}

func (j *job) newState() *state {
	st := &state{used: make([]int32, len(j.boards)), left: make([]int32, len(j.kinds)), at: make([]int32, len(j.kinds))}
	for k := range j.kinds {
		st.at[k] = none
		st.leave(j, int32(k), j.kinds[k].copies)
	}
	return st
}

// copyFrom makes st the same as o, in memory of its own.
func (st *state) copyFrom(o *state) {
	for len(st.sheets) < len(o.sheets) {
		st.sheets = append(st.sheets, sheet{board: none})
	}
	for i := range o.sheets {
		st.sheets[i].copyFrom(&o.sheets[i])
	}
	for i := len(o.sheets); i < len(st.sheets); i++ {
		st.sheets[i].board = none
	}
	st.used = append(st.used[:0], o.used...)
	st.left = append(st.left[:0], o.left...)
	st.lack = append(st.lack[:0], o.lack...)
	st.at = append(st.at[:0], o.at...)
	st.count, st.area, st.cost, st.open, st.whole = o.count, o.area, o.cost, o.open, o.whole
}

// leave adds n copies of a kind, or takes -n away, from those without a place.
func (st *state) leave(j *job, k, n int32) {
	st.left[k] += n
	st.count += int(n)
	st.area += int64(n) * j.kinds[k].area
	switch at := st.at[k]; {
	case st.left[k] > 0 && at == none:
		st.at[k] = int32(len(st.lack))
		st.lack = append(st.lack, k)
	case st.left[k] == 0 && at != none:
		last := st.lack[len(st.lack)-1]
		st.lack[at] = last
		st.at[last] = at
		st.lack = st.lack[:len(st.lack)-1]
		st.at[k] = none
	}
}

// slot returns a number in sheets that is not in use.
func (st *state) slot() int {
	for i := range st.sheets {
		if st.sheets[i].board == none {
			return i
		}
	}
	st.sheets = append(st.sheets, sheet{board: none})
	return len(st.sheets) - 1
}

// openSheet adds an empty sheet of a board, in the first slot, and returns its
// number.
func (st *state) openSheet(j *job, b int32) int {
	i := st.slot()
	s := &st.sheets[i]
	s.reset(b, &j.boards[b])
	s.settle(j)
	st.used[b]++
	st.cost += j.boards[b].cost
	st.whole += s.whole
	st.open++
	return i
}

// closeSheet takes an empty sheet away.
func (st *state) closeSheet(j *job, i int) {
	s := &st.sheets[i]
	st.used[s.board]--
	st.cost -= j.boards[s.board].cost
	st.whole -= s.whole
	st.open--
	s.board = none
}

// empty takes everything off a sheet, and appends the kinds to list.
func (st *state) empty(j *job, i int, list []int32) []int32 {
	s := &st.sheets[i]
	list = list[:0]
	if s.root != none {
		list = s.dissolve(j, s.root, list)
	}
	for _, k := range list {
		st.leave(j, k, 1)
	}
	w, h := s.w, s.h
	st.whole -= s.whole
	s.reset(s.board, &j.boards[s.board])
	s.w, s.h = w, h
	s.settle(j)
	st.whole += s.whole
	return list
}

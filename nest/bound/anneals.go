package bound

import (
	"sync"
	"sync/atomic"
)

// team is annealers that have their turns one after the other. Each team has a thread.
type team struct {
	*choice
	annealers []*annealer
	next      int
}

// anneal seeks patterns that hold everything, and reports whether there are. They are found
// then. What a short list has is found sooner, and a long one has more: the long one is looked
// at twice as often. Of the patterns of the program, in whose rasters sizes are rounded, some
// turn out to be none in true ones, and are dropped.
//
// With one thread what is found is the same each time.
func (t *choice) anneal() bool {
	var lists [2][]*rows
	for n, most := range []int{mostHeaviest, mostHeaviest / shorter} {
		for j := range t.mix {
			lists[n] = append(lists[n], newRows(t, j, most))
		}
	}
	var teams []*team
	for i := range uint64(max(1, t.b.threads)) {
		m := t.team()
		long, short := newAnnealer(m.choice, 2*i+1, lists[0]), newAnnealer(m.choice, 2*i+2, lists[1])
		if long == nil {
			return false
		}
		m.annealers = []*annealer{long, long, short}
		m.next = 2 * int(i) // one begins with the long list, the next one with the short one
		teams = append(teams, m)
	}
	for {
		a := together(teams)
		for _, m := range teams {
			*t.work = max(*t.work, *m.work)
		}
		if a == nil {
			return false
		}
		t.found = a.picks()
		misfits := t.misfits()
		if len(misfits) == 0 {
			return true
		}
		for _, list := range lists {
			for _, r := range list {
				if r != nil && !r.drop(t, misfits) {
					return false
				}
			}
		}
		for _, m := range teams {
			for _, a := range m.annealers {
				a.finisher = nil // it has them, too
				a.scatter()
			}
		}
	}
}

// team returns a team without annealers yet, for a question of its own and with its own work.
func (t *choice) team() *team {
	c, w, work := *t, *t.whole, *t.work
	w.work = &work
	c.whole, c.trees = &w, nil
	return &team{choice: &c}
}

// together runs teams until one of their annealers has all panels, which is returned, or there is
// no time left.
func together(teams []*team) *annealer {
	var stop atomic.Bool
	var found atomic.Pointer[annealer]
	seek := func(m *team) {
		for !m.spent() && !stop.Load() {
			a := m.annealers[m.next%len(m.annealers)]
			m.next++
			if a.run() {
				stop.Store(true)
				found.CompareAndSwap(nil, a)
				return
			}
			a.learn()
		}
	}
	var group sync.WaitGroup
	for _, m := range teams[1:] {
		group.Go(func() { seek(m) })
	}
	seek(teams[0])
	group.Wait()
	return found.Load()
}

// misfits returns which of the patterns that were found are none in true sizes.
func (t *choice) misfits() []int32 {
	var list []int32
	for _, f := range t.found {
		if len(t.columns[f.column].shares) > 0 && t.cut(f.column) == nil {
			list = append(list, int32(f.column))
		}
	}
	return list
}

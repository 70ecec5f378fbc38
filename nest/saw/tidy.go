package saw

import (
	"cmp"

	"panelyard/nest"
	"panelyard/nest/order"
	"panelyard/parts/length"
)

// The tries of [job.tidy] for a sheet: as many as there is time for in a fraction of a
// second for all.
const (
	allTries   = 2000
	leastTries = 4
	mostTries  = 60
)

// tidy lays each sheet out anew, in some orders and by some rules, and takes what
// needs fewer fence settings, then shorter cuts, as long as the offcuts that are kept
// are no smaller: neither the largest nor all together. What lies on a sheet stays on
// it. It is counted, so that the same plan comes out on every machine.
func (j *job) tidy(st *state, seed uint64) error {
	sheets := 0
	for i := range st.sheets {
		if st.sheets[i].board != none && st.sheets[i].leaves > 0 {
			sheets++
		}
	}
	tries := min(mostTries, max(leastTries, allTries/max(1, sheets)))
	lists := make([][]int32, orders)
	for i := range lists {
		lists[i] = j.sorted(i)
	}
	c := newChain(j, seed, chains)
	count := make([]int32, len(j.kinds))
	var try sheet
	for i := range st.sheets {
		s := &st.sheets[i]
		if s.board == none || s.leaves < 3 {
			continue
		}
		clear(count)
		for n := range s.nodes {
			if k := s.nodes[n].kind; k >= 0 {
				count[k]++
			}
		}
		best, err := j.effort(s)
		if err != nil {
			return err
		}
		most, all := j.kept(s)
		for t := range tries {
			if !c.again(&try, s, count, lists[t%orders], rule(t/orders%int(rules)), t >= orders*int(rules)) {
				continue
			}
			try.finish(j)
			if m, a := j.kept(&try); m < most || a < all {
				continue
			}
			e, err := j.effort(&try)
			if err != nil {
				return err
			}
			if e.compare(best) < 0 {
				best = e
				most, all = j.kept(&try)
				s.copyFrom(&try)
			}
		}
	}
	return nil
}

// again lays what is on a sheet out on an empty one, largest kinds of a list first,
// where kinds are passed over by chance if they may wait for a second pass. It reports
// whether everything found a place.
func (c *chain) again(try, s *sheet, count []int32, list []int32, r rule, blur bool) bool {
	try.reset(s.board, &c.j.boards[s.board])
	try.settle(c.j)
	var waits []int32
	for _, k := range list {
		for range count[k] {
			switch {
			case blur && c.rng.below(4) == 0:
				waits = append(waits, k)
			case !c.put(try, k, r, 0):
				return false
			}
		}
	}
	for _, k := range waits {
		if !c.put(try, k, r, 0) {
			return false
		}
	}
	return true
}

// effort is what the cuts of a sheet ask for.
type effort struct {
	settings int
	long     length.Length
}

func (a effort) compare(b effort) int {
	return cmp.Or(cmp.Compare(a.settings, b.settings), cmp.Compare(a.long, b.long))
}

// effort returns that of a sheet, cut by itself.
func (j *job) effort(s *sheet) (effort, error) {
	plan := &nest.Plan{}
	w := &writer{j: j, next: make([]int, len(j.p.Parts)), plan: plan}
	w.sheet(s)
	if err := order.Plan(j.p, plan); err != nil {
		return effort{}, err
	}
	n, l := order.Effort(plan)
	return effort{n, l}, nil
}

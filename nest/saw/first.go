package saw

import (
	"cmp"
	"context"
	"slices"
)

// orders is the number of orders in which [job.sorted] lists kinds.
const orders = 6

// key returns what the kinds are ordered by, largest first.
func (k *kind) key(order int) int64 {
	switch order {
	case 0:
		return int64(k.w) * int64(k.h)
	case 1:
		return int64(max(k.w, k.h))
	case 2:
		return int64(min(k.w, k.h))
	case 3:
		return int64(k.w)
	case 4:
		return int64(k.h)
	}
	return int64(k.w) + int64(k.h)
}

// sorted returns the kinds in an order.
func (j *job) sorted(order int) []int32 {
	list := make([]int32, len(j.kinds))
	for i := range list {
		list[i] = int32(i)
	}
	slices.SortStableFunc(list, func(a, b int32) int {
		return -cmp.Compare(j.kinds[a].key(order), j.kinds[b].key(order))
	})
	return list
}

// first makes the first plan of a chain: sheet after sheet, each the best of some
// tries with orders, rules and boards by cost for its area of panels, and repeated
// as often as there are panels for it. Once ctx has ended, the first chain makes
// one try a sheet on the cheapest board and the others give up, so that there is a
// plan in any case.
//
// Time: sheets times tries times kinds, where a kind that cannot fit by area costs
// next to nothing, and each other one a look at the nodes of the sheet.
func (c *chain) first(ctx context.Context) {
	j, st := c.j, &c.now
	tries := min(24, max(4, 8000/max(1, j.panels)))
	lists := make([][]int32, orders)
	for i := range lists {
		lists[i] = j.sorted(i)
	}
	var try, best sheet
	var need, bestNeed []int32
	need, bestNeed = make([]int32, len(j.kinds)), make([]int32, len(j.kinds))
	n := c.number
	for st.count > 0 {
		for i, list := range lists {
			lists[i] = slices.DeleteFunc(list, func(k int32) bool { return st.left[k] == 0 })
		}
		ended := ctx.Err() != nil
		if ended {
			if c.number > 0 {
				return
			}
			tries = 1
		}
		bestCost, found := 0.0, false
		for b := range j.boards {
			bd := &j.boards[b]
			if found && ended {
				break
			}
			if st.used[b] >= bd.available {
				continue
			}
			for range tries {
				n++
				try.reset(int32(b), bd)
				try.settle(j)
				clear(need)
				var skip uint64
				if n >= 2*orders {
					skip = 2 + uint64(c.rng.below(8))
				}
				r := rule(n / orders % int(rules))
				for pass := range 2 {
					if pass == 1 && skip == 0 {
						break
					}
					for _, k := range lists[n%orders] {
						if pass == 0 && skip > 0 && c.rng.Uint64()%skip == 0 {
							continue
						}
						for need[k] < st.left[k] && c.put(&try, k, r, 0) {
							need[k]++
						}
					}
				}
				if try.leaves == 0 {
					continue
				}
				// Of two for nothing the fuller one is better.
				cost := float64(bd.cost) / float64(try.used)
				if !found || cost < bestCost || cost == bestCost && try.used > best.used {
					bestCost, found = cost, true
					best.copyFrom(&try)
					copy(bestNeed, need)
				}
			}
		}
		if !found {
			break
		}
		times := j.boards[best.board].available - st.used[best.board]
		for k, n := range bestNeed {
			if n > 0 {
				times = min(times, st.left[k]/n)
			}
		}
		for range times {
			i := st.openSheet(j, best.board)
			s := &st.sheets[i]
			st.whole += best.whole - s.whole
			s.copyFrom(&best)
			for k, n := range bestNeed {
				if n > 0 {
					st.leave(j, int32(k), -n)
				}
			}
		}
	}
	c.record()
}

// put places a blank of a kind in the best spot of one sheet, if there is one.
func (c *chain) put(s *sheet, k int32, r rule, blink uint64) bool {
	j := c.j
	d := &j.kinds[k]
	if d.area > j.grains(s.w, s.h)-s.used+1 {
		return false
	}
	ways := j.ways[int(k)*len(j.boards)+int(s.board)]
	t := noSpot()
	odd, found := false, false
	if ways&asDrawn != 0 && s.better(j, d.w, d.h, r, blink, c.rng, &t) {
		found = true
	}
	if ways&turned != 0 && s.better(j, d.h, d.w, r, blink, c.rng, &t) {
		found, odd = true, true
	}
	if !found {
		return false
	}
	w, h := d.w, d.h
	if odd {
		w, h = h, w
	}
	s.put(j, k, w, h, odd, t.node, t.how)
	return true
}

package saw

import (
	"cmp"
	"context"
	"slices"
)

const (
	// pricedTries is how many sheets are filled for a board and a program, and
	// pricedSteps how many steps the best one is bettered by.
	pricedTries, pricedSteps = 12, 100
	// dearer is how much more a pattern must be worth than its sheet costs.
	dearer = one >> 16
)

// price seeks patterns that are worth more by the dual values of the program than their
// sheets cost, adds them, and reports whether there are any. When ctx ends, it stops.
func (d *dive) price(ctx context.Context) bool {
	j := d.c.j
	for k, r := range d.rows {
		d.worth[k] = 0
		if r != none {
			d.worth[k] = int64(d.lp.duals[r] * one)
		}
	}
	found := false
	var try, best sheet
	money := d.lp.rows - 1
	for b := range j.boards {
		bd := &j.boards[b]
		if !d.affords(int32(b)) || ctx.Err() != nil {
			continue
		}
		asks := int64((float64(bd.area)/(1<<grainBits) - d.lp.duals[money-len(d.have)+b] -
			float64(d.lp.duals[money]*(float64(bd.cost)/float64(max(1, d.c.limit))))) * one)
		offer := func(v int64) {
			if v <= asks+dearer {
				return
			}
			p := newPattern(&try)
			d.add(p)
			d.made = append(d.made, p)
			found = true
			if !d.c.pool.seen[p.hash] {
				d.c.keep(p)
			}
		}
		top := int64(0)
		for t := range pricedTries {
			d.fill(&try, int32(b), asks, d.lists[t%orders])
			v := d.value(&try)
			if v > top {
				top = v
				best.copyFrom(&try)
			}
			offer(v)
		}
		if top == 0 {
			continue
		}
		try.copyFrom(&best)
		if d.c.rng.below(2) == 0 {
			d.inUse(&try, int32(b))
		}
		offer(d.better(&try, asks))
	}
	return found
}

// value returns what is on a sheet is worth.
func (d *dive) value(s *sheet) int64 {
	v := int64(0)
	for n := range s.nodes {
		if k := s.nodes[n].kind; k >= 0 {
			v += d.worth[k]
		}
	}
	return v
}

// put places as many blanks of a kind as are needed and find a place.
func (d *dive) put(s *sheet, k int32, r rule, blink uint64) {
	for d.needed[k] > 0 {
		d.work += 4 * len(s.nodes)
		if !d.c.put(s, k, r, blink) {
			return
		}
		d.needed[k]--
		d.work += 8 * len(s.nodes)
	}
}

// fill fills a sheet of a board that asks so much: first mostly with what is worth more
// than its area there, then with what fits.
func (d *dive) fill(s *sheet, b int32, asks int64, list []int32) {
	j, rng := d.c.j, d.c.rng
	bd := &j.boards[b]
	s.reset(b, bd)
	s.settle(j)
	copy(d.needed, d.wants)
	r := rule(rng.below(int(rules)))
	sharp := int64(1 + rng.below(4))
	for pass := range 2 {
		for _, k := range list {
			if d.needed[k] == 0 {
				continue
			}
			if pass == 0 {
				// In thousandths: what a grain is worth against what one costs.
				ratio := d.worth[k] / j.kinds[k].area * 1000 / max(1, asks/bd.area)
				if skip := min(950, max(50, 500+sharp*(1000-ratio))); int64(rng.below(1000)) < skip {
					continue
				}
			}
			d.put(s, k, r, 0)
		}
	}
}

// inUse makes s a pattern of a board that the solution has in part.
func (d *dive) inUse(s *sheet, b int32) {
	n := 0
	for i, v := range d.lp.values(d.base) {
		if v > 1e-6 && d.of[i].s.board == b {
			if n++; d.c.rng.below(n) == 0 {
				s.copyFrom(&d.of[i].s)
			}
		}
	}
}

// better takes blanks off a sheet and places others, again and again, and keeps what is
// worth no less. It returns what it is worth in the end.
func (d *dive) better(s *sheet, asks int64) int64 {
	j, c := d.c.j, d.c
	copy(d.needed, d.wants)
	s.limit(j, d.needed, func(k int32) { d.needed[k]-- })
	best := d.value(s)
	var kept sheet
	kept.copyFrom(s)
	needed := slices.Clone(d.needed)
	rate := max(1, asks/j.boards[s.board].area)
	type keyed struct {
		k   int32
		key int64
	}
	var order []keyed
	for range pricedSteps {
		if s.root == none {
			break
		}
		c.removed = c.pull(s, 1+c.rng.below(1+min(8, int(s.leaves)/2)), c.removed[:0])
		for _, k := range c.removed {
			d.needed[k]++
		}
		s.remeasure(j)
		order = order[:0]
		by := c.rng.below(3)
		for k := range d.needed {
			if d.needed[k] == 0 {
				continue
			}
			w, a := d.worth[k], j.kinds[k].area
			switch by {
			case 1:
				w = w / a * (w >> 10)
			case 2:
				w -= rate * a
			}
			order = append(order, keyed{int32(k), w * int64(512+c.rng.below(1024))})
		}
		slices.SortStableFunc(order, func(a, b keyed) int { return -cmp.Compare(a.key, b.key) })
		r := rule(c.rng.below(int(rules)))
		for _, o := range order {
			d.put(s, o.k, r, blink)
		}
		if v := d.value(s); v >= best {
			best = v
			kept.copyFrom(s)
			copy(needed, d.needed)
		} else {
			s.copyFrom(&kept)
			copy(d.needed, needed)
		}
		d.work += 8 * len(s.nodes)
	}
	s.copyFrom(&kept)
	return best
}

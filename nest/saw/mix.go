package saw

// mixes is what a chain knows of the mixes of sheets that it may try.
type mixes struct {
	at    int // the one in hand, or -1
	tried []int
	// reached is the state with least left of each mix that was tried: the search goes on
	// from there.
	reached []*state
}

// leaveMix keeps the state that a mix reached, if less is left than ever before.
func (c *chain) leaveMix() {
	m := &c.mixes
	if c.mix == nil || c.goal != cheaper || c.bestScore.count > 0 {
		return
	}
	if r := m.reached[m.at]; r == nil || c.now.area < r.area {
		if r == nil {
			r = &state{}
			m.reached[m.at] = r
		}
		r.copyFrom(&c.now)
	}
}

// nextMix chooses a mix that is cheaper than the best plan, now and then none: one in which
// little was left, or should be by its area, and that was tried seldom. The state becomes
// the one that was reached with it, or what remains of the best plan.
func (c *chain) nextMix() {
	j, m := c.j, &c.mixes
	if len(j.mixes) == 0 || c.rng.below(4) == 0 {
		return
	}
	if m.tried == nil {
		m.tried, m.reached = make([]int, len(j.mixes)), make([]*state, len(j.mixes))
	}
	area := int64(0)
	for b, n := range c.best.used {
		area += j.boards[b].area * int64(n)
	}
	m.at = -1
	least := int64(0)
	for i := range j.mixes {
		x := &j.mixes[i]
		if x.cost > c.limit {
			break
		}
		if x.cost < j.bound || c.outdone(x) {
			continue // a bound has ruled it out, or there is a better one
		}
		left := (area - x.area) / 2
		if r := m.reached[i]; r != nil {
			left = r.area
		}
		left = (max(left, 0) + 1<<grainBits/200) * int64(2+m.tried[i])
		if m.at < 0 || left < least {
			m.at, least = i, left
		}
	}
	if m.at < 0 {
		return
	}
	m.tried[m.at]++
	c.mix = j.mixes[m.at].sheets
	if r := m.reached[m.at]; r != nil {
		c.now.copyFrom(r)
		return
	}
	for b, most := range c.mix {
		for c.now.used[b] > most {
			c.drop(c.emptiestOf(int32(b)))
		}
	}
}

// outdone reports whether the limit allows a mix and one sheet more: there is another
// mix, or none at all, that leaves more room.
func (c *chain) outdone(x *mix) bool {
	for b := range c.j.boards {
		bd := &c.j.boards[b]
		if x.cost+bd.cost <= c.limit && x.sheets[b] < bd.available {
			return true
		}
	}
	return false
}

// emptiestOf returns the sheet of a board that holds least.
func (c *chain) emptiestOf(b int32) int {
	best := -1
	for i := range c.now.sheets {
		if s := &c.now.sheets[i]; s.board == b && (best < 0 || s.used < c.now.sheets[best].used) {
			best = i
		}
	}
	return best
}

// most returns how many sheets of a board there may be.
func (c *chain) most(b int) int32 {
	if c.mix != nil {
		return c.mix[b]
	}
	return c.j.boards[b].available
}

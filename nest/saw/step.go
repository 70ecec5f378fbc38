package saw

// step ruins a few sheets in part, places what has no place again, and keeps the
// result if its energy is no more than before or than some steps ago; otherwise
// it is undone. It reports whether it stands.
func (c *chain) step() bool {
	before := c.energy()
	c.change()
	after := c.energy()
	stands := after <= before || after <= c.late[c.turn]
	if !stands {
		c.undo()
		after = before
	}
	c.late[c.turn] = after
	if c.turn++; c.turn == len(c.late) {
		c.turn = 0
	}
	return stands
}

// change makes the change of a step, such that it can be undone.
func (c *chain) change() {
	st := &c.now
	c.saved, c.which, c.moved = c.saved[:0], c.which[:0], c.moved[:0]
	c.before.cost, c.before.whole, c.before.open = st.cost, st.whole, st.open
	c.ruin()
	c.recreate()
	for _, i := range c.which {
		if s := &st.sheets[i]; s.board != none && s.leaves == 0 && int(i) != c.forced {
			st.closeSheet(c.j, int(i))
		}
	}
}

// touch saves a sheet before it changes.
func (c *chain) touch(i int) {
	for _, w := range c.which {
		if int(w) == i {
			return
		}
	}
	n := len(c.saved)
	if n < cap(c.saved) {
		c.saved = c.saved[:n+1] // with the memory it had
	} else {
		c.saved = append(c.saved, sheet{})
	}
	c.saved[n].copyFrom(&c.now.sheets[i])
	c.which = append(c.which, int32(i))
}

// undo brings back the state before the step.
func (c *chain) undo() {
	st := &c.now
	for i := range c.which {
		s := &st.sheets[c.which[i]]
		if s.board != none {
			st.used[s.board]--
		}
		s.copyFrom(&c.saved[i])
		if s.board != none {
			st.used[s.board]++
		}
	}
	for _, k := range c.moved {
		if k >= 0 {
			st.leave(c.j, k, -1)
		} else {
			st.leave(c.j, -1-k, 1)
		}
	}
	st.cost, st.whole, st.open = c.before.cost, c.before.whole, c.before.open
}

// ruin takes blanks off one to three sheets.
func (c *chain) ruin() {
	st := &c.now
	if st.open == 0 {
		return
	}
	sheets := 1 + c.rng.below(min(3, st.open))
	for range sheets {
		if st.open == 0 {
			return
		}
		i := c.sheet()
		c.touch(i)
		s := &st.sheets[i]
		if c.rng.below(24) == 0 {
			c.takeAll(i)
			continue
		}
		many := 1 + c.rng.below(1+min(8, int(s.leaves)/3))
		c.take(i, many)
	}
}

// takeAll empties a sheet and closes it.
func (c *chain) takeAll(i int) {
	st := &c.now
	c.removed = st.empty(c.j, i, c.removed)
	c.moved = append(c.moved, c.removed...)
	if i != c.forced {
		st.closeSheet(c.j, i)
	}
}

// take takes about a number of blanks off a sheet.
func (c *chain) take(i, many int) {
	j, st := c.j, &c.now
	s := &st.sheets[i]
	st.whole -= s.whole
	c.removed = c.pull(s, many, c.removed[:0])
	s.remeasure(j)
	st.whole += s.whole
	for _, k := range c.removed {
		st.leave(j, k, 1)
	}
	c.moved = append(c.moved, c.removed...)
}

// pull takes about a number of blanks off a sheet, in whole branches of its tree, and
// appends the kinds to list. The caller measures the sheet.
func (c *chain) pull(s *sheet, many int, list []int32) []int32 {
	for tries := 0; len(list) < many && s.root != none && tries < 20; tries++ {
		n := int32(c.rng.below(len(s.nodes)))
		if s.nodes[n].kind == unused || s.size(n) > many-len(list) {
			continue
		}
		s.detach(n)
		list = s.dissolve(c.j, n, list)
	}
	return list
}

// size returns the number of blanks at n and below.
func (s *sheet) size(n int32) int {
	if s.nodes[n].kind >= 0 {
		return 1
	}
	sum := 0
	for c := s.nodes[n].first; c != none; c = s.nodes[c].next {
		sum += s.size(c)
	}
	return sum
}

// mostKinds is how many kinds without a place a step tries to place.
const mostKinds = 48

// fewSheets is how many sheets are all looked at in each step. Of more sheets,
// only those that the step ruins are.
const fewSheets = 8

// recreate places what has no place, kind by kind in an order of chance.
func (c *chain) recreate() {
	st := &c.now
	c.sortLack()
	c.candidates = c.candidates[:0]
	if st.open <= fewSheets {
		for i := range st.sheets {
			if st.sheets[i].board != none {
				c.candidates = append(c.candidates, int32(i))
			}
		}
	} else {
		for _, i := range c.which {
			if st.sheets[i].board != none {
				c.candidates = append(c.candidates, i)
			}
		}
	}
	r := rule(c.rng.below(int(rules)))
	for _, k := range c.order {
		for st.left[k] > 0 && c.place(k, r) {
		}
	}
}

// sortLack makes order the kinds without a place, sorted by a key blurred by
// chance, largest first.
func (c *chain) sortLack() {
	j, st := c.j, &c.now
	c.order, c.keys = c.order[:0], c.keys[:0]
	n := len(st.lack)
	from := 0
	if n > mostKinds {
		from = c.rng.below(n)
		n = mostKinds
	}
	order := c.rng.below(orders)
	blur := uint64(c.rng.below(512))
	for i := range n {
		k := st.lack[(from+i)%len(st.lack)]
		key := j.kinds[k].key(order) >> 10 * int64(1024-c.rng.Uint64()%(blur+1))
		at := len(c.order)
		c.order, c.keys = append(c.order, k), append(c.keys, key)
		for ; at > 0 && c.keys[at-1] < key; at-- {
			c.order[at], c.keys[at] = c.order[at-1], c.keys[at-1]
		}
		c.order[at], c.keys[at] = k, key
	}
}

// blink is how seldom a better spot is passed over.
const blink = 50

// place places one copy of a kind in the best spot of the candidates, or on a new
// sheet if there is money for one.
func (c *chain) place(k int32, r rule) bool {
	j, st := c.j, &c.now
	d := &j.kinds[k]
	t := noSpot()
	at, odd := none, false
	for _, i := range c.candidates {
		s := &st.sheets[i]
		if d.area > j.grains(s.w, s.h)-s.used+1 {
			continue
		}
		ways := j.ways[int(k)*len(j.boards)+int(s.board)]
		if ways&asDrawn != 0 && s.better(j, d.w, d.h, r, blink, c.rng, &t) {
			at, odd = i, false
		}
		if ways&turned != 0 && s.better(j, d.h, d.w, r, blink, c.rng, &t) {
			at, odd = i, true
		}
	}
	if at == none {
		b := c.affordable(k)
		if b == none {
			return false
		}
		at = c.newSheet(b)
		ways := j.ways[int(k)*len(j.boards)+int(b)]
		odd = ways&asDrawn == 0 || ways&turned != 0 && c.rng.below(2) == 0
		t = spot{node: none, how: onEmpty}
	}
	s := &st.sheets[at]
	c.touch(int(at))
	w, h := d.w, d.h
	if odd {
		w, h = h, w
	}
	st.whole -= s.whole
	s.put(j, k, w, h, odd, t.node, t.how)
	st.whole += s.whole
	st.leave(j, k, -1)
	c.moved = append(c.moved, -1-k) // placed
	return true
}

// newSheet opens a sheet and makes it a candidate.
func (c *chain) newSheet(b int32) int32 {
	st := &c.now
	i := st.slot()
	c.touch(i)
	st.openSheet(c.j, b)
	c.candidates = append(c.candidates, int32(i))
	return int32(i)
}

// affordable returns a board for a kind that there is and that the limit allows,
// mostly one that is cheap by area, or none.
func (c *chain) affordable(k int32) int32 {
	j, st := c.j, &c.now
	best, least := none, 0.0
	for b := range j.boards {
		bd := &j.boards[b]
		if j.ways[int(k)*len(j.boards)+b] == 0 || st.used[b] >= c.most(b) || bd.cost > c.limit-st.cost {
			continue
		}
		x := float64(bd.cost) / float64(bd.area) * float64(512+c.rng.below(512))
		if best == none || x < least {
			best, least = int32(b), x
		}
	}
	return best
}

package router

import (
	"cmp"
	"math"
	"slices"

	"panelyard/parts/length"
)

// worth is how good a layout is; less is better, in the order of the fields.
type worth struct {
	unplaced float64 // area
	cost     int64
	sheets   int
	used     length.Length // of a strip
	offcut   float64       // minus the largest rectangle left of a sheet
}

func (a worth) less(b worth) bool {
	switch {
	case a.unplaced != b.unplaced:
		return a.unplaced < b.unplaced
	case a.cost != b.cost:
		return a.cost < b.cost
	case a.sheets != b.sheets:
		return a.sheets < b.sheets
	case a.used != b.used:
		return a.used < b.used
	}
	return a.offcut < b.offcut
}

// value returns the worth of the current layout, which has no overlap.
func (c *chain) value() worth {
	var w worth
	for i := range c.cur.places {
		if c.cur.places[i].board < 0 {
			w.unplaced += c.kinds[c.items[i]].area
		}
	}
	for b := range c.cur.boards {
		bd := &c.cur.boards[b]
		if len(bd.items) == 0 {
			continue
		}
		w.cost += c.p.Stocks[bd.stock].Cost
		if !c.p.Stocks[bd.stock].Offcut {
			w.sheets++ // a kept offcut is there anyway
		}
		if c.p.Strip {
			w.used = c.used(b)
			continue
		}
		var right, top length.Length
		for _, i := range bd.items {
			p := &c.cur.places[i]
			right, top = max(right, p.x+p.sh.w), max(top, p.y+p.sh.h)
		}
		w.offcut = min(w.offcut, -float64(bd.w-right)*float64(bd.h), -float64(bd.h-top)*float64(bd.w))
	}
	return w
}

// take makes the current layout the best when it is.
func (c *chain) take() bool {
	if w := c.value(); c.best.places == nil || w.less(c.worth) {
		c.worth = w
		c.best.copyFrom(&c.cur)
		c.watch.tell(c)
		return true
	}
	return false
}

// run searches until the budget is spent.
func (c *chain) run() {
	c.start()
	if len(c.items) > maxSearched || len(c.best.boards) == 0 {
		return
	}
	c.cur.copyFrom(&c.best)
	if c.p.Strip {
		c.strip()
		return
	}
	c.sheets()
}

// start constructs layouts in several orders; at least one, whatever the budget.
func (c *chain) start() {
	tries := max(1, min(6, 600/max(1, len(c.items))))
	if c.p.Strip {
		tries = 1
	}
	for t := range tries {
		if c.mates = nil; t%2 == 1 {
			c.mates = c.pairUp()
		}
		c.construct(c.bySize((c.number+t)%4), t > 3)
		c.take()
		if c.stop() {
			return
		}
	}
}

// sheets saves board: it tries to do without a sheet, or with a cheaper one in
// its place, by spreading its items over the others and removing the overlap that
// makes. What is tried next depends on what was tried in vain. The end of the
// budget goes into one large offcut on the emptiest sheet.
func (c *chain) sheets() {
	c.meets = true
	c.first()
	vain, hopeless := 0, 0
	for !c.spent() && c.progress() < saveShare && hopeless < 40 {
		c.refillAll()
		if c.spent() {
			break
		}
		c.cur.copyFrom(c.ground())
		if !c.change(vain) {
			hopeless++
			c.pass() // so that a counted budget ends
			c.passed()
			continue
		}
		hopeless = 0
		if c.settle(min(30+2*vain, 120), 1+min(vain/4, 6)) {
			vain = 0
		} else {
			vain++
		}
	}
	lean := c.ground() == &c.lean
	c.refine()
	c.compact()
	if !lean || c.stop() {
		return
	}
	// The leaner layout may leave a larger offcut.
	c.reshape(&c.lean)
	best, w := layout{}, c.worth
	best.copyFrom(&c.best)
	c.best.copyFrom(&c.lean)
	c.cur.copyFrom(&c.lean)
	c.worth = c.value()
	c.compact()
	if w.less(c.worth) {
		c.best.copyFrom(&best)
		c.worth = w
	}
}

// refine goes over to the fine outlines: the best layout is legal for them, too.
func (c *chain) refine() {
	if c.fine == nil {
		return
	}
	c.shop, c.fine = c.fine, nil
	c.reshape(&c.best)
}

// reshape gives a layout the outlines of the level the chain is at.
func (c *chain) reshape(l *layout) {
	for i := range l.places {
		if p := &l.places[i]; p.board >= 0 {
			p.sh = c.kinds[c.items[i]].looks[look{p.sh.turn, p.sh.flip}]
		}
	}
}

// settle removes the overlap of the current layout, from which one of the best of
// several attempts goes on with two items exchanged, and reports whether the best
// layout became better.
func (c *chain) settle(patience, attempts int) bool {
	c.pool.clear()
	for range attempts {
		if c.separate(patience, c.choice) {
			c.dropEmpty()
			return c.take()
		}
		if c.passed() {
			return true
		}
		if c.spent() {
			return false
		}
		c.pool.add(&c.cur, c.raw)
		c.pool.pick(&c.cur, c.rng)
		c.swapTwo()
	}
	return false
}

// saveShare is the share of the budget that goes into saving board.
const saveShare = 0.85

// choice returns the boards on which item i looks for a place: its own and up to
// three others by chance.
func (c *chain) choice(i int32) []int32 {
	c.some = c.some[:0]
	n := len(c.cur.boards)
	if own := c.cur.places[i].board; own >= 0 {
		c.some = append(c.some, own)
	}
	if n <= 4 {
		for b := range n {
			if !slices.Contains(c.some, int32(b)) {
				c.some = append(c.some, int32(b))
			}
		}
	} else {
		for range 3 {
			if b := int32(c.rng.IntN(n)); !slices.Contains(c.some, b) {
				c.some = append(c.some, b)
			}
		}
	}
	k := &c.kinds[c.items[i]]
	c.some = slices.DeleteFunc(c.some, func(b int32) bool { return !c.holds(k, c.cur.boards[b].stock) })
	return c.some
}

// change makes the current layout cheaper by one step, with overlap: a sheet is
// left out, or changed for a cheaper one, or unplaced items are put in. It reports
// false when the step can be seen to be hopeless.
func (c *chain) change(vain int) bool {
	var homeless []int32
	for i := range c.cur.places {
		if c.cur.places[i].board < 0 {
			homeless = append(homeless, int32(i))
		}
	}
	if len(homeless) > 0 {
		i := homeless[c.rng.IntN(len(homeless))]
		return c.house([]int32{i})
	}
	b := c.emptiest()
	if c.rng.IntN(3) == 0 {
		b = c.rng.IntN(len(c.cur.boards))
	}
	// A cheaper stock for this sheet, or none at all.
	bd := &c.cur.boards[b]
	options := []int{-1}
	for _, j := range c.stocks {
		if j != bd.stock && c.left(j) != 0 && c.p.Stocks[j].Cost < c.p.Stocks[bd.stock].Cost {
			options = append(options, j)
		}
	}
	to := options[c.rng.IntN(len(options))]
	if vain%2 == 0 {
		to = -1
	}
	items := slices.Clone(bd.items)
	for _, i := range items {
		c.cur.places[i].board = -1
	}
	bd.items = bd.items[:0]
	if to < 0 {
		c.removeBoard(b)
	} else {
		u := c.p.Stocks[to].Usable
		bd.stock, bd.w, bd.h = to, u.Dx(), u.Dy()
	}
	if len(c.cur.boards) == 0 || !c.room() {
		return false
	}
	return c.house(items)
}

// room reports whether the boards have more area than all items.
func (c *chain) room() bool {
	have, need := 0.0, 0.0
	for b := range c.cur.boards {
		have += float64(c.cur.boards[b].w) * float64(c.cur.boards[b].h)
	}
	for _, k := range c.items {
		need += c.kinds[k].area
	}
	return need <= have
}

// house gives items without a board the place of least overlap on any board. It
// reports false when one fits no board.
func (c *chain) house(items []int32) bool {
	c.largeFirst(items)
	for k := range c.weight {
		c.weight[k] = 1
	}
	var boards []int32
	for _, i := range items {
		boards = boards[:0]
		for b := range c.cur.boards {
			if c.holds(&c.kinds[c.items[i]], c.cur.boards[b].stock) {
				boards = append(boards, int32(b))
			}
		}
		if len(boards) > 8 {
			c.rng.Shuffle(len(boards), func(a, b int) { boards[a], boards[b] = boards[b], boards[a] })
			boards = boards[:8]
		}
		f := c.searcher.best(i, boards)
		if math.IsInf(f.cost, 1) {
			return false
		}
		c.move(i, f.place)
	}
	return true
}

// largeFirst sorts items by size, then by number.
func (c *chain) largeFirst(items []int32) {
	slices.SortFunc(items, func(a, b int32) int {
		return cmp.Or(cmp.Compare(c.kinds[c.items[b]].size, c.kinds[c.items[a]].size), int(a-b))
	})
}

// emptiest returns the board with the least panel area for its own.
func (c *chain) emptiest() int {
	at, least := 0, math.Inf(1)
	for b := range c.cur.boards {
		sum := 0.0
		for _, i := range c.cur.boards[b].items {
			sum += c.kinds[c.items[i]].area
		}
		if sum < least {
			at, least = b, sum
		}
	}
	return at
}

// removeBoard takes an empty board out.
func (c *chain) removeBoard(b int) {
	last := len(c.cur.boards) - 1
	c.cur.boards[b], c.cur.boards[last] = c.cur.boards[last], c.cur.boards[b]
	for _, i := range c.cur.boards[b].items {
		c.cur.places[i].board = int32(b)
	}
	c.cur.boards = c.cur.boards[:last]
}

// dropEmpty takes all empty boards out.
func (c *chain) dropEmpty() {
	for b := len(c.cur.boards) - 1; b >= 0; b-- {
		if len(c.cur.boards[b].items) == 0 {
			c.removeBoard(b)
		}
	}
}

// repack constructs the layout of a board anew in an order, to the left or to the
// bottom, and keeps it when it leaves a larger rectangle: the search lets panels float
// where they do not matter.
func (c *chain) repack(b int, order []int32, down bool) bool {
	if c.stop() {
		return false
	}
	c.cur.copyFrom(&c.best)
	bd := &c.cur.boards[b]
	mine := make([]bool, len(c.items))
	for _, i := range bd.items {
		mine[i] = true
		c.cur.places[i].board = -1
	}
	bd.items = bd.items[:0]
	c.down = down
	defer func() { c.down = false }()
	for _, i := range order {
		if mine[i] && (c.stop() || !c.fit(i, int32(b))) {
			return false
		}
	}
	return c.take()
}

// compact pushes the panels of the emptiest sheet together, so that one large
// rectangle is left.
func (c *chain) compact() {
	c.cur.copyFrom(&c.best)
	b := c.emptiest()
	for by := range 4 {
		c.repack(b, c.bySize(by), false)
		c.repack(b, c.bySize(by), true)
	}
	c.press(b)
	for vain := 0; vain < repacks && !c.spent(); vain++ {
		c.cur.copyFrom(&c.best)
		if b = c.emptiest(); c.repack(b, c.shuffled(), vain%2 == 1) {
			vain = 0
		}
		if c.pass(); c.passed() {
			vain = 0
		}
	}
}

// repacks is how many orders are tried in vain for the emptiest sheet in the end.
const repacks = 200

// press shortens, or lowers, the board of a sheet step by step.
func (c *chain) press(b int) {
	own := []int32{int32(b)}
	only := func(int32) []int32 { return own }
	for step := 0.1; step > 0.002 && !c.spent(); {
		c.cur.copyFrom(&c.best)
		if c.passed() {
			b = c.emptiest()
			own[0] = int32(b)
		}
		bd := &c.cur.boards[b]
		w, h := bd.w, bd.h
		var right, top length.Length
		for _, i := range bd.items {
			p := &c.cur.places[i]
			right, top = max(right, p.x+p.sh.w), max(top, p.y+p.sh.h)
		}
		// The side that leaves more is pushed further.
		if float64(w-right)*float64(h) >= float64(h-top)*float64(w) {
			bd.w = length.Length(float64(right) * (1 - step))
		} else {
			bd.h = length.Length(float64(top) * (1 - step))
		}
		fits := true
		for _, i := range bd.items {
			p := &c.cur.places[i]
			if p.sh.w > bd.w || p.sh.h > bd.h {
				fits = false
				break
			}
			p.x, p.y = min(p.x, bd.w-p.sh.w), min(p.y, bd.h-p.sh.h)
		}
		ok := fits && c.separate(15, only)
		c.cur.boards[b].w, c.cur.boards[b].h = w, h
		if !ok || !c.take() {
			step /= 2
			c.pass()
		}
	}
}

package saw

import (
	"context"
	"math"
)

// chain is one search with a source of chance of its own.
type chain struct {
	j         *job
	number    int
	rng       *source
	now, best state
	bestScore score

	goal   goal
	limit  int64   // cost that must not be passed
	mix    []int32 // most sheets of each board; nil for those there are
	mixes  mixes
	pool   pool
	forced int  // sheet of which a part is kept free, or none
	window int  // steps until the next goal
	stale  int  // steps since the last success
	ended  bool // the goal is reached, or another chain has
	steps  int
	owed   int // steps whose time a dive has taken

	late []int64 // energies of some steps ago, for late acceptance
	turn int

	// What a step has changed, to be undone.
	saved  []sheet
	which  []int32 // saved[i] is of sheet which[i]
	moved  []int32 // a kind for each copy taken, -1-kind for each copy placed
	before struct {
		cost, whole int64
		open        int
	}

	removed, order []int32
	keys           []int64
	candidates     []int32

	share float64 // of the sheet's area that the next offcut is to grow by
}

// goal is what a chain works on.
type goal uint8

const (
	noGoal  goal = iota
	cheaper      // all panels for less, or more panels
	offcut       // the same for a larger offcut
)

// leastHistory is how many steps late acceptance looks back for as long as a default budget
// lasts. For each such time after that the first chain looks back by moreHistory more, each
// other one by twice as many as the one before it, up to mostHistory. To look far back is
// slow and gets further where there is time for it; with how much time is not known. For
// offcuts there are few steps, and it does not pay.
const leastHistory, moreHistory, mostHistory = 40, 5, 400

func newChain(j *job, seed uint64, number int) *chain {
	c := &chain{j: j, number: number, rng: newSource(seed, uint64(number)), forced: int(none)}
	c.now = *j.newState()
	return c
}

// energy is what a chain lowers: the area without a place, and how broken up the
// rest is. Where some panels have no place in any plan found so far, their number
// comes first.
func (c *chain) energy() int64 {
	left := c.now.area
	if c.bestScore.count > 0 {
		left += int64(c.now.count) * c.j.largest
	}
	return leftWeight*left - c.now.whole
}

// leftWeight is what a grain without a place weighs against one of wholeness.
const leftWeight = 2

// record keeps the current state if it is better than the best, and reports
// whether it is. Outside the search for offcuts it must be better by what is
// required, because only then is measuring its offcuts worth the time.
func (c *chain) record() bool {
	st := &c.now
	x := score{count: st.count, area: st.area, cost: st.cost, sheets: st.open}
	first := !c.started()
	if r := x.required(c.bestScore); !first && (r > 0 || r == 0 && c.goal != offcut) {
		return false
	}
	kept := &state{}
	kept.copyFrom(st)
	for i := range kept.sheets {
		if s := &kept.sheets[i]; s.board != none {
			kept.whole -= s.whole
			s.finish(c.j)
			kept.whole += s.whole
		}
	}
	x = kept.score(c.j)
	if !first && x.compare(c.bestScore) >= 0 {
		return false
	}
	for i := range st.sheets {
		c.remember(&st.sheets[i], true)
	}
	c.best, c.bestScore = *kept, x
	return true
}

// started reports whether the chain has a plan.
func (c *chain) started() bool { return c.best.used != nil }

// run makes a number of steps, or as many as there is time for. In some rounds all chains
// meet: who has not come to its goal then tries another.
func (c *chain) run(ctx context.Context, steps, total int, meets bool) {
	for i := range steps {
		if i%16 == 0 && ctx.Err() != nil {
			return
		}
		c.steps++
		if c.owed > 0 {
			c.owed--
			continue
		}
		switch {
		case c.goal == noGoal, c.ended, c.goal == offcut && c.stale >= c.window:
			c.nextGoal(ctx, total, false)
		case meets && i == 0 && (c.goal == offcut || c.stale >= c.window/2+c.window/4):
			c.nextGoal(ctx, total, true)
		}
		if c.goal == noGoal {
			return
		}
		c.stale++
		if c.step() && c.forced == int(none) {
			for _, i := range c.which {
				c.remember(&c.now.sheets[i], false)
			}
		}
		switch {
		case !c.done():
		case c.record():
			c.succeeded()
		default:
			// The part kept free was not the best offcut after all.
			c.ended = true
		}
	}
}

// done reports whether the current state may be better than the best.
func (c *chain) done() bool {
	st := &c.now
	if c.bestScore.count > 0 {
		return st.count < c.bestScore.count || st.count == c.bestScore.count && st.area < c.bestScore.area
	}
	return st.count == 0
}

// nextGoal chooses what to work on. With a counted budget the last part of it
// goes to offcuts, without one they take turns. With time for it, a start is sought in
// the pool.
func (c *chain) nextGoal(ctx context.Context, total int, dive bool) {
	c.leaveMix()
	able := c.bestScore.count > 0 || c.bestScore.cost > c.j.bound
	wants := cheaper
	switch {
	case !able:
		wants = offcut
	case total > 0 && c.steps*10 >= total*7:
		wants = offcut
	case total < 0 && c.goal == cheaper && c.rng.below(4) == 0:
		wants = offcut
	}
	if wants == offcut && c.bestScore.count > 0 {
		wants = cheaper
	}
	if c.bestScore.sheets == 0 {
		wants = noGoal
	}
	c.goal = wants
	switch wants {
	case cheaper:
		c.startCheaper()
		if dive && c.bestScore.count == 0 {
			steps, _ := c.dive(ctx)
			if total > 0 {
				c.owed = steps
			}
		}
	case offcut:
		c.share /= 2
		if c.share < 0.002 {
			c.share = 0.08
		}
		c.startOffcut()
	}
}

// succeeded sets the goal anew after a better plan was found.
func (c *chain) succeeded() {
	switch {
	case c.goal == cheaper && c.bestScore.count == 0 && c.bestScore.cost <= c.j.bound:
		c.ended = true
	case c.goal == cheaper:
		c.startCheaper()
	case c.goal == offcut:
		c.startOffcut()
	}
}

// startCheaper goes on from the best plan without some of its sheets, so that
// what remains costs less; the search is to place what lay on them.
func (c *chain) startCheaper() {
	c.now.copyFrom(&c.best)
	c.forced = int(none)
	c.limit = math.MaxInt64
	c.mix = nil
	if c.bestScore.count == 0 {
		c.limit = c.bestScore.cost - 1
		c.nextMix()
		for c.now.cost > c.limit {
			c.drop(c.emptiest())
		}
	}
	c.stale, c.window, c.ended = 0, 2*roundSteps*c.j.meeting(), false
	if c.bestScore.count == 0 {
		c.window /= 2 // a dive goes on from elsewhere
	}
	c.forget()
}

// emptiest returns a sheet, mostly one that holds little for its cost.
func (c *chain) emptiest() int {
	best := c.sheet()
	for range c.rng.below(4) {
		i := c.sheet()
		a, b := &c.now.sheets[i], &c.now.sheets[best]
		if a.used*c.j.boards[b.board].area < b.used*c.j.boards[a.board].area {
			best = i
		}
	}
	return best
}

// sheet returns any sheet.
func (c *chain) sheet() int {
	for {
		if i := c.rng.below(len(c.now.sheets)); c.now.sheets[i].board != none {
			return i
		}
	}
}

// drop takes a sheet away, and what lies on it.
func (c *chain) drop(i int) {
	c.removed = c.now.empty(c.j, i, c.removed)
	c.now.closeSheet(c.j, i)
}

// startOffcut goes on from the best plan with a part of a sheet kept free that is
// larger than the largest offcut; the search is to place what lay there.
func (c *chain) startOffcut() {
	j, st := c.j, &c.now
	st.copyFrom(&c.best)
	c.limit = c.bestScore.cost
	c.mix = nil
	c.stale, c.window, c.ended = 0, 300+6*j.panels, false
	// The sheet with the largest offcut, or now and then any.
	at := c.sheet()
	if c.rng.below(4) > 0 {
		most := int64(-1)
		for i := range st.sheets {
			if s := &st.sheets[i]; s.board != none {
				if m, _ := j.kept(s); m > most {
					most, at = m, i
				}
			}
		}
	}
	c.forced = at
	s := &st.sheets[at]
	w, h := int64(s.w), int64(s.h)
	// All areas here are of real sizes, without the kerf.
	k := int64(j.kerf)
	want := c.bestScore.largest + int64(c.share*float64(w)*float64(h))
	if c.rng.below(2) == 0 || j.p.Strip {
		r := max(want/(h-k)+1, int64(j.p.Keep.Short)) + k
		if r < w {
			s.w = int32(w - r)
		}
	} else if r := max(want/(w-k)+1, int64(j.p.Keep.Short)) + k; r < h {
		s.h = int32(h - r)
	}
	st.whole -= s.whole
	for !s.fits() {
		c.removed = s.evict(j, c.rng, c.removed[:0])
		for _, k := range c.removed {
			st.leave(j, k, 1)
		}
		if s.root != none {
			s.measureAll(s.root)
		}
	}
	s.settle(j)
	st.whole += s.whole
	c.forget()
}

// evict takes a blank off a sheet that is too small for what lies on it: one
// without which it needs less, if there is any.
func (s *sheet) evict(j *job, rng *source, list []int32) []int32 {
	n := s.root
	wide := s.nodes[n].w > s.w
	for s.nodes[n].kind < 0 {
		pick, most, count := none, int32(-1), 0
		along := (s.nodes[n].kind == rowX) == wide
		for c := s.nodes[n].first; c != none; c = s.nodes[c].next {
			size := s.nodes[c].h
			if wide {
				size = s.nodes[c].w
			}
			if along {
				if count++; rng.below(count) == 0 {
					pick = c
				}
			} else if size > most {
				pick, most = c, size
			}
		}
		n = pick
	}
	s.detach(n)
	return s.dissolve(j, n, list)
}

// forget starts late acceptance anew.
func (c *chain) forget() {
	n := leastHistory
	if usual := DefaultRounds(c.j.panels) * roundSteps; c.goal == cheaper && c.steps > usual {
		n = min(mostHistory, n+moreHistory<<c.number*(c.steps-usual)/usual)
	}
	e := c.energy()
	c.late, c.turn = c.late[:0], 0
	for range n {
		c.late = append(c.late, e)
	}
}

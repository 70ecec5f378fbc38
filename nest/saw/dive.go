package saw

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// dive puts a plan together from the patterns of a pool: a program says in which
// fractions they would be bought, patterns that are worth more are sought for its dual
// values, the largest fraction is rounded up, and so on with what is still wanted.
//
// Columns and their dual values are those of Gilmore & Gomory, "A linear programming
// approach to the cutting stock problem", Operations Research 9, 1961 (from memory).
// Patterns here have no more copies of a kind than are wanted, which the bound forgets.
type dive struct {
	c      *chain
	wants  []int32 // copies of each kind
	have   []int32 // sheets of each board that there may be still
	money  int64
	chosen []*pattern

	rows   []int32 // of the program, by kind, or none; the boards and the money come last
	lp     *program
	base   int        // the first column of a pattern
	of     []*pattern // of the columns from there on
	worth  []int64    // of a copy of each kind by the dual values
	work   int        // about as many multiplications
	made   []*pattern // that were sought and found
	lists  [orders][]int32
	needed []int32 // scratch
}

const (
	// missing is what a grain without a place costs, in hundredths of a grain of board.
	missing = 150
	// rootRounds and laterRounds are how often patterns are sought for a program, the first
	// one and later ones.
	rootRounds, laterRounds = 6, 2
	// mostDescents is how often the first solution is rounded, in different ways; once it
	// takes three times as long as solving it, it was the last time.
	mostDescents = 8
	// mostNear is how many patterns are looked at on the way down.
	mostNear = 500
	// mostSheets is for how many sheets a dive is worth its time.
	mostSheets = 120
	// leastPatterns is how many patterns a pool must have.
	leastPatterns = 20
	// mostWork ends a dive, and workOfStep takes the time of a step of the search (measured
	// on cabinet jobs).
	mostWork, workOfStep = 400_000_000, 12_000
	// nearlyOne is a fraction that is rounded up in any case.
	nearlyOne = 0.99
	// one is a worth of 1 in whole numbers: a board of all grains.
	one = 1 << 30
)

// fraction is how much of a pattern a solution buys.
type fraction struct {
	of *pattern
	x  float64
}

// dive makes a plan of the pool the current state, in general with some blanks left, and
// reports whether there was enough to do so. It says how many steps it took the time of.
func (c *chain) dive(ctx context.Context) (steps int, ok bool) {
	if !c.j.remembers() || len(c.pool.list) < leastPatterns || c.bestScore.sheets > mostSheets {
		return 0, false
	}
	d := newDive(c)
	d.begin()
	if !d.solve(ctx, c.pool.list, rootRounds) {
		return d.work / workOfStep, false
	}
	root, near := d.fractions(), d.near()
	d.made = nil
	var best []*pattern
	least, until := int64(math.MaxInt64), 3*d.work
	for try := range mostDescents {
		d.begin()
		f := root
		for d.round(f, try) && d.solve(ctx, near, laterRounds) {
			f = d.fractions()
		}
		if left := d.left(); left < least {
			least, best = left, slices.Clone(d.chosen)
		}
		if least == 0 || d.work > until || ctx.Err() != nil {
			break
		}
	}
	if len(best) == 0 {
		return d.work / workOfStep, false
	}
	c.lay(best)
	return d.work / workOfStep, true
}

func newDive(c *chain) *dive {
	j := c.j
	d := &dive{c: c, rows: make([]int32, len(j.kinds)), worth: make([]int64, len(j.kinds)), needed: make([]int32, len(j.kinds))}
	for i := range d.lists {
		d.lists[i] = j.sorted(i)
	}
	return d
}

// begin wants everything again.
func (d *dive) begin() {
	j := d.c.j
	d.money = d.c.limit
	d.wants, d.have, d.chosen = d.wants[:0], d.have[:0], d.chosen[:0]
	for k := range j.kinds {
		d.wants = append(d.wants, j.kinds[k].copies)
	}
	for b := range j.boards {
		d.have = append(d.have, min(d.c.most(b), int32(j.panels)))
	}
}

// left returns the area of what is wanted still.
func (d *dive) left() int64 {
	sum := int64(0)
	for k, n := range d.wants {
		sum += int64(n) * d.c.j.kinds[k].area
	}
	return sum
}

// solve makes and solves the program of what is wanted, of patterns and of those that are
// worth more, which it seeks so often. It reports false when there is no program or no
// time.
func (d *dive) solve(ctx context.Context, pool []*pattern, rounds int) bool {
	if d.work > mostWork || ctx.Err() != nil || !d.program(slices.Concat(pool, d.made)) {
		return false
	}
	d.lp.solve(ctx, mostWork-d.work)
	for range rounds {
		if !d.price(ctx) {
			break
		}
		d.lp.solve(ctx, mostWork-d.work)
	}
	d.work += d.lp.work
	return true
}

// fractions returns what the solution buys.
func (d *dive) fractions() []fraction {
	var list []fraction
	for i, x := range d.lp.values(d.base) {
		if x > 1e-6 {
			list = append(list, fraction{d.of[i], x})
			d.c.use(d.of[i])
		}
	}
	return list
}

// near returns the patterns that are in the solution, or nearest to it: few others are
// of use when part of it is bought.
func (d *dive) near() []*pattern {
	type far struct {
		of   *pattern
		cost float64
	}
	var list []far
	for i, p := range d.of {
		list = append(list, far{p, d.lp.reduced(d.base + i)})
	}
	slices.SortStableFunc(list, func(a, b far) int { return cmp.Compare(a.cost, b.cost) })
	var near []*pattern
	for _, f := range list[:min(len(list), mostNear)] {
		near = append(near, f.of)
	}
	return near
}

// program makes the program of what is wanted, with columns for patterns. It reports
// false when nothing is wanted or no pattern may be bought.
func (d *dive) program(pool []*pattern) bool {
	j := d.c.j
	var wants, costs []float64
	for k, n := range d.wants {
		d.rows[k] = none
		if n > 0 {
			d.rows[k] = int32(len(wants))
			// A little more of each kind, different for each, keeps the method from idling.
			wants = append(wants, float64(n)+float64(1e-7*float64(int(n)*(1+k*7%13))))
			costs = append(costs, float64(j.kinds[k].area*missing)/(100<<grainBits))
		}
	}
	kinds := len(wants)
	if kinds == 0 {
		return false
	}
	for _, n := range d.have {
		wants, costs = append(wants, float64(n)), append(costs, 0)
	}
	wants, costs = append(wants, float64(d.money)/float64(max(1, d.c.limit))), append(costs, 0)
	d.lp, d.of = newProgram(wants, costs), d.of[:0]
	for i := range kinds {
		d.lp.add(0, []entry{{int32(i), -1}}) // more than is wanted
	}
	d.base = len(d.lp.columns)
	for _, p := range pool {
		d.add(p)
	}
	return len(d.of) > 0
}

// affords reports whether a sheet of a board may be bought.
func (d *dive) affords(b int32) bool {
	return d.have[b] > 0 && d.c.j.boards[b].cost <= d.money
}

// add adds the column of a pattern, if it has something that is wanted.
func (d *dive) add(p *pattern) {
	b := p.s.board
	if !d.affords(b) {
		return
	}
	var gives []entry
	for _, e := range p.counts {
		if r := d.rows[e.row]; r != none {
			gives = append(gives, entry{r, min(e.value, float64(d.wants[e.row]))})
		}
	}
	if len(gives) == 0 {
		return
	}
	bd := &d.c.j.boards[b]
	last := int32(d.lp.rows - 1)
	gives = append(gives, entry{last - int32(len(d.have)) + b, 1}, entry{last, float64(bd.cost) / float64(max(1, d.c.limit))})
	d.lp.add(float64(bd.area)/(1<<grainBits), gives)
	d.of = append(d.of, p)
}

// round buys the patterns of which a solution has one or more, or the one of which it
// has most, blurred by chance, and more so in later tries. It reports whether it bought
// any.
func (d *dive) round(list []fraction, try int) bool {
	bought := false
	best, at := 0.0, -1
	blur := min(900, 300+200*try)
	for i, f := range list {
		x := f.x
		for ; x > nearlyOne; x-- {
			bought = d.buy(f.of) || bought
		}
		if x *= float64(1000 - d.c.rng.below(blur)); x > best {
			best, at = x, i
		}
	}
	return bought || at >= 0 && d.buy(list[at].of)
}

func (d *dive) buy(p *pattern) bool {
	if !d.affords(p.s.board) {
		return false
	}
	d.have[p.s.board]--
	d.money -= d.c.j.boards[p.s.board].cost
	for _, e := range p.counts {
		d.wants[e.row] = max(0, d.wants[e.row]-int32(e.value))
	}
	d.chosen = append(d.chosen, p)
	return true
}

// lay makes the current state one of patterns, each blank of which there are too many
// taken off, and places what is left where there is room.
func (c *chain) lay(list []*pattern) {
	j, st := c.j, &c.now
	*st = *j.newState()
	c.saved, c.which, c.moved = c.saved[:0], c.which[:0], c.moved[:0]
	for _, p := range list {
		i := st.openSheet(j, p.s.board)
		s := &st.sheets[i]
		st.whole -= s.whole
		s.copyFrom(&p.s)
		s.limit(j, st.left, func(k int32) { st.leave(j, k, -1) })
		st.whole += s.whole
		c.touch(i)
	}
	c.recreate()
	c.forget()
}

// limit takes blanks off a sheet of which there are no more, and calls f for all others.
func (s *sheet) limit(j *job, left []int32, f func(k int32)) {
	var over []int32
	for n := range s.nodes {
		k := s.nodes[n].kind
		switch {
		case k < 0:
		case left[k] > 0:
			f(k)
		default:
			over = append(over, int32(n))
		}
	}
	var list []int32
	for _, n := range over {
		s.detach(n)
		list = s.dissolve(j, n, list[:0])
	}
	s.remeasure(j)
}

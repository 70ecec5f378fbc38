package saw

import (
	"context"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/length"
)

// whole checks a state against its sheets: blanks counted once, costs, areas, numbers.
func whole(t *testing.T, c *chain) {
	t.Helper()
	j, st := c.j, &c.now
	left, used := make([]int32, len(j.kinds)), make([]int32, len(j.boards))
	for k := range j.kinds {
		left[k] = j.kinds[k].copies
	}
	var cost, wholeness, area int64
	for i := range st.sheets {
		s := &st.sheets[i]
		if s.board == none {
			continue
		}
		sound(t, j, s)
		used[s.board]++
		cost += j.boards[s.board].cost
		wholeness += s.whole
		for n := range s.nodes {
			if k := s.nodes[n].kind; k >= 0 {
				left[k]--
			}
		}
	}
	count := 0
	for k, n := range left {
		area += int64(n) * j.kinds[k].area
		count += int(n)
		if n < 0 {
			t.Fatalf("%d of kind %d too many", -n, k)
		}
	}
	if !reflect.DeepEqual(left, st.left) || !reflect.DeepEqual(used, st.used) || cost != st.cost || area != st.area || count != st.count || wholeness != st.whole {
		t.Fatalf("%v left of %d grains, %v sheets for %d; the state says %v of %d, %v for %d", left, area, used, cost, st.left, st.area, st.used, st.cost)
	}
	for b, n := range used {
		if n > c.most(b) {
			t.Fatalf("%d sheets of board %d, %d are allowed", n, b, c.most(b))
		}
	}
	if cost > c.limit {
		t.Fatalf("sheets for %d, the limit is %d", cost, c.limit)
	}
}

// Every dive leaves a state that is what it says, within its limit and its mix, and what
// the pool and the prices make of it can go on: steps from there are sound.
func TestDiveSound(t *testing.T) {
	rng := rand.New(rand.NewPCG(33, 34))
	dives := 0
	for n := range 12 {
		p := small(rng, 30).p
		p.Stocks[0].Cost = 100
		p.Stocks = append(p.Stocks, stock("large", 1500*mm, 1200*mm, 0, parts.NoAxis, 151, 4), stock("narrow", 1400*mm, 600*mm, 0, parts.NoAxis, 73, parts.Unlimited))
		j := newJob(p, "ply")
		c := newChain(j, rng.Uint64(), 0)
		c.first(context.Background())
		if c.bestScore.count > 0 || c.bestScore.sheets < 2 {
			continue
		}
		c.goal = cheaper
		c.startCheaper()
		for range 400 {
			c.step()
			for _, i := range c.which {
				c.remember(&c.now.sheets[i], false)
			}
		}
		for range 4 {
			if n%2 == 1 {
				c.mix = append([]int32{}, c.best.used...)
			}
			c.limit = c.bestScore.cost - int64(n%3)
			steps, ok := c.dive(context.Background())
			if !ok {
				break
			}
			dives++
			if steps <= 0 {
				t.Error("a dive took no time")
			}
			whole(t, c)
			for range 20 {
				c.step()
			}
			whole(t, c)
			for i, e := range c.late {
				if e == math.MinInt64 {
					t.Errorf("energy %d is forgotten", i)
				}
			}
		}
	}
	if dives < 40 {
		t.Errorf("only %d dives", dives)
	}
}

// halves is a job whose best plan is known: n sheets, each of a wide panel and a narrow one
// that fill it, all of other widths, and the patterns that do it.
func halves(n int) (*job, []sheet) {
	p := &nest.Problem{Cut: kerf.Saw}
	p.Stocks = []nest.Stock{stock("sheet", 1000*mm, 500*mm, 0, parts.NoAxis, 10, parts.Unlimited)}
	for i := range n {
		a := 510*mm + length.Length(i)*3*mm
		p.Parts = append(p.Parts, part("wide", 1, a, 500*mm, parts.AlongLength), part("narrow", 1, 1000*mm-a, 500*mm, parts.AlongLength))
	}
	p.Stocks[0].Grain = parts.AlongLength
	j := newJob(p, "ply")
	var list []sheet
	for i := range n {
		var s sheet
		s.reset(0, &j.boards[0])
		s.settle(j)
		for k := 2 * i; k < 2*i+2; k++ {
			d := &j.kinds[k]
			t := noSpot()
			s.better(j, d.w, d.h, leastArea, 0, nil, &t)
			s.put(j, int32(k), d.w, d.h, false, t.node, t.how)
		}
		list = append(list, s)
	}
	return j, list
}

// A pool that holds the sheets of a plan without waste, among others that waste little:
// the dive finds it.
func TestDiveFindsPlan(t *testing.T) {
	const n = 24
	j, list := halves(n)
	c := newChain(j, 1, 0)
	c.first(context.Background())
	rng := rand.New(rand.NewPCG(35, 36))
	for _, i := range rng.Perm(n) {
		c.remember(&list[i], false)
	}
	c.limit = n * j.boards[0].cost
	if _, ok := c.dive(context.Background()); !ok {
		t.Fatal("no dive")
	}
	whole(t, c)
	if c.now.count > 0 || c.now.open != n {
		t.Errorf("%d panels left on %d sheets, want none on %d", c.now.count, c.now.open, n)
	}
}

// What a sheet is bettered to has no more copies than are wanted, and is worth what is
// said, no less than before.
func TestPriceSound(t *testing.T) {
	rng := rand.New(rand.NewPCG(37, 38))
	for range 30 {
		j := small(rng, 15)
		c := newChain(j, rng.Uint64(), 0)
		c.limit = 1000
		d := newDive(c)
		d.begin()
		for k := range d.worth {
			d.wants[k] = int32(rng.IntN(int(j.kinds[k].copies) + 1))
			d.worth[k] = j.kinds[k].area * int64(1000+rng.IntN(600))
		}
		asks := j.boards[0].area * 1100
		var s sheet
		d.fill(&s, 0, asks, d.lists[rng.IntN(orders)])
		before := d.value(&s)
		after := d.better(&s, asks)
		sound(t, j, &s)
		if after < before || after != d.value(&s) {
			t.Errorf("worth %d, then %d, the sheet says %d", before, after, d.value(&s))
		}
		for _, e := range newPattern(&s).counts {
			if int32(e.value) > d.wants[e.row] {
				t.Errorf("%v of kind %d, %d are wanted", e.value, e.row, d.wants[e.row])
			}
		}
	}
}

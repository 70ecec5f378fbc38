package saw

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"panelyard/parts"
)

// A mix that is chosen is cheaper than the best plan, has room for no further sheet, and
// the state has no more sheets than it; one that was left is gone on with.
func TestNextMix(t *testing.T) {
	rng := rand.New(rand.NewPCG(43, 44))
	p := small(rng, 40).p
	p.Stocks[0].Cost = 100
	p.Stocks = append(p.Stocks, stock("large", 1500*mm, 1200*mm, 0, parts.NoAxis, 151, 6))
	j := newJob(p, "ply")
	c := newChain(j, 7, 0)
	c.first(context.Background())
	if c.bestScore.count > 0 {
		t.Fatal("no plan of all panels")
	}
	for a := range 30 {
		for b := range 7 {
			j.take([][]int{{a, b}})
		}
	}
	slices.SortStableFunc(j.mixes, func(a, b mix) int { return int(a.cost - b.cost) })
	c.goal = cheaper
	chosen, again := 0, 0
	for range 200 {
		c.leaveMix()
		c.startCheaper()
		if c.mix == nil {
			continue
		}
		chosen++
		var cost, rest int64
		for b, n := range c.mix {
			cost += int64(n) * j.boards[b].cost
			if c.now.used[b] > n {
				t.Fatalf("%v sheets, the mix has %v", c.now.used, c.mix)
			}
		}
		rest = c.bestScore.cost - 1 - cost
		if rest < 0 || rest >= 100 { // the cheaper sheet is not limited
			t.Fatalf("a mix for %d, the best plan costs %d", cost, c.bestScore.cost)
		}
		if r := c.mixes.reached[c.mixes.at]; r != nil {
			again++
			if c.now.area != r.area {
				t.Fatalf("%d grains wait, %d did when the mix was left", c.now.area, r.area)
			}
		}
		for range 30 {
			c.step()
		}
	}
	if chosen < 100 || again < 50 {
		t.Errorf("a mix was chosen %d times, %d of them again", chosen, again)
	}
}

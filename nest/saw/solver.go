package saw

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"
	"time"

	"panelyard/kerf"
	"panelyard/nest"
)

// Solver makes plans for a saw. It is a [nest.Solver]; the zero value is ready.
type Solver struct{}

// New returns a solver.
func New() *Solver { return &Solver{} }

// Name returns the name of the method, for reports.
func (*Solver) Name() string { return "straight cuts" }

// ErrNotSaw is the error of a problem that is not for a saw.
var ErrNotSaw = errors.New("the problem is not for a saw")

// chains is the number of independent searches. It is fixed, so that the plan
// does not depend on the number of workers.
const chains = 4

// DefaultRounds returns the budget of rounds of each chain for a number of
// panels: about a quarter of a second for 30 panels, seconds for thousands.
func DefaultRounds(panels int) int {
	return min(10_000, max(150, 3_000_000/max(panels, 1)))
}

// Solve returns the best plan found when the budget of rounds is spent or ctx
// ends. A round ruins up to three sheets and repacks them; each of the chains
// makes Settings.Budget rounds after the usual orders and rules have been tried.
// The error is for problems that are not for a saw or hold turns other than
// quarter turns.
func (s *Solver) Solve(ctx context.Context, p *nest.Problem, set nest.Settings) (*nest.Plan, nest.Stats, error) {
	start := time.Now()
	if p.Cut != kerf.Saw {
		return nil, nest.Stats{}, ErrNotSaw
	}
	for i := range p.Parts {
		for _, t := range p.Parts[i].Turns {
			if t%90 != 0 {
				return nil, nest.Stats{}, fmt.Errorf("part %q: a saw cannot turn by %d degrees", p.Parts[i].Name, t)
			}
		}
	}
	plan := &nest.Plan{}
	var stats nest.Stats
	reasons := make(map[int]*nest.Unplaced)
	for _, m := range p.Materials() {
		sh := newShop(p, m)
		if sh == nil {
			continue
		}
		best, rounds := sh.search(ctx, set, start, plan)
		stats.Rounds += rounds
		sh.write(best, plan, reasons)
	}
	for i := range p.Parts {
		if u := reasons[i]; u != nil {
			plan.Unplaced = append(plan.Unplaced, *u)
		}
	}
	stats.Elapsed = time.Since(start)
	return plan, stats, nil
}

// search runs the chains and returns the best layout: the best by worth, then by
// number of the chain.
func (s *shop) search(ctx context.Context, set nest.Settings, start time.Time, done *nest.Plan) (*layout, int) {
	budget := set.Budget
	if budget == 0 {
		budget = DefaultRounds(len(s.items))
	}
	w := &watcher{set: set, start: start, sheets: len(done.Sheets)}
	list := make([]*chain, chains)
	queue := make(chan int, chains)
	for i := range list {
		list[i] = newChain(s, set.Seed, uint64(i))
		queue <- i
	}
	close(queue)
	var wg sync.WaitGroup
	for range min(max(set.Workers, 1), chains) {
		wg.Go(func() {
			// With fewer workers than chains and no limit of rounds, a worker would
			// never come to its second chain: it then works on one.
			for i := range queue {
				if i > 0 && ctx.Err() != nil {
					list[i] = nil
					continue
				}
				list[i].run(ctx, i, budget, w)
			}
		})
	}
	wg.Wait()
	var best *chain
	rounds := 0
	for _, c := range list {
		if c == nil {
			continue
		}
		rounds += c.rounds
		if best == nil || c.bestW.less(best.bestW) {
			best = c
		}
	}
	return &best.best, rounds
}

// run makes the rounds of a chain; a budget below zero has no end but ctx's.
func (c *chain) run(ctx context.Context, number, budget int, w *watcher) {
	tries := 30
	if budget > 0 {
		tries = min(tries, budget)
	}
	if len(c.items) > 2000 {
		tries = min(tries, 4)
	}
	c.start(ctx, number, tries)
	w.tell(c)
	for n := 0; budget < 0 || n < budget; n++ {
		if ctx.Err() != nil {
			return
		}
		if c.round() {
			w.tell(c)
		}
	}
}

// watcher passes better plans on, one at a time.
type watcher struct {
	set    nest.Settings
	start  time.Time
	sheets int
	mu     sync.Mutex
	best   *worth
}

func (w *watcher) tell(c *chain) {
	if w.set.Watch == nil {
		return
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.best != nil && !c.bestW.less(*w.best) {
		return
	}
	b := c.bestW
	w.best = &b
	w.set.Watch(nest.Progress{Elapsed: time.Since(w.start), Sheets: w.sheets + b.sheets, Cost: b.cost, Round: c.rounds})
}

// write appends a layout to a plan. Copies of a part are numbered as they lie:
// sheet by sheet, in the order in which they are cut.
func (s *shop) write(l *layout, plan *nest.Plan, unplaced map[int]*nest.Unplaced) {
	copies := map[int]int{}
	copyOf := func(i int32) (int, int) {
		part := int(s.items[i].part)
		copies[part]++
		return part, copies[part]
	}
	trees := slices.Clone(l.trees)
	slices.SortStableFunc(trees, func(a, b *tree) int {
		switch {
		case a.stock != b.stock:
			return a.stock - b.stock
		case a.area > b.area:
			return -1
		case a.area < b.area:
			return 1
		}
		return 0
	})
	for _, t := range trees {
		plan.Sheets = append(plan.Sheets, t.sheet(s.p, copyOf))
	}
	for _, i := range l.unplaced {
		part := int(s.items[i].part)
		u := unplaced[part]
		if u == nil {
			u = &nest.Unplaced{Part: part, Reason: "stock ran out"}
			if !s.fitsAny(&s.items[i]) {
				u.Reason = "fits no sheet"
			}
			unplaced[part] = u
		}
		u.Copies++
	}
}

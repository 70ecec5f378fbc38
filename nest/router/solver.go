package router

import (
	"context"
	"errors"
	"math/rand/v2"
	"slices"
	"sync"
	"time"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// Solver makes plans for a router. It is a [nest.Solver]; the zero value is ready.
type Solver struct{}

// New returns a solver.
func New() *Solver { return &Solver{} }

// Name returns the name of the method, for reports.
func (*Solver) Name() string { return "true shapes" }

// ErrNotRouter is the error of a problem that is not for a router.
var ErrNotRouter = errors.New("the problem is not for a router")

// chains is the number of searches with a counted budget. It is fixed, so that the
// plan does not depend on the number of workers. Without one there are as many as
// workers, maxChains at most.
const (
	chains    = 2
	maxChains = 64
)

// maxSearched is the number of items up to which overlap is allowed and removed;
// larger materials are constructed only.
const maxSearched = 2500

// DefaultPasses returns the budget of a chain for a number of items of a material.
func DefaultPasses(items int) int {
	return min(600, max(20, 18_000/max(items, 1)))
}

// Solve returns the best plan found when the budget is spent or ctx ends. A round
// of the budget is a pass of one chain: every overlapping item is moved once. The
// error names a part whose shape is no polygon.
func (s *Solver) Solve(ctx context.Context, p *nest.Problem, set nest.Settings) (*nest.Plan, nest.Stats, error) {
	start := time.Now()
	if p.Cut != kerf.Router {
		return nil, nest.Stats{}, ErrNotRouter
	}
	plan := &nest.Plan{}
	var stats nest.Stats
	unplaced := map[int]*nest.Unplaced{}
	for _, m := range p.Materials() {
		sh, err := newShop(p, m, coarse, set.Budget)
		if err != nil {
			return nil, nest.Stats{}, err
		}
		if sh == nil {
			continue
		}
		finer, err := newShop(p, m, fine, set.Budget)
		if err != nil {
			return nil, nest.Stats{}, err
		}
		best, passes := sh.search(ctx, set, start, len(plan.Sheets), finer)
		stats.Rounds += passes
		best.write(plan, unplaced)
	}
	for i := range p.Parts {
		if u := unplaced[i]; u != nil {
			plan.Unplaced = append(plan.Unplaced, *u)
		}
	}
	stats.Elapsed = time.Since(start)
	return plan, stats, nil
}

// search runs the chains and returns the one with the best layout.
func (s *shop) search(ctx context.Context, set nest.Settings, start time.Time, sheets int, finer *shop) (*chain, int) {
	w := &watcher{set: set, start: start, sheets: sheets}
	workers := min(max(set.Workers, 1), maxChains)
	n, counted := workers, s.budget > 0
	if counted {
		n = chains
	}
	m := newMeeting(counted, n, workers)
	list := make([]*chain, n)
	var wg sync.WaitGroup
	for i := range list {
		list[i] = newChain(ctx, s, set, i, w)
		list[i].fine = finer
		list[i].meeting = m
		wg.Go(func() {
			m.come()
			list[i].run()
			m.leave(list[i])
		})
	}
	wg.Wait()
	var best *chain
	passes := 0
	for _, c := range list {
		passes += c.passes
		if best == nil || c.worth.less(best.worth) {
			best = c
		}
	}
	return best, passes
}

// chain is one search, with its own layout and random numbers.
type chain struct {
	searcher
	best    layout
	base    layout // of an episode, the best
	worth   worth
	watch   *watcher
	fine    *shop // the same with finer outlines, for the end
	meeting *meeting
	meets   bool
	lean    layout // one as cheap as the best, its emptiest sheets emptier
	leanAt  worth  // what it is worth, offcuts aside
	filling int    // passes that went into fillings
	behind  bool   // a better layout was taken over as the best
}

// passed reports, once, whether a better layout of another chain was taken over.
func (c *chain) passed() bool {
	was := c.behind
	c.behind = false
	return was
}

func newChain(ctx context.Context, s *shop, set nest.Settings, number int, w *watcher) *chain {
	c := &chain{watch: w}
	c.shop = s
	c.rng = rand.New(rand.NewPCG(set.Seed, 0x707e<<32|uint64(number)))
	c.number = number
	for k := range s.kinds {
		for range s.kinds[k].copies {
			c.items = append(c.items, int32(k))
		}
	}
	n := len(c.items)
	c.cur.places = make([]place, n)
	if n <= maxSearched {
		c.weight = make([]float32, n*n)
		for i := range c.weight {
			c.weight[i] = 1
		}
	}
	c.samples = 40
	c.seen = map[int32]bool{}
	c.large = c.bySize(0)
	budget := s.budget
	begin := time.Now()
	deadline, timed := ctx.Deadline()
	c.stop = func() bool { return ctx.Err() != nil }
	c.spent = func() bool { return budget > 0 && c.passes >= budget || ctx.Err() != nil }
	c.pass = func() bool {
		if c.passes++; c.meets && c.passes%between == 0 && c.meeting.meet(c) {
			c.behind = true
		}
		return c.behind
	}
	c.progress = func() float64 {
		switch {
		case budget > 0:
			return min(1, float64(c.passes)/float64(budget))
		case timed:
			return min(1, float64(time.Since(begin))/float64(deadline.Sub(begin)))
		}
		return float64(c.passes%4000) / 4000 // no end is known: both phases by turns
	}
	return c
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
	if w.best != nil && !c.worth.less(*w.best) {
		return
	}
	b := c.worth
	w.best = &b
	w.set.Watch(nest.Progress{
		Elapsed: time.Since(w.start), Sheets: w.sheets + b.sheets, Cost: b.cost, Round: c.passes, Used: b.used,
	})
}

// write appends the best layout to a plan, copies numbered sheet by sheet.
func (c *chain) write(plan *nest.Plan, unplaced map[int]*nest.Unplaced) {
	copies := map[int]int{}
	l := &c.best
	for b := range l.boards {
		bd := &l.boards[b]
		if len(bd.items) == 0 {
			continue
		}
		st := &c.p.Stocks[bd.stock]
		sheet := nest.Sheet{Stock: bd.stock}
		items := slices.Clone(bd.items)
		slices.SortFunc(items, func(i, j int32) int {
			p, q := &l.places[i], &l.places[j]
			switch {
			case p.x != q.x:
				return int(p.x - q.x)
			case p.y != q.y:
				return int(p.y - q.y)
			}
			return int(i - j)
		})
		for _, i := range items {
			p := &l.places[i]
			part := c.kinds[c.items[i]].part
			copies[part]++
			sheet.Placements = append(sheet.Placements, nest.Placement{
				Part: part, Copy: copies[part], Turn: p.sh.turn, Flip: p.sh.flip, At: st.Usable.Min.Add(geom.Pt(p.x, p.y)),
			})
		}
		if !c.p.Strip {
			sheet.Offcuts = c.offcuts(l, bd, st.Usable)
		}
		plan.Sheets = append(plan.Sheets, sheet)
	}
	for i := range l.places {
		if l.places[i].board >= 0 {
			continue
		}
		k := &c.kinds[c.items[i]]
		u := unplaced[k.part]
		if u == nil {
			u = &nest.Unplaced{Part: k.part, Reason: "fits no sheet"}
			for _, j := range c.stocks {
				if c.holds(k, j) {
					u.Reason = nest.RanOut
				}
			}
			unplaced[k.part] = u
		}
		u.Copies++
	}
}

// offcuts returns the rectangles that are left beside and above the panels of a
// board, the larger one first and the other cut short by it.
func (c *chain) offcuts(l *layout, bd *board, usable geom.Box) []nest.Offcut {
	var right, top length.Length
	for _, i := range bd.items {
		p := &l.places[i]
		right, top = max(right, p.x+p.sh.w), max(top, p.y+p.sh.h)
	}
	right, top = right+c.gap, top+c.gap
	w, h := usable.Dx(), usable.Dy()
	beside := geom.Box{Min: geom.Pt(right, 0), Max: geom.Pt(w, h)}
	above := geom.Box{Min: geom.Pt(0, top), Max: geom.Pt(w, h)}
	if int64(beside.Dx())*int64(beside.Dy()) >= int64(above.Dx())*int64(above.Dy()) {
		above.Max.X = min(w, right-c.gap)
	} else {
		beside.Max.Y = min(h, top-c.gap)
	}
	var list []nest.Offcut
	for _, b := range []geom.Box{beside, above} {
		if min(b.Dx(), b.Dy()) >= nest.Sliver {
			list = append(list, nest.Offcut{Box: b.Translate(usable.Min), Keep: c.p.Keep.Keeps(b.Size())})
		}
	}
	return list
}

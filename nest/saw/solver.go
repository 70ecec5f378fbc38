package saw

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts/length"
)

// Solver makes plans for a saw. It is a [nest.Solver]; the zero value is ready.
type Solver struct{}

// New returns a solver.
func New() *Solver { return &Solver{} }

// Name returns the name of the method, for reports.
func (*Solver) Name() string { return "straight cuts" }

// ErrNotSaw is the error of a problem that is not for a saw.
var ErrNotSaw = errors.New("the problem is not for a saw")

const (
	// chains is the number of independent searches. It is fixed, so that the plan
	// does not depend on the number of workers.
	chains = 4
	// roundSteps is the number of steps of each chain in a round.
	roundSteps = 100
)

// DefaultRounds returns the budget of rounds for a number of panels of one
// material: on one core of a small machine a fifth of a second for 30 panels, about
// three seconds for 1,000 and half a minute for 10,000.
func DefaultRounds(panels int) int {
	return min(3000, max(50, panels*3/5))
}

// Solve returns the best plan found when the budget of rounds is spent or ctx
// ends. A round is 100 steps of each of the four chains of each material. The
// error is for problems that are not for a saw: another way to cut, turns other
// than quarter turns, an odd kerf, a size that is no size.
func (s *Solver) Solve(ctx context.Context, p *nest.Problem, set nest.Settings) (*nest.Plan, nest.Stats, error) {
	start := time.Now()
	if err := takes(p); err != nil {
		return nil, nest.Stats{}, err
	}
	r := newRun(p, set, start)
	r.each(func(c *chain) { c.first(ctx) })
	r.exchange()
	for n := 1; r.round(ctx, n); n++ {
		r.rounds = n
	}
	plan, err := r.plan()
	return plan, nest.Stats{Rounds: r.rounds, Elapsed: time.Since(start)}, err
}

// takes says why a problem cannot be taken, or nothing.
func takes(p *nest.Problem) error {
	const limit = 2 * length.Max
	switch {
	case p.Cut != kerf.Saw:
		return ErrNotSaw
	case p.Kerf < 0 || p.Kerf > limit || p.Kerf%2 != 0:
		return fmt.Errorf("kerf %v is no even length", p.Kerf)
	}
	for i := range p.Parts {
		t := &p.Parts[i]
		if t.Blank.X <= 0 || t.Blank.Y <= 0 || t.Blank.X > limit || t.Blank.Y > limit {
			return fmt.Errorf("part %q: a blank of %v x %v", t.Name, t.Blank.X, t.Blank.Y)
		}
		for _, turn := range t.Turns {
			if turn%90 != 0 {
				return fmt.Errorf("part %q: a saw cannot turn by %d degrees", t.Name, turn)
			}
		}
	}
	for i := range p.Stocks {
		if z := p.Stocks[i].Size; z.X <= 0 || z.Y <= 0 || z.X > limit || z.Y > limit {
			return fmt.Errorf("stock %q: a sheet of %v x %v", p.Stocks[i].Name, z.X, z.Y)
		}
	}
	return nil
}

// run is one call of Solve.
type run struct {
	p      *nest.Problem
	set    nest.Settings
	start  time.Time
	jobs   []*job
	budget []int      // rounds of each job, below 0 for no end
	chains [][]*chain // of each job
	rounds int
	told   []score
	last   []int // round of the last better plan of each job
	// adopted is the plan of others that was looked at last.
	adopted *nest.Plan
}

func newRun(p *nest.Problem, set nest.Settings, start time.Time) *run {
	r := &run{p: p, set: set, start: start}
	for _, m := range p.Materials() {
		j := newJob(p, m)
		j.take(set.Mixes)
		r.jobs = append(r.jobs, j)
		budget := set.Budget
		if budget == 0 {
			budget = DefaultRounds(j.panels)
		}
		r.budget = append(r.budget, budget)
		var list []*chain
		if j.panels > 0 {
			for n := range chains {
				list = append(list, newChain(j, set.Seed, n))
			}
		}
		r.chains = append(r.chains, list)
	}
	return r
}

// enough reports whether a search without a budget may end: the plan is proved to cost
// least, and no larger offcut was found for a default budget.
func (r *run) enough(i, n int) bool {
	j, best := r.jobs[i], &bestOf(r.chains[i]).bestScore
	return best.count == 0 && best.cost <= j.bound && n > r.last[i]+DefaultRounds(j.panels)
}

// meeting is after how many rounds all chains that have not come to their goals try others,
// at the same time: a dive takes as long as many rounds, in which nobody is to wait.
func (j *job) meeting() int { return 20 + j.panels/5 }

// round makes a round and reports whether there was any.
func (r *run) round(ctx context.Context, n int) bool {
	if ctx.Err() != nil {
		return false
	}
	for _, j := range r.jobs {
		j.told(r.set)
	}
	r.adopt()
	due := false
	for i := range r.jobs {
		due = due || len(r.chains[i]) > 0 && (n <= r.budget[i] || r.budget[i] < 0 && !r.enough(i, n))
	}
	if !due {
		return false
	}
	budget := map[*job]int{}
	for i, j := range r.jobs {
		budget[j] = r.budget[i]
	}
	r.each(func(c *chain) {
		if b := budget[c.j]; b < 0 || n <= b {
			c.run(ctx, roundSteps, b*roundSteps, n%c.j.meeting() == 0)
		}
	})
	r.exchange()
	return true
}

// each calls f for all chains, on as many goroutines as there are workers.
func (r *run) each(f func(*chain)) {
	var all []*chain
	for _, list := range r.chains {
		all = append(all, list...)
	}
	workers := min(max(1, r.set.Workers), len(all))
	if workers <= 1 {
		for _, c := range all {
			f(c)
		}
		return
	}
	queue := make(chan *chain, len(all))
	for _, c := range all {
		queue <- c
	}
	close(queue)
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			for c := range queue {
				f(c)
			}
		})
	}
	wg.Wait()
}

// exchange gives the best plan of each job to its chains that have a worse one,
// and tells the watcher.
func (r *run) exchange() {
	better := false
	if r.told == nil {
		r.told, r.last = make([]score, len(r.jobs)), make([]int, len(r.jobs))
		better = true
	}
	for i, list := range r.chains {
		if len(list) == 0 {
			continue
		}
		share(list)
		best := bestOf(list)
		if best.bestScore != r.told[i] {
			better = true
			r.told[i], r.last[i] = best.bestScore, r.rounds+1
		}
		for _, c := range list {
			if c != best && (!c.started() || c.bestScore.required(best.bestScore) > 0) {
				c.best.copyFrom(&best.best)
				c.bestScore = best.bestScore
				c.ended = true
			}
		}
	}
	if better && r.set.Watch != nil {
		pr := nest.Progress{Elapsed: time.Since(r.start), Round: r.rounds}
		for i := range r.told {
			pr.Sheets += r.told[i].sheets
			pr.Cost += r.told[i].cost
		}
		r.set.Watch(pr)
	}
}

// bestOf returns the chain with the best plan, the first of several. The first
// chain always has one.
func bestOf(list []*chain) *chain {
	best := list[0]
	for _, c := range list[1:] {
		if c.started() && c.bestScore.compare(best.bestScore) < 0 {
			best = c
		}
	}
	return best
}

package nest

import (
	"context"
	"time"

	"panelyard/parts/length"
)

// Settings of a run. The zero value runs the default counted budget on one
// worker with seed 0.
type Settings struct {
	Seed uint64
	// Budget counts the solver's rounds of improvement (each solver says what a
	// round is). 0 is the solver's default; negative is no limit, for runs that
	// the context ends. Same problem, seed, budget, mixes and found plan give the same
	// plan on every machine whatever Workers is.
	Budget  int
	Workers int // goroutines; 0 is one
	// Mixes are numbers of sheets of each stock that a plan may take, which a bound has
	// not ruled out, the cheapest first. They tell a search what to try.
	Mixes [][]int
	// Least, when set, returns a cost that no plan of all panels is below, by a bound; 0 while
	// none is known. It is asked once a round.
	Least func() int64
	// Found, when set, returns a plan that was found by other means, nil while there is none:
	// where panels lie, without cuts. It is asked once a round, and a plan that costs less
	// than what the search has is taken over.
	Found func() *Plan
	// Watch, when set, is told of every better plan. It may be called from
	// several goroutines, one at a time, and must not keep the plan.
	Watch func(Progress)
}

// Progress is what a watcher sees.
type Progress struct {
	Elapsed time.Duration
	Sheets  int
	Cost    int64
	Round   int
	Used    length.Length // the used length of a strip
}

// Solver makes plans. Solve returns the best plan it found when the budget is
// spent or the context ends, whichever is first; it returns a plan in any
// case, with what it could not place listed as unplaced. The error is for
// problems the solver cannot take at all.
type Solver interface {
	Name() string
	Solve(ctx context.Context, p *Problem, s Settings) (*Plan, Stats, error)
}

// Stats of a run.
type Stats struct {
	Rounds  int
	Elapsed time.Duration
}

// Bound is what no plan for a problem can beat.
type Bound struct {
	Sheets int   // fewest sheets of any kind
	Cost   int64 // least sum of Stock.Cost
	Method string
}

// Status says how a plan stands to its bound.
type Status int

// The statuses of a result.
const (
	Heuristic  Status = iota // a plan; the bound is lower
	Proved                   // the plan costs what the bound says no plan can beat
	Incomplete               // some panels are unplaced
)

// Result is a judged plan with its bound.
type Result struct {
	Plan   *Plan
	Bound  Bound
	Status Status
	Stats  Stats
	Solver string
}

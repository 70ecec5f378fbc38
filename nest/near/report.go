package near

import (
	"cmp"
	"slices"

	"panelyard/kerf"
	"panelyard/parts"
)

// Report is what a search has found.
type Report struct {
	Job    *parts.Job
	Cut    kerf.Cut
	Seed   uint64
	Rounds int // of every plan; 0 is the usual
	Seeds  int // plans that the job, and each amount, is given at first
	Limits Limits
	// Priced says that costs are ten-thousandths of the currency; otherwise they are
	// areas in square millimetres, as some board has no price.
	Priced      bool
	Boards      []Board      // the job as written, a kind of board at a time
	Suggestions []Suggestion // best first
	Tried       []Tried      // changes that are no suggestion
	Plans       int          // made in all
	Stop        Stop
}

// Stop says whether a search came to its end.
type Stop int

// How a search ended.
const (
	Finished Stop = iota
	Spent         // the plans it may make were made
	OutOfTime
	Interrupted
)

// Board is the best plan for the panels of one material.
type Board struct {
	Material string
	Sheets   []Sheets
	Cost     int64
	Missing  int   // panels without a place
	Least    int64 // no plan costs less; 0 where nothing is known
	Plans    int   // made for it
}

// Proved reports whether no plan is better.
func (b *Board) Proved() bool { return b.Missing == 0 && b.Cost <= b.Least }

// Sheets counts the sheets of a kind.
type Sheets struct {
	Stock  string
	Count  int
	Offcut bool
}

// Bought returns how many of the sheets are bought.
func (b *Board) Bought() int {
	n := 0
	for _, s := range b.Sheets {
		if !s.Offcut {
			n += s.Count
		}
	}
	return n
}

// Suggestion is a change that saves.
type Suggestion struct {
	Change
	Moved []Moved // the panels whose size follows
	// Before and After are the boards whose plan is another.
	Before, After []Board
	Saved         int64 // of the cost
	Sheets        int   // fewer sheets bought; less than 0 is more
	Placed        int   // panels that have a place, and had none
	// Least says that no smaller amount saves as much, which is proved; where it is
	// false, the amount was found by search.
	Least bool
	// Sure says that the plans of the job as written are proved to be the best, so that
	// the change alone makes the difference.
	Sure  bool
	Plans int // made for the change
}

// PerWeight returns what is saved for each millimetre that the change weighs.
func (s *Suggestion) PerWeight() float64 { return float64(s.Saved) / s.Weight() }

// Verdict is why a change is no suggestion.
type Verdict int

// The verdicts.
const (
	RuledOut   Verdict = iota // the bound proves that it saves nothing
	NotFound                  // no plan was found that saves
	Luck                      // the job as written does as well when it is planned as often
	Refused                   // the job would have a mistake, or nothing follows
	TooSmall                  // a step is more than the limit allows
	NotReached                // the search ended before
)

// Tried is a change that is no suggestion, by the largest amount that was allowed.
type Tried struct {
	Change
	Verdict Verdict
	Why     string // for a change that was refused
}

// rank sorts the suggestions: panels placed first, then saving for weight, then the larger
// saving, then the smaller change.
func (r *Report) rank() {
	slices.SortStableFunc(r.Suggestions, func(a, b Suggestion) int {
		return cmp.Or(
			cmp.Compare(b.Placed, a.Placed),
			cmp.Compare(b.PerWeight(), a.PerWeight()),
			cmp.Compare(b.Saved, a.Saved),
			cmp.Compare(a.Weight(), b.Weight()),
		)
	})
}

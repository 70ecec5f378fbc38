package near

import (
	"context"
	"errors"
	"slices"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/diag"
)

// Settings of a search. A zero is the default.
type Settings struct {
	Seed    uint64 // of the first plan; the others have the seeds after it
	Rounds  int    // of a plan; 0 is the solver's default
	Seeds   int    // plans with so many seeds; 3 if not given
	Workers int
	// MostPlans bounds the plans that are made in all; [DefaultPlans] if not given.
	MostPlans int
	Limits    Limits
	Least     int64 // that a suggestion has to save, as costs are counted; 1 if not given
	Sheet     bool  // a suggestion has to save a bought sheet
	// Watch, when set, is told how far the search is.
	Watch func(Progress)
}

// The default settings (ours).
const (
	DefaultSeeds = 3
	DefaultPlans = 1000
)

// Progress is how far a search is.
type Progress struct {
	Done, All int    // changes
	Of        string // the change that is looked at
	Plans     int
	Found     int
}

// ErrNoPrices is for a least saving in money where some board has no price.
var ErrNoPrices = errors.New("a saving in money needs a price for every board")

var errSpent = errors.New("the plans that may be made are made")

// search is one run of Search.
type search struct {
	ctx      context.Context
	model    Model
	cut      kerf.Cut
	set      Settings
	limits   Limits
	job      *parts.Job
	warnings diag.List // of the job as written
	boards   []*board
	report   *Report
	at       Progress
	trials   []*found
}

// found is a suggestion with what it was found by.
type found struct {
	c     *candidate
	n     int
	trial *trial
	least bool
	spent map[string]int // plans made for the change, by material
	all   int            // and in all
}

// Search looks for single changes of a job that save board, for a way to cut. The job is
// read from the model, whose warnings are not told again. The error is for a job that
// cannot be planned as written; one that is interrupted gives what was found before.
func Search(ctx context.Context, m Model, cut kerf.Cut, set Settings) (*Report, error) {
	if set.Seeds == 0 {
		set.Seeds = DefaultSeeds
	}
	if set.MostPlans == 0 {
		set.MostPlans = DefaultPlans
	}
	set.Least = max(set.Least, 1)
	s := &search{ctx: ctx, model: m, cut: cut, set: set, limits: set.Limits.filled()}
	job, list := m.Job()
	if err := list.Err(); err != nil {
		return nil, err
	}
	s.job, s.warnings = job, list
	s.report = &Report{Job: job, Cut: cut, Seed: set.Seed, Rounds: set.Rounds, Seeds: set.Seeds, Limits: s.limits, Priced: priced(job)}
	if set.Least > 1 && !s.report.Priced {
		return nil, ErrNoPrices
	}
	p, warned, err := s.problem(job)
	if err != nil {
		return nil, err
	}
	s.warnings = append(slices.Clone(s.warnings), warned...)
	s.boards = boards(ctx, p)
	err = s.run()
	switch {
	case err == nil:
	case errors.Is(err, errSpent):
		s.report.Stop = Spent
	case errors.Is(ctx.Err(), context.DeadlineExceeded):
		s.report.Stop = OutOfTime
	case ctx.Err() != nil:
		s.report.Stop = Interrupted
	default:
		return nil, err
	}
	s.finish()
	return s.report, nil
}

// run plans the job, tries the changes, and plans the job again.
func (s *search) run() error {
	list := slices.Concat(s.sizes(), s.tools(), s.trims(), s.grains(), s.joins())
	s.at.All = len(list)
	for _, b := range s.boards {
		for range s.set.Seeds {
			if b.Proved() {
				break
			}
			if err := s.again(b); err != nil {
				s.unreached(list)
				return err
			}
		}
	}
	for i := range list {
		s.at.Done, s.at.Of = i, list[i].Of
		s.progress()
		err := s.ctx.Err() // reading and bounds end with no error of their own
		if err == nil {
			err = s.try(&list[i])
		}
		if err != nil {
			s.unreached(list[i:])
			return err
		}
	}
	s.at.Done, s.at.Of = len(list), "the job as written, again"
	return s.fair()
}

// problem returns the problem of a job, and the warnings it has for the way to cut.
func (s *search) problem(job *parts.Job) (*nest.Problem, diag.List, error) {
	d, list := kerf.Build(job, s.cut)
	mistakes, warnings := list.Split()
	if len(mistakes) > 0 {
		return nil, nil, list.Err()
	}
	p := nest.FromDemand(d)
	p.Bill = nil // sheets count at their lowest price
	if !s.report.Priced {
		for i := range p.Stocks {
			if st := &p.Stocks[i]; st.Offcut {
				st.Cost = 0
			} else {
				st.Cost = int64(st.Size.X.MM() * st.Size.Y.MM())
			}
		}
	}
	return p, warnings, nil
}

// priced reports whether every board that can be bought has a price.
func priced(j *parts.Job) bool {
	for i := range j.Stock {
		if s := &j.Stock[i]; !s.Priced && !s.Offcut {
			return false
		}
	}
	return true
}

// note notes a change that is no suggestion.
func (s *search) note(c Change, v Verdict, why string) {
	s.report.Tried = append(s.report.Tried, Tried{c, v, why})
}

// unreached notes changes that the search did not get to.
func (s *search) unreached(list []candidate) {
	for i := range list {
		if c := &list[i]; c.most > 0 {
			s.note(c.at(c.most), NotReached, "")
		}
	}
}

func (s *search) progress() {
	if s.set.Watch != nil {
		s.at.Plans, s.at.Found = s.report.Plans, len(s.trials)
		s.set.Watch(s.at)
	}
}

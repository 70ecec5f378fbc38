package near

import "errors"

// trial is a change by one amount: the boards that are another by it.
type trial struct {
	from, to []*board
	refused  error
}

// saving is what a trial saves.
type saving struct {
	placed int // panels that have a place, and had none
	cost   int64
	sheets int // bought
}

// enough reports whether a saving is as much as another: more panels placed, or as many
// for as much less cost.
func (s saving) enough(want saving) bool {
	if s.placed != want.placed {
		return s.placed > want.placed
	}
	return s.cost >= want.cost && s.sheets >= want.sheets
}

// saved returns what the best plans of a trial save.
func (t *trial) saved() saving {
	a, b := sum(t.from), sum(t.to)
	return saving{a.missing - b.missing, a.cost - b.cost, a.bought - b.bought}
}

// wanted is the least saving of a suggestion.
func (s *search) wanted() saving {
	w := saving{cost: s.set.Least, sheets: -1 << 30}
	if s.set.Sheet {
		w.sheets = 1
	}
	return w
}

// ruledOut reports whether the bounds prove that no plan of a trial saves so much. Where
// panels have no place, the bounds say nothing.
func (t *trial) ruledOut(want saving) bool {
	a, b := sum(t.from), sum(t.to)
	return a.missing == 0 && a.cost-b.least < want.cost
}

// trialOf returns the trial of a change by amount n; each is made once.
func (s *search) trialOf(c *candidate, n int, made map[int]*trial) *trial {
	if t := made[n]; t != nil {
		return t
	}
	t := &trial{}
	made[n] = t
	job, err := c.job(n)
	if err == nil {
		p, warned, wrong := s.problem(job)
		if err = wrong; err == nil && c.size {
			if f := fresh(warned, s.warnings); f != nil {
				err = because(f)
			}
		}
		if err == nil {
			t.from, t.to = s.differing(p)
		}
	}
	t.refused = err
	return t
}

// reach plans a trial until it saves so much or has had its seeds, and reports whether it
// does.
func (s *search) reach(t *trial, want saving) (bool, error) {
	if t.refused != nil || len(t.to) == 0 || t.ruledOut(want) {
		return false, nil
	}
	for seed := 0; ; seed++ {
		if t.saved().enough(want) {
			return true, nil
		}
		if seed == s.set.Seeds {
			return false, nil
		}
		if err := s.round(t, seed+1); err != nil {
			return false, err
		}
	}
}

// round plans every board of a trial that is not proved until it has had so many seeds.
func (s *search) round(t *trial, seeds int) error {
	for _, b := range t.to {
		for b.seeds < seeds && !b.Proved() {
			if err := s.again(b); err != nil {
				return err
			}
		}
	}
	return nil
}

// try looks for the smallest amount of a change that saves, and, where a larger one saves
// more, for the smallest that saves so much.
func (s *search) try(c *candidate) error {
	if c.size {
		switch why := s.within(c); {
		case errors.Is(why, errNoStep):
			s.note(c.Change, TooSmall, "")
			return nil
		case why != nil:
			s.note(c.Change, Refused, why.Error())
			return nil
		}
	}
	if c.most == 0 {
		return nil
	}
	made := map[int]*trial{}
	last := s.trialOf(c, c.most, made)
	switch {
	case last.refused != nil:
		s.note(c.at(c.most), Refused, last.refused.Error())
		return nil
	case len(last.to) == 0:
		s.note(c.at(c.most), Refused, "nothing of the plan depends on it")
		return nil
	case !c.grows && last.ruledOut(s.wanted()):
		s.note(c.at(c.most), RuledOut, "")
		return nil
	}
	// A quick look with one seed; only then all seeds, as what the largest amount saves is
	// what smaller ones are held to.
	if err := s.round(last, 1); err != nil {
		return err
	}
	if last.saved().enough(s.wanted()) {
		if err := s.round(last, s.set.Seeds); err != nil {
			return err
		}
	}
	most := last.saved()
	if !most.enough(s.wanted()) {
		s.note(c.at(c.most), NotFound, "")
		return nil
	}
	before := len(s.trials)
	for _, want := range []saving{s.wanted(), {most.placed, most.cost, s.wanted().sheets}} {
		f, err := s.smallest(c, want, made)
		if err == nil {
			err = s.round(f.trial, s.set.Seeds)
		}
		if err != nil {
			s.trials = s.trials[:before] // half a search is none
			return err
		}
		if len(s.trials) == before || s.trials[before].n != f.n {
			s.trials = append(s.trials, f)
		}
		if f.trial.saved().enough(most) {
			break
		}
	}
	spent, all := map[string]int{}, 0 // plans made
	for _, t := range made {
		for _, b := range t.to {
			spent[b.Material] += b.Plans
			all += b.Plans
		}
	}
	for _, f := range s.trials[before:] {
		f.spent, f.all = spent, all
	}
	return nil
}

// smallest bisects for the smallest amount that saves so much; the largest does.
func (s *search) smallest(c *candidate, want saving, made map[int]*trial) (*found, error) {
	low, high := 0, c.most // low does not, high does
	for high-low > 1 {
		mid := (low + high) / 2
		ok, err := s.reach(s.trialOf(c, mid, made), want)
		if err != nil {
			return nil, err
		}
		if ok {
			high = mid
		} else {
			low = mid
		}
	}
	least := !c.grows && (low == 0 || s.trialOf(c, low, made).ruledOut(want))
	return &found{c: c, n: high, trial: made[high], least: least}, nil
}

// fair plans the boards of the job as written as often as those of the suggestions were.
func (s *search) fair() error {
	for _, f := range s.trials {
		for _, b := range f.trial.from {
			for b.Plans < f.spent[b.Material] && !b.Proved() {
				if err := s.again(b); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// finish makes the report of what was found.
func (s *search) finish() {
	r := s.report
	for _, b := range s.boards {
		if b.Plans > 0 {
			r.Boards = append(r.Boards, b.Board)
		}
	}
	for _, f := range s.trials {
		saved := f.trial.saved()
		if !saved.enough(s.wanted()) {
			s.note(f.c.at(f.n), Luck, "")
			continue
		}
		g := Suggestion{
			Change: f.c.at(f.n), Saved: saved.cost, Sheets: saved.sheets, Placed: max(0, saved.placed),
			Least: f.least, Sure: sum(f.trial.from).proved, Plans: f.all,
		}
		if job, err := f.c.job(f.n); err == nil && f.c.size {
			g.Moved = moved(s.job, job)
		}
		for i := range f.trial.to {
			g.Before = append(g.Before, f.trial.from[i].Board)
			g.After = append(g.After, f.trial.to[i].Board)
		}
		r.Suggestions = append(r.Suggestions, g)
	}
	r.rank()
}

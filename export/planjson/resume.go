package planjson

import (
	"errors"
	"fmt"
	"slices"

	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/length"
)

// Resume returns the job of the plan: a job as its file has it, without the panels
// that were done before the plan was made, with the pieces that it was made on, and without
// the sheets that plans before it took.
// The error lists what the job does not have.
func (d *Document) Resume(job *parts.Job) (*parts.Job, error) {
	q := *job
	var errs []error
	done := map[string][]int{}
	for _, x := range d.Done {
		done[x.Part] = append(done[x.Part], x.Copy)
	}
	q.Panels = nil
	for _, p := range job.Panels {
		if gone := done[p.Name]; len(gone) > 0 {
			p.Of, p.Numbers = p.Quantity, nil
			for c := 1; c <= p.Of; c++ {
				if !slices.Contains(gone, c) {
					p.Numbers = append(p.Numbers, c)
				}
			}
			p.Quantity = len(p.Numbers)
			delete(done, p.Name)
		}
		if p.Quantity > 0 {
			q.Panels = append(q.Panels, p)
		}
	}
	for _, x := range d.Done {
		if _, left := done[x.Part]; left {
			errs = append(errs, fmt.Errorf("%q was cut, and the job has no such panel", x.Part))
			delete(done, x.Part)
		}
	}
	q.Stock = slices.Clone(job.Stock)
	for i := range d.Sheets {
		s := &d.Sheets[i]
		at := slices.IndexFunc(q.Stock, func(t parts.Stock) bool { return t.Name == s.Stock && t.Material == s.Material })
		switch {
		case at >= len(job.Stock) || at >= 0 && q.Stock[at].InHand:
			q.Stock[at].Available++
		case at < 0 && !s.Offcut:
			errs = append(errs, fmt.Errorf("sheet %s: the job has no stock %q of %q", s.ID, s.Stock, s.Material))
		case at < 0:
			st, err := s.stock()
			if err != nil {
				errs = append(errs, fmt.Errorf("sheet %s: %w", s.ID, err))
				continue
			}
			q.Stock = append(q.Stock, st)
		}
	}
	if d.Before != nil || len(d.Done) > 0 {
		q.Spare = 0 // what is to spare is bought once
	}
	if d.Before != nil {
		errs = append(errs, d.Before.resume(&q, len(job.Stock)))
	}
	return &q, errors.Join(errs...)
}

// stock returns the stock of a sheet that is not bought.
func (s *Sheet) stock() (parts.Stock, error) {
	var r reading
	st := parts.Stock{
		Name: s.Stock, Material: s.Material, Length: r.length(s.Length), Width: r.length(s.Width), Available: 1,
		Trim:   parts.Trim{Left: r.length(s.Trim.Left), Right: r.length(s.Trim.Right), Bottom: r.length(s.Trim.Bottom), Top: r.length(s.Trim.Top)},
		Offcut: true, InHand: s.InHand,
	}
	for _, g := range []parts.Axis{parts.AlongLength, parts.AlongWidth} {
		if s.Grain == g.String() {
			st.Grain = g
		}
	}
	for _, l := range []length.Length{st.Length, st.Width} {
		if l <= 0 || l > length.Max {
			r.errs = append(r.errs, fmt.Errorf("a sheet of %v x %v", st.Length, st.Width))
			break
		}
	}
	return st, errors.Join(r.errs...)
}

// Copies makes the numbers of copies in a plan of the file, as the papers have them,
// those that a problem counts: from 1 to the copies of the job that it is made of.
func Copies(plan *nest.Plan, job *parts.Job) error {
	var errs []error
	for i := range plan.Sheets {
		for k := range plan.Sheets[i].Placements {
			pl := &plan.Sheets[i].Placements[k]
			p := &job.Panels[pl.Part]
			if p.Numbers == nil {
				continue
			}
			n := slices.Index(p.Numbers, pl.Copy)
			if n < 0 {
				errs = append(errs, fmt.Errorf("%q copy %d lies on a sheet and was cut before", p.Name, pl.Copy))
			}
			pl.Copy = n + 1
		}
	}
	return errors.Join(errs...)
}

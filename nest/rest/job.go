package rest

import (
	"fmt"
	"slices"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/length"
)

// inHand is what the name of a stock gets when its sheets are there already.
const inHand = ", in hand"

// Only returns r without the panels that lie on the sheets that are not begun, and
// without these sheets: what is to be placed when they are cut as planned. With pieces
// the same holds for the pieces in hand.
func (r *Rest) Only(plan *nest.Plan, pieces bool) *Rest {
	q := &Rest{Done: r.Done, Spoiled: r.Spoiled, Missing: make([][]int, len(r.Missing))}
	planned := map[Panel]bool{}
	for _, i := range r.Uncut {
		for _, pl := range plan.Sheets[i].Placements {
			planned[Panel{pl.Part, pl.Copy}] = true
		}
	}
	for _, piece := range r.Pieces {
		if !pieces || !piece.InHand {
			q.Pieces = append(q.Pieces, piece)
			continue
		}
		for _, pl := range piece.Planned {
			planned[Panel{pl.Part, pl.Copy}] = true
		}
	}
	for part, copies := range r.Missing {
		for _, c := range copies {
			if !planned[Panel{part, c}] {
				q.Missing[part] = append(q.Missing[part], c)
			}
		}
	}
	return q
}

// Job returns the job that goes on with the rest of a plan of d: the missing panels,
// and as stock first the pieces, named by the sheet they come from, then the sheets
// that are not begun or to spare, then what can still be bought if buying is allowed. The ids
// name the sheets of the plan.
func (r *Rest) Job(d *kerf.Demand, plan *nest.Plan, ids []string, buy bool) *parts.Job {
	job := *d.Job
	job.Panels, job.Stock, job.Spare = nil, nil, 0
	banded := r.banded(d, plan)
	for i, copies := range r.Missing {
		if len(copies) == 0 {
			continue
		}
		p := *d.Items[i].Panel
		p.Of = max(p.Of, p.Quantity)
		numbers := make([]int, len(copies))
		for k, c := range copies {
			numbers[k] = p.Number(c)
		}
		p.Quantity, p.Numbers, p.Banded = len(copies), numbers, banded[i]
		job.Panels = append(job.Panels, p)
	}
	for i := range r.Pieces {
		q := &r.Pieces[i]
		job.Stock = append(job.Stock, q.stock(d.Sheets[plan.Sheets[q.Sheet].Stock], q.Name(ids)))
	}
	// What was bought to spare is for this.
	used, whole := r.sheets(d, plan)
	for i, n := range whole {
		if s := *d.Sheets[i].Stock; n > 0 && !s.Offcut {
			s.Name += inHand
			s.Available, s.Offcut, s.InHand, s.Price, s.Priced = n, true, true, 0, false
			s.Breaks, s.Yard = nil, ""
			// A plan that goes on from one that went on may have such sheets already.
			if k := slices.IndexFunc(d.Sheets, func(h kerf.Sheet) bool { return same(h.Stock, &s) }); k >= 0 {
				used[k] -= n
				continue
			}
			job.Stock = append(job.Stock, s)
		}
	}
	for i := range d.Sheets {
		s := *d.Sheets[i].Stock
		if s.Available != parts.Unlimited {
			s.Available -= used[i]
			if s.Offcut {
				s.Available += whole[i]
			}
		}
		// What has run out stays in the list, for the plan to say so.
		if !buy && !s.Offcut {
			s.Available = 0
		}
		job.Stock = append(job.Stock, s)
	}
	return &job
}

// Name returns what a piece is called; the ids are those of the sheets.
func (q *Piece) Name(ids []string) string { return fmt.Sprintf("%s, piece %d", ids[q.Sheet], q.N) }

// stock returns a piece as a kind of sheet.
func (q *Piece) stock(of kerf.Sheet, name string) parts.Stock {
	s := *of.Stock
	l, w := s.Length, s.Width
	s.Name = name
	s.Length, s.Width = q.Box.Dx(), q.Box.Dy()
	s.Available, s.Offcut, s.Price, s.Priced = 1, true, 0, false
	s.Breaks, s.Yard = nil, ""
	at := func(factory bool, trim length.Length) length.Length {
		if factory {
			return trim
		}
		return 0
	}
	s.Trim = parts.Trim{
		Left: at(q.Box.Min.X == 0, s.Trim.Left), Right: at(q.Box.Max.X == l, s.Trim.Right),
		Bottom: at(q.Box.Min.Y == 0, s.Trim.Bottom), Top: at(q.Box.Max.Y == w, s.Trim.Top),
	}
	return s
}

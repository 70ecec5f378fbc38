package planjson

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"

	"panelyard/export"
	"panelyard/nest/rest"
	"panelyard/parts"
)

// Before is what the plans that came before one bought or took.
type Before struct {
	Taken  []Taken  `json:"taken"`  // of what the job file says is available
	Left   []Left   `json:"left"`   // boards in hand that the plan does not take
	Banded []Banded `json:"banded"` // panels whose edge band is in hand
}

// Taken is sheets of a kind that were bought, or taken from the rack.
type Taken struct {
	Stock    string `json:"stock"`
	Material string `json:"material"`
	Count    int    `json:"count"`
}

// Left is boards of a kind that are in hand.
type Left struct {
	Stock    string      `json:"stock"`
	Material string      `json:"material"`
	Length   json.Number `json:"length"`
	Width    json.Number `json:"width"`
	Grain    string      `json:"grain"`
	Trim     Trim        `json:"trim"`
	InHand   bool        `json:"in_hand"` // whole sheets, bought before
	Count    int         `json:"count"`
}

// Banded is copies of a panel whose edge band is in hand.
type Banded struct {
	Part   string `json:"part"`
	Copies int    `json:"copies"`
}

// newBefore returns what d says of the plans before it, nil when there are none.
func newBefore(d *export.Dossier) *Before {
	if d.Before == nil {
		return nil
	}
	b := &Before{Taken: []Taken{}, Left: []Left{}, Banded: []Banded{}}
	for _, t := range d.Before.Taken {
		b.Taken = append(b.Taken, Taken(t))
	}
	for i := range d.Before.Left {
		s := &d.Before.Left[i]
		b.Left = append(b.Left, Left{
			Stock: s.Name, Material: s.Material, Length: mm(s.Length), Width: mm(s.Width), Grain: grain(s.Grain),
			Trim: Trim{mm(s.Trim.Left), mm(s.Trim.Right), mm(s.Trim.Bottom), mm(s.Trim.Top)}, InHand: s.InHand, Count: s.Available,
		})
	}
	for i := range d.Job.Panels {
		if p := &d.Job.Panels[i]; p.Banded > 0 {
			b.Banded = append(b.Banded, Banded{p.Name, p.Banded})
		}
	}
	return b
}

// Gone returns what earlier plans bought or took of the stock of the job file.
func (b *Before) Gone() []rest.Taken {
	if b == nil {
		return nil
	}
	var list []rest.Taken
	for _, t := range b.Taken {
		list = append(list, rest.Taken(t))
	}
	return list
}

// most is how many boards of a kind there may be.
const most = math.MaxInt32

// resume takes off a job what is gone, and adds what is left to its stock, after the
// first n, which are those of the job file. The job's lists are changed in place.
func (b *Before) resume(q *parts.Job, n int) error {
	var errs []error
	for _, t := range b.Taken {
		at := slices.IndexFunc(q.Stock[:n], func(s parts.Stock) bool { return s.Name == t.Stock && s.Material == t.Material })
		switch {
		case t.Count < 0 || t.Count > most:
			errs = append(errs, fmt.Errorf("%d sheets of %q were taken before, which is no count", t.Count, t.Stock))
		case at < 0:
			errs = append(errs, fmt.Errorf("sheets of %q were taken before, and the job has no such stock of %q", t.Stock, t.Material))
		case q.Stock[at].Available == parts.Unlimited:
		case t.Count > q.Stock[at].Available:
			errs = append(errs, fmt.Errorf("%d sheets of %q were taken before, and the job has %d", t.Count, t.Stock, q.Stock[at].Available))
		default:
			q.Stock[at].Available -= t.Count
		}
	}
	for i := range b.Left {
		x := &b.Left[i]
		s := Sheet{Stock: x.Stock, Material: x.Material, Length: x.Length, Width: x.Width, Grain: x.Grain, Trim: x.Trim, InHand: x.InHand}
		st, err := s.stock()
		if err == nil && (x.Count < 1 || x.Count > most) {
			err = fmt.Errorf("%d of them is no count", x.Count)
		}
		if err != nil {
			errs = append(errs, fmt.Errorf("%q, which is left: %w", x.Stock, err))
			continue
		}
		at := slices.IndexFunc(q.Stock[n:], func(s parts.Stock) bool { return s.Name == x.Stock && s.Material == x.Material })
		if at >= 0 {
			q.Stock[n+at].Available += x.Count
			continue
		}
		st.Available = x.Count
		q.Stock = append(q.Stock, st)
	}
	for _, x := range b.Banded {
		at := slices.IndexFunc(q.Panels, func(p parts.Panel) bool { return p.Name == x.Part })
		switch {
		case x.Copies < 0 || x.Copies > most:
			errs = append(errs, fmt.Errorf("the edge band of %d copies of %q is in hand, which is no count", x.Copies, x.Part))
		case at < 0:
			errs = append(errs, fmt.Errorf("the edge band of %q is in hand, and the job has no such panel", x.Part))
		default:
			q.Panels[at].Banded = x.Copies
		}
	}
	return errors.Join(errs...)
}

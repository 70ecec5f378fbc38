package compare

import (
	"time"

	"panelyard/export"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/length"
	"panelyard/parts/money"
)

// Entry is a variant of a job for a way to cut, as the command planned it.
type Entry struct {
	Job     string // name of the job; that of its file when it could not be read
	File    string
	Variant string // empty for the job as written
	Cut     kerf.Cut
	Read    *parts.Job      // nil when the variant has mistakes
	Base    *parts.Job      // the job as written, with which a variant is compared
	Dossier *export.Dossier // nil when there is no plan
	Reason  string          // why there is none
}

// Row is the figures of an entry. Without a plan only the names and the reason count.
type Row struct {
	Key    int    // from 1 on
	Name   string // job and variant as people call it
	Job    string
	File   string
	Vary   string // the variant; empty for the job as written
	Cut    kerf.Cut
	Reason string // why there is no plan; empty when there is one

	Currency string
	Priced   bool // everything the plan takes has a price
	Kinds    []export.Kind
	Sheets   int // bought and from the rack
	Bought   int
	Board    money.Amount // of the sheets of the plan
	Spare    money.Amount // sheets bought beyond
	Delivery money.Amount
	Edging   money.Amount
	Cost     money.Amount
	Split    Split
	CostM2   float64 // of a square metre of panel; 0 without panels
	Areas    export.Areas
	Yield    float64
	Kept     float64 // share of kept offcuts
	Waste    float64 // share of what is neither panel nor kept offcut
	AddOn    float64 // AddOn(Waste); 0 when there is nothing of use
	Bound    export.BoundLine
	Panels   int     // placed
	MassKG   float64 // of the panels; 0 when a density is unknown
	Cuts     length.Length
	Fences   int           // of a saw
	Time     time.Duration // of a router; 0 when it is unknown
	Unplaced []export.Missing
	Missing  int // panels without a place

	write export.Lengths
}

// Planned reports whether there is a plan.
func (r *Row) Planned() bool { return r.Reason == "" }

// Whole reports whether there is a plan in which every panel has a place.
func (r *Row) Whole() bool { return r.Planned() && r.Missing == 0 }

// newRow takes the figures of an entry.
func newRow(key int, e *Entry, name string) Row {
	r := Row{Key: key, Name: name, Job: e.Job, File: e.File, Vary: e.Variant, Cut: e.Cut, Reason: e.Reason}
	d := e.Dossier
	if d == nil {
		return r
	}
	t := &d.Totals
	r.write = d.Lengths()
	r.Currency, r.Priced = d.Job.Currency, t.Priced
	for i := range d.Buy {
		b := &d.Buy[i]
		if !b.Stock.Offcut {
			r.Bought += b.Count
			r.Spare += money.Amount(b.Spare) * b.Price
		}
	}
	r.Sheets, r.Board, r.Delivery, r.Edging, r.Cost, r.Split = t.Sheets, t.Board-r.Spare, t.Delivery, t.Edging, t.Cost, split(d, t.Board-r.Spare)
	r.Areas, r.Yield, r.Bound, r.Panels = t.Areas, t.Yield, d.Bound, t.Panels
	if t.Areas.Sheet > 0 {
		r.Kept, r.Waste = t.Areas.Kept/t.Areas.Sheet, lost(t.Areas)/t.Areas.Sheet
	}
	if r.Waste < 1 {
		r.AddOn = AddOn(r.Waste)
	}
	if t.Areas.Panels > 0 {
		r.CostM2 = t.Cost.Float() / (t.Areas.Panels / 1e6)
	}
	if weighed(d) {
		r.MassKG = t.MassKG
	}
	r.Cuts, r.Fences, r.Time = t.CutLength, t.Fences, t.Effort.Time()
	r.Kinds, r.Unplaced = d.Kinds(), d.Missing()
	for _, u := range r.Unplaced {
		r.Missing += u.Copies
	}
	return r
}

// weighed reports whether the density of every board used is known: a sum over some of
// the panels would look like that of all.
func weighed(d *export.Dossier) bool {
	for i := range d.Sheets {
		if d.Sheets[i].Material.Density == 0 {
			return false
		}
	}
	return true
}

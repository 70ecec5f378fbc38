package compare

import (
	"fmt"

	"panelyard/export"
	"panelyard/kerf"
	"panelyard/parts/money"
)

// AsWritten is what the job without a variant is called.
const AsWritten = "as written"

// Conditions are the same for all plans of a comparison.
type Conditions struct {
	Seed   uint64
	Budget string // in words: "12 rounds a plan"
}

// Comparison is all that the documents say. Rows are in the order of the entries.
type Comparison struct {
	Conditions
	Rows    []Row
	Changes []Change
	Same    []string // sentences about variants that differ in name only
	Advice  string
}

// New compares entries, which keep their order.
func New(entries []Entry, c Conditions) *Comparison {
	out := &Comparison{Conditions: c}
	jobs := map[string]string{}
	several := false
	for i := range entries {
		jobs[entries[i].File] = entries[i].Job
		several = several || entries[i].File != entries[0].File
	}
	twice := map[string]int{} // files that call their job the same
	for _, name := range jobs {
		twice[name]++
	}
	for i := range entries {
		e := &entries[i]
		name := e.Variant
		switch name {
		case "":
			name = AsWritten
		case AsWritten:
			name = "variant " + AsWritten
		}
		if several {
			job := e.Job
			if twice[job] > 1 {
				job = fmt.Sprintf("%s (%s)", job, e.File)
			}
			name = job + ", " + name
		}
		out.Rows = append(out.Rows, newRow(i+1, e, name))
	}
	out.Changes, out.Same = changes(entries, out.Rows)
	out.Advice = advise(out.Rows)
	return out
}

// Complete reports whether every row has a plan in which all panels have a place.
func (c *Comparison) Complete() bool {
	for i := range c.Rows {
		if !c.Rows[i].Whole() {
			return false
		}
	}
	return true
}

// Planned returns how many rows have a plan.
func (c *Comparison) Planned() int {
	n := 0
	for i := range c.Rows {
		if c.Rows[i].Planned() {
			n++
		}
	}
	return n
}

// title names a row in a sentence; the way to cut is named where it tells rows apart.
func title(r *Row, rows []Row) string {
	for i := range rows {
		if rows[i].Cut != r.Cut {
			return fmt.Sprintf("%q for the %v", r.Name, r.Cut)
		}
	}
	return fmt.Sprintf("%q", r.Name)
}

// List writes the sheets of a row: "2 x birch 2440 x 1220, 1 x MDF 6".
func (r *Row) List() string { return export.ListKinds(r.Kinds) }

// Money writes an amount of the row, or a dash where something has no price.
func (r *Row) Money(a money.Amount) string {
	if !r.Priced {
		return "-"
	}
	return r.write.Amount(a)
}

// Extras writes what is paid beside the board of the plan: edge band, delivery and spare
// sheets.
func (r *Row) Extras() string { return r.Money(r.extras()) }

func (r *Row) extras() money.Amount { return r.Edging + r.Delivery + r.Spare }

// PerM2 writes the cost of a square metre of panel, or a dash.
func (r *Row) PerM2() string {
	if !r.Priced {
		return "-"
	}
	return r.write.Decimal(r.CostM2, 2)
}

// Percent writes a share; one too small for a decimal is not called nothing.
func (r *Row) Percent(share float64) string {
	if share > 0 && share < 0.0005 {
		return "under " + r.write.Decimal(0.1, 1) + " %"
	}
	return r.write.Decimal(100*share, 1) + " %"
}

// M2 writes an area in square metres.
func (r *Row) M2(mm2 float64) string { return r.write.Decimal(mm2/1e6, 2) }

// Mass writes the mass of the panels in kg, or a dash.
func (r *Row) Mass() string {
	if r.MassKG == 0 {
		return "-"
	}
	return r.write.Decimal(r.MassKG, 1)
}

// Proof says whether the plan is proved, or how near it is.
func (r *Row) Proof() string {
	switch {
	case r.Bound.Proved:
		return "proved"
	case r.Missing > 0:
		return "-"
	case r.gap() > 0:
		return "within " + r.write.Decimal(100*r.gap(), 1) + " %"
	}
	return fmt.Sprintf("not, at least %d", r.Bound.Sheets)
}

// gap returns how far the cost of the board may be above the least, as a share of it;
// 0 where nothing is known.
func (r *Row) gap() float64 {
	paid := r.Board + r.Spare + r.Delivery
	if paid <= 0 || r.Bound.Cost <= 0 || r.Bound.Cost >= paid {
		return 0
	}
	return 1 - r.Bound.Cost.Float()/paid.Float()
}

// sawn reports whether the row is for the saw.
func (r *Row) sawn() bool { return r.Cut == kerf.Saw }

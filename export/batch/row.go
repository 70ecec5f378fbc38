package batch

import (
	"cmp"
	"slices"
	"strings"

	"panelyard/export"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/money"
)

// Kept is kept offcuts of a size, longer side first.
type Kept struct {
	Material string
	Size     geom.Point
	Count    int
}

// Row is the figures of a number of cabinets. Those after Number, by the fields after
// Missing, are set by [New].
type Row struct {
	Number int
	Priced bool // everything the plan takes has a price
	Kinds  []export.Kind
	Sheets int // bought and from the rack
	Board  money.Amount
	Edging money.Amount
	Cost   money.Amount
	// Bounded says that Least is known: what board and edge band cost at least.
	Bounded     bool
	Least       money.Amount
	LeastSheets int
	Proved      bool
	Areas       export.Areas
	Yield       float64
	Kept        []Kept
	Unplaced    []export.Missing
	Missing     int // panels without a place

	Added int          // sheets more than for one less
	Step  money.Amount // what the last one adds to the cost
}

// RowOf takes the figures of the plan for a number.
func RowOf(number int, d *export.Dossier) Row {
	t := &d.Totals
	r := Row{
		Number: number, Priced: t.Priced, Sheets: t.Sheets, Board: t.Board, Edging: t.Edging, Cost: t.Cost,
		LeastSheets: d.Bound.Sheets, Proved: d.Bound.Proved, Areas: t.Areas, Yield: t.Yield, Kinds: d.Kinds(), Unplaced: d.Missing(),
	}
	// The bound is money only when every stock that can be bought has a price.
	r.Bounded = t.Priced && !slices.ContainsFunc(d.Job.Stock, func(s parts.Stock) bool { return !s.Priced && !s.Offcut })
	if r.Bounded {
		r.Least = d.Bound.Cost + t.Edging
	}
	for i := range d.Sheets {
		r.keep(&d.Sheets[i])
	}
	slices.SortStableFunc(r.Kept, func(a, b Kept) int {
		return cmp.Or(strings.Compare(a.Material, b.Material), cmp.Compare(b.Size.X, a.Size.X), cmp.Compare(b.Size.Y, a.Size.Y))
	})
	for _, u := range r.Unplaced {
		r.Missing += u.Copies
	}
	return r
}

// keep adds the offcuts of a sheet that are worth keeping.
func (r *Row) keep(m *export.SheetMap) {
	for _, o := range m.Offcuts {
		if !o.Keep {
			continue
		}
		k := Kept{Material: m.Material.Name, Size: o.Box.Size(), Count: 1}
		if k.Size.X < k.Size.Y {
			k.Size = geom.Pt(k.Size.Y, k.Size.X)
		}
		same := func(x Kept) bool { return x.Material == k.Material && x.Size == k.Size }
		if n := slices.IndexFunc(r.Kept, same); n >= 0 {
			r.Kept[n].Count++
			continue
		}
		r.Kept = append(r.Kept, k)
	}
}

// Whole reports whether every panel has a place.
func (r *Row) Whole() bool { return r.Missing == 0 }

// Offcuts returns how many offcuts are worth keeping.
func (r *Row) Offcuts() int {
	n := 0
	for _, k := range r.Kept {
		n += k.Count
	}
	return n
}

// Each returns a share of an amount for one of the cabinets, to the nearest hundredth.
func (r *Row) Each(a money.Amount) money.Amount {
	const cent = int64(money.One / 100)
	whole := int64(r.Number) * cent
	return money.Amount((int64(a) + whole/2) / whole * cent)
}

// List writes the sheets: "2 x birch 2440 x 1220 and 1 to spare, 1 x MDF 6".
func (r *Row) List() string { return export.ListKinds(r.Kinds) }

// spare returns how many sheets are to spare.
func (r *Row) spare() int {
	n := 0
	for _, k := range r.Kinds {
		n += k.Spare
	}
	return n
}

// RunOut names the kinds of sheet of which there are no more, where panels lack a place.
func (r *Row) RunOut() string {
	var list []string
	for _, k := range r.Kinds {
		if k.Last && !r.Whole() {
			list = append(list, k.Name)
		}
	}
	return strings.Join(list, ", ")
}

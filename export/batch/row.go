package batch

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"panelyard/export"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/money"
)

// Kind is the sheets of a kind that a plan takes.
type Kind struct {
	Name, Material string
	Count          int
	Offcut         bool // from the rack
	Last           bool // there are no more of them
}

// Kept is kept offcuts of a size, longer side first.
type Kept struct {
	Material string
	Size     geom.Point
	Count    int
}

// Unplaced is copies of a panel without a place.
type Unplaced struct {
	Panel  string
	Copies int
	Reason string
}

// Row is the figures of a number of cabinets. Those after Number, by the fields after
// Missing, are set by [New].
type Row struct {
	Number int
	Priced bool // everything the plan takes has a price
	Kinds  []Kind
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
	Unplaced    []Unplaced
	Missing     int // panels without a place

	Added int          // sheets more than for one less
	Step  money.Amount // what the last one adds to the cost
}

// RowOf takes the figures of the plan for a number.
func RowOf(number int, d *export.Dossier) Row {
	t := &d.Totals
	r := Row{
		Number: number, Priced: t.Priced, Sheets: t.Sheets, Board: t.Board, Edging: t.Edging, Cost: t.Cost,
		LeastSheets: d.Bound.Sheets, Proved: d.Bound.Proved, Areas: t.Areas, Yield: t.Yield,
	}
	for i := range d.Buy {
		b := &d.Buy[i]
		r.Kinds = append(r.Kinds, Kind{
			Name: b.Stock.Name, Material: b.Stock.Material, Count: b.Count + b.Spare, Offcut: b.Stock.Offcut,
			Last: b.Stock.Available != parts.Unlimited && b.Count+b.Spare >= b.Stock.Available,
		})
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
	for i := range d.Unplaced {
		u := &d.Unplaced[i]
		r.Unplaced = append(r.Unplaced, Unplaced{Panel: u.Row.Name, Copies: u.Copies, Reason: u.Reason})
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

// List writes the sheets: "2 x birch 2440 x 1220, 1 x MDF 6".
func (r *Row) List() string {
	var list []string
	for _, k := range r.Kinds {
		s := fmt.Sprintf("%d x %s", k.Count, k.Name)
		if k.Offcut {
			s += " (kept offcut)"
		}
		list = append(list, s)
	}
	return strings.Join(list, ", ")
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

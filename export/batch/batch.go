package batch

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"

	"panelyard/export"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/money"
)

// Conditions are the same for all plans of a batch.
type Conditions struct {
	Seed   uint64
	Budget string // in words: "12 rounds a plan"
}

// Batch is all that the documents say. Rows are those of 1, 2, 3 and more cabinets.
type Batch struct {
	Conditions
	Job     *parts.Job
	Cut     kerf.Cut
	Rows    []Row
	Best    *Row // nil when no number places all panels
	Fullest *Row // with the best yield; nil as Best
	Advice  []string

	write export.Lengths
}

// New makes a batch of the rows for 1, 2, 3 and more of a job, which it takes over.
func New(job *parts.Job, cut kerf.Cut, c Conditions, rows []Row) *Batch {
	b := &Batch{Conditions: c, Job: job, Cut: cut, Rows: rows, write: export.LengthsOf(job)}
	for i := range rows {
		r := &rows[i]
		r.Added, r.Step = r.Sheets, r.Cost
		if i > 0 {
			r.Added -= rows[i-1].Sheets
			r.Step -= rows[i-1].Cost
		}
		if !r.Whole() {
			continue
		}
		if b.Best == nil || b.cheaper(r, b.Best) {
			b.Best = r
		}
		if b.Fullest == nil || r.Yield > b.Fullest.Yield+1e-9 {
			b.Fullest = r
		}
	}
	b.advise()
	return b
}

// Title returns the name of the job, with the variant when it is one.
func (b *Batch) Title() string {
	if b.Job.Variant == "" {
		return b.Job.Name
	}
	return b.Job.Name + ", " + b.Job.Variant
}

// Complete reports whether every number places all panels.
func (b *Batch) Complete() bool {
	return !slices.ContainsFunc(b.Rows, func(r Row) bool { return !r.Whole() })
}

// Priced reports whether everything that the plans take has a price.
func (b *Batch) Priced() bool {
	return !slices.ContainsFunc(b.Rows, func(r Row) bool { return !r.Priced })
}

// Money writes an amount with the currency of the job.
func (b *Batch) Money(a money.Amount) string {
	return strings.TrimSpace(b.Amount(a) + " " + b.Job.Currency)
}

// Amount writes an amount without the currency.
func (b *Batch) Amount(a money.Amount) string { return b.write.Amount(a) }

// Percent writes a share.
func (b *Batch) Percent(share float64) string { return b.write.Decimal(100*share, 1) + " %" }

// Area writes an area given in mm2 in m2, without the unit.
func (b *Batch) Area(mm2 float64) string { return b.write.Decimal(mm2/1e6, 2) }

// Unit returns the unit of lengths for a header: mm or in.
func (b *Batch) Unit() string { return b.write.Unit() }

// IsBest reports whether a number is the best.
func (b *Batch) IsBest(number int) bool { return b.Best != nil && b.Best.Number == number }

// Leftover writes the kept offcuts of a number: "2 x 1210 x 340 (birch 18)".
func (b *Batch) Leftover(number int) string {
	var list []string
	for _, k := range b.Rows[number-1].Kept {
		list = append(list, fmt.Sprintf("%d x %s x %s (%s)", k.Count, b.write.Text(k.Size.X), b.write.Text(k.Size.Y), k.Material))
	}
	return strings.Join(list, ", ")
}

// cheaper reports whether one of x costs less than one of y; where something has no
// price, whether it takes less board.
func (b *Batch) cheaper(x, y *Row) bool {
	if b.Priced() {
		return each(x.Cost, x, y.Cost, y) < 0
	}
	return x.Areas.Sheet*float64(y.Number) < y.Areas.Sheet*float64(x.Number)*(1-1e-9)
}

// each compares two amounts by what they are for one cabinet, exactly.
func each(a money.Amount, of *Row, c money.Amount, with *Row) int {
	// An amount times a number of cabinets may exceed int64.
	var x, y big.Int
	x.Mul(big.NewInt(int64(a)), big.NewInt(int64(with.Number)))
	y.Mul(big.NewInt(int64(c)), big.NewInt(int64(of.Number)))
	return x.Cmp(&y)
}

// lowest returns the row with the least that one cabinet can cost, or nil where that is
// not known for all.
func (b *Batch) lowest() *Row {
	var low *Row
	for i := range b.Rows {
		r := &b.Rows[i]
		if !r.Bounded {
			return nil
		}
		if low == nil || each(r.Least, r, low.Least, low) < 0 {
			low = r
		}
	}
	return low
}

// advise says which number to build, and what the steps are.
func (b *Batch) advise() {
	say := func(format string, args ...any) { b.Advice = append(b.Advice, fmt.Sprintf(format, args...)) }
	if len(b.Rows) == 0 {
		say("Nothing is planned.")
		return
	}
	b.adviseBest(say)
	if f := b.Fullest; f != nil && len(b.Rows) > 1 {
		say("The fullest sheets are those of %d: %s of their board lies in panels.", f.Number, b.Percent(f.Yield))
	}
	var free, missing []int
	for i := range b.Rows {
		r := &b.Rows[i]
		switch {
		case !r.Whole():
			missing = append(missing, r.Number)
		case i > 0 && r.Added == 0:
			free = append(free, r.Number)
		}
	}
	if len(free) > 0 {
		say("The last one needs no further sheet at %s: it comes from what the others leave.", spans(free))
	}
	if len(missing) > 0 {
		text := fmt.Sprintf("At %s not every panel has a place", spans(missing))
		if out := b.Rows[missing[0]-1].RunOut(); out != "" {
			text += fmt.Sprintf(": there is no more of %s", out)
		}
		say("%s.", text)
	}
}

// adviseBest says which number to build, and whether that is proved.
func (b *Batch) adviseBest(say func(string, ...any)) {
	best, last := b.Best, len(b.Rows)
	switch {
	case best == nil:
		say("None can be built as it is: every number leaves panels without a place.")
		return
	case last == 1:
		say("Only one was planned, so there is nothing to compare.")
		return
	case !b.Priced():
		say("Not everything has a price. %d take the least board each of 1 to %d: %s m2.", best.Number, last, b.Area(best.Areas.Sheet/float64(best.Number)))
		return
	}
	text := fmt.Sprintf("%d cost the least each of 1 to %d: %s", best.Number, last, b.Money(best.Each(best.Cost)))
	if one := &b.Rows[0]; best.Number > 1 && one.Whole() && one.Cost > 0 {
		less := one.Cost - best.Each(best.Cost)
		text += fmt.Sprintf(", %s (%s) less than one alone", b.Money(less), b.Percent(less.Float()/one.Cost.Float()))
	}
	if also := b.asCheap(); len(also) > 0 {
		text += fmt.Sprintf("; so do %s", spans(also))
	}
	say("%s.", text)
	switch low := b.lowest(); {
	case low == nil:
	case each(best.Cost, best, low.Least, low) <= 0:
		say("That is proved: no plan for 1 to %d costs less each.", last)
	default:
		share := low.Least.Float() / float64(low.Number) / (best.Cost.Float() / float64(best.Number))
		say("It is not proved: no plan for 1 to %d can cost less than %s each, %s under that.", last,
			b.Money(low.Each(low.Least)), b.Percent(math.Max(0, 1-share)))
	}
}

// asCheap returns the numbers that cost as much each as the best.
func (b *Batch) asCheap() []int {
	var list []int
	for i := range b.Rows {
		if r := &b.Rows[i]; r != b.Best && r.Whole() && each(r.Cost, r, b.Best.Cost, b.Best) == 0 {
			list = append(list, r.Number)
		}
	}
	return list
}

// spans writes ascending numbers: "2, 5 to 7 and 9". Of many spans it writes the first.
func spans(list []int) string {
	const most = 12
	var out []string
	for i := 0; i < len(list); {
		k := i
		for k+1 < len(list) && list[k+1] == list[k]+1 {
			k++
		}
		switch k - i {
		case 0:
			out = append(out, fmt.Sprint(list[i]))
		case 1:
			out = append(out, fmt.Sprint(list[i]), fmt.Sprint(list[k]))
		default:
			out = append(out, fmt.Sprintf("%d to %d", list[i], list[k]))
		}
		i = k + 1
	}
	switch n := len(out) - 1; {
	case n >= most:
		return fmt.Sprintf("%s and so on, up to %d", strings.Join(out[:most], ", "), list[len(list)-1])
	case n > 0:
		return strings.Join(out[:n], ", ") + " and " + out[n]
	}
	return out[0]
}

package bound

import (
	"cmp"
	"math"
	"slices"
)

// cut is a condition that whole patterns keep and fractions of them may break. With n copies
// of its kinds, each so many times, a sheet counts
//
//	⌈(n - shift) / over⌉    shift 0 for kinds of sheet that are not among its sheets
//
// and the sheets of a mix together count no less than what is wanted, less the shifts of all
// sheets there are, over the same: rounding up a sum is no more than summing what was rounded
// up. These are cuts of Chvátal and Gomory of rank one; that few kinds with multipliers of
// halves and thirds are strong is known from routing: Jepsen, Petersen, Spoorendonk &
// Pisinger, "Subset-row inequalities applied to the vehicle-routing problem with time
// windows", Operations Research 56, 2008 (from memory).
type cut struct {
	kinds, times []int32
	over, shift  int
	sheets       uint    // bits of the kinds of sheet that have the shift
	counts       []uint8 // of each pattern
}

const (
	// cutRounds is how often cuts are sought, and cutsAdded how many at a time at most.
	cutRounds, cutsAdded = 8, 24
	// mostOver is the largest divisor, mostCutKinds of how many kinds a cut is, and
	// mostCutSheets for how many kinds of sheet shifts are tried.
	mostOver, mostCutKinds, mostCutSheets = 3, 3, 4
	// leastBroken is by how much a condition is broken that is worth a row, and leastCutGain
	// which share of what is missing a round must gain for another one.
	leastBroken, leastCutGain = 0.01, 0.02
	// useless is a dual value of a condition without which the program would be as good.
	useless = 1e-9
)

// of returns what n copies count on a kind of sheet.
func (c *cut) of(n, sheet int) int {
	if c.sheets>>sheet&1 != 0 {
		n -= c.shift
	}
	return (n + c.over - 1) / c.over
}

// wanted returns what the sheets of a mix count at least, of so many copies in all.
func (c *cut) wanted(n int, mix []int) int {
	for j, sheets := range mix {
		if c.sheets>>j&1 != 0 {
			n -= c.shift * sheets
		}
	}
	return int(math.Ceil(float64(n) / float64(c.over)))
}

// sharpen adds cuts to the program of the root, as long as they gain something, and returns
// its solution, as relax does.
func (t *choice) sharpen(w *twig, x []float64, value float64) ([]float64, float64, verdict) {
	v := undecided
	for range cutRounds {
		cuts := t.broken(w, x)
		if len(cuts) == 0 || t.spent() {
			break
		}
		kept := w.features[:0]
		for i, f := range w.features {
			if w.worth[i] > useless {
				kept = append(kept, f)
			}
		}
		w.features = kept
		for _, c := range cuts {
			w.features = append(w.features, t.count(w, c))
		}
		before := value
		if x, value, v = t.relax(w); x == nil || value-before < leastCutGain*(1-value) {
			break
		}
	}
	return x, value, v
}

// count works out what the patterns of a twig count by a cut, and returns it as a feature.
func (t *choice) count(w *twig, c *cut) feature {
	copies := func(of func(k int) int) int {
		n := 0
		for i, k := range c.kinds {
			n += int(c.times[i]) * of(int(k))
		}
		return n
	}
	c.counts = make([]uint8, len(t.columns))
	for _, at := range w.list {
		row := t.row(at)
		c.counts[at] = uint8(c.of(copies(func(k int) int { return int(row[k]) }), t.columns[at].sheet))
	}
	*t.work += 4 * len(w.list)
	n := copies(func(k int) int { return t.wanted[k] })
	return feature{sheet: -1, column: -1, cut: c, wanted: c.wanted(n, t.mix)}
}

// breaker seeks the cuts that a solution breaks most.
type breaker struct {
	*choice
	x        []float64 // of the patterns that it takes
	rows     [][]uint8 // their copies of each kind
	sheet    []int
	sets     []uint // of kinds of sheet, those for shifts
	breaches []breach
}

// breach is a cut that is broken.
type breach struct {
	*cut
	by float64 // by how much, less for more kinds
}

// broken returns the cuts that a solution breaks most. Cost: kinds to the power of
// mostCutKinds, times the patterns in the solution.
func (t *choice) broken(w *twig, x []float64) []*cut {
	b := &breaker{choice: t, sets: []uint{0}}
	for i, c := range w.list {
		if x[i] > 1e-7 {
			b.x, b.rows, b.sheet = append(b.x, x[i]), append(b.rows, t.row(c)), append(b.sheet, t.columns[c].sheet)
		}
	}
	var bought uint
	for j, n := range t.mix {
		if n > 0 && j < mostCutSheets {
			bought |= 1 << j
		}
	}
	for set := bought; set > 0; set = (set - 1) & bought {
		b.sets = append(b.sets, set)
	}
	for over := 2; over <= mostOver; over++ {
		b.grow(cut{over: over}, make([]int, len(b.x)), 0)
	}
	slices.SortStableFunc(b.breaches, func(a, b breach) int { return -cmp.Compare(a.by, b.by) })
	var cuts []*cut
	for _, f := range b.breaches[:min(len(b.breaches), cutsAdded)] {
		cuts = append(cuts, f.cut)
	}
	return cuts
}

// grow tries a cut with one more kind, each there is, and more. Of its kinds the patterns have
// so many copies, and so many are wanted.
func (b *breaker) grow(c cut, has []int, wanted int) {
	from := 0
	if n := len(c.kinds); n > 0 {
		from = int(c.kinds[n-1]) + 1
	}
	more := make([]int, len(has))
	for k := from; k < len(b.wanted); k++ {
		if b.wanted[k] == 0 || *b.work >= b.until {
			continue
		}
		c := c
		c.kinds = append(slices.Clip(c.kinds), int32(k))
		for times := 1; times < c.over; times++ {
			c.times = append(slices.Clip(c.times[:len(c.kinds)-1]), int32(times))
			for i := range more {
				more[i] = has[i] + times*int(b.rows[i][k])
			}
			all := wanted + times*b.wanted[k]
			b.try(c, more, all)
			if len(c.kinds) < mostCutKinds {
				b.grow(c, more, all)
			}
		}
	}
}

// try notes a cut if it is broken, with each shift.
func (b *breaker) try(c cut, has []int, wanted int) {
	for _, set := range b.sets {
		for shift := range c.over {
			if (shift == 0) != (set == 0) {
				continue
			}
			c.shift, c.sheets = shift, set
			least := c.wanted(wanted, b.mix)
			if least <= 0 {
				continue
			}
			sum := 0.0
			for i, x := range b.x {
				sum += x * float64(c.of(has[i], b.sheet[i]))
			}
			*b.work += 2 * len(b.x)
			if by := (float64(least) - sum) / math.Sqrt(float64(len(c.kinds))); by > leastBroken {
				kept := c
				b.breaches = append(b.breaches, breach{&kept, by})
			}
		}
	}
}

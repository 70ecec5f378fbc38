package bound

import (
	"cmp"
	"math"
	"slices"

	"panelyard/nest/bound/simplex"
)

// choice is the question whether a number of listed patterns, one for each sheet of a mix,
// hold what is wanted. It is answered by branching: a linear program tells which fractions
// of patterns do, and a feature of patterns of which there is no whole number among them
// divides the question in two.
//
// The program has the areas of sheets as its costs, so its dual values are weights of
// panels; a pattern that weighs too little by them for all others to make up for it is
// dropped. Weights are made whole numbers before anything is concluded from them.
//
// Features are counts of a kind as in Vance, "Branch-and-price algorithms for the
// one-dimensional cutting stock problem", Computational Optimization and Applications 9,
// 1998 (from memory).
type choice struct {
	*whole
	p      *pricing
	wanted []int
	areas  []float64
	lister *lister
	weight []int32
	// complete says that no kind of panel is left out.
	complete bool

	columns []column
	entries []share // of all columns
	copies  []uint8 // of each column a row of kinds
	found   []pick
}

// column is a pattern of a kind of sheet.
type column struct {
	sheet  int
	shares []share
}

// share is copies of a kind in a pattern.
type share struct{ kind, copies int32 }

// pick is a pattern and on how many sheets.
type pick struct {
	column, sheets int
}

// add adds a pattern.
func (t *choice) add(sheet int, pattern []uint64) {
	from := len(t.entries)
	for k := range t.wanted {
		n := copiesOf(pattern, k)
		t.copies = append(t.copies, uint8(n))
		if n > 0 {
			t.entries = append(t.entries, share{int32(k), int32(n)})
		}
	}
	t.columns = append(t.columns, column{sheet, t.entries[from:len(t.entries):len(t.entries)]})
}

// feature is what some patterns have: so many copies of a kind or more, on some kind of
// sheet or on any; or to be one pattern.
type feature struct {
	kind   int
	copies uint8
	sheet  int // or -1
	column int // or -1
	not    bool
	wanted int // sheets with a pattern that has it
}

func (t *choice) has(f *feature, column int) bool {
	switch {
	case f.column >= 0:
		return (f.column == column) != f.not
	case f.sheet >= 0 && t.columns[column].sheet != f.sheet:
		return f.not
	}
	return (t.copies[column*len(t.wanted)+f.kind] >= f.copies) != f.not
}

// twig is a part of the question: which patterns may be taken, and what features are
// wanted of them.
type twig struct {
	list     []int32 // of columns
	likely   []int32 // of them, those with which the program begins
	features []feature
}

// mostLikely is with how many patterns a program begins, and mostAdded how many it gets at
// a time.
const mostLikely, mostAdded = 250, 60

// decide answers the question.
func (t *choice) decide() verdict {
	root := twig{}
	for c := range t.columns {
		root.list = append(root.list, int32(c))
	}
	for i := 0; i < len(root.list); i += max(1, len(root.list)/mostLikely) {
		root.likely = append(root.likely, int32(i))
	}
	stack := []twig{root}
	for len(stack) > 0 {
		if t.spent() {
			return undecided
		}
		w := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		x, v := t.relax(&w)
		switch {
		case v == ruledOut:
			continue
		case x == nil:
			return undecided
		}
		f, ok := t.divide(&w, x)
		if !ok {
			t.found = nil
			for i, c := range w.list {
				if n := math.Round(x[i]); n > 0 {
					t.found = append(t.found, pick{int(c), int(n)})
				}
			}
			if !t.enough() {
				return undecided // a program that is no better than its rounding
			}
			return held
		}
		// Those with the feature come first.
		less, sheets := f, 0
		for _, n := range t.mix {
			sheets += n
		}
		less.not, less.wanted = true, sheets-f.wanted+1
		for _, f := range []feature{less, f} {
			stack = append(stack, twig{slices.Clone(w.list), w.likely, append(slices.Clone(w.features), f)})
		}
	}
	return ruledOut
}

// enough reports whether the patterns that were found hold what is wanted.
func (t *choice) enough() bool {
	left, have := slices.Clone(t.wanted), slices.Clone(t.mix)
	for _, f := range t.found {
		q := &t.columns[f.column]
		have[q.sheet] -= f.sheets
		for _, s := range q.shares {
			left[s.kind] -= int(s.copies) * f.sheets
		}
	}
	return slices.Max(left) <= 0 && slices.Min(have) >= 0
}

// relax solves the program of a twig, drops patterns that cannot be in a solution, and
// returns how often the program takes the others. It returns nothing when it finds out that
// there is no solution, or cannot solve the program.
func (t *choice) relax(w *twig) ([]float64, verdict) {
	lp, err := t.program(w)
	if err != nil {
		return nil, undecided
	}
	kinds := len(t.wanted)
	first := lp.Columns()
	in := make(map[int32]int, 2*mostLikely)
	put := func(c int32) {
		in[c] = lp.Columns() - first
		q := &t.columns[c]
		var col simplex.Column
		for _, s := range q.shares {
			col.Put(int(s.kind), float64(s.copies))
		}
		for i := range w.features {
			if t.has(&w.features[i], int(c)) {
				col.Put(kinds+i, 1)
			}
		}
		col.Put(kinds+len(w.features)+q.sheet, 1)
		lp.Add(t.areas[q.sheet], col)
	}
	for _, c := range w.likely {
		put(c)
	}
	gain := make([]float64, len(w.list))
	for {
		before := lp.Pivots()
		err := lp.Solve(t.ctx)
		*t.work += (lp.Pivots() - before) * (3*lp.Rows()*lp.Rows() + 20*lp.Columns())
		if err != nil {
			return nil, undecided
		}
		duals := lp.Duals()
		worst := t.gains(w, duals, gain)
		*t.work += len(w.list) * (10 + len(w.features))
		if worst > -1e-9 {
			break
		}
		added := 0
		for _, i := range worstOf(gain) {
			if _, ok := in[w.list[i]]; !ok {
				put(w.list[i])
				added++
			}
		}
		if added == 0 {
			break
		}
	}
	if !t.prune(w, lp.Duals()) {
		return nil, ruledOut
	}
	x := lp.X(first)
	taken := make([]float64, len(w.list))
	for i, c := range w.list {
		if n, ok := in[c]; ok {
			taken[i] = x[n]
		}
	}
	w.likely = nil
	type likely struct {
		column int32
		gain   float64
	}
	var near []likely
	for _, c := range w.list {
		if n, ok := in[c]; ok {
			near = append(near, likely{c, lp.Reduced(t.areas[t.columns[c].sheet], lp.Column(first+n))})
		}
	}
	slices.SortStableFunc(near, func(a, b likely) int { return cmp.Compare(a.gain, b.gain) })
	for _, l := range near[:min(len(near), mostLikely)] {
		w.likely = append(w.likely, l.column)
	}
	return taken, undecided
}

// program returns the program of a twig without patterns: what a miss costs is more than
// any area.
func (t *choice) program(w *twig) (*simplex.Master, error) {
	var rows, unit []float64
	for k, n := range t.wanted {
		rows, unit = append(rows, float64(n)*(1+1e-7*float64(1+k*7%13))), append(unit, 2)
	}
	for i := range w.features {
		rows, unit = append(rows, float64(w.features[i].wanted)), append(unit, 2)
	}
	for _, n := range t.mix {
		rows, unit = append(rows, float64(n)), append(unit, 0)
	}
	lp, err := simplex.New(rows, unit)
	if err != nil {
		return nil, err
	}
	for i := range len(t.wanted) + len(w.features) {
		lp.Add(0, simplex.Column{Rows: []int{i}, Values: []float64{-1}})
	}
	return lp, nil
}

// gains works out the reduced costs of all patterns of a twig, and returns the least.
func (t *choice) gains(w *twig, duals, gain []float64) float64 {
	kinds := len(t.wanted)
	var worth []int // features that are
	for i := range w.features {
		if duals[kinds+i] != 0 {
			worth = append(worth, i)
		}
	}
	worst := 0.0
	for i, c := range w.list {
		q := &t.columns[c]
		g := t.areas[q.sheet] - duals[kinds+len(w.features)+q.sheet]
		for _, s := range q.shares {
			g -= duals[s.kind] * float64(s.copies)
		}
		for _, f := range worth {
			if t.has(&w.features[f], int(c)) {
				g -= duals[kinds+f]
			}
		}
		gain[i] = g
		worst = min(worst, g)
	}
	return worst
}

// prune drops the patterns that weigh too little, by weights in proportion to dual values.
// It reports false when the sheets of the mix hold too little.
func (t *choice) prune(w *twig, duals []float64) bool {
	kinds := len(t.wanted)
	wanted := slices.Clone(t.wanted)
	for i := range w.features {
		wanted = append(wanted, w.features[i].wanted)
	}
	all := 0.0
	for i, n := range wanted {
		all += max(0, duals[i]) * float64(n)
	}
	if all == 0 {
		return true
	}
	weight := make([]int64, len(wanted))
	for i := range wanted {
		weight[i] = int64(max(0, duals[i]) / all * (1 << 45))
	}
	most := make([]int64, len(t.mix))
	value := make([]int64, len(w.list))
	for i, c := range w.list {
		q := &t.columns[c]
		v := int64(0)
		for _, s := range q.shares {
			v += weight[s.kind] * int64(s.copies)
		}
		for f := range w.features {
			if weight[kinds+f] > 0 && t.has(&w.features[f], int(c)) {
				v += weight[kinds+f]
			}
		}
		value[i] = v
		most[q.sheet] = max(most[q.sheet], v)
	}
	slack := int64(0)
	for j, n := range t.mix {
		slack += int64(n) * most[j]
	}
	for i, n := range wanted {
		slack -= int64(n) * weight[i]
	}
	if slack < 0 {
		return false
	}
	kept := w.list[:0]
	for i, c := range w.list {
		if value[i] >= most[t.columns[c].sheet]-slack {
			kept = append(kept, c)
		}
	}
	w.list = kept
	return true
}

// divide returns the feature of which the number of sheets is farthest from whole. It
// reports false when all are whole.
func (t *choice) divide(w *twig, x []float64) (feature, bool) {
	const whole = 1e-6
	best, by := feature{column: -1}, whole
	try := func(f feature) {
		sum := 0.0
		for i, c := range w.list {
			if x[i] > 0 && t.has(&f, int(c)) {
				sum += x[i]
			}
		}
		d := math.Abs(sum - math.Round(sum))
		if f.column < 0 && d > whole {
			d *= math.Sqrt(math.Sqrt(float64(t.weight[f.kind]))) // large panels first, rather
		}
		if d > by*(1+1e-4) {
			best, by = f, d
			best.wanted = int(sum) + 1
		}
	}
	for k := range t.wanted {
		top := uint8(0)
		for i, c := range w.list {
			if x[i] > 0 {
				top = max(top, t.copies[int(c)*len(t.wanted)+k])
			}
		}
		for n := uint8(1); n <= top; n++ {
			try(feature{kind: k, copies: n, sheet: -1, column: -1})
			for j := range t.mix {
				if t.mix[j] > 0 {
					try(feature{kind: k, copies: n, sheet: j, column: -1})
				}
			}
		}
	}
	if by == whole {
		for i, c := range w.list {
			if x[i] > 0 {
				try(feature{sheet: -1, column: int(c)})
			}
		}
	}
	return best, by > whole
}

// worstOf returns the places of the mostAdded reduced costs that are farthest below zero.
func worstOf(gain []float64) []int {
	var at []int
	for i, g := range gain {
		if g < -1e-9 {
			at = append(at, i)
		}
	}
	slices.SortFunc(at, func(a, b int) int { return cmp.Or(cmp.Compare(gain[a], gain[b]), cmp.Compare(a, b)) })
	return at[:min(len(at), mostAdded)]
}

package bound

import (
	"math"
	"slices"
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
// 1998. Which one divides is chosen by what was gained by it before, as in Benichou et al.,
// "Experiments in mixed-integer linear programming", Mathematical Programming 1, 1971 (both
// from memory): on cabinet jobs that took a seventh to a sixtieth of the parts that the most
// fractional one took.
type choice struct {
	*whole
	p      *pricing
	wanted []int
	areas  []float64
	lister *lister
	weight []int32
	lost   []*losses // of each kind of sheet, once they were asked for

	rises   map[feature]*gain
	typical gain
	most    float64 // that a rise counts
	columns []column
	entries []share // of all columns
	copies  []uint8 // of each column a row of kinds
	found   []pick
	trees   map[int]*piece // how columns are cut, as far as that was asked
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

// row returns the copies of each kind that a column has.
func (t *choice) row(column int32) []uint8 {
	n := len(t.wanted)
	return t.copies[int(column)*n:][:n]
}

// add adds a pattern.
func (t *choice) add(sheet int, pattern []uint64) {
	copies := make([]uint8, len(t.wanted))
	for k := range copies {
		copies[k] = uint8(copiesOf(pattern, k))
	}
	t.addRow(sheet, copies)
}

// addRow adds one by its copies of each kind.
func (t *choice) addRow(sheet int, copies []uint8) {
	from := len(t.entries)
	t.copies = append(t.copies, copies...)
	for k, n := range copies {
		if n > 0 {
			t.entries = append(t.entries, share{int32(k), int32(n)})
		}
	}
	t.columns = append(t.columns, column{sheet, t.entries[from:len(t.entries):len(t.entries)]})
}

// addAll adds those of a list.
func (t *choice) addAll(sheet int, list []uint64) {
	for i := 0; i < len(list); i += t.lister.stride() {
		t.add(sheet, list[i:i+t.lister.stride()])
	}
}

// feature is what some patterns have: so many copies of a kind or more, on some kind of
// sheet or on any; or to be one pattern. Or it is what patterns count by a cut.
type feature struct {
	kind   int
	copies uint8
	sheet  int // or -1
	column int // or -1
	not    bool
	cut    *cut
	wanted int // sheets with a pattern that has it, or what they count together
}

func (t *choice) has(f *feature, column int) bool {
	switch {
	case f.column >= 0:
		return (f.column == column) != f.not
	case f.sheet >= 0 && t.columns[column].sheet != f.sheet:
		return f.not
	}
	return (t.row(int32(column))[f.kind] >= f.copies) != f.not
}

// times returns how often a pattern counts for a feature.
func (t *choice) times(f *feature, column int) int {
	switch {
	case f.cut != nil:
		return int(f.cut.counts[column])
	case t.has(f, column):
		return 1
	}
	return 0
}

// twig is a part of the question: which patterns may be taken, and what features are
// wanted of them.
type twig struct {
	list     []int32 // of columns
	likely   []int32 // of them, those with which the program begins
	features []feature
	worth    []float64 // dual values of the features
	part     bool      // of a question that was divided, with its last feature
	from     float64   // the value of the program that it is a part of
	by       float64   // by how many sheets its last feature was rounded
}

// with returns the twig with one more feature, which rounds its solution of a value by so
// many sheets.
func (w *twig) with(f feature, value, by float64) twig {
	return twig{
		list: slices.Clone(w.list), likely: w.likely, features: append(slices.Clone(w.features), f),
		part: true, from: value, by: by,
	}
}

// gain is by how much the value of programs rose, in the mean, for each sheet that a feature
// was rounded by: up to more sheets that have it, and down to fewer.
type gain struct {
	sum, times [2]float64
}

func (g *gain) note(way int, rise float64) {
	g.sum[way] += rise
	g.times[way]++
}

// mean returns the gain of a way, or that of another where there was none.
func (g *gain) mean(way int, other float64) float64 {
	if g == nil || g.times[way] == 0 {
		return other
	}
	return g.sum[way] / g.times[way]
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
		x, value, v := t.relax(&w)
		if !w.part && x != nil {
			x, value, v = t.sharpen(&w, x, value)
		}
		t.learn(&w, value, v)
		switch {
		case v == ruledOut:
			continue
		case x == nil:
			return undecided
		}
		f, part, ok := t.divide(&w, x)
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
		less, sheets := f, 0
		for _, n := range t.mix {
			sheets += n
		}
		less.not, less.wanted = true, sheets-f.wanted+1
		// The last comes first: more sheets with the feature.
		stack = append(stack, w.with(less, value, part), w.with(f, value, 1-part))
	}
	return ruledOut
}

// learn takes over by how much the value of a twig's program rose with its last feature.
func (t *choice) learn(w *twig, value float64, v verdict) {
	if !w.part {
		t.rises, t.typical, t.most = map[feature]*gain{}, gain{}, 2*max(1-value, 1e-6)
		return
	}
	f := w.features[len(w.features)-1]
	way := 0
	if f.not {
		way = 1
	}
	f.not, f.wanted = false, 0
	g := t.rises[f]
	if g == nil {
		g = &gain{}
		t.rises[f] = g
	}
	rise := min(max(0, value-w.from), t.most) / w.by
	g.note(way, rise)
	t.typical.note(way, rise)
}

// enough reports whether the patterns that were found hold what is wanted.
func (t *choice) enough() bool {
	have := slices.Clone(t.mix)
	for _, f := range t.found {
		have[t.columns[f.column].sheet] -= f.sheets
	}
	return slices.Max(t.unmet()) <= 0 && slices.Min(have) >= 0
}

// unmet returns how many copies of each kind patterns that were found lack; below 0 they have more
// than wanted.
func (t *choice) unmet() []int32 {
	lacks := make([]int32, len(t.wanted))
	for k, n := range t.wanted {
		lacks[k] = int32(n)
	}
	for _, f := range t.found {
		for _, s := range t.columns[f.column].shares {
			lacks[s.kind] -= s.copies * int32(f.sheets)
		}
	}
	return lacks
}

// divide returns the feature of which the number of sheets is to be made whole, and the
// part by which it is more than that: the one by which the program's value rises most, as
// far as is known, whichever way it goes. It reports false when all are whole.
func (t *choice) divide(w *twig, x []float64) (best feature, part float64, ok bool) {
	const whole = 1e-6
	top := 0.0
	try := func(f feature) {
		sum := 0.0
		for i, c := range w.list {
			if x[i] > 0 && t.has(&f, int(c)) {
				sum += x[i]
			}
		}
		by := sum - math.Floor(sum)
		if by < whole || by > 1-whole {
			return
		}
		g := t.rises[f]
		const little = 1e-6
		up := (1 - by) * (g.mean(0, t.typical.mean(0, 1)) + little)
		down := by * (g.mean(1, t.typical.mean(1, 1)) + little)
		if score := up * down; score > top*(1+1e-4) {
			best, top, part, ok = f, score, by, true
			best.wanted = int(sum) + 1
		}
	}
	for k := range t.wanted {
		most := uint8(0)
		for i, c := range w.list {
			if x[i] > 0 {
				most = max(most, t.row(c)[k])
			}
		}
		for n := uint8(1); n <= most; n++ {
			try(feature{kind: k, copies: n, sheet: -1, column: -1})
			for j := range t.mix {
				if t.mix[j] > 0 {
					try(feature{kind: k, copies: n, sheet: j, column: -1})
				}
			}
		}
	}
	if !ok {
		for i, c := range w.list {
			if x[i] > 0 {
				try(feature{sheet: -1, column: int(c)})
			}
		}
	}
	return best, part, ok
}

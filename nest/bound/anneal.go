package bound

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// annealer puts a plan of a mix together from listed patterns. Each sheet has one of those of
// its kind, and the energy is what the blanks are worth that are missing then. A step takes the
// pattern of a sheet away and weighs what each pattern of its kind would leave missing; one of
// them is drawn, with a probability that falls with its energy, the more so the lower the
// temperature is. That is annealing as in Kirkpatrick, Gelatt & Vecchi, "Optimization by
// simulated annealing", Science 220, 1983, with the steps of Geman & Geman, "Stochastic
// relaxation, Gibbs distributions, and the Bayesian restoration of images", IEEE Transactions on
// Pattern Analysis and Machine Intelligence 6, 1984. What is missing in the end is worth more
// the next time, as in Morris, "The breakout method for escaping from local minima", AAAI 1993
// (all from memory).
//
// To draw so, each energy gets noise, and the least is taken: with variates of the distribution
// of Gumbel, "Statistical theory of extreme values and some practical applications", National
// Bureau of Standards, 1954 (from memory), times the temperature, each is the least as often as
// it ought to be drawn.
//
// Patterns that are likely in a plan (odds.go) are drawn rather than others, and of the least
// likely there are none.
//
// A panel that is missing counts as there where a larger one is too many (places.go). What is
// missing towards the end is often little, and is sought exactly (finish.go).
//
// Where next to nothing is to spare, heavy patterns fit together in few ways, and branching
// takes long to find one: of two lists of 422 and 1,200 patterns with which it had not come
// to an end after 1,500 million additions, one was found here in 0.02 and 0.2 s.
type annealer struct {
	*choice
	rng    *rand.Rand
	rows   []*rows // of each kind of sheet
	sheets []int   // the kind of each sheet
	taken  []int32 // its pattern
	lacks  []int32 // copies of each kind; below 0 there are more than wanted
	area   []int64 // of a blank of each kind
	worth  []int64 // what one counts that is missing
	mean   float64 // area of a blank
	places [][]int // of each kind, the others in whose places it has room

	// Scratch of a step.
	short         []int32
	values, noise []int32
	drawn         []int32 // noise and biases
	variates      []float32
	lack          []uint8 // short, as bytes
	counted       []int16 // worths, the dearest mostWorth

	finisher *finisher
	own      int // additions of the steps since it began
	all      int // of all runs, by turns
	turns    int
}

const (
	// sweeps is how many steps the temperature takes down, and how often each sheet has a turn.
	sweeps = 30
	// hottest is the first temperature as a share of a blank's mean area, coldest the last
	// one as a share of that.
	hottest, coldest = 0.6, 0.1
	// mostWorth is what the dearest kind counts.
	mostWorth = 30_000
	// shifts is by how many places the noise of a step may be moved.
	shifts = 4096
	// annealScale is the area of the largest sheet.
	annealScale = 1 << 20
)

// masses are the shares of all probability that the patterns of an annealer have, the largest first,
// and how many turns it takes: those of a small share are found together sooner, and of a large one
// more plans are made.
var masses = []struct {
	share float64
	turns int
}{{0.97, 1}, {0.85, 3}, {0.7, 3}, {0.5, 1}}

// newAnnealer returns one that draws by a seed among the patterns of some odds.
func newAnnealer(o *odds, seed uint64) *annealer {
	t := o.choice
	a := &annealer{choice: t, rng: rand.New(rand.NewPCG(seed, 1983)), rows: make([]*rows, len(t.mix))}
	largest, most := 0.0, 0
	for j, n := range t.mix {
		if n == 0 {
			continue
		}
		for range n {
			a.sheets = append(a.sheets, j)
		}
		a.rows[j] = newRows(t, o.of[j], o.logs)
		largest = max(largest, boxArea(t.p.sheets[j].w, t.p.sheets[j].h))
		most = max(most, len(a.rows[j].columns))
	}
	all := 0
	for k, n := range t.wanted {
		area := boxArea(t.p.kinds[k].w, t.p.kinds[k].h) / largest * annealScale
		a.area, a.worth = append(a.area, int64(area)+1), append(a.worth, int64(area)+1)
		all += n
		a.mean += area * float64(n)
	}
	a.mean /= float64(max(all, 1))
	a.values, a.drawn = make([]int32, most), make([]int32, most)
	a.noise, a.variates = make([]int32, most+shifts), make([]float32, most+shifts)
	for i := range a.variates {
		a.variates[i] = float32(math.Log(-math.Log((float64(a.below(1<<24)) + 0.5) / (1 << 24))))
	}
	width := rowWidth(len(t.wanted))
	a.lack, a.counted, a.places = make([]uint8, width), make([]int16, width), t.placesOf()
	a.begin()
	return a
}

// begin gives each sheet any pattern of those that there are now.
func (a *annealer) begin() {
	a.finisher = nil
	a.lacks, a.taken = a.lacks[:0], a.taken[:0]
	for _, n := range a.wanted {
		a.lacks = append(a.lacks, int32(n))
	}
	for _, j := range a.sheets {
		c := a.rows[j].columns[a.below(a.rows[j].count)]
		a.taken = append(a.taken, c)
		a.lay(c, 1)
	}
}

// below returns a number from 0 to n-1.
func (a *annealer) below(n int) int { return int(a.rng.Uint64() >> 32 * uint64(n) >> 32) }

// lay lays out so many sheets more with a pattern.
func (a *annealer) lay(pattern, sheets int32) {
	for _, s := range a.columns[pattern].shares {
		a.lacks[s.kind] -= sheets * s.copies
	}
}

// put gives a sheet another pattern.
func (a *annealer) put(i int, pattern int32) {
	a.lay(a.taken[i], -1)
	a.lay(pattern, 1)
	a.taken[i] = pattern
}

// missing returns how many copies of each kind are missing without a pattern, if any: others of
// which there are too many have places for some.
func (a *annealer) missing(without []uint8) []int32 {
	a.short = append(a.short[:0], a.lacks...)
	for k, n := range without {
		a.short[k] += int32(n)
	}
	exchange(a.short, a.places, func(int, int, int32) {})
	return a.short
}

// complete reports whether nothing is missing.
func (a *annealer) complete() bool {
	return !slices.ContainsFunc(a.missing(nil), func(n int32) bool { return n > 0 })
}

// run takes the temperature down once, and reports whether nothing is missing.
func (a *annealer) run() bool {
	if a.complete() {
		return true
	}
	dearest := float64(slices.Max(a.worth))
	for k, w := range a.worth {
		a.counted[worthAt(k)] = int16(max(1, float64(w)/dearest*mostWorth))
	}
	heat := a.mean / dearest * mostWorth * hottest
	down := math.Pow(coldest, 1.0/sweeps)
	for range sweeps {
		for i, v := range a.variates {
			a.noise[i] = int32(float64(v) * heat)
		}
		a.took(2 * len(a.noise))
		for _, r := range a.rows {
			if r != nil {
				r.bias(heat)
				a.took(2 * len(r.odds))
			}
		}
		for range a.sheets {
			if a.step() {
				return true
			}
		}
		if a.spent() {
			return false
		}
		heat *= down
		if a.finisher == nil {
			a.finisher, a.own = newFinisher(a), 0
		}
		if a.finisher.try() {
			return true
		}
	}
	return false
}

// took counts additions.
func (a *annealer) took(n int) {
	a.own += n
	*a.work += n
}

// step draws a sheet and a pattern for it, and reports whether nothing is missing then.
func (a *annealer) step() bool {
	i := a.below(len(a.sheets))
	r, was := a.rows[a.sheets[i]], a.taken[i]
	for k, n := range a.missing(a.row(was)) {
		a.lack[k] = uint8(min(max(n, 0), math.MaxUint8))
	}
	noise := a.noise[a.below(shifts):]
	for x, b := range r.biases {
		a.drawn[x] = b + noise[x]
	}
	least := r.least(a.values, a.lack, a.counted, a.drawn)
	a.took(500 + (1+r.width/16)*len(r.columns))
	now := r.columns[slices.Index(a.values, least)]
	if now == was {
		return false
	}
	a.put(i, now)
	return a.complete()
}

// reprice makes what is missing worth more, and all else nearly what its area is.
func (a *annealer) reprice() {
	for k, n := range a.missing(nil) {
		if n > 0 {
			a.worth[k] += a.worth[k] / 5
		} else {
			a.worth[k] -= (a.worth[k] - a.area[k]) / 20
		}
	}
}

// picks returns the patterns of the sheets, those that have something.
func (a *annealer) picks() []pick {
	sheets := map[int32]int{}
	for _, c := range a.taken {
		sheets[c]++
	}
	var list []pick
	for c := range a.columns {
		if n := sheets[int32(c)]; n > 0 {
			list = append(list, pick{c, n})
		}
	}
	return list
}

// drop takes patterns out, begins anew, and reports whether there are others.
func (a *annealer) drop(columns []int32) bool {
	for _, r := range a.rows {
		if r != nil && !r.drop(a.choice, columns) {
			return false
		}
	}
	a.begin()
	return true
}

// annealers take turns.
type annealers []*annealer

// add adds those of some odds, and seeds of their own.
func (l *annealers) add(o *odds, seed int) {
	for i, mass := range masses {
		few := o.among(o.likeliest(mass.share))
		if !few.some {
			return // fewer patterns hold no more
		}
		a := newAnnealer(few, uint64(seed*len(masses)+i))
		a.turns = mass.turns
		*l = append(*l, a)
	}
}

// seek seeks patterns that hold everything, until the work of w is done, and returns the question
// of which they are found, or nil. Patterns that turn out to be none in true sizes, or whose cuts
// are not found in time, are dropped.
//
// It has one thread: on two it took so much from the search beside it that two jobs less of 21
// were solved.
func (l *annealers) seek(w *whole) *choice {
	for len(*l) > 0 && !w.spent() {
		a := slices.MinFunc(*l, func(a, b *annealer) int { return cmp.Compare(a.all, b.all) })
		before := *w.work
		ok := a.run()
		a.all += (*w.work - before) / a.turns
		if !ok {
			a.reprice()
			continue
		}
		a.found = a.picks()
		misfits := a.misfits()
		if len(misfits) == 0 {
			return a.choice
		}
		*l = slices.DeleteFunc(*l, func(b *annealer) bool { return b.choice == a.choice && !b.drop(misfits) })
	}
	return nil
}

// misfits returns which of the patterns that were found are none in true sizes.
func (t *choice) misfits() []int32 {
	var list []int32
	for _, f := range t.found {
		if len(t.columns[f.column].shares) > 0 && t.cut(f.column) == nil {
			list = append(list, int32(f.column))
		}
	}
	return list
}

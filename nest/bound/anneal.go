package bound

import (
	"math"
	"math/rand/v2"
	"slices"
)

// annealer puts a plan of a mix together from listed patterns. Each sheet has one of those of
// its kind, and the energy is what the blanks are worth that are missing then. A step gives a
// sheet another pattern, in most cases one that has a blank that is missing. Steps that take
// the energy up are made now and then, as in Kirkpatrick, Gelatt & Vecchi, "Optimization by
// simulated annealing", Science 220, 1983. What is missing in the end is worth more the next
// time, as in Morris, "The breakout method for escaping from local minima", AAAI 1993 (both
// from memory).
//
// What is missing towards the end is often little, and is sought exactly (finish.go).
//
// Where next to nothing is to spare, heavy patterns fit together in few ways, and branching
// takes long to find one: of two lists of 422 and 1,200 patterns with which it had not come
// to an end after 1,500 million additions, one was found here in 0.02 and 0.2 s.
type annealer struct {
	*choice
	rng    *rand.Rand
	of     [][]int32   // patterns of each kind of sheet
	with   [][][]int32 // those of them that have a kind of blank
	sheets []int       // the kind of each sheet
	taken  []int32     // its pattern
	lacks  []int32     // copies of each kind; below 0 there are more than wanted
	area   []int64     // of a blank of each kind
	worth  []int64     // what one counts that is missing
	mean   float64     // area of a blank

	missing []int32 // kinds
	changes int     // of lacks and worths
	known   []int   // for each sheet, of how many changes removal knows
	removal []int64 // by how much the energy rises without its pattern

	finisher *finisher
	own      int // additions of the steps since it began
}

const (
	// annealSteps is how many steps the temperature takes down, and stepWork how many
	// additions a step takes the time of.
	annealSteps, stepWork = 300_000, 60
	// hottest is the first temperature as a share of a blank's mean area, coldest the last
	// one as a share of that, and coolSteps after how many steps there is a new one.
	hottest, coldest, coolSteps = 0.6, 0.1, 1024
	// shorter is by how much a short list is shorter.
	shorter = 3
	// aimless is in one of how many steps any pattern is taken.
	aimless = 10
	// annealScale is the area of the largest sheet.
	annealScale = 1 << 20
)

// excess are exponential variates in 1024ths, of which one is drawn by index: by how many
// temperatures a step may take the energy up.
var excess = func() (list [1024]int64) {
	for i := range list {
		list[i] = int64(-math.Log((float64(i)+0.5)/1024) * 1024)
	}
	return list
}()

// anneal seeks patterns that hold everything, and reports whether there are. They are found
// then. What a short list has is found sooner, and a long one has more: the long one is looked
// at twice as often. Of the patterns of the program, in whose rasters sizes are rounded, some
// turn out to be none in true ones, and are dropped.
func (t *choice) anneal() bool {
	long, short := newAnnealer(t, 1, mostHeaviest), newAnnealer(t, 2, mostHeaviest/shorter)
	if long == nil {
		return false
	}
	all := []*annealer{long, long, short}
	for i := 0; !t.spent(); i = (i + 1) % len(all) {
		a := all[i]
		if a.run() {
			t.found = a.picks()
			misfits := t.misfits()
			if len(misfits) == 0 {
				return true
			}
			if !long.drop(misfits) || !short.drop(misfits) {
				return false
			}
		}
		a.learn()
	}
	return false
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

// drop takes patterns out of the lists, and gives each sheet any of those that there are. It
// reports false when a kind of sheet has none.
func (a *annealer) drop(columns []int32) bool {
	a.finisher = nil // it has them, too
	is := func(c int32) bool { return slices.Contains(columns, c) }
	for _, j := range a.sheets {
		a.of[j] = slices.DeleteFunc(a.of[j], is)
		for k := range a.with[j] {
			a.with[j][k] = slices.DeleteFunc(a.with[j][k], is)
		}
		if len(a.of[j]) == 0 {
			return false
		}
	}
	for i, j := range a.sheets {
		a.put(i, a.of[j][a.below(len(a.of[j]))])
	}
	return true
}

// newAnnealer returns one that draws by a seed and takes the first patterns of each kind of sheet
// of the mix, and those of the program, which come last; nil when one has none.
func newAnnealer(t *choice, seed uint64, most int) *annealer {
	a := &annealer{choice: t, rng: rand.New(rand.NewPCG(seed, 1983))}
	a.of, a.with = make([][]int32, len(t.mix)), make([][][]int32, len(t.mix))
	for j := range t.mix {
		a.with[j] = make([][]int32, len(t.wanted))
	}
	for c := range t.columns {
		q := &t.columns[c]
		if len(a.of[q.sheet]) >= most && c < t.listed {
			continue
		}
		a.of[q.sheet] = append(a.of[q.sheet], int32(c))
		for _, s := range q.shares {
			a.with[q.sheet][s.kind] = append(a.with[q.sheet][s.kind], int32(c))
		}
	}
	largest := 0.0
	for j, n := range t.mix {
		if n > 0 && len(a.of[j]) == 0 {
			return nil
		}
		for range n {
			a.sheets = append(a.sheets, j)
			a.taken = append(a.taken, a.of[j][a.below(len(a.of[j]))])
		}
		largest = max(largest, boxArea(t.p.sheets[j].w, t.p.sheets[j].h))
	}
	all := 0
	for k, n := range t.wanted {
		a.lacks = append(a.lacks, int32(n))
		area := boxArea(t.p.kinds[k].w, t.p.kinds[k].h) / largest * annealScale
		a.area, a.worth = append(a.area, int64(area)+1), append(a.worth, int64(area)+1)
		all += n
		a.mean += area * float64(n)
	}
	a.mean /= float64(max(all, 1))
	for _, c := range a.taken {
		for _, s := range a.columns[c].shares {
			a.lacks[s.kind] -= s.copies
		}
	}
	a.known, a.removal = make([]int, len(a.sheets)), make([]int64, len(a.sheets))
	a.changed()
	return a
}

// below returns a number from 0 to n-1.
func (a *annealer) below(n int) int { return int(a.rng.Uint64() >> 32 * uint64(n) >> 32) }

// energy returns what is missing.
func (a *annealer) energy() int64 {
	sum := int64(0)
	for k, n := range a.lacks {
		sum += a.worth[k] * int64(max(n, 0))
	}
	return sum
}

// run takes the temperature down once, and reports whether nothing is missing.
func (a *annealer) run() bool {
	energy := a.energy()
	heat := a.mean * hottest
	down := math.Pow(coldest, float64(coolSteps)/annealSteps)
	for range annealSteps / coolSteps {
		if energy == 0 {
			return true
		}
		a.own += coolSteps * stepWork
		if *a.work += coolSteps * stepWork; a.spent() {
			return false
		}
		t := int64(heat) + 1
		for range coolSteps {
			if energy == 0 {
				break
			}
			energy += a.step(t)
		}
		heat *= down
		if a.finisher == nil {
			a.finisher, a.own = newFinisher(a), 0
		}
		if a.finisher.try(a.own) {
			return true
		}
	}
	return energy == 0
}

// step makes a step at a temperature, or not, and returns by how much the energy rose.
func (a *annealer) step(t int64) int64 {
	bits := a.rng.Uint64()
	i := int(bits & 0xffff * uint64(len(a.sheets)) >> 16)
	list := a.of[a.sheets[i]]
	if bits>>16%aimless > 0 {
		if list = a.with[a.sheets[i]][a.missing[int(bits>>32&0xffff*uint64(len(a.missing))>>16)]]; len(list) == 0 {
			return 0
		}
	}
	was, now := a.taken[i], list[a.below(len(list))]
	if was == now {
		return 0
	}
	if a.known[i] != a.changes {
		a.known[i], a.removal[i] = a.changes, a.without(was)
	}
	rise := a.removal[i]
	row := a.copies[int(was)*len(a.lacks):][:len(a.lacks)]
	for _, s := range a.columns[now].shares {
		k := s.kind
		if l := a.lacks[k] + int32(row[k]); l > 0 {
			rise -= a.worth[k] * int64(min(l, s.copies))
		}
	}
	if rise > 0 && rise > t*excess[bits>>48&1023]>>10 {
		return 0
	}
	a.put(i, now)
	return rise
}

// without returns by how much the energy rises where a pattern is taken away.
func (a *annealer) without(pattern int32) (rise int64) {
	for _, s := range a.columns[pattern].shares {
		k := s.kind
		l := a.lacks[k]
		rise += a.worth[k] * int64(max(l+s.copies, 0)-max(l, 0))
	}
	return rise
}

// put gives a sheet another pattern.
func (a *annealer) put(i int, pattern int32) {
	for _, s := range a.columns[a.taken[i]].shares {
		a.lacks[s.kind] += s.copies
	}
	for _, s := range a.columns[pattern].shares {
		a.lacks[s.kind] -= s.copies
	}
	a.taken[i] = pattern
	a.changed()
}

// changed notes that lacks or worths are others than they were.
func (a *annealer) changed() {
	a.changes++
	a.missing = a.missing[:0]
	for k, n := range a.lacks {
		if n > 0 {
			a.missing = append(a.missing, int32(k))
		}
	}
}

// learn makes what is missing worth more, and all else nearly what its area is.
func (a *annealer) learn() {
	for k, n := range a.lacks {
		if n > 0 {
			a.worth[k] += a.worth[k] / 5
		} else {
			a.worth[k] -= (a.worth[k] - a.area[k]) / 20
		}
	}
	a.changed()
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

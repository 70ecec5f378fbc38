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
}

const (
	// annealSteps is how many steps the temperature takes down, and stepWork how many
	// additions a step takes the time of.
	annealSteps, stepWork = 300_000, 120
	// hottest is the first temperature as a share of a blank's mean area, coldest the last
	// one as a share of that, and coolSteps after how many steps there is a new one.
	hottest, coldest, coolSteps = 0.6, 0.1, 1024
	// mostMisfits is how many patterns may turn out not to fit, if they are more than others.
	mostMisfits = 10
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
// then. Where the rasters have sizes rounded, a pattern that is no pattern in true ones is
// dropped; it is given up when most of them are none.
func (t *choice) anneal() bool {
	a := newAnnealer(t, 1)
	good, bad := 0, 0
	for a != nil && !t.spent() {
		if a.run() {
			t.found = a.picks()
			was := bad
			for _, f := range t.found {
				switch {
				case len(t.columns[f.column].shares) == 0:
				case t.cut(f.column) != nil:
					good++
				default:
					bad++
					a.drop(int32(f.column))
				}
			}
			if bad == was {
				return true
			}
			if bad > max(good, mostMisfits) || !a.again() {
				return false
			}
		}
		a.learn()
	}
	return false
}

// drop takes a pattern out of the lists.
func (a *annealer) drop(c int32) {
	q := &a.columns[c]
	is := func(o int32) bool { return o == c }
	a.of[q.sheet] = slices.DeleteFunc(a.of[q.sheet], is)
	for _, s := range q.shares {
		a.with[q.sheet][s.kind] = slices.DeleteFunc(a.with[q.sheet][s.kind], is)
	}
}

// again gives each sheet any pattern of those that there are. It reports false when a kind of
// sheet has none.
func (a *annealer) again() bool {
	for i, j := range a.sheets {
		if len(a.of[j]) == 0 {
			return false
		}
		a.take(a.columns[a.taken[i]].shares, -1)
		a.taken[i] = a.of[j][a.below(len(a.of[j]))]
		a.take(a.columns[a.taken[i]].shares, 1)
	}
	return true
}

// newAnnealer returns one that draws by a seed, nil when a kind of sheet of the mix has no pattern.
func newAnnealer(t *choice, seed uint64) *annealer {
	a := &annealer{choice: t, rng: rand.New(rand.NewPCG(seed, 1983))}
	a.of, a.with = make([][]int32, len(t.mix)), make([][][]int32, len(t.mix))
	for j := range t.mix {
		a.with[j] = make([][]int32, len(t.wanted))
	}
	for c := range t.columns {
		q := &t.columns[c]
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
		a.take(t.columns[c].shares, 1)
	}
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
	}
	return energy == 0
}

// step makes a step at a temperature, or not, and returns by how much the energy rose.
func (a *annealer) step(t int64) int64 {
	bits := a.rng.Uint64()
	i := int(bits & 0xffff * uint64(len(a.sheets)) >> 16)
	j := a.sheets[i]
	list := a.of[j]
	if bits>>16%aimless > 0 {
		// One that is missing, the first of them from anywhere on.
		k := int(bits >> 32 & 0xffff * uint64(len(a.lacks)) >> 16)
		for a.lacks[k] <= 0 {
			if k++; k == len(a.lacks) {
				k = 0
			}
		}
		if list = a.with[j][k]; len(list) == 0 {
			return 0
		}
	}
	was, now := a.taken[i], list[a.below(len(list))]
	if was == now {
		return 0
	}
	rise := a.take(a.columns[was].shares, -1) + a.take(a.columns[now].shares, 1)
	if rise > 0 && rise > t*excess[bits>>48&1023]>>10 {
		a.take(a.columns[now].shares, -1)
		a.take(a.columns[was].shares, 1)
		return 0
	}
	a.taken[i] = now
	return rise
}

// take puts a pattern on its sheet, or takes it away, and returns by how much the energy
// rose.
func (a *annealer) take(shares []share, sheets int32) (rise int64) {
	for _, s := range shares {
		was := a.lacks[s.kind]
		now := was - s.copies*sheets
		a.lacks[s.kind] = now
		rise += a.worth[s.kind] * int64(max(now, 0)-max(was, 0))
	}
	return rise
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

package bound

import (
	"cmp"
	"slices"
)

// finisher seeks what annealing comes near to: a few sheets are emptied, and of all listed
// patterns those are tried that hold what is missing then. The last one is looked up by its
// copies. Of a plan in which some panels have no place, that often makes a whole one: annealing
// needs only come near enough to find the other sheets.
//
// Patterns of the sheets that stay give away some of the slack, and panels of which there are
// too many some more. What weighs more than the emptied sheets can hold is not tried, nor a
// pattern that leaves more than the rest of them can. To look at patterns that have no kinds of
// their own is quick, by a bit for each kind.
type finisher struct {
	*annealer
	heavy   []heavy // by kind of sheet
	loss    []int32 // of a pattern, of what the heaviest of its kind of sheet weighs
	rest    [][]uint64
	chosen  []int32 // patterns for the sheets that are emptied
	emptied []int   // scratch
	lacking []int32 // scratch
	done    int     // additions, about
	halt    int     // after how many a try ends
	ahead   int     // by how many tries of few sheets are ahead of the others
}

// heavy is the patterns of a kind of sheet, the heaviest first.
type heavy struct {
	index   // of their copies
	columns []int32
	weights []int32
	kinds   []uint64 // a bit for each of their kinds, or for several
}

const (
	// leastFinished and mostFinished are how many sheets are emptied: two can be tried often, more
	// are of use where there are few sheets. Both take half of the work.
	leastFinished, mostFinished = 2, 5
	// finishWork is how many additions a try may take, and finishShare how many hundredths of
	// those of annealing all tries: of more sheets than finishFew, finishLess.
	finishWork, finishShare, finishLess, finishFew = 1_000_000, 50, 10, 8
)

func newFinisher(a *annealer) *finisher {
	f := &finisher{annealer: a, loss: make([]int32, len(a.columns))}
	for _, r := range a.rows {
		var columns []int32
		if r != nil {
			columns = r.columns[:r.count]
		}
		f.heavy = append(f.heavy, f.heaviestFirst(columns))
	}
	for range mostFinished + 1 {
		f.rest = append(f.rest, make([]uint64, wordsFor(len(a.wanted))))
	}
	return f
}

// heaviestFirst returns patterns of a kind of sheet, and notes what they lose.
func (f *finisher) heaviestFirst(columns []int32) heavy {
	h := heavy{index: newIndex(wordsFor(len(f.wanted))), columns: slices.Clone(columns)}
	patterns := make([][]uint64, len(f.columns))
	for _, c := range columns {
		patterns[c] = f.pattern(int(c))
	}
	slices.SortStableFunc(h.columns, func(a, b int32) int { return cmp.Compare(patterns[b][0], patterns[a][0]) })
	for _, c := range h.columns {
		h.weights = append(h.weights, int32(patterns[c][0]))
		h.kinds = append(h.kinds, kindsOf(patterns[c][1:]))
		h.add(patterns[c][1:])
		f.loss[c] = h.weights[0] - h.weights[len(h.weights)-1]
	}
	return h
}

// kindsOf returns a bit for each kind of which there are copies; of kind 64 and so on the same
// as of kind 0 and so on.
func kindsOf(copies []uint64) uint64 {
	all := uint64(0)
	for i, w := range copies {
		some := ((w | tops) - tops>>7) | w // a byte of 0 loses its highest bit
		all |= some & tops >> 7 * 0x0102040810204080 >> 56 << (i % 8 * 8)
	}
	return all
}

// try seeks a plan from the state of the annealer, as long as it has its share of the additions
// that annealing took, and reports whether there is one.
func (f *finisher) try() bool {
	share := finishShare
	if len(f.sheets) > finishFew {
		share = finishLess
	}
	for 100*f.done < share*f.own && !f.spent() {
		before, n := f.done, leastFinished
		if f.ahead > 0 {
			n += 1 + f.below(mostFinished-leastFinished)
		}
		ok := f.finish(f.some(n))
		done := f.done - before
		*f.work += done
		if n > leastFinished {
			done = -done
		}
		if f.ahead += done; ok {
			return true
		}
	}
	return false
}

// some chooses so many sheets, rather such as give away much.
func (f *finisher) some(n int) []int {
	n = min(n, len(f.sheets))
	list := f.emptied[:0]
	for len(list) < n {
		i, k := f.below(len(f.sheets)), f.below(len(f.sheets))
		if f.loss[f.taken[k]] > f.loss[f.taken[i]] && !slices.Contains(list, k) {
			i = k
		}
		if !slices.Contains(list, i) {
			list = append(list, i)
		}
	}
	f.emptied = list
	return list
}

// finish seeks patterns for some sheets that hold all that others do not, puts them there, and
// reports whether there are any.
func (f *finisher) finish(sheets []int) bool {
	f.done += 500
	f.halt = f.done + finishWork
	missing := append(f.lacking[:0], f.lacks...)
	f.lacking = missing
	room := int64(0)
	for _, i := range sheets {
		room += int64(f.heavy[f.sheets[i]].weights[0])
		for _, s := range f.columns[f.taken[i]].shares {
			missing[s.kind] += s.copies
		}
	}
	rest, weight := f.rest[len(sheets)], int64(0)
	clear(rest)
	for k, n := range missing {
		if n > 127 {
			return false
		}
		if n > 0 {
			rest[k/8] |= uint64(n) << (k % 8 * 8)
			weight += int64(n) * int64(f.weight[k])
		}
	}
	f.chosen = f.chosen[:0]
	if weight > room || !f.refill(sheets, weight, room) {
		return false
	}
	for n, c := range f.chosen {
		f.put(sheets[n], c)
	}
	return true
}

// refill seeks patterns for sheets, the last of them first, of all that rest has for so many. It
// weighs so much, and the sheets have room for so much. chosen are for the sheets from the first.
func (f *finisher) refill(sheets []int, weight, room int64) bool {
	rest := f.rest[len(sheets)]
	last := len(sheets) - 1
	h := &f.heavy[f.sheets[sheets[last]]]
	if last == 0 {
		f.done += 80
		i := h.find(rest, func(int32) bool { return true })
		if i >= 0 {
			f.chosen = append(f.chosen, h.columns[i])
		}
		return i >= 0
	}
	others := ^kindsOf(rest)
	next := f.rest[last]
	room -= int64(h.weights[0])
patterns:
	for i, w := range h.weights {
		if weight-int64(w) > room || f.done > f.halt {
			break
		}
		f.done += 2
		if h.kinds[i]&others != 0 {
			continue
		}
		f.done += 30
		for n, c := range h.copiesOf(int32(i)) {
			if !noMore(c, rest[n]) {
				continue patterns
			}
			next[n] = rest[n] - c
		}
		if f.refill(sheets[:last], weight-int64(w), room) {
			f.chosen = append(f.chosen, h.columns[i])
			return true
		}
	}
	return false
}

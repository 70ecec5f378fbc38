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
	words   int
	of      []heavy // by kind of sheet
	loss    []int32 // of a pattern, of what the heaviest of its kind of sheet weighs
	rest    [][]uint64
	picks   []int32
	scratch []int32
	chosen  []int
	spent   int // additions, about
	until   int // of them
	ahead   int // by how many tries of few sheets are ahead of the others
}

// heavy is the patterns of a kind of sheet, the heaviest first.
type heavy struct {
	columns []int32
	weights []int32
	kinds   []uint64 // a bit for each of their kinds, or for several
	copies  []uint64
	hash    []int32 // of copies: 1 more than an index, 0 where there is none
}

const (
	// leastFinished and mostFinished are how many sheets are emptied: two can be tried often, more
	// are of use where there are few sheets. Both take half of the work.
	leastFinished, mostFinished = 2, 5
	// finishWork is how many additions a try may take, and finishShare how many hundredths of
	// those of annealing all tries.
	finishWork, finishShare = 1_000_000, 50
)

func newFinisher(a *annealer) *finisher {
	f := &finisher{annealer: a, words: (len(a.wanted) + 7) / 8, loss: make([]int32, len(a.columns))}
	for j := range a.mix {
		f.of = append(f.of, f.heavy(j))
	}
	for range mostFinished + 1 {
		f.rest = append(f.rest, make([]uint64, f.words))
	}
	return f
}

// heavy returns the patterns of a kind of sheet.
func (f *finisher) heavy(j int) heavy {
	var h heavy
	weight := map[int32]int32{}
	for _, c := range f.annealer.of[j] {
		h.columns = append(h.columns, c)
		for _, s := range f.columns[c].shares {
			weight[c] += f.weight[s.kind] * s.copies
		}
	}
	slices.SortStableFunc(h.columns, func(a, b int32) int { return cmp.Compare(weight[b], weight[a]) })
	size := 1
	for size < 3*len(h.columns) {
		size *= 2
	}
	h.hash = make([]int32, size)
	for i, c := range h.columns {
		f.loss[c] = weight[h.columns[0]] - weight[c]
		copies := make([]uint64, f.words)
		for _, s := range f.columns[c].shares {
			copies[s.kind/8] |= uint64(s.copies) << (s.kind % 8 * 8)
		}
		h.weights, h.kinds, h.copies = append(h.weights, weight[c]), append(h.kinds, kindsOf(copies)), append(h.copies, copies...)
		at := hashOf(copies)
		for h.hash[at&uint64(size-1)] > 0 {
			at++
		}
		h.hash[at&uint64(size-1)] = int32(i + 1)
	}
	return h
}

// copiesOf returns the copies of a pattern.
func (h *heavy) copiesOf(i, words int) []uint64 { return h.copies[i*words:][:words] }

// find returns the index of the pattern of these copies, or -1.
func (h *heavy) find(copies []uint64) int {
	for at, mask := hashOf(copies), uint64(len(h.hash)-1); h.hash[at&mask] > 0; at++ {
		if i := int(h.hash[at&mask] - 1); slices.Equal(h.copiesOf(i, len(copies)), copies) {
			return i
		}
	}
	return -1
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
func (f *finisher) try(annealing int) bool {
	for 100*f.spent < finishShare*annealing && !f.annealer.spent() {
		before, n := f.spent, leastFinished
		if f.ahead > 0 {
			n += 1 + f.below(mostFinished-leastFinished)
		}
		ok := f.finish(f.some(n))
		done := f.spent - before
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
	list := f.chosen[:0]
	for len(list) < n {
		i, k := f.below(len(f.sheets)), f.below(len(f.sheets))
		if f.loss[f.taken[k]] > f.loss[f.taken[i]] && !slices.Contains(list, k) {
			i = k
		}
		if !slices.Contains(list, i) {
			list = append(list, i)
		}
	}
	f.chosen = list
	return list
}

// finish seeks patterns for some sheets that hold all that others do not, puts them there, and
// reports whether there are any.
func (f *finisher) finish(sheets []int) bool {
	f.spent += 500
	f.until = f.spent + finishWork
	missing := append(f.scratch[:0], f.lacks...)
	f.scratch = missing
	room := int64(0)
	for _, i := range sheets {
		room += int64(f.of[f.sheets[i]].weights[0])
		for _, s := range f.parts(f.taken[i]) {
			missing[s>>8] += int32(s & 0xff)
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
	f.picks = f.picks[:0]
	if weight > room || !f.fill(sheets, weight, room) {
		return false
	}
	for n, c := range f.picks {
		f.put(sheets[n], c)
	}
	return true
}

// fill seeks patterns for sheets, the last of them first, of all that rest has for so many. It
// weighs so much, and the sheets have room for so much. picks are for the sheets from the first.
func (f *finisher) fill(sheets []int, weight, room int64) bool {
	rest := f.rest[len(sheets)]
	last := len(sheets) - 1
	h := &f.of[f.sheets[sheets[last]]]
	if last == 0 {
		f.spent += 80
		i := h.find(rest)
		if i >= 0 {
			f.picks = append(f.picks, h.columns[i])
		}
		return i >= 0
	}
	others := ^kindsOf(rest)
	next := f.rest[last]
	room -= int64(h.weights[0])
patterns:
	for i, w := range h.weights {
		if weight-int64(w) > room || f.spent > f.until {
			break
		}
		f.spent += 2
		if h.kinds[i]&others != 0 {
			continue
		}
		f.spent += 30
		for n, c := range h.copiesOf(i, f.words) {
			if !noMore(c, rest[n]) {
				continue patterns
			}
			next[n] = rest[n] - c
		}
		if f.fill(sheets[:last], weight-int64(w), room) {
			f.picks = append(f.picks, h.columns[i])
			return true
		}
	}
	return false
}

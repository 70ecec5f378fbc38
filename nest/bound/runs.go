package bound

import "iter"

// own is the patterns of a point, the heaviest first, in a row or a column.
type own struct {
	at, top int32 // what the heaviest weighs
	list    []int32
}

// merge makes one list of two, the heaviest first.
type merge func(a, b []int32) []int32

// prefixes are lists of which those up to any one can be looked at together, as few that are
// merged: the list of n is merged with the last ones before it, as many as the lowest bit of n
// says. That is the tree of Fenwick, "A new data structure for cumulative frequency tables",
// Software: Practice and Experience 24, 1994 (from memory). With n lists each pattern is in no more
// than log2 n of them.
type prefixes [][]int32

// add adds a list.
func (p *prefixes) add(list []int32, m merge) {
	n := len(*p) + 1
	for bit := 1; n&bit == 0; bit *= 2 {
		list = m((*p)[n-bit-1], list)
	}
	*p = append(*p, list)
}

// upTo goes through lists that have the first n.
func (p prefixes) upTo(n int32) iter.Seq[[]int32] {
	return func(yield func([]int32) bool) {
		for ; n > 0 && yield(p[n-1]); n &= n - 1 {
		}
	}
}

// heap is lists that are all looked at: the last two are merged as long as they are about as long.
type heap struct {
	top   int32 // what the heaviest pattern weighs
	lists [][]int32
}

// add adds a list, the heaviest pattern of which weighs so much.
func (h *heap) add(list []int32, top int32, m merge) {
	h.top = max(h.top, top)
	for n := len(h.lists); n > 0 && len(h.lists[n-1]) < 2*len(list); n-- {
		list = m(h.lists[n-1], list)
		h.lists = h.lists[:n-1]
	}
	h.lists = append(h.lists, list)
}

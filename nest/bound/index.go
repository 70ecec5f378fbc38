package bound

import "slices"

// index is copies of kinds in packed form, as patterns have them after their weight, by which
// they are found again: open addressing.
type index struct {
	words  int
	copies []uint64
	hash   []int32 // 1 more than a number, 0 where there is none
}

func newIndex(words int) index { return index{words: words, hash: make([]int32, 1<<12)} }

// copiesOf returns the copies of a number.
func (x *index) copiesOf(i int32) []uint64 { return x.copies[int(i)*x.words:][:x.words] }

// find returns the first number of some copies, of those that are accepted, or -1.
func (x *index) find(copies []uint64, accepted func(i int32) bool) int32 {
	for at, mask := hashOf(copies), uint64(len(x.hash)-1); x.hash[at&mask] > 0; at++ {
		if i := x.hash[at&mask] - 1; accepted(i) && slices.Equal(x.copiesOf(i), copies) {
			return i
		}
	}
	return -1
}

// add adds copies, which get the next number.
func (x *index) add(copies []uint64) {
	x.copies = append(x.copies, copies...)
	n := len(x.copies) / x.words
	if 2*n > len(x.hash) {
		x.hash = make([]int32, 4*len(x.hash))
		for i := range int32(n - 1) {
			x.file(i)
		}
	}
	x.file(int32(n - 1))
}

// file files a number by its copies.
func (x *index) file(i int32) {
	at, mask := hashOf(x.copiesOf(i)), uint64(len(x.hash)-1)
	for x.hash[at&mask] > 0 {
		at++
	}
	x.hash[at&mask] = i + 1
}

// hashOf returns a hash of copies.
func hashOf(copies []uint64) uint64 {
	h := uint64(0)
	for _, w := range copies {
		h = (h ^ w) * 0x9e3779b97f4a7c15 // of the golden ratio, as in SplitMix64 (from memory)
		h ^= h >> 31
	}
	return h
}

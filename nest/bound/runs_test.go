package bound

import (
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"
)

// descending merges lists of numbers, the greatest first.
func descending(a, b []int32) []int32 {
	list := slices.Concat(a, b)
	slices.SortFunc(list, func(a, b int32) int { return int(b - a) })
	return list
}

// falls reports whether no number is greater than the one before.
func falls(list []int32) bool {
	return slices.IsSortedFunc(list, func(a, b int32) int { return int(b - a) })
}

// The first n lists are found in as many lists as n has bits, each in order, and nothing else; all of
// a heap are in few lists.
func TestRuns(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 94))
	for i := range 200 {
		var p prefixes
		var h heap
		var lists [][]int32
		for range rng.IntN(70) {
			list := make([]int32, 1+rng.IntN(4))
			for k := range list {
				list[k] = rng.Int32N(1000)
			}
			list = descending(list, nil)
			lists = append(lists, list)
			p.add(list, descending)
			h.add(list, list[0], descending)
		}
		for n := range len(lists) + 1 {
			var got []int32
			parts := 0
			for list := range p.upTo(int32(n)) {
				if !falls(list) {
					t.Fatalf("case %d: %v is not in order", i, list)
				}
				got = append(got, list...)
				parts++
			}
			if want := slices.Concat(lists[:n]...); !slices.Equal(descending(got, nil), descending(want, nil)) {
				t.Fatalf("case %d: the first %d are %v, want %v", i, n, got, want)
			}
			if parts != bits.OnesCount(uint(n)) {
				t.Errorf("case %d: %d lists for the first %d", i, parts, n)
			}
		}
		all := slices.Concat(lists...)
		if got := slices.Concat(h.lists...); !slices.Equal(descending(got, nil), descending(all, nil)) {
			t.Fatalf("case %d: a heap has %v, want %v", i, got, all)
		}
		if len(all) > 0 && h.top != slices.Max(all) {
			t.Errorf("case %d: the top is %d", i, h.top)
		}
		if len(h.lists) > bits.Len(uint(len(all))) {
			t.Errorf("case %d: %d in %d lists", i, len(all), len(h.lists))
		}
		for _, list := range h.lists {
			if !falls(list) {
				t.Errorf("case %d: %v is not in order", i, list)
			}
		}
	}
}

// Some of the lists are enough for who has found what they look for.
func TestUpToStops(t *testing.T) {
	var p prefixes
	for i := range int32(7) {
		p.add([]int32{i}, descending)
	}
	seen := 0
	for range p.upTo(7) {
		seen++
		break
	}
	if seen != 1 {
		t.Errorf("%d lists", seen)
	}
}

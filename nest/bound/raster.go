package bound

import (
	"slices"

	"panelyard/parts/length"
)

// raster is an axis counted in whole units, so coarse that a table over it is small.
// A length becomes the units that it holds in full: lengths that fit a sheet one after
// the other fit it as well when counted so.
//
//	|--a--|---b---|  length          a + b <= c  implies  ⌊a⌋ + ⌊b⌋ <= ⌊c⌋
//	|----c------------|
//
// Only points that some panels reach one after the other are looked at. A cut at any
// other place can be moved down to the next point below it.
type raster struct {
	unit   length.Length
	points []int32  // reached, in units, ascending from 0
	below  []int32  // of each unit, the index of the last point not beyond it
	cuts   [][]pair // of each point, the ways to cut it in two
}

// pair is a cut: the indices of two points.
type pair struct{ a, b int32 }

// span is a length along an axis and how often it may occur there.
type span struct {
	l      length.Length
	copies int
}

// newRaster returns the raster of an axis as long as whole.
func newRaster(spans []span, whole, unit length.Length) *raster {
	r := &raster{unit: unit}
	n := int(whole / unit)
	// The fewest of the present span that reach a unit; of earlier spans it takes none.
	used := make([]int32, n+1)
	reached := make([]bool, n+1)
	reached[0] = true
	for _, s := range merged(spans, unit) {
		l := int(s.l)
		for i := range used {
			used[i] = -1
			switch {
			case reached[i]:
				used[i] = 0
			case i >= l && used[i-l] >= 0 && int(used[i-l]) < s.copies:
				used[i] = used[i-l] + 1
				reached[i] = true
			}
		}
	}
	r.below = make([]int32, n+1)
	for i := range n + 1 {
		if reached[i] {
			r.points = append(r.points, int32(i))
		}
		r.below[i] = int32(len(r.points) - 1)
	}
	r.cuts = make([][]pair, len(r.points))
	for i, x := range r.points {
		for a := 1; a < i && 2*r.points[a] <= x; a++ {
			p := pair{int32(a), r.below[x-r.points[a]]}
			if k := len(r.cuts[i]); k > 0 && r.cuts[i][k-1].b == p.b {
				r.cuts[i][k-1] = p // the same rest, and more before it
			} else if p.b > 0 {
				r.cuts[i] = append(r.cuts[i], p)
			}
		}
	}
	return r
}

// merged returns the spans in units, those that became equal as one; what is shorter
// than a unit is left out.
func merged(spans []span, unit length.Length) []span {
	var list []span
	for _, s := range spans {
		if s.l /= unit; s.l > 0 {
			list = append(list, s)
		}
	}
	slices.SortFunc(list, func(a, b span) int { return int(a.l - b.l) })
	k := 0
	for _, s := range list {
		if k > 0 && list[k-1].l == s.l {
			list[k-1].copies += s.copies
			continue
		}
		list[k] = s
		k++
	}
	return list[:k]
}

// at returns the index of the last point within a length.
func (r *raster) at(l length.Length) int32 {
	return r.below[min(int(l/r.unit), len(r.below)-1)]
}

// splits returns how many cuts there are over all points.
func (r *raster) splits() int {
	n := 0
	for _, c := range r.cuts {
		n += len(c)
	}
	return n
}

// unitFor returns a unit of about whole/n that loses least: of some units near it the
// one with which lengths keep most of themselves and the sheets least.
func unitFor(spans []span, wholes []length.Length, n int64) length.Length {
	longest := slices.Max(wholes)
	best, unit := -1.0, length.Length(1)
	for k := range int64(24) {
		// The longest sheet is a little less than a whole number of units.
		u := longest/length.Length(n-n*k/96) + 1
		keep, all := 0.0, 0.0
		for _, s := range spans {
			keep += float64(s.l/u*u) * float64(s.copies)
			all += float64(s.l) * float64(s.copies)
		}
		sheets := 0.0
		for _, w := range wholes {
			sheets += float64(w/u*u) / float64(w)
		}
		if v := keep / all / max(sheets, 1e-9); v > best {
			best, unit = v, u
		}
	}
	return unit
}

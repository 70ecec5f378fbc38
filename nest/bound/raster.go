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
// Points are lengths that some panels reach one after the other, ⟨x⟩ the last such point
// not beyond x. A sheet of length W needs of them only the ⟨W-c⟩, where c is a point too:
// few where the panels are long for the sheet, because points are sparse near 0, and the
// W-c near W. They are the raster points of Scheithauer & Terno, "The G4-heuristic for the
// pallet loading problem", Journal of the Operational Research Society 47, 1996 (from
// memory). That they are enough is seen from the first cut on. Let a piece be r = ⟨W-q⟩
// long with q = ⟨W-r⟩, as the sheet itself is with q = 0; it is to be cut for panels that
// are s and t long, s+t <= r. Take z = ⟨W-q-t⟩ for the first. Then z >= s, because s is a
// point within W-q-t, and z+t <= r, because z+t is a point within W-q. So t has room
// beside it; and the piece z is of the same kind, and so is what is beside it.
//
// The argument needs that the sum of two points is one, so that points take any number of
// copies of a panel. A raster for several sheets has the points of each.
type raster struct {
	unit   length.Length
	points []int32  // in units, ascending from 0
	below  []int32  // of each unit, the index of the last point not beyond it
	cuts   [][]pair // of each point, the ways to cut it in two; see cut
	late   []int    // how many of them come first that leave a point of the same block of lanes
	splits int      // how many there are over all points
}

// pair is a cut: the indices of two points.
type pair struct{ a, b int32 }

// span is a length along an axis and how often it is wanted.
type span struct {
	l      length.Length
	copies float64
}

// newRaster returns the raster of an axis along which the sheets are so long. Its cuts are
// counted, and listed by cut: a raster may have millions, and be too fine for its table.
func newRaster(spans []span, wholes []length.Length, unit length.Length) *raster {
	r := &raster{unit: unit}
	n := int(slices.Max(wholes) / unit)
	lengths := merged(spans, unit)
	all := reached(lengths, n)
	// The points of each sheet in the middle, where they are many, and fewer elsewhere.
	below := lasts(all)
	kept := make([]bool, n+1)
	kept[0] = true
	done := make([]bool, n+1)
	for _, w := range wholes {
		whole := int(w / unit)
		if done[whole] {
			continue // a sheet that is as long in units
		}
		done[whole] = true
		for c := range whole + 1 {
			if all[c] {
				kept[below[whole-c]] = true
			}
		}
	}
	r.below = make([]int32, n+1)
	for i := range n + 1 {
		if kept[i] {
			r.points = append(r.points, int32(i))
		}
		r.below[i] = int32(len(r.points) - 1)
	}
	for i := range r.points {
		rest := int32(0)
		for a := 1; a < i && 2*r.points[a] <= r.points[i]; a++ {
			if b := r.below[r.points[i]-r.points[a]]; b > 0 && b != rest {
				rest = b
				r.splits++
			}
		}
	}
	return r
}

const (
	// mostUnits and mostReached are how many units an axis has that is counted exactly, and
	// how many of them may be points.
	mostUnits, mostReached = 40_000, 2_500
)

// exactRaster returns the raster whose unit divides all lengths, nil when it has too many
// units or points.
func exactRaster(spans []span, wholes []length.Length) *raster {
	unit := length.Length(0)
	for _, s := range spans {
		unit = divisor(unit, s.l)
	}
	longest := slices.Max(wholes)
	if longest/unit > mostUnits {
		return nil
	}
	n := 0
	for _, ok := range reached(merged(spans, unit), int(longest/unit)) {
		if ok {
			n++
		}
	}
	if n > mostReached {
		return nil
	}
	return newRaster(spans, wholes, unit)
}

// divisor returns the greatest length that divides two: Euclid's algorithm.
func divisor(a, b length.Length) length.Length {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// cut lists the cuts of a raster, if they are not yet: of those that leave the same, the
// one with most before it.
func (r *raster) cut() {
	if r.cuts != nil {
		return
	}
	r.cuts, r.late = make([][]pair, len(r.points)), make([]int, len(r.points))
	all := make([]pair, 0, r.splits)
	for i := range r.points {
		from := len(all)
		for a := 1; a < i && 2*r.points[a] <= r.points[i]; a++ {
			p := pair{int32(a), r.below[r.points[i]-r.points[a]]}
			if k := len(all); k > from && all[k-1].b == p.b {
				all[k-1] = p
			} else if p.b > 0 {
				all = append(all, p)
			}
		}
		r.cuts[i] = all[from:len(all):len(all)]
		for _, c := range r.cuts[i] {
			if int(c.b) < i/lanes*lanes {
				break // others leave less
			}
			r.late[i]++
		}
	}
}

// reached says which units up to n some lengths reach one after the other, any number
// of each.
func reached(lengths []span, n int) []bool {
	all := make([]bool, n+1)
	all[0] = true
	for i := range all {
		for _, s := range lengths {
			if l := int(s.l); l <= i && all[i-l] {
				all[i] = true
				break
			}
		}
	}
	return all
}

// lasts returns of each unit the last one not beyond it that is reached.
func lasts(all []bool) []int {
	list := make([]int, len(all))
	for i := range all {
		if list[i] = i; !all[i] {
			list[i] = list[i-1]
		}
	}
	return list
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

// over returns the index of the first point that holds a length, or -1.
func (r *raster) over(l length.Length) int32 {
	u := l / r.unit
	if int(u) >= len(r.below) {
		return -1
	}
	i := r.below[u]
	if length.Length(r.points[i]) < u {
		i++
	}
	if int(i) == len(r.points) {
		return -1
	}
	return i
}

// at returns the index of the last point within a length.
func (r *raster) at(l length.Length) int32 {
	return r.below[min(int(l/r.unit), len(r.below)-1)]
}

// partners returns the first and the last point that reach a point with one that is a part of
// it, where no lesser point holds both.
func (r *raster) partners(point, part int32) (from, to int32) {
	over := r.points[point-1] - r.points[part]
	from = 1
	if over >= 0 {
		from = max(1, r.below[over]+1)
	}
	return from, r.below[r.points[point]-r.points[part]]
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
			keep += float64(s.l/u*u) * s.copies
			all += float64(s.l) * s.copies
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

package check

import (
	"fmt"
	"math"
	"slices"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// blanksApart checks that two blanks of a sheet are Gap or more apart along x
// or along y.
func (j *judge) blanksApart(sheet int, blanks []panel) {
	if j.crowded() {
		return
	}
	gap := j.p.Gap
	closePairs(blanks, gap, func(a, b *panel) bool {
		v := pairViolation(a, b, sheet)
		if dx, dy := clearance(a.box, b.box); dx < 0 && dy < 0 {
			v.Kind, v.Fact = Overlap, fmt.Sprintf("blanks overlap by %v x %v", -dx, -dy)
		} else {
			v.Kind, v.Fact = TooClose, fmt.Sprintf("%v apart, the gap is %v", max(dx, dy), gap)
		}
		j.report(v)
		return !j.crowded()
	})
}

// shapesApart checks that shapes do not overlap and keep Gap between them, that
// offcuts keep Gap from shapes, and that offcuts do not overlap.
func (j *judge) shapesApart(sheet int, laid, offcuts []panel) {
	if j.crowded() {
		return
	}
	all := slices.Concat(laid, offcuts)
	closePairs(all, j.p.Gap, func(a, b *panel) bool {
		if a.offcut && !b.offcut {
			a, b = b, a
		}
		switch {
		case a.offcut:
			if dx, dy := clearance(a.box, b.box); dx < 0 && dy < 0 {
				v := pairViolation(a, b, sheet)
				v.Kind, v.Fact = OffcutOverlap, fmt.Sprintf("offcuts %d and %d overlap by %v x %v", a.index+1, b.index+1, -dx, -dy)
				j.report(v)
			}
		case b.offcut:
			if v := j.shapesFault(a, b, sheet); v != nil {
				fact := fmt.Sprintf("offcut %d and %q copy %d: %s", b.index+1, a.part, a.copy, v.Fact)
				v = b.violation(OffcutTooClose, sheet)
				v.Other, v.OtherCopy, v.Fact = a.part, a.copy, fact
				j.report(v)
			}
		default:
			if v := j.shapesFault(a, b, sheet); v != nil {
				j.report(v)
			}
		}
		return !j.crowded()
	})
}

// shapesFault returns what is wrong between two shapes, or nil.
func (j *judge) shapesFault(a, b *panel, sheet int) *Violation {
	gap := j.p.Gap
	free := a.shape.free || b.shape.free
	least := gap
	if free {
		least = max(0, gap-Tolerance)
	}
	switch {
	case least > 0:
		if !j.meet.nearer(a.shape, b.shape, least) {
			return nil
		}
	case free:
		if !j.meet.overlapDeeply(a.shape, b.shape) {
			return nil
		}
	default:
		if !j.meet.overlap(a.shape, b.shape) {
			return nil
		}
	}
	v := pairViolation(a, b, sheet)
	if least == 0 || j.meet.overlap(a.shape, b.shape) {
		dx, dy := clearance(a.box, b.box)
		v.Kind, v.Fact = Overlap, fmt.Sprintf("shapes overlap where their boxes share %v x %v", -dx, -dy)
		return v
	}
	// The distance is printed rounded down, so that it never reads as the gap.
	d := length.Length(math.Floor(j.meet.distance(a.shape, b.shape, gap)))
	v.Kind, v.Fact = TooClose, fmt.Sprintf("%v apart, the gap is %v", min(d, gap-1), gap)
	return v
}

// pairViolation starts a violation about two panels; it names the one listed
// later, as that is the one laid in the other's way.
func pairViolation(a, b *panel, sheet int) *Violation {
	if a.index < b.index {
		a, b = b, a
	}
	v := a.violation(0, sheet)
	v.Other, v.OtherCopy = b.part, b.copy
	return v
}

// closePairs calls visit for every two panels whose boxes are less than gap
// apart along both axes, or overlap, until visit returns false. A line sweeps
// along the axis on which the panels crowd less. The order of the calls depends
// on the panels only.
func closePairs(list []panel, gap length.Length, visit func(a, b *panel) bool) {
	if len(list) < 2 {
		return
	}
	whole := list[0].box
	var sumX, sumY float64
	for i := range list {
		b := &list[i].box
		whole.Min.X, whole.Min.Y = min(whole.Min.X, b.Min.X), min(whole.Min.Y, b.Min.Y)
		whole.Max.X, whole.Max.Y = max(whole.Max.X, b.Max.X), max(whole.Max.Y, b.Max.Y)
		sumX += float64(b.Max.X - b.Min.X)
		sumY += float64(b.Max.Y - b.Min.Y)
	}
	alongX := sumX*float64(whole.Max.Y-whole.Min.Y) <= sumY*float64(whole.Max.X-whole.Min.X)
	ends := func(b *geom.Box) (lo, hi length.Length) {
		if alongX {
			return b.Min.X, b.Max.X
		}
		return b.Min.Y, b.Max.Y
	}
	order := make([]int, len(list))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, k int) int {
		a, _ := ends(&list[i].box)
		b, _ := ends(&list[k].box)
		if a != b {
			return sign(int64(a - b))
		}
		return i - k
	})
	open := make([]int, 0, 64)
	for _, i := range order {
		lo, _ := ends(&list[i].box)
		kept := open[:0]
		for _, k := range open {
			if _, hi := ends(&list[k].box); lo-hi < gap {
				kept = append(kept, k)
			}
		}
		open = kept
		for _, k := range open {
			if dx, dy := clearance(list[i].box, list[k].box); dx < gap && dy < gap {
				if !visit(&list[min(i, k)], &list[max(i, k)]) {
					return
				}
			}
		}
		open = append(open, i)
	}
}

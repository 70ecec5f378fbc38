package check

import (
	"fmt"
	"math"
	"math/bits"

	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// shareFault says why a part may not share its blank, or nothing: blanks are shared
// only where the problem says how far apart the shapes are to be, and only by shapes
// that leave a tenth of their blank open or more.
//
// Twice an area is at most 2^59, and ten times that fits 63 bits.
func (j *judge) shareFault(t *nest.Part) string {
	area := area2(t.Shape.Outer)
	switch {
	case j.p.Apart == 0:
		return "this problem has no shared blanks"
	case 10*max(area, -area) > 18*int64(t.Blank.X)*int64(t.Blank.Y):
		return "its shape fills more than nine tenths of its blank"
	}
	return ""
}

// blanks returns the blanks of a sheet, a shared one once, under the name of the
// panel listed first. It checks that a shared blank holds two panels, Apart or more
// from each other. Panels share a blank when they name the same one.
func (j *judge) blanks(sheet int, laid []panel) []panel {
	list := make([]panel, 0, len(laid))
	index := map[geom.Box]int{} // of shared blanks, in list
	members := map[geom.Box][]*panel{}
	for i := range laid {
		q := &laid[i]
		if !q.shared {
			list = append(list, *q)
			continue
		}
		if _, seen := index[q.box]; !seen {
			index[q.box] = len(list)
			list = append(list, *q)
		}
		members[q.box] = append(members[q.box], q)
	}
	for i := range list {
		if !list[i].shared {
			continue
		}
		of := members[list[i].box]
		if len(of) != 2 {
			v := list[i].violation(SharedByOthers, sheet)
			v.Fact = fmt.Sprintf("%d of its panels lie in the blank %s", len(of), spread(list[i].box))
			j.report(v)
			continue
		}
		if v := j.mateFault(of[0], of[1], sheet); v != nil {
			j.report(v)
		}
		if !saves(of[0], of[1]) {
			v := pairViolation(of[0], of[1], sheet)
			v.Kind = SharedInVain
			v.Fact = fmt.Sprintf("the shared blank saves less than %d %% of the two", nest.LeastSaved)
			j.report(v)
		}
	}
	return list
}

// saves reports whether the blank of two panels saves as much of their own as it must.
// An area is at most 2^60, so 128 bits hold a hundred times that.
func saves(a, b *panel) bool {
	area := func(b geom.Box) uint64 { return uint64(b.Max.X-b.Min.X) * uint64(b.Max.Y-b.Min.Y) }
	h1, l1 := bits.Mul64(100, area(a.box))
	h2, l2 := bits.Mul64(100-nest.LeastSaved, area(a.own)+area(b.own))
	return h1 < h2 || h1 == h2 && l1 <= l2
}

// mateFault returns what is wrong between two shapes that share a blank, or nil.
func (j *judge) mateFault(a, b *panel, sheet int) *Violation {
	apart := j.p.Apart
	if apart == 0 || !j.meet.nearer(a.shape, b.shape, apart) {
		return nil // with 0 the sharing itself has been reported
	}
	v := pairViolation(a, b, sheet)
	if j.meet.overlap(a.shape, b.shape) {
		dx, dy := clearance(a.shape.box, b.shape.box)
		v.Kind, v.Fact = Overlap, fmt.Sprintf("shapes in a shared blank overlap where their boxes share %v x %v", -dx, -dy)
		return v
	}
	d := length.Length(math.Floor(j.meet.distance(a.shape, b.shape, apart)))
	v.Kind, v.Fact = TooClose, fmt.Sprintf("%v apart in a shared blank, %v are needed", min(d, apart-1), apart)
	return v
}

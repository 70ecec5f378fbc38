package drawing

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"github.com/peterstace/simplefeatures/rtree"

	"panelyard/parts/geom"
	"panelyard/parts/outline"
)

// nested is the loops of a drawing and what lies in what.
type nested struct {
	loops  []*loop
	tree   *rtree.RTree // of their boxes; a record is an index
	traces []*outline.Trace
}

// trace returns the trace of a loop, kept for loops that others may lie in.
func (n *nested) trace(i int) *outline.Trace {
	if n.traces[i] == nil {
		n.traces[i] = n.loops[i].outline.Trace()
	}
	return n.traces[i]
}

func boxOf(b geom.Box) rtree.Box {
	return rtree.Box{MinX: float64(b.Min.X), MinY: float64(b.Min.Y), MaxX: float64(b.Max.X), MaxY: float64(b.Max.Y)}
}

// nest finds the innermost loop around each loop and reports loops that cross or
// touch, and openings that lie in no panel. It returns nil when there are too many
// loops one over the other.
//
// Every pair of loops whose boxes overlap is examined: O(log n) a loop to find
// them, and about O(log n) a pair.
func (s *study) nest(loops []*loop) *nested {
	n := &nested{loops: loops, traces: make([]*outline.Trace, len(loops))}
	items := make([]rtree.BulkItem, len(loops))
	order := make([]int, len(loops)) // from large to small: a loop lies in one before it
	rank := make([]int, len(loops))
	for i, l := range loops {
		items[i] = rtree.BulkItem{Box: boxOf(l.box), RecordID: i}
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		return cmp.Or(cmp.Compare(loops[j].area, loops[i].area), cmp.Compare(i, j))
	})
	for k, i := range order {
		rank[i] = k
	}
	n.tree = rtree.BulkLoad(items)
	pairs := 0
	for _, i := range order {
		larger, err := n.overlapping(boxOf(loops[i].box), MaxPairs-pairs, func(j int) bool { return rank[j] < rank[i] })
		if pairs += len(larger); err != nil {
			s.mistake(loops[i].first, fmt.Sprintf("more than %d pairs of loops lie over each other", MaxPairs), "split the drawing, or put what is no outline on a layer that is ignored")
			return nil
		}
		slices.SortFunc(larger, func(j, k int) int { return cmp.Compare(rank[k], rank[j]) }) // the smallest first
		s.around(n, i, larger)
	}
	for _, i := range order { // a parent is larger, so it has its depth
		l := loops[i]
		if l.parent != nil {
			l.depth = l.parent.depth + 1
		}
		if l.role == Opening && !l.opening() && !s.doubtful(l) {
			fact := "is an opening by its layer but lies in no panel, at " + s.d.place(l.outline[0].At)
			if l.parent != nil {
				fact = fmt.Sprintf("is an opening by its layer but lies in an opening, %s, at %s", s.other(l.parent.first), s.d.place(l.outline[0].At))
			}
			s.mistake(l.first, fact, "draw the panel around it, or give its layer to the outlines")
		}
	}
	return n
}

// errMany is the error of a search that found more than it may.
var errMany = errors.New("too many")

// overlapping returns the loops whose boxes have a point in common with b and that
// are wanted, in no order, at most most.
func (n *nested) overlapping(b rtree.Box, most int, want func(i int) bool) ([]int, error) {
	var found []int
	err := n.tree.RangeSearch(b, func(i int) error {
		if !want(i) {
			return nil
		}
		if len(found) >= most {
			return errMany
		}
		found = append(found, i)
		return nil
	})
	return found, err
}

// around examines a loop against the larger ones, of which the smallest comes
// first, and sets its parent.
func (s *study) around(n *nested, i int, larger []int) {
	if len(larger) == 0 {
		return
	}
	l := n.loops[i]
	u := n.traces[i]
	if u == nil {
		u = l.outline.Trace()
	}
	for _, j := range larger {
		t := n.loops[j]
		err := n.trace(j).Contains(u)
		switch f := new(outline.Fault); {
		case err == nil:
			if l.parent == nil {
				l.parent = t
			}
		case errors.Is(err, outline.ErrMeets) && errors.As(err, &f):
			s.mistake(l.from[f.B], fmt.Sprintf("crosses or touches another outline at %s: %s", s.d.place(f.At), s.other(t.from[f.A])),
				"draw panels and openings apart from each other; put what is no outline on a layer that is ignored")
			s.spoil(frame(l.box), frame(t.box))
		}
	}
}

// doubtful reports whether a loop lies in the box of something that is reported,
// so that what is around it is not known.
func (s *study) doubtful(l *loop) bool {
	return slices.ContainsFunc(s.broken, func(f frame) bool { return f.holds(l.box) })
}

// panels returns the loops as panels with their openings.
func (n *nested) panels(s *study) []Panel {
	var panels []Panel
	index := map[*loop]int{}
	for _, l := range n.loops {
		if !l.opening() {
			index[l] = len(panels)
			panels = append(panels, Panel{Loop: l.out(s)})
		}
	}
	for _, l := range n.loops {
		if l.opening() {
			p := &panels[index[l.parent]]
			p.Openings = append(p.Openings, l.out(s))
		}
	}
	return panels
}

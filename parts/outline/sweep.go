package outline

import (
	"slices"

	"panelyard/parts/geom"
)

// crossing returns a fault when two pieces of a closed polyline of three pieces
// or more meet elsewhere than at the joint of neighbours.
//
// Problem solved: is a polygon simple? Method: M. I. Shamos and D. Hoey,
// "Geometric intersection problems", 17th Annual Symposium on Foundations of
// Computer Science, 1976, pp. 208-215, doi:10.1109/SFCS.1976.16 (from memory). A
// line sweeps the plane; the pieces it meets are kept in their order along it, and
// only pieces that become neighbours in that order are examined.
//
// Differs from the paper in: 1. corners are met by x, then y, as if the plane were
// sheared by a hair, so that upright pieces need no care; 2. the ends that
// neighbours of the loop share are allowed; 3. two corners at one place are looked
// for first, since the pieces of one may end before those of the other begin.
//
// Exact. Time O(n log n), expected over the priorities of the tree; space O(n).
// Of several crossings it returns one that lies far to the left.
func crossing(list []piece) *Fault {
	n := len(list)
	order := make([]int, n) // corners: corner i is where piece i begins
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		switch p, q := list[i].a, list[j].a; {
		case p.Less(q):
			return -1
		case q.Less(p):
			return 1
		}
		return i - j
	})
	s := newStatus(list)
	for k, i := range order {
		at := list[i].a
		if k > 0 && list[order[k-1]].a == at {
			j := order[k-1]
			return &Fault{ErrCrosses, min(list[i].seg, list[j].seg), max(list[i].seg, list[j].seg), at}
		}
		// The two pieces at the corner: first those end that come from the left.
		both := [2]int{(i + n - 1) % n, i}
		for _, p := range both {
			if s.ends[p] == at {
				if f := s.remove(p); f != nil {
					return f
				}
			}
		}
		for _, p := range both {
			if s.begins[p] == at {
				if f := s.insert(p); f != nil {
					return f
				}
			}
		}
	}
	return nil
}

// clash returns a fault when pieces i and j meet where they may not.
func clash(list []piece, i, j int) *Fault {
	n := len(list)
	if j == (i+1)%n {
		i, j = j, i
	}
	p, q := list[i], list[j]
	fault := func(at geom.Point) *Fault {
		return &Fault{ErrCrosses, min(p.seg, q.seg), max(p.seg, q.seg), at}
	}
	if i == (j+1)%n { // q ends where p starts
		// Neighbours meet at their joint; a spike runs back over itself.
		if geom.Orient(q.a, q.b, p.b) == geom.Collinear && q.b.Sub(q.a).Dot(p.b.Sub(p.a)) < 0 {
			return fault(p.a)
		}
		return nil
	}
	if at, ok := meet(p, q); ok {
		return fault(at)
	}
	return nil
}

// none is the absence of a piece.
const none = -1

// status is the pieces that the sweep line meets, from below to above: a search
// tree with random priorities (a treap: R. Seidel and C. R. Aragon, "Randomized
// search trees", Algorithmica 16, 1996, pp. 464-497, doi:10.1007/BF01940876, from
// memory) and, for the neighbours, a list.
type status struct {
	list         []piece
	begins, ends []geom.Point // of each piece, from left to right
	left, right  []int        // the children of a piece in the tree
	up           []int        // its parent
	below, above []int        // its neighbours in the order
	root         int
}

func newStatus(list []piece) *status {
	n := len(list)
	s := &status{
		list: list, begins: make([]geom.Point, n), ends: make([]geom.Point, n),
		left: make([]int, n), right: make([]int, n), up: make([]int, n),
		below: make([]int, n), above: make([]int, n), root: none,
	}
	for i, p := range list {
		s.begins[i], s.ends[i] = p.a, p.b
		if p.b.Less(p.a) {
			s.begins[i], s.ends[i] = p.b, p.a
		}
	}
	return s
}

// priority is a random number for each piece, the same in every run (the mixing
// function of the generator SplitMix64, from memory).
func priority(i int) uint64 {
	z := (uint64(i) + 1) * 0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// insert adds the piece i, which begins at the sweep line.
func (s *status) insert(i int) *Fault {
	parent, below, above := none, none, none
	for at := s.root; at != none; {
		c := s.begins[i]
		if c == s.begins[at] {
			c = s.ends[i]
		}
		parent = at
		switch geom.Orient(s.begins[at], s.ends[at], c) {
		case geom.Collinear:
			// i begins on the other piece, or runs along it.
			return &Fault{ErrCrosses, min(s.list[i].seg, s.list[at].seg), max(s.list[i].seg, s.list[at].seg), s.begins[i]}
		case geom.CounterClockwise:
			below, at = at, s.right[at]
		default:
			above, at = at, s.left[at]
		}
	}
	s.left[i], s.right[i], s.up[i], s.below[i], s.above[i] = none, none, parent, below, above
	switch {
	case parent == none:
		s.root = i
	case parent == below:
		s.right[parent] = i
	default:
		s.left[parent] = i
	}
	for s.up[i] != none && priority(i) > priority(s.up[i]) {
		s.rotateUp(i)
	}
	for _, j := range [2]int{below, above} {
		if j == none {
			continue
		}
		if j == below {
			s.above[j] = i
		} else {
			s.below[j] = i
		}
		if f := clash(s.list, i, j); f != nil {
			return f
		}
	}
	return nil
}

// remove takes the piece i, which ends at the sweep line, out.
func (s *status) remove(i int) *Fault {
	for s.left[i] != none && s.right[i] != none {
		if priority(s.left[i]) > priority(s.right[i]) {
			s.rotateUp(s.left[i])
		} else {
			s.rotateUp(s.right[i])
		}
	}
	s.replace(i, max(s.left[i], s.right[i]))
	below, above := s.below[i], s.above[i]
	if below != none {
		s.above[below] = above
	}
	if above != none {
		s.below[above] = below
	}
	if below != none && above != none {
		return clash(s.list, below, above)
	}
	return nil
}

// replace puts j, which may be none, in the place of i below its parent.
func (s *status) replace(i, j int) {
	p := s.up[i]
	switch {
	case p == none:
		s.root = j
	case s.left[p] == i:
		s.left[p] = j
	default:
		s.right[p] = j
	}
	if j != none {
		s.up[j] = p
	}
}

// rotateUp exchanges i with its parent, the order kept.
func (s *status) rotateUp(i int) {
	p := s.up[i]
	s.replace(p, i)
	var moved int
	if s.left[p] == i {
		moved, s.right[i] = s.right[i], p
		s.left[p] = moved
	} else {
		moved, s.left[i] = s.left[i], p
		s.right[p] = moved
	}
	if moved != none {
		s.up[moved] = p
	}
	s.up[p] = i
}

package saw

// node is a row of pieces or a blank.
//
// A rowX lies from left to right: upright cuts separate its children, and their
// heights may differ. A rowY is stacked from bottom to top. Rows alternate: no
// child of a rowX is a rowX. Only sizes are stored, never places, so the order of
// children means nothing and what is free in a row is always in one piece.
//
//	        rowX                     free in a row: the whole height of the row
//	+-------+-----+----------+       over a child:  the child's width
//	|       |/////|          |
//	|  A    +-----+   free   |       A, and the rowY of B and C, are the children
//	|       |  C  |          |       of this rowX; the hatched piece is what is
//	|       +---+-+          |       free in the rowY, and another is right of C
//	|       | B   |          |       when B is wider.
//	+-------+-----+----------+
type node struct {
	kind                int32 // of the blank, or rowX, rowY, unused
	parent, first, next int32 // none where there is none
	// w, h is the size that the content needs: of the children of a rowX the sum
	// of the widths and the greatest height.
	w, h int32
	// aw, ah is the size of the piece that the tree gives the node.
	aw, ah int32
	// mw, mh is what its size could grow to when all rows that hold it give up
	// what they have free.
	mw, mh int32
	under  int32 // kind of the parent, or none
	depth  int32 // rows that hold it
	odd    bool  // a blank that lies a quarter turn
}

const (
	none   int32 = -1
	rowX   int32 = -2
	rowY   int32 = -3
	unused int32 = -4
)

// sheet is a board with what lies on it. The zero value is not ready: reset.
type sheet struct {
	board  int32 // or none for a place in a list where no sheet is
	w, h   int32 // the board's, or less where part of it is kept free
	root   int32
	spare  int32 // first unused node
	leaves int32
	nodes  []node
	used   int64 // area of the blanks, in grains
	whole  int64 // sum of the squares of the free pieces, in grains: how whole the rest is
	deep   int32 // most rows that hold a blank
	// roomW, roomH are the most by which any node could grow, each way by itself.
	roomW, roomH int32
}

// reset makes s an empty sheet of a board.
func (s *sheet) reset(n int32, b *board) {
	s.board, s.w, s.h = n, b.w, b.h
	s.root, s.spare, s.leaves, s.used = none, none, 0, 0
	s.nodes = s.nodes[:0]
}

// copyFrom makes s the same as t, in memory of its own.
func (s *sheet) copyFrom(t *sheet) {
	nodes := append(s.nodes[:0], t.nodes...)
	*s = *t
	s.nodes = nodes
}

// alloc returns an unused node with a kind.
func (s *sheet) alloc(kind int32) int32 {
	n := s.spare
	if n != none {
		s.spare = s.nodes[n].next
	} else {
		n = int32(len(s.nodes))
		s.nodes = append(s.nodes, node{})
	}
	s.nodes[n] = node{kind: kind, parent: none, first: none, next: none, under: none}
	return n
}

func (s *sheet) release(n int32) {
	s.nodes[n].kind = unused
	s.nodes[n].next = s.spare
	s.spare = n
}

// adopt makes n a child of row p.
func (s *sheet) adopt(p, n int32) {
	s.nodes[n].parent = p
	s.nodes[n].next = s.nodes[p].first
	s.nodes[p].first = n
}

// unlink takes n out of its parent's children.
func (s *sheet) unlink(n int32) {
	at := &s.nodes[s.nodes[n].parent].first
	for *at != n {
		at = &s.nodes[*at].next
	}
	*at = s.nodes[n].next
}

// How a blank comes to lie at a node.
const (
	into uint8 = iota // as a child of the row
	besideX
	besideY // in a new row that takes the place of the node
	onEmpty
)

// put places a blank of a kind, w x h as it lies, at node n. The spot must be
// one that [sheet.spot] returned for it.
func (s *sheet) put(j *job, kind int32, w, h int32, odd bool, n int32, how uint8) {
	leaf := s.alloc(kind)
	s.nodes[leaf].w, s.nodes[leaf].h, s.nodes[leaf].odd = w, h, odd
	switch how {
	case onEmpty:
		s.root = leaf
	case into:
		s.adopt(n, leaf)
	default:
		dir := rowX
		if how == besideY {
			dir = rowY
		}
		row := s.alloc(dir)
		if p := s.nodes[n].parent; p == none {
			s.root = row
		} else {
			s.unlink(n)
			s.adopt(p, row)
		}
		s.adopt(row, n)
		s.adopt(row, leaf)
	}
	s.leaves++
	s.used += j.kinds[kind].area
	for p := s.nodes[leaf].parent; p != none; p = s.nodes[p].parent {
		s.measure(p)
	}
	s.settle(j)
}

// detach takes node n out of the tree. What it leaves is put in order: a row of
// one child is that child, and a row in a row of its own direction is dissolved.
// The caller settles the sheet.
func (s *sheet) detach(n int32) {
	p := s.nodes[n].parent
	if p == none {
		s.root = none
		return
	}
	s.unlink(n)
	s.nodes[n].parent = none
	c := s.nodes[p].first
	if c == none { // a row of one child around the whole sheet
		s.detach(p)
		s.release(p)
		return
	}
	if s.nodes[c].next != none {
		return
	}
	g := s.nodes[p].parent
	if g == none {
		s.root = c
		s.nodes[c].parent, s.nodes[c].next = none, none
		s.release(p)
		return
	}
	s.unlink(p)
	s.release(p)
	if s.nodes[c].kind != s.nodes[g].kind {
		s.adopt(g, c)
		return
	}
	for k := s.nodes[c].first; k != none; {
		next := s.nodes[k].next
		s.adopt(g, k)
		k = next
	}
	s.release(c)
}

// dissolve releases a detached node and all below it and appends the kinds of
// the blanks to list.
func (s *sheet) dissolve(j *job, n int32, list []int32) []int32 {
	if k := s.nodes[n].kind; k >= 0 {
		s.leaves--
		s.used -= j.kinds[k].area
		list = append(list, k)
	}
	for c := s.nodes[n].first; c != none; {
		next := s.nodes[c].next
		list = s.dissolve(j, c, list)
		c = next
	}
	s.release(n)
	return list
}

// measure computes what a row needs from its children.
func (s *sheet) measure(n int32) {
	p := &s.nodes[n]
	p.w, p.h = 0, 0
	if p.kind == rowX {
		for c := p.first; c != none; {
			q := &s.nodes[c]
			p.w += q.w
			p.h = max(p.h, q.h)
			c = q.next
		}
		return
	}
	for c := p.first; c != none; {
		q := &s.nodes[c]
		p.h += q.h
		p.w = max(p.w, q.w)
		c = q.next
	}
}

// measureAll computes what n and all below it need.
func (s *sheet) measureAll(n int32) {
	if s.nodes[n].kind >= 0 {
		return
	}
	for c := s.nodes[n].first; c != none; c = s.nodes[c].next {
		s.measureAll(c)
	}
	s.measure(n)
}

// remeasure computes all sizes after nodes were detached.
func (s *sheet) remeasure(j *job) {
	if s.root != none {
		s.measureAll(s.root)
	}
	s.settle(j)
}

// fits reports whether the content fits the sheet.
func (s *sheet) fits() bool {
	return s.root == none || s.nodes[s.root].w <= s.w && s.nodes[s.root].h <= s.h
}

// settle gives every node its piece, and computes how whole the rest is.
func (s *sheet) settle(j *job) {
	s.deep = 0
	if s.root == none {
		s.whole = square(j.grains(s.w, s.h))
		return
	}
	s.whole = 0
	r := &s.nodes[s.root]
	r.aw, r.ah, r.mw, r.mh, r.under, r.depth = s.w, s.h, s.w, s.h, none, 0
	s.roomW, s.roomH = s.w-r.w, s.h-r.h
	if r.kind >= 0 {
		s.whole = max(square(j.grains(s.w-r.w, s.h))+square(j.grains(r.w, s.h-r.h)),
			square(j.grains(s.w, s.h-r.h))+square(j.grains(s.w-r.w, r.h)))
		return
	}
	s.spread(j, r)
	if !j.tooDeep(s.deep + 1) { // as finish asks
		s.whole += s.wrapGain(j, r)
	}
}

// wrapGain returns how much more whole the rest is when the content of the root
// is first cut from the sheet the other way, or 0 when it is not.
func (s *sheet) wrapGain(j *job, r *node) int64 {
	var as, wrapped int64
	if r.kind == rowX {
		as, wrapped = square(j.grains(s.w-r.w, s.h)), square(j.grains(s.w, s.h-r.h))+square(j.grains(s.w-r.w, r.h))
	} else {
		as, wrapped = square(j.grains(s.w, s.h-r.h)), square(j.grains(s.w-r.w, s.h))+square(j.grains(r.w, s.h-r.h))
	}
	for c := r.first; c != none; {
		q := &s.nodes[c]
		if r.kind == rowX {
			as += square(j.grains(q.w, s.h-q.h))
			wrapped += square(j.grains(q.w, r.h-q.h))
		} else {
			as += square(j.grains(s.w-q.w, q.h))
			wrapped += square(j.grains(r.w-q.w, q.h))
		}
		c = q.next
	}
	return max(0, wrapped-as)
}

// square returns the square of an area in grains, in grains of the largest board.
func square(a int64) int64 { return a * a >> grainBits }

// spread gives the nodes below row p their pieces.
func (s *sheet) spread(j *job, p *node) {
	s.deep = max(s.deep, p.depth+1)
	if p.kind == rowX {
		s.whole += square(j.grains(p.aw-p.w, p.ah))
		grow := p.mw - p.w
		for c := p.first; c != none; {
			q := &s.nodes[c]
			q.aw, q.ah, q.mw, q.mh, q.under, q.depth = q.w, p.ah, q.w+grow, p.mh, rowX, p.depth+1
			s.roomH = max(s.roomH, q.mh-q.h)
			if q.kind >= 0 {
				s.whole += square(j.grains(q.w, q.ah-q.h))
			} else {
				s.spread(j, q)
			}
			c = q.next
		}
		return
	}
	s.whole += square(j.grains(p.aw, p.ah-p.h))
	grow := p.mh - p.h
	for c := p.first; c != none; {
		q := &s.nodes[c]
		q.aw, q.ah, q.mw, q.mh, q.under, q.depth = p.aw, q.h, p.mw, q.h+grow, rowY, p.depth+1
		s.roomW = max(s.roomW, q.mw-q.w)
		if q.kind >= 0 {
			s.whole += square(j.grains(q.aw-q.w, q.h))
		} else {
			s.spread(j, q)
		}
		c = q.next
	}
}

package saw

import "math"

// rule is how a blank chooses among the spots where it fits.
type rule uint8

const (
	leastArea  rule = iota // the least area left in the piece
	leastSide              // the shortest side left in the piece
	leastWhole             // the least loss of how whole the rest is
	rules
)

// spot is a place where a blank fits.
type spot struct {
	loss int64 // by the rule; less is better
	node int32
	how  uint8
}

// better replaces t by the best spot in s for a blank of size a x b as it lies,
// if that is better than t, and reports whether it is. Each better spot is passed
// over once in about blink times, 0 is never, so that the choice varies.
//
// A blank can go into a row, or beside or above another blank, or beside or above
// all there is. It fits when the rows around it can give up enough of what they
// have free. Where stages are limited, a blank in as many rows as there are stages
// must fill the last of them, because no cut is left to trim it.
//
// Time is linear in the nodes of s.
func (s *sheet) better(j *job, a, b int32, r rule, blink uint64, rng *source, t *spot) bool {
	if s.root == none {
		if a > s.w || b > s.h {
			return false
		}
		return t.offer(j.loss(r, s.w, s.h, a, b, 0), none, onEmpty, blink, rng)
	}
	if a > s.roomW && b > s.roomH {
		return false // nothing can grow by as much
	}
	found := false
	stages := int32(j.p.Saw.Stages)
	for i := range s.nodes {
		n := &s.nodes[i]
		if n.w+a > n.mw && n.h+b > n.mh || a > n.mw || b > n.mh {
			continue
		}
		kind := n.kind
		switch kind {
		case unused:
			continue
		case rowX:
			if n.w+a <= n.mw && (stages == 0 || n.depth+1 < stages || b == n.h) {
				fw, fh := n.aw-n.w, n.ah
				grow := int64(max(0, a-fw))*int64(n.mh) + int64(max(0, b-fh))*int64(n.mw)
				if t.offer(j.loss(r, max(fw, a), max(fh, b), a, b, grow), int32(i), into, blink, rng) {
					found = true
				}
			}
		case rowY:
			if n.h+b <= n.mh && (stages == 0 || n.depth+1 < stages || a == n.w) {
				fw, fh := n.aw, n.ah-n.h
				grow := int64(max(0, a-fw))*int64(n.mh) + int64(max(0, b-fh))*int64(n.mw)
				if t.offer(j.loss(r, max(fw, a), max(fh, b), a, b, grow), int32(i), into, blink, rng) {
					found = true
				}
			}
		}
		// Blanks, and the root, can be paired with the new blank.
		if kind < 0 && n.under != none {
			continue
		}
		// A new row is one row more for all that lies at the node.
		exact := false
		if stages > 0 {
			below := int32(1)
			if kind < 0 {
				below += s.deep
			}
			if n.depth+below > stages || kind < 0 && s.deep+1 >= stages {
				continue
			}
			exact = n.depth+below == stages
		}
		if kind != rowY && n.under != rowY && n.h+b <= n.mh && !(exact && a != n.w) {
			fw, fh := n.w, n.ah-n.h
			if n.under == none {
				fw = n.aw
			}
			grow := int64(max(0, a-fw))*int64(n.mh) + int64(max(0, b-fh))*int64(n.mw)
			if t.offer(j.loss(r, max(fw, a), max(fh, b), a, b, grow), int32(i), besideY, blink, rng) {
				found = true
			}
		}
		if kind != rowX && n.under != rowX && n.w+a <= n.mw && !(exact && b != n.h) {
			fw, fh := n.aw-n.w, n.h
			if n.under == none {
				fh = n.ah
			}
			grow := int64(max(0, a-fw))*int64(n.mh) + int64(max(0, b-fh))*int64(n.mw)
			if t.offer(j.loss(r, max(fw, a), max(fh, b), a, b, grow), int32(i), besideX, blink, rng) {
				found = true
			}
		}
	}
	return found
}

// offer makes t the spot described if that is better.
func (t *spot) offer(loss int64, node int32, how uint8, blink uint64, rng *source) bool {
	if loss >= t.loss || blink != 0 && rng.Uint64()%blink == 0 {
		return false
	}
	t.loss, t.node, t.how = loss, node, how
	return true
}

// loss returns how much is lost when a blank a x b lies in a piece fw x fh, for
// which rows around it grow over an area.
func (j *job) loss(r rule, fw, fh, a, b int32, grow int64) int64 {
	switch r {
	case leastSide:
		side := int64(min(fw-a, fh-b))
		if grow > 0 {
			side += grow / int64(max(fw, fh))
		}
		return side<<grainBits + j.grains(fw, fh)
	case leastWhole:
		return square(j.grains(fw, fh)) - square(j.grains(fw-a, fh)) - square(j.grains(a, fh-b)) + grow>>j.shift
	}
	return j.grains(fw, fh) + grow>>j.shift
}

// noSpot is the spot that any other is better than.
func noSpot() spot { return spot{loss: math.MaxInt64, node: none} }

package toolpath

import "panelyard/parts"

// relieve returns where the bit goes to relieve an inside corner, and whether that
// is known to leave the other walls alone. The bit's edge then passes through the
// corner.
//
//	dog-bone: along the bisector, its centre at the bit's radius from the corner
//	t-bone:   its centre on the line of the longer wall, at the radius from the corner
//
// Formulas: geometry; of a right angle the dog-bone bites r(1-1/√2) into each wall,
// the t-bone r into the longer one.
func (w *wall) relieve(g gap, how parts.Relief, r float64, others []*wall) (vec, bool) {
	p, q := &w.list[w.prev(g.vertex)], &w.list[g.vertex]
	v := q.a
	// Directions from the corner along its walls.
	along, back := q.heading(0), p.heading(p.len).mul(-1)
	dir := along.add(back)
	if how == parts.TBone {
		dir = along
		if p.len > q.len {
			dir = back
		}
	}
	n := dir.norm()
	if n < 1e-6 {
		return vec{}, false // a corner of half a turn is none
	}
	to := v.add(dir.mul(r / n))
	const steps = 8
	for k := range steps + 1 {
		at := g.bit.add(to.sub(g.bit).mul(float64(k) / steps))
		free := w.near(box{at, at}.grown(r), func(i int) bool {
			return i == g.vertex || i == w.prev(g.vertex) || w.list[i].distance(at) >= r-depth
		})
		if !free {
			return vec{}, false
		}
		for _, o := range others {
			if o != w && !o.clear(at, r) {
				return vec{}, false
			}
		}
	}
	return to, true
}

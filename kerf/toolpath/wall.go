package toolpath

import (
	"math"

	"panelyard/parts/outline"
)

// wall is a loop of what the bit may not touch, with the board on its left: an
// outline as it is, an opening reversed. The boxes of its curves are held in a tree
// that halves the list where it is, since curves that follow each other lie near
// each other.
type wall struct {
	list  []curve
	boxes []box // of the nodes, root first; the children of k are 2k+1 and 2k+2
}

// handful is how many curves a leaf of the tree has at most.
const handful = 4

func newWall(o outline.Outline) *wall {
	w := &wall{}
	for i := range o {
		w.list = append(w.list, segment(o, i))
	}
	for i := range w.list {
		w.part(i)
	}
	w.index(0, 0, len(w.list))
	return w
}

// part cuts off the tip where segment i and the one before it start back along each
// other and cross once more. An outline is known to be free of crossings within
// 0.01 mm only, and the tip is thinner than that.
func (w *wall) part(i int) {
	p, q := &w.list[w.prev(i)], &w.list[i]
	h, k := p.heading(p.len), q.heading(0)
	if h.dot(k) > -0.99 || p == q {
		return
	}
	var at []float64
	if q.arc {
		at = p.circle(at, q.c, q.r)
	} else {
		at = p.straight(at, q.a, q.u)
	}
	best := 0.0
	for _, s := range at {
		if s > best && s < p.len-tight && q.distance(p.at(s)) < noise {
			best = s
		}
	}
	if best == 0 {
		return
	}
	x := p.at(best)
	from := x.sub(q.a).dot(q.u)
	if q.arc {
		from, _ = q.turnedTo(math.Atan2(x.y-q.c.y, x.x-q.c.x))
	}
	*p, *q = p.part(0, best), q.part(from, q.len)
	p.b, q.a = x, x
}

// index fills in the boxes of node k, which has the curves from lo up to hi.
func (w *wall) index(k, lo, hi int) box {
	for len(w.boxes) <= k {
		w.boxes = append(w.boxes, box{})
	}
	var b box
	if hi-lo <= handful {
		b = w.list[lo].box()
		for i := lo + 1; i < hi; i++ {
			b = b.with(w.list[i].box())
		}
	} else {
		m := (lo + hi) / 2
		b = w.index(2*k+1, lo, m).with(w.index(2*k+2, m, hi))
	}
	w.boxes[k] = b
	return b
}

// near calls f with the curves whose boxes may meet b, until it returns false.
func (w *wall) near(b box, f func(i int) bool) bool {
	return w.search(0, 0, len(w.list), b, f)
}

func (w *wall) search(k, lo, hi int, b box, f func(i int) bool) bool {
	if !w.boxes[k].meets(b) {
		return true
	}
	if hi-lo > handful {
		m := (lo + hi) / 2
		return w.search(2*k+1, lo, m, b, f) && w.search(2*k+2, m, hi, b, f)
	}
	for i := lo; i < hi; i++ {
		if !f(i) {
			return false
		}
	}
	return true
}

// clear reports whether a point is no nearer to the wall than d.
func (w *wall) clear(p vec, d float64) bool {
	return w.near(box{p, p}.grown(d), func(i int) bool { return w.list[i].distance(p) >= d })
}

// prev and next return the neighbours of an index on the loop.
func (w *wall) prev(i int) int { return (i + len(w.list) - 1) % len(w.list) }
func (w *wall) next(i int) int { return (i + 1) % len(w.list) }

// turn returns the angle by which the wall turns where segment i starts, left is
// positive and makes a corner of the board that sticks out. Where it turns right
// back, the sides a little way from the corner say which of the two it is.
func (w *wall) turn(i int) float64 {
	p, q := &w.list[w.prev(i)], &w.list[i]
	h, k := p.heading(p.len), q.heading(0)
	turn := math.Atan2(h.cross(k), h.dot(k))
	// An outline is known to be free of crossings within 0.01 mm only.
	const back, plain = math.Pi - 0.05, 2 * float64(Exact)
	if math.Abs(turn) < back {
		return turn
	}
	side, most := 0.0, min(p.len, q.len)/2
	for d := min(look, most); ; d = min(2*d, most) {
		side = q.a.sub(p.at(p.len-d)).cross(q.at(d).sub(q.a)) / d
		if math.Abs(side) > plain || d == most {
			break
		}
	}
	if side*turn < 0 {
		turn -= math.Copysign(2*math.Pi, turn)
	}
	return turn
}

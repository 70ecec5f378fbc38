package router

import (
	"math"
	"slices"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// simplify returns a polygon that contains p, within a tolerance of it and with
// the same box, that has fewer vertices: a reflex corner is filled by the chord
// over it, and an edge between two convex corners is replaced by the point where
// its neighbours meet. A hole is simplified so that it stays inside the hole.
//
//	a      reflex corner filled:       an edge between convex corners:
//	 \v  /b    a---------b               v1--v2          q
//	  \_/                               /      \   ->   / \
//
// The search works on it; a plan that is legal for it is legal for p. Cost:
// vertices removed times vertices left, a few instructions each.
func simplify(p geom.Polygon, tolerance length.Length) geom.Polygon {
	box := p.Box()
	q := geom.Polygon{Outer: simplifyRing(p.Outer, float64(tolerance), box)}
	for _, h := range p.Holes {
		// What is on the left of a ring is material for holes as well.
		r := simplifyRing(h, float64(tolerance), h.Box())
		if len(r) >= 3 && r.Area2() < 0 {
			q.Holes = append(q.Holes, r)
		}
	}
	return q
}

// simplifyRing removes corners of a ring whose material is on the left, the
// cheapest first, while what is added reaches no further than tolerance. Removals
// that would make the ring cross itself wait until something near them changes.
func simplifyRing(r geom.Ring, tolerance float64, box geom.Box) geom.Ring {
	w := whittled{ring: tidy(r), box: box}
	w.list = make([]removal, len(w.ring))
	for i := range w.list {
		w.list[i] = removalAt(w.ring, i, box)
	}
	if len(w.ring) > sweptVertices {
		// Which of very many goes first hardly matters.
		for at := 0; at < len(w.ring) && len(w.ring) > sweptVertices/2; at++ {
			if w.list[at].cost < tolerance/8 && w.remove(at) {
				at = max(-1, at-4)
			}
		}
	}
	for len(w.ring) > 4 {
		at := -1
		for i := range w.list {
			if c := w.list[i].cost; c < tolerance && (at < 0 || c < w.list[at].cost) {
				at = i
			}
		}
		if at < 0 {
			break
		}
		w.remove(at)
	}
	return w.ring
}

// sweptVertices is the number of vertices above which the cheapest one to remove
// is not looked for.
const sweptVertices = 600

// whittled is a ring from which corners are removed, with what each removal costs.
type whittled struct {
	ring geom.Ring
	list []removal
	box  geom.Box
}

// remove does the removal at a corner, unless the ring would cross itself.
func (w *whittled) remove(at int) bool {
	n := len(w.ring)
	m := w.list[at]
	a, v, b := w.ring[(at+n-1)%n], w.ring[at], w.ring[(at+1)%n]
	added := geom.Ring{a, b, v}
	if m.apex {
		added = geom.Ring{v, m.to, b}
	}
	if !unoccupied(w.ring, added) {
		w.list[at].cost = math.Inf(1)
		return false
	}
	gone := at
	if m.apex {
		w.ring[at] = m.to
		gone = (at + 1) % n
	}
	w.drop(gone)
	if gone < at || at == len(w.ring) {
		at--
	}
	// What is now in line with its neighbours goes as well.
	for k := at - 2; k <= at+2 && len(w.ring) > 4; k++ {
		n := len(w.ring)
		i := (k + 2*n) % n
		if geom.Orient(w.ring[(i+n-1)%n], w.ring[i], w.ring[(i+1)%n]) == geom.Collinear {
			w.drop(i)
			at = min(at, len(w.ring)-1)
			k = at - 3
		}
	}
	for k := at - 3; k <= at+3; k++ {
		n := len(w.ring)
		i := (k + 3*n) % n
		w.list[i] = removalAt(w.ring, i, w.box)
	}
	return true
}

func (w *whittled) drop(i int) {
	w.ring, w.list = slices.Delete(w.ring, i, i+1), slices.Delete(w.list, i, i+1)
}

// removal is what the removal of a corner of a ring costs, or of the edge after it.
type removal struct {
	cost float64
	apex bool // the edge after the corner gives way to a point
	to   geom.Point
}

// removalAt returns the removal at corner i; it costs infinitely much when there is
// none.
func removalAt(s geom.Ring, i int, box geom.Box) removal {
	n := len(s)
	none := removal{cost: math.Inf(1)}
	a, v, b := s[(i+n-1)%n], s[i], s[(i+1)%n]
	switch geom.Orient(a, v, b) {
	case geom.Clockwise: // reflex: fill
		return removal{cost: distance(v, a, b)}
	case geom.CounterClockwise:
		w := s[(i+2)%n]
		if geom.Orient(v, b, w) != geom.CounterClockwise {
			return none
		}
		q, ok := apex(a, v, b, w)
		if !ok || q.X < box.Min.X || q.X > box.Max.X || q.Y < box.Min.Y || q.Y > box.Max.Y {
			return none
		}
		return removal{cost: distance(q, v, b), apex: true, to: q}
	}
	return none
}

// apex returns a grid point outside edge v-b near where the lines a-v and w-b
// meet, such that the corner a, q, w contains v and b.
func apex(a, v, b, w geom.Point) (geom.Point, bool) {
	d, e := v.Sub(a), b.Sub(w)
	den := float64(d.X)*float64(e.Y) - float64(d.Y)*float64(e.X)
	if den == 0 {
		return geom.Point{}, false
	}
	f := w.Sub(a)
	t := (float64(f.X)*float64(e.Y) - float64(f.Y)*float64(e.X)) / den
	if t < 1 || t > 1e6 {
		return geom.Point{}, false
	}
	x, y := float64(a.X)+t*float64(d.X), float64(a.Y)+t*float64(d.Y)
	if math.Abs(x) > float64(length.Max) || math.Abs(y) > float64(length.Max) {
		return geom.Point{}, false
	}
	// The nearest grid points that keep v and b inside.
	for _, q := range [9][2]float64{{0, 0}, {1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {-1, 1}, {1, -1}, {-1, -1}} {
		p := geom.Pt(length.Length(math.Round(x)+q[0]), length.Length(math.Round(y)+q[1]))
		if geom.Orient(a, p, v) != geom.Clockwise && geom.Orient(p, w, b) != geom.Clockwise && geom.Orient(v, b, p) == geom.Clockwise {
			return p, true
		}
	}
	return geom.Point{}, false
}

// distance returns how far p is from the segment a-b.
func distance(p, a, b geom.Point) float64 {
	ux, uy := float64(b.X-a.X), float64(b.Y-a.Y)
	vx, vy := float64(p.X-a.X), float64(p.Y-a.Y)
	t := 0.0
	if l := ux*ux + uy*uy; l > 0 {
		t = max(0, min(1, (ux*vx+uy*vy)/l))
	}
	return math.Hypot(vx-t*ux, vy-t*uy)
}

// unoccupied reports whether a triangle that is added to a ring holds no other
// vertex of the ring, so that the ring stays simple.
func unoccupied(s, t geom.Ring) bool {
	if t.Area2() < 0 {
		t = t.Reversed()
	}
	box := t.Box()
	for _, p := range s {
		if p.X < box.Min.X || p.X > box.Max.X || p.Y < box.Min.Y || p.Y > box.Max.Y || p == t[0] || p == t[1] || p == t[2] {
			continue
		}
		if t.Locate(p) != geom.Outside {
			return false
		}
	}
	return true
}

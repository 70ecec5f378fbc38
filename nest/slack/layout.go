package slack

import (
	"math"

	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// layout is the shapes on a sheet of a router, at their places.
type layout []geom.Polygon

func laid(p *nest.Problem, s *nest.Sheet) layout {
	var l layout
	for _, pl := range s.Placements {
		shape, _ := p.Place(pl)
		l = append(l, shape)
	}
	return l
}

// box returns the box of all shapes.
func (l layout) box() geom.Box {
	if len(l) == 0 {
		return geom.Box{}
	}
	b := l[0].Box()
	for _, shape := range l[1:] {
		c := shape.Box()
		b.Min = geom.Pt(min(b.Min.X, c.Min.X), min(b.Min.Y, c.Min.Y))
		b.Max = geom.Pt(max(b.Max.X, c.Max.X), max(b.Max.Y, c.Max.Y))
	}
	return b
}

// spread returns the layout with its places spread evenly, so that it takes the whole of
// a usable area that it fits in: what is farther to the right moves farther.
func (l layout) spread(usable geom.Box) layout {
	b := l.box()
	scaled := func(at, least, most, to, room length.Length) length.Length {
		if most <= least {
			return to - at // in line: all begin at the edge
		}
		// Below 2^28 each, so that the product fits.
		return to + (at-least)*room/(most-least) - at
	}
	// The shape that begins farthest to the right need not be the one that ends there:
	// a move is bounded by the room that is left beside the box.
	room := usable.Size().Sub(b.Size())
	first, last := b.Min, b.Min
	for _, shape := range l {
		m := shape.Box().Min
		last = geom.Pt(max(last.X, m.X), max(last.Y, m.Y))
	}
	var out layout
	for _, shape := range l {
		m := shape.Box().Min
		d := geom.Pt(
			scaled(m.X, first.X, last.X, usable.Min.X, last.X-first.X+max(0, room.X)),
			scaled(m.Y, first.Y, last.Y, usable.Min.Y, last.Y-first.Y+max(0, room.Y)),
		)
		out = append(out, shape.Translate(d))
	}
	return out
}

// closest returns the least distance of two shapes, rounded down; length.Max when there
// is one alone.
func (l layout) closest() length.Length {
	best := float64(length.Max)
	for i := range l {
		for k := i + 1; k < len(l); k++ {
			if apart(l[i].Box(), l[k].Box()) < best {
				best = math.Min(best, between(l[i], l[k], best))
			}
		}
	}
	return length.Length(math.Floor(best))
}

// apart returns the distance of two boxes; 0 when they meet.
func apart(a, b geom.Box) float64 {
	dx := max(0, a.Min.X-b.Max.X, b.Min.X-a.Max.X)
	dy := max(0, a.Min.Y-b.Max.Y, b.Min.Y-a.Max.Y)
	return math.Hypot(float64(dx), float64(dy))
}

// between returns the least distance of two shapes, or best where it is not less; 0 when
// they meet. One may lie in a hole of the other.
func between(a, b geom.Polygon, best float64) float64 {
	if inside(a.Outer[0], b) || inside(b.Outer[0], a) {
		return 0
	}
	for _, r := range rings(a) {
		for i := range r {
			p, q := r[i], r[(i+1)%len(r)]
			edge := boxOf(p, q)
			if apart(edge, b.Box()) >= best {
				continue
			}
			for _, t := range rings(b) {
				for k := range t {
					u, v := t[k], t[(k+1)%len(t)]
					if apart(edge, boxOf(u, v)) >= best {
						continue
					}
					if crossing(p, q, u, v) {
						return 0
					}
					// Edges that do not cross are nearest at an end of one of them.
					best = math.Min(best, math.Min(
						math.Min(toEdge(p, u, v), toEdge(q, u, v)),
						math.Min(toEdge(u, p, q), toEdge(v, p, q))))
				}
			}
		}
	}
	return best
}

// inside reports whether a point lies in a shape, beyond its edges.
func inside(p geom.Point, shape geom.Polygon) bool {
	if shape.Outer.Locate(p) != geom.Inside {
		return false
	}
	for _, h := range shape.Holes {
		if h.Locate(p) != geom.Outside {
			return false
		}
	}
	return true
}

// crossing reports whether two edges cross within both. Those that touch are at a
// distance of 0 by their ends.
func crossing(p, q, u, v geom.Point) bool {
	return geom.Orient(p, q, u)*geom.Orient(p, q, v) < 0 && geom.Orient(u, v, p)*geom.Orient(u, v, q) < 0
}

func rings(p geom.Polygon) []geom.Ring { return append([]geom.Ring{p.Outer}, p.Holes...) }

func boxOf(p, q geom.Point) geom.Box {
	return geom.Box{Min: geom.Pt(min(p.X, q.X), min(p.Y, q.Y)), Max: geom.Pt(max(p.X, q.X), max(p.Y, q.Y))}
}

// toEdge returns the distance of a point from an edge.
func toEdge(p, u, v geom.Point) float64 {
	dx, dy := float64(v.X-u.X), float64(v.Y-u.Y)
	px, py := float64(p.X-u.X), float64(p.Y-u.Y)
	t := 0.0
	if d := dx*dx + dy*dy; d > 0 {
		t = math.Max(0, math.Min(1, (px*dx+py*dy)/d))
	}
	return math.Hypot(px-t*dx, py-t*dy)
}

package toolpath

import (
	"math"
	"slices"
)

// The tolerances of the construction, in units of 1/8 micrometre.
const (
	// fits is how much narrower than the bit a slot or a curve may be and still be
	// entered: a micrometre, well below what a machine holds.
	fits = 8
	// depth is how far a place may be inside the reach of a wall before it counts as
	// blocked: twice fits, from both walls of a slot.
	depth = 2 * fits
	// tight is how far apart the ends of two pieces may be that meet; loose the same
	// where walls run nearly along each other.
	tight, loose = 1.0, 4 * fits
	// noise is below what float64 holds of a coordinate and its square.
	noise = 1e-3
)

// track is a curve at the distance of the bit's radius from a wall: the wall's
// segment src moved into the waste, or the arc about the corner where it starts.
type track struct {
	curve
	src    int
	corner bool
}

// piece is a stretch of a track that the bit may follow.
type piece struct {
	curve
	track    int
	from, to float64 // on the track
}

// offset returns the loops on which the centre of a bit of radius r frees the wall,
// with the board on the left: the border of the places that are no nearer to any of
// the wall than r. Dots are the centres of curves that the bit just fills.
//
// Method (ours; the idea that the border is made of moved segments and of arcs about
// corners is folklore): every track is cut where it comes within r of another part
// of the wall, the stretches that are left are joined end to start. What is left is
// valid by construction, at exactly r from its own segment and no nearer to others,
// and needs no winding numbers. In a wall of n segments of which each has k others
// within r, it costs O(n·k) intersections and O(n·log n) for the index.
func (w *wall) offset(r float64) (tracks []track, loops [][]piece, dots []vec, lost int) {
	for i := range w.list {
		if turn := w.turn(i); turn*r > tight/2 {
			h := w.list[w.prev(i)].heading(w.list[w.prev(i)].len)
			tracks = append(tracks, track{arcAbout(w.list[i].a, r, math.Atan2(-h.x, h.y), turn), i, true})
		}
		c := &w.list[i]
		if m, ok := c.moved(r); ok {
			tracks = append(tracks, track{m, i, false})
		} else if c.arc && c.sweep < 0 && c.r >= r-fits && w.clear(c.c, r-depth) {
			dots = append(dots, c.c)
		}
	}
	var all []piece
	for k := range tracks {
		all = append(all, w.free(&tracks[k], k, r)...)
	}
	loops, lost = stitch(all)
	return tracks, loops, dots, lost
}

// span is a stretch of a track.
type span struct{ from, to float64 }

// free returns the pieces of a track that lie no nearer than r to any other segment
// of the wall. Where one is nearer by next to nothing the track is cut but kept.
func (w *wall) free(t *track, k int, r float64) []piece {
	var blocked []span
	var cuts []float64
	lo, hi := 0.0, t.len // what may be left of the track
	m, half := t.at(hi/2), hi/2
	block := func(i int) bool {
		c := &w.list[i]
		if i == t.src && !t.corner || c.distance(m) >= r+half {
			return true
		}
		for _, s := range within(&t.curve, c, r) {
			if !deep(&t.curve, c, r, s) {
				cuts = append(cuts, s.from, s.to)
				continue
			}
			blocked = insert(blocked, s)
			if b := blocked[0]; b.from <= 0 {
				lo = b.to
			}
			if b := blocked[len(blocked)-1]; b.to >= t.len {
				hi = b.from
			}
			if lo >= hi {
				return false // nothing of it is left
			}
			m, half = t.at((lo+hi)/2), (hi-lo)/2
		}
		return true
	}
	// The neighbours first: where the wall is jagged they leave little, and what is
	// too far from that is quickly passed over.
	const neighbours = 8
	whole := true
	for d := 0; d <= neighbours && d < len(w.list) && whole; d++ {
		whole = block((t.src+d)%len(w.list)) && block((t.src+len(w.list)-d)%len(w.list))
	}
	whole = whole && w.near(t.box().grown(r), block)
	if !whole {
		return nil
	}
	slices.Sort(cuts)
	var list []piece
	add := func(from, to float64) {
		if to-from > noise {
			list = append(list, piece{t.part(from, to), k, from, to})
		}
	}
	keep := func(from, to float64) {
		for _, c := range cuts {
			if c > from && c < to {
				add(from, c)
				from = c
			}
		}
		add(from, to)
	}
	at := 0.0
	for _, b := range blocked {
		if b.from > at {
			keep(at, b.from)
		}
		at = max(at, b.to)
	}
	if at < t.len {
		keep(at, t.len)
	}
	return list
}

// insert adds a span to sorted ones that do not meet.
func insert(list []span, s span) []span {
	i := 0
	for i < len(list) && list[i].to < s.from {
		i++
	}
	j := i
	for ; j < len(list) && list[j].from <= s.to; j++ {
		s.from, s.to = min(s.from, list[j].from), max(s.to, list[j].to)
	}
	return slices.Replace(list, i, j, s)
}

// within returns the stretches of t that are nearer than r to c.
func within(t, c *curve, r float64) []span {
	var buf [12]float64
	at := append(buf[:0], 0, t.len)
	at = t.circle(at, c.a, r)
	at = t.circle(at, c.b, r)
	if c.arc {
		at = t.circle(at, c.c, c.r+r)
		if d := math.Abs(c.r - r); d > 0 {
			at = t.circle(at, c.c, d)
		}
	} else {
		n := c.u.left().mul(r)
		at = t.straight(at, c.a.add(n), c.u)
		at = t.straight(at, c.a.sub(n), c.u)
	}
	slices.Sort(at)
	var list []span
	for i := 1; i < len(at); i++ {
		if at[i] <= at[i-1] || c.distance(t.at((at[i-1]+at[i])/2)) >= r-noise {
			continue
		}
		if n := len(list); n > 0 && list[n-1].to == at[i-1] {
			list[n-1].to = at[i]
		} else {
			list = append(list, span{at[i-1], at[i]})
		}
	}
	return list
}

// deep reports whether a stretch of t that is nearer than r to c is so by more than
// depth. Five places are looked at, of which the middle is the deepest as a rule.
func deep(t, c *curve, r float64, s span) bool {
	for _, k := range [5]float64{0.5, 0, 1, 0.25, 0.75} {
		if c.distance(t.at(s.from+k*(s.to-s.from))) < r-depth {
			return true
		}
	}
	return false
}

package drawing

import (
	"math"

	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// run is a piece that takes part in joining; its path has no segment without
// length.
type run struct {
	piece  int
	path   []outline.Vertex
	closed bool
}

// length returns the length of the chords of r.
func (r run) length() float64 {
	sum := 0.0
	for i := range r.segments() {
		a, b := r.ends(i)
		sum += apart(a, b)
	}
	return sum
}

// segments returns how many segments r has.
func (r run) segments() int {
	if r.closed {
		return len(r.path)
	}
	return len(r.path) - 1
}

// ends returns the ends of a segment.
func (r run) ends(i int) (a, b geom.Point) { return r.path[i].At, r.path[(i+1)%len(r.path)].At }

// apart returns the distance of two points.
func apart(a, b geom.Point) float64 { return math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y)) }

// distinct returns the runs without those that have no length and those that were
// drawn before, as a whole or as segments of others; each is reported.
func (s *study) distinct(runs []run) []run {
	var kept []run
	drawn := map[segment]int{} // the piece that drew it
	var singles likeness
	for _, r := range runs {
		r, ok := tidy(r)
		if !ok {
			s.warnPiece(r.piece, "has no length"+s.where(r)+"; it is left out", "take it out of the drawing")
			continue
		}
		twin, again := 0, true
		for i := range r.segments() {
			first, ok := drawn[segmentOf(r, i)]
			if !ok {
				again = false
				break
			}
			if i == 0 {
				twin = first
			}
		}
		if !again && r.segments() == 1 {
			twin, again = singles.find(r, s.opt.Tolerance)
		}
		if again {
			s.warnPiece(r.piece, "is drawn twice, from "+s.d.place(r.path[0].At)+": "+s.other(twin)+" lies at the same place; it is left out",
				"take one of them out of the drawing")
			continue
		}
		for i := range r.segments() {
			if k := segmentOf(r, i); !has(drawn, k) {
				drawn[k] = r.piece
			}
		}
		kept = append(kept, r)
	}
	return kept
}

func has(m map[segment]int, k segment) bool { _, ok := m[k]; return ok }

// where tells the place of a run, if it has one.
func (s *study) where(r run) string {
	if len(r.path) == 0 {
		return ""
	}
	return " at " + s.d.place(r.path[0].At)
}

// warnPiece reports a warning at a piece.
func (s *study) warnPiece(piece int, fact, remedy string) {
	src := s.d.Pieces[piece].Source
	src.Entity = s.label(piece)
	s.warn(src, fact, remedy)
}

// tidy returns r without segments that have no length, closed if it ends where it
// began; it reports whether anything is left.
func tidy(r run) (run, bool) {
	if len(r.path) == 0 {
		return r, false
	}
	out := run{piece: r.piece, closed: r.closed, path: make([]outline.Vertex, 0, len(r.path))}
	for _, v := range r.path {
		if n := len(out.path); n > 0 && out.path[n-1].At == v.At {
			out.path[n-1] = v // the segment between them has no length
			continue
		}
		out.path = append(out.path, v)
	}
	n := len(out.path)
	if n > 2 && out.path[0].At == out.path[n-1].At {
		out.path, out.closed = out.path[:n-1], true
	}
	if len(out.path) < 2 {
		return r, false
	}
	return out, true
}

// segment is a line or an arc whichever way it was drawn: an arc is told by how
// far its middle is off its chord.
type segment struct {
	a, b geom.Point
	rise length.Length
}

func segmentOf(r run, i int) segment {
	a, b := r.ends(i)
	// A bulge may be any number: what is beyond a job's lengths is cut off.
	rise := math.Round(r.path[i].Bulge * apart(a, b) / 2)
	const far = float64(4 * length.Max)
	rise = max(-far, min(rise, far))
	if b.Less(a) {
		a, b, rise = b, a, -rise
	}
	return segment{a, b, length.Length(rise)}
}

// likeness finds runs of one segment that are the same but for the tolerance, by
// the middle of their chords.
type likeness struct {
	runs []run
	grid grid
}

// find returns the piece of an earlier run that r is like; if there is none, r is
// kept for those that follow.
func (l *likeness) find(r run, tolerance length.Length) (int, bool) {
	l.grid.size = tolerance
	p := segmentOf(r, 0)
	mid := geom.Pt((p.a.X+p.b.X)/2, (p.a.Y+p.b.Y)/2)
	found := none
	l.grid.near(mid, func(i int) {
		q := segmentOf(l.runs[i], 0)
		straight, turned := max(apart(p.a, q.a), apart(p.b, q.b)), max(apart(p.a, q.b), apart(p.b, q.a))
		within := float64(tolerance)
		// A line of no more than the tolerance joins others; it is not their twin.
		if apart(p.a, p.b) <= within {
			return
		}
		if straight <= within && math.Abs(float64(p.rise-q.rise)) <= within ||
			turned <= within && math.Abs(float64(p.rise+q.rise)) <= within {
			found = l.runs[i].piece
		}
	})
	if found != none {
		return found, true
	}
	l.grid.add(mid, len(l.runs))
	l.runs = append(l.runs, r)
	return 0, false
}

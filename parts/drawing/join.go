package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// step is a run of a loop, and whether it is passed from its last point to its
// first.
type step struct {
	run
	back bool
}

// joints is the state of joining. The ends of the open run i are 2i, where it
// begins, and 2i+1.
type joints struct {
	s    *study
	runs []run        // the open ones
	at   []geom.Point // where an end is, moved to the joint
	mate []int        // the end it is joined to, none, or branch
}

// branch is the mate of an end at a place where more than two meet.
const branch = -2

// join returns the closed loops of the runs, in the order of their first runs, and
// reports branches and open ends. Time O(n log n).
func (s *study) join(runs []run) []*loop {
	j := joints{s: s}
	var loops []*loop
	for _, r := range runs {
		if r.closed {
			loops = append(loops, &loop{first: r.piece, runs: []step{{run: r}}})
			continue
		}
		j.runs = append(j.runs, r)
		j.at = append(j.at, r.path[0].At, r.path[len(r.path)-1].At)
		j.mate = append(j.mate, none, none)
	}
	j.exact()
	j.nearest()
	loops = append(loops, j.loops()...)
	j.open()
	return loops
}

// exact joins ends at the same place.
func (j *joints) exact() {
	order := make([]int, len(j.at))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(e, f int) int {
		p, q := j.at[e], j.at[f]
		return cmp.Or(cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y), cmp.Compare(e, f))
	})
	for i := 0; i < len(order); {
		k := i + 1
		for k < len(order) && j.at[order[k]] == j.at[order[i]] {
			k++
		}
		switch here := order[i:k]; {
		case len(here) == 2:
			j.mate[here[0]], j.mate[here[1]] = here[1], here[0]
		case len(here) > 2:
			j.branches(here, "at ")
		}
		i = k
	}
}

// branches reports ends that meet where only two may.
func (j *joints) branches(ends []int, where string) {
	slices.Sort(ends)
	var names []string
	for _, e := range ends {
		if m := j.mate[e]; m >= 0 {
			j.mate[m] = branch
		}
		j.mate[e] = branch
		names = append(names, j.s.other(j.runs[e/2].piece))
	}
	const most = 6
	if n := len(names); n > most {
		names = append(names[:most], fmt.Sprintf("%d more", n-most))
	}
	first := ends[0]
	j.s.mistake(j.runs[first/2].piece, fmt.Sprintf("%d ends meet %s%s: %s", len(ends), where, j.s.d.place(j.at[first]), strings.Join(names, "; ")),
		"an outline passes a place once: take out the piece that does not belong to it, or put it on a layer that is ignored")
}

// nearest joins the ends left over within the tolerance, the nearest first.
func (j *joints) nearest() {
	var loose []int
	for e, m := range j.mate {
		if m == none {
			loose = append(loose, e)
		}
	}
	if len(loose) == 0 {
		return
	}
	tolerance := j.s.opt.Tolerance
	far, lengths := j.chains(loose)
	type pair struct {
		d2   int64
		e, f int
	}
	var pairs []pair
	g := grid{size: tolerance}
	for _, e := range loose {
		g.near(j.at[e], func(f int) {
			d := j.at[e].Sub(j.at[f])
			if d2 := d.Dot(d); d2 <= int64(tolerance)*int64(tolerance) {
				// The ends of a chain no longer than this are no loop.
				if far[e] != f || lengths[e] > 2*float64(tolerance) {
					pairs = append(pairs, pair{d2, f, e})
				}
			}
		})
		g.add(j.at[e], e)
	}
	slices.SortFunc(pairs, func(a, b pair) int {
		return cmp.Or(cmp.Compare(a.d2, b.d2), cmp.Compare(a.e, b.e), cmp.Compare(a.f, b.f))
	})
	moved := map[int]geom.Point{}
	for _, p := range pairs {
		if j.mate[p.e] == none && j.mate[p.f] == none {
			j.mate[p.e], j.mate[p.f] = p.f, p.e
			at := j.meeting(p.e, p.f)
			moved[p.e], moved[p.f] = at, at
		}
	}
	j.crowded(loose, far, lengths)
	for e, p := range moved { // in any order: each end is moved once
		j.at[e] = p
	}
}

// chains returns, for each loose end, the other end of what is joined to it so far,
// and how long that is.
func (j *joints) chains(loose []int) (far map[int]int, lengths map[int]float64) {
	far, lengths = map[int]int{}, map[int]float64{}
	for _, e := range loose {
		if _, ok := far[e]; ok {
			continue
		}
		sum, f := 0.0, e
		for {
			sum += j.runs[f/2].length()
			f ^= 1
			if j.mate[f] < 0 {
				break
			}
			f = j.mate[f]
		}
		far[e], lengths[e] = f, sum
		if j.mate[f] == none {
			far[f], lengths[f] = e, sum
		}
	}
	return far, lengths
}

// crowded looks at the ends that are still loose: a chain no longer than the
// tolerance is left out, and an end within the tolerance of joined ones makes a
// branch with them.
func (j *joints) crowded(loose []int, far map[int]int, lengths map[int]float64) {
	tolerance := float64(j.s.opt.Tolerance)
	var all grid
	for _, e := range loose {
		if j.mate[e] != none {
			continue
		}
		if f := far[e]; f != e && j.mate[f] == none && lengths[e] <= tolerance {
			j.mate[e], j.mate[f] = branch, branch // not to be reported as open
			j.s.warnPiece(j.runs[e/2].piece, "is no longer than the tolerance and joins nothing, at "+j.s.d.place(j.at[e])+"; it is left out", "take it out of the drawing")
			continue
		}
		if all.cells == nil {
			all.size = j.s.opt.Tolerance
			for f := range j.at {
				all.add(j.at[f], f)
			}
		}
		here := []int{e}
		all.near(j.at[e], func(f int) {
			if f != e && f != far[e] && apart(j.at[e], j.at[f]) <= tolerance {
				here = append(here, f)
			}
		})
		if len(here) > 2 {
			j.branches(here, fmt.Sprintf("within %s of ", j.s.d.distance(tolerance)))
		}
	}
}

// meeting returns where two ends within the tolerance are joined; see the package
// comment.
func (j *joints) meeting(e, f int) geom.Point {
	p, q := j.direction(e), j.direction(f)
	straight := [2]bool{p != geom.Point{}, q != geom.Point{}}
	switch {
	case straight[0] && straight[1]:
		if at, ok := j.produced(e, f, p, q); ok {
			return at
		}
	case straight[0]:
		return j.at[e]
	case straight[1]:
		return j.at[f]
	}
	if j.runs[e/2].piece < j.runs[f/2].piece {
		return j.at[e]
	}
	return j.at[f]
}

// direction returns the vector along the line that ends at e, or zero when it is
// an arc.
func (j *joints) direction(e int) geom.Point {
	path := j.runs[e/2].path
	i := 0 // the segment at the end
	if e%2 == 1 {
		i = len(path) - 2
	}
	if math.Abs(path[i].Bulge) > 0 {
		return geom.Point{}
	}
	return path[i+1].At.Sub(path[i].At)
}

// produced returns where the lines through two ends meet, if that is within the
// tolerance of both.
func (j *joints) produced(e, f int, p, q geom.Point) (geom.Point, bool) {
	den := float64(p.Cross(q))
	if den == 0 {
		return geom.Point{}, false
	}
	t := float64(j.at[f].Sub(j.at[e]).Cross(q)) / den
	x, y := t*float64(p.X), t*float64(p.Y)
	within := float64(j.s.opt.Tolerance)
	if !(math.Hypot(x, y) < 2*within) { // the lines are all but parallel
		return geom.Point{}, false
	}
	at := j.at[e].Add(geom.Pt(length.Length(math.Round(x)), length.Length(math.Round(y))))
	return at, apart(at, j.at[e]) <= within && apart(at, j.at[f]) <= within
}

// loops returns the loops of joined runs.
func (j *joints) loops() []*loop {
	var loops []*loop
	done := make([]bool, len(j.runs))
	for i := range j.runs {
		if done[i] {
			continue
		}
		// Follow the run from its end; a chain is also followed from its beginning,
		// so that it is passed once.
		l := &loop{first: j.runs[i].piece}
		closed := j.follow(2*i, done, l)
		if !closed {
			if m := j.mate[2*i]; m >= 0 {
				j.follow(m, done, l)
			}
			s := j.s
			for _, st := range l.runs {
				s.spoil(frameOf(st.path))
			}
			continue
		}
		loops = append(loops, l)
	}
	return loops
}

// follow adds the runs of l, entered at the end e, until it is back at a run that
// is done, and reports whether that closed the loop.
func (j *joints) follow(e int, done []bool, l *loop) bool {
	for start := e; ; {
		i := e / 2
		done[i] = true
		l.first = min(l.first, j.runs[i].piece)
		l.runs = append(l.runs, step{j.moved(i), e%2 == 1})
		e = j.mate[e^1]
		if e < 0 || e == start {
			return e == start
		}
	}
}

// moved returns a run with its ends where they are joined.
func (j *joints) moved(i int) run {
	r := j.runs[i]
	n := len(r.path) - 1
	if r.path[0].At == j.at[2*i] && r.path[n].At == j.at[2*i+1] {
		return r
	}
	r.path = slices.Clone(r.path)
	r.path[0].At, r.path[n].At = j.at[2*i], j.at[2*i+1]
	return r
}

// corners returns the vertices of a loop with the piece of each segment.
func (l *loop) corners() (outline.Outline, []int) {
	var o outline.Outline
	var from []int
	for _, st := range l.runs {
		path := st.path
		if st.back {
			path = reversed(path)
		}
		if !st.closed {
			path = path[:len(path)-1]
		}
		for _, v := range path {
			o, from = append(o, v), append(from, st.piece)
		}
	}
	return o, from
}

// reversed returns an open path run the other way round.
func reversed(path []outline.Vertex) []outline.Vertex {
	n := len(path)
	out := make([]outline.Vertex, n)
	for i, v := range path {
		out[n-1-i].At = v.At
		if i < n-1 {
			out[n-2-i].Bulge = -v.Bulge
		}
	}
	return out
}

package toolpath

import (
	"math"
	"slices"

	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// Kind says what a path frees.
type Kind int

// The kinds of path. A Pocket is a part of the waste round a panel that the bit does
// not reach from outside, behind a throat that is narrower than it.
const (
	Opening Kind = iota
	Pocket
	Outline
)

// String returns the word for a kind of path.
func (k Kind) String() string { return [...]string{"opening", "pocket", "outline"}[k] }

// Path is one run of the bit's centre.
type Path struct {
	Kind    Kind
	Panel   string
	Copy    int    // on a sheet; 0 before it is placed
	Opening string // name of the opening; empty for the others
	Small   bool   // the panel is one that comes loose easily: see [IsSmall]
	// Line is the run: lines and arcs by bulge, in the direction of travel. Closed, it
	// returns to its first vertex; open, the bulge of the last vertex means nothing. A
	// single vertex is a hole that is drilled.
	Line   []outline.Vertex
	Closed bool
	// Lead is where the bit comes down and runs to the first vertex of Line, Exit how
	// it leaves a closed path: quarter arcs on the waste side, nil where there is no
	// room. Without a Lead the bit goes down along the first Ramp of Line; when that
	// is 0, straight down.
	Lead, Exit []outline.Vertex
	Ramp       length.Length
	Depths     []length.Length // of the passes, below the top of the sheet
	Tabs       []Tab           // in their order along Line
	Skin       length.Length   // what the last but one pass leaves; 0 for none
	Reliefs    []geom.Point    // vertices of Line at which the bit frees an inside corner
}

// Tab is a stretch of a path in which the bit goes no deeper than Depth, with From and
// To along the path from its start. It is longer than the bridge that it leaves by the
// diameter of the bit.
type Tab struct{ From, To, Depth length.Length }

// Paths are the paths of one panel, the openings first.
type Paths struct {
	Bit       length.Length // diameter
	Thickness length.Length
	Outline   outline.Outline // of the panel at its cut size
	Openings  []outline.Outline
	List      []Path
	Shut      []int // openings that the bit does not enter at all
}

// MaxVertices is how many vertices a panel with its openings may have.
const MaxVertices = 20_000

// Of returns the paths of an item for a router, in the item's frame. The thickness is
// the measured one of its board. The list warns of what the bit leaves or does not
// enter; what [kerf.Build] has warned of is not said again. A mistake is a panel of
// more than [MaxVertices], or one for which no path was found. Cost: a panel of 10,000
// vertices took 0.05 to 0.4 s on one core, the most where all of it lies within the
// bit's radius.
func Of(it *kerf.Item, router parts.Router, thickness length.Length) (Paths, diag.List) {
	router = router.Filled()
	ps := Paths{Bit: router.Bit.EvenUp(), Thickness: thickness, Outline: it.CutOutline, Openings: it.CutOpenings}
	f := &finder{item: it, router: router, paths: &ps, r: float64(ps.Bit / 2)}
	n := len(it.CutOutline)
	for _, o := range it.CutOpenings {
		n += len(o)
	}
	switch {
	case n > MaxVertices:
		f.list.Add(it.Panel.Pos, f.part(), "it has more than 20,000 vertices, too many for a tool path", "draw it with arcs, or with fewer points")
		return ps, f.list
	case ps.Bit <= 0:
		f.list.Add(router.Pos, "router", "a bit without width has no tool path", "give the diameter of the bit")
		return ps, f.list
	}
	outer := newWall(it.CutOutline)
	f.walls = []*wall{outer}
	for _, o := range it.CutOpenings {
		f.walls = append(f.walls, newWall(o.Reversed()))
	}
	for i, w := range f.walls[1:] {
		f.opening(i, w)
	}
	f.outline(outer)
	return ps, f.list
}

// finder works out the paths of one item.
type finder struct {
	item   *kerf.Item
	router parts.Router
	paths  *Paths
	r      float64 // radius of the bit
	walls  []*wall // the outline, then the openings
	list   diag.List
}

// opening adds the paths of opening i.
func (f *finder) opening(i int, w *wall) {
	op := &f.item.Panel.Openings[i]
	loops, left := f.run(w, op.Relief)
	f.report(op.Pos, "opening \""+op.Name+"\"", op.Relief, left)
	if len(loops) == 0 {
		f.paths.Shut = append(f.paths.Shut, i)
		f.closed(i)
	}
	for _, l := range loops {
		f.add(Path{Kind: Opening, Opening: op.Name, Line: l.line, Closed: l.closed, Reliefs: l.reliefs}, w)
	}
}

// outline adds the paths of the outline: pockets, then the outer loop.
func (f *finder) outline(w *wall) {
	p := f.item.Panel
	loops, left := f.run(w, p.Relief)
	f.report(p.Pos, "the outline", p.Relief, left)
	outer := -1
	for i, l := range loops {
		if l.closed && (outer < 0 || outline.Outline(l.line).Area2() > outline.Outline(loops[outer].line).Area2()) {
			outer = i
		}
	}
	if outer < 0 || outline.Outline(loops[outer].line).Area2() <= 0 {
		f.list.Add(p.Pos, f.part(), "no path round its outline was found", "check the outline for parts that nearly touch, and report it")
		return
	}
	for i, l := range loops {
		if i != outer {
			f.add(Path{Kind: Pocket, Line: l.line, Closed: l.closed, Reliefs: l.reliefs}, w)
		}
	}
	f.add(Path{Kind: Outline, Line: loops[outer].line, Closed: true, Reliefs: loops[outer].reliefs}, w)
}

// loop is a run of the bit on the grid, the board on its left.
type loop struct {
	line    []outline.Vertex
	closed  bool
	reliefs []geom.Point
}

// run returns the loops that free a wall, and what they leave of it.
func (f *finder) run(w *wall, how parts.Relief) ([]loop, leftover) {
	var left leftover
	var list []loop
	tracks, loops, dots, lost := w.offset(f.r)
	left.lost = lost
	for _, pieces := range loops {
		var chain []curve
		var reliefs []geom.Point
		for k := range pieces {
			p, q := &pieces[(k+len(pieces)-1)%len(pieces)], &pieces[k]
			if g, ok := w.gap(tracks, p, q, f.r); ok {
				relieved := false
				if g.kind == corner && how != parts.NoRelief {
					var to vec
					if to, relieved = w.relieve(g, how, f.r, f.walls); relieved {
						at := mid(p.b, q.a)
						chain = append(chain, line(at, to), line(to, at))
						reliefs = append(reliefs, round(to))
					}
				}
				if !relieved {
					left.note(w, g)
				}
			}
			chain = append(chain, q.curve)
		}
		if v := onGrid(chain); len(v) > 1 {
			l := folded(v)
			l.reliefs = reliefs
			list = append(list, l)
		}
	}
	for _, d := range dots {
		covered := slices.ContainsFunc(loops, func(pieces []piece) bool {
			return slices.ContainsFunc(pieces, func(p piece) bool { return p.distance(d) <= 2*loose })
		})
		if !covered && !slices.ContainsFunc(list, func(l loop) bool { return len(l.line) == 1 && near(l.line[0].At, d) }) {
			list = append(list, loop{line: []outline.Vertex{{At: round(d)}}})
		}
	}
	return list, left
}

// near reports whether two places are the same but for the tolerance.
func near(p geom.Point, q vec) bool { return exactly(p).to(q) <= 2*loose }

func exactly(p geom.Point) vec { return vec{float64(p.X), float64(p.Y)} }

func round(p vec) geom.Point {
	return geom.Pt(length.Length(math.Round(p.x)), length.Length(math.Round(p.y)))
}

// onGrid returns a closed chain of curves as vertices on the grid, joined half way
// between the ends that meet. An arc keeps its angle and is parted so that none is of
// more than half a turn: moving its ends by less than a unit then moves it by about
// as much.
func onGrid(chain []curve) []outline.Vertex {
	var list []outline.Vertex
	add := func(p vec, bulge float64) {
		at := round(p)
		if n := len(list); n > 0 && list[n-1].At == at {
			n--
			list[n].Bulge = bulge // what led here has no length on the grid
			return
		}
		list = append(list, outline.Vertex{At: at, Bulge: bulge})
	}
	for k := range chain {
		c := &chain[k]
		start := mid(chain[(k+len(chain)-1)%len(chain)].b, c.a)
		if !c.arc {
			add(start, 0)
			continue
		}
		n := int(math.Ceil(math.Abs(c.sweep)/math.Pi - 1e-9))
		for i := range n {
			if i > 0 {
				start = c.at(c.len * float64(i) / float64(n))
			}
			add(start, math.Tan(c.sweep/float64(n)/4))
		}
	}
	if n := len(list); n > 1 && list[n-1].At == list[0].At {
		list = list[:n-1]
	}
	return list
}

// folded returns a loop, as an open line when it runs along a line and back on it, as
// in a slot that is just as wide as the bit.
func folded(v []outline.Vertex) loop {
	const most = 64 // longer ones are left as they are: only time is lost
	n := len(v)
	if n%2 != 0 || n > most {
		return loop{line: v, closed: true}
	}
	for k := range n {
		same := true
		for i := 0; i < n/2 && same; i++ {
			// Segment k+i and the one that undoes it.
			p, q := &v[(k+i)%n], &v[(k+n-1-i)%n]
			same = math.Abs(p.Bulge+q.Bulge) < 1e-3 && near(v[(k+i)%n].At, exactly(v[(k+n-i)%n].At))
		}
		if same {
			line := make([]outline.Vertex, n/2+1)
			for i := range line {
				line[i] = v[(k+i)%n]
			}
			line[n/2].Bulge = 0
			return loop{line: line}
		}
	}
	return loop{line: v, closed: true}
}

package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// The limits of a drawing, and its defaults (common practice, no source).
const (
	MaxVertices  = 10_000    // of an outline
	MaxSegments  = 1_000_000 // of all pieces
	MaxPairs     = 2_000_000 // of loops whose boxes overlap
	MaxName      = 200       // characters
	MaxTolerance = 10 * length.Millimetre

	// maxPieceBulge is beyond that of any arc that parts/outline takes.
	maxPieceBulge = 1e6

	DefaultTolerance = 50 * length.Micrometre
	DefaultArcs      = 50 * length.Micrometre
)

// Options say how a drawing becomes panels. The zero Options are the defaults.
type Options struct {
	Layers       []Rule
	Tolerance    length.Length // up to which ends are joined; DefaultTolerance if 0
	Arcs         length.Length // within which segments become arcs; DefaultArcs if 0
	KeepSegments bool          // no segments become arcs
}

// Panel is a panel of a drawing, where it was drawn.
type Panel struct {
	Loop
	Openings []Loop
}

// Loop is a closed outline, counter-clockwise. Source and layer are those of the
// piece of it that was drawn first.
type Loop struct {
	Source
	Name       string
	Named      bool // by a text in the drawing; else it is numbered
	Layer      string
	Outline    outline.Outline
	Recognised Recognised
}

// Panels returns the panels of a drawing in the order in which their first pieces
// were drawn, their names unique, or no panels when the list holds a mistake. The
// list is sorted by place and holds at most [diag.MaxFindings] and a line that says so.
func Panels(d *Drawing, opt Options) ([]Panel, diag.List) {
	s := &study{d: d, opt: opt}
	var panels []Panel
	if s.allowed() {
		panels = s.panels()
	}
	list := s.list.Listed(d.File)
	if list.Err() != nil {
		return nil, list
	}
	return panels, list
}

// allowed fills in the defaults and reports whether options and drawing are within
// the limits.
func (s *study) allowed() bool {
	for _, t := range []struct {
		name  string
		value *length.Length
		def   length.Length
	}{
		{"joining", &s.opt.Tolerance, DefaultTolerance},
		{"arcs", &s.opt.Arcs, DefaultArcs},
	} {
		if *t.value == 0 {
			*t.value = t.def
		}
		if *t.value < 0 || *t.value > MaxTolerance {
			s.list.Add(s.pos(Source{}), "", fmt.Sprintf("the tolerance of %s is %v", t.name, *t.value), fmt.Sprintf("give one above 0, up to %v", MaxTolerance))
			return false
		}
	}
	segments := 0
	for i, p := range s.d.Pieces {
		segments += len(p.Path)
		for _, v := range p.Path {
			if max(v.At.X.Abs(), v.At.Y.Abs()) > length.Max {
				s.mistake(i, "lies further than 33.5 m from the origin, at "+s.d.place(v.At), "move the drawing to its origin")
				return false
			}
			if !(math.Abs(v.Bulge) < maxPieceBulge) {
				s.mistake(i, fmt.Sprintf("has an arc with the bulge %g at %s", v.Bulge, s.d.place(v.At)), "draw the arc again, a full circle as a circle")
				return false
			}
		}
	}
	if segments > MaxSegments {
		s.list.Add(s.pos(Source{}), "", fmt.Sprintf("the drawing has %d segments, %d at most", segments, MaxSegments), "split the drawing, or draw curves with fewer points")
		return false
	}
	return true
}

// panels does the work.
func (s *study) panels() []Panel {
	pieces, texts := s.selected()
	var loops []*loop
	for role, runs := range pieces {
		for _, l := range s.join(s.distinct(runs)) {
			l.role = Role(role)
			if s.shape(l) {
				loops = append(loops, l)
			}
		}
	}
	slices.SortFunc(loops, func(a, b *loop) int { return cmp.Compare(a.first, b.first) })
	n := s.nest(loops)
	if n == nil {
		return nil
	}
	s.name(n, texts)
	return n.panels(s)
}

// loop is a closed loop on its way to a panel or an opening.
type loop struct {
	role       Role
	runs       []step
	first      int // the lowest index of its pieces
	outline    outline.Outline
	from       []int // the piece of each segment
	recognised Recognised
	parent     *loop // the innermost loop around it
	depth      int   // how many loops are around it
	texts      []int // the texts of which it is the innermost loop
	name       string
	area       float64
	box        geom.Box
}

// opening reports whether a loop that is nested in others is an opening.
func (l *loop) opening() bool { return l.depth%2 == 1 }

// out returns what is told of a loop.
func (l *loop) out(s *study) Loop {
	p := &s.d.Pieces[l.first]
	return Loop{
		Source: p.Source, Layer: p.Layer, Name: l.name, Named: len(l.texts) > 0,
		Outline: l.outline, Recognised: l.recognised,
	}
}

package drawing

import (
	"errors"
	"fmt"
	"slices"

	"panelyard/parts/geom"
	"panelyard/parts/outline"
)

// frame is a box taken with its edges; it may have no width or height.
type frame geom.Box

func frameOf(path []outline.Vertex) frame {
	return frame(outline.Outline(path).Box())
}

// holds reports whether b lies in f.
func (f frame) holds(b geom.Box) bool { return geom.Box(f).Contains(b) }

// spoil notes boxes of what could not be made a loop, the last ones as one box when
// there are very many.
func (s *study) spoil(frames ...frame) {
	const most = 1000
	for _, f := range frames {
		if n := len(s.broken); n < most {
			s.broken = append(s.broken, f)
		} else {
			b := &s.broken[n-1]
			b.Min = geom.Pt(min(b.Min.X, f.Min.X), min(b.Min.Y, f.Min.Y))
			b.Max = geom.Pt(max(b.Max.X, f.Max.X), max(b.Max.Y, f.Max.Y))
		}
	}
}

// shape makes the outline of a loop and reports whether it is one.
func (s *study) shape(l *loop) bool {
	o, from := tidyLoop(l.corners())
	if len(o) > 1 && o.Area2() < 0 {
		o = o.Reversed()
		// Segment i of the reverse is segment n-1-i.
		slices.Reverse(from)
	}
	l.outline, l.from = o, from
	err := o.Validate()
	if err == nil && !s.opt.KeepSegments {
		within := make([]float64, len(o)) // of each segment
		for i, p := range from {
			within[i] = float64(s.opt.Arcs)
			if w := s.d.Pieces[p].Within; w > 0 {
				within[i] = min(within[i], float64(w))
			}
		}
		if round, keep, r := arcs(o, within); r.Arcs > 0 && round.Validate() == nil {
			l.outline, l.recognised = round, r
			l.from = make([]int, len(keep))
			for i, k := range keep {
				l.from[i] = from[k]
			}
		}
	}
	if n := len(l.outline); err == nil && n > MaxVertices {
		s.mistake(l.first, fmt.Sprintf("the outline has %d corners, %d at most", n, MaxVertices), "draw it with fewer, or with arcs")
		return false
	}
	if err != nil {
		s.fault(l, err)
		s.spoil(frameOf(o))
		return false
	}
	l.area = l.outline.AreaMM2()
	l.box = l.outline.Box()
	return true
}

// fault reports what is wrong with the outline of a loop.
func (s *study) fault(l *loop, err error) {
	piece, where := l.first, ""
	if f := new(outline.Fault); errors.As(err, &f) && f.A >= 0 {
		piece = l.from[f.A]
		where = " at " + s.d.place(f.At)
		if f.B >= 0 && l.from[f.B] != piece {
			where += ", where it meets " + s.other(l.from[f.B])
		}
	}
	remedy := "draw one closed line that does not meet itself"
	switch {
	case errors.Is(err, outline.ErrCrosses):
		remedy = "draw an outline that passes each place once; put construction lines on a layer that is ignored"
	case errors.Is(err, outline.ErrTooFine):
		remedy = "draw it with fewer or smaller arcs"
	case errors.Is(err, outline.ErrTooLarge):
		remedy = "check the unit of the drawing, and move it to its origin"
	}
	s.mistake(piece, err.Error()+where, remedy)
}

// tidyLoop returns a loop without segments that have no length and without corners
// in the middle of a straight line; from is the piece of each segment.
func tidyLoop(o outline.Outline, from []int) (outline.Outline, []int) {
	var out outline.Outline
	var of []int
	n := len(o)
	for i, v := range o {
		if v.At != o[(i+1)%n].At {
			out, of = append(out, v), append(of, from[i])
		}
	}
	o, from, n = out, of, len(out)
	if n < 4 {
		return o, from
	}
	out, of = nil, nil
	for i, v := range o {
		before := o[(i+n-1)%n]
		a, b := before.At, o[(i+1)%n].At
		if before.Bulge == 0 && v.Bulge == 0 && geom.Orient(a, v.At, b) == geom.Collinear && v.At.Sub(a).Dot(b.Sub(v.At)) > 0 {
			continue
		}
		out, of = append(out, v), append(of, from[i])
	}
	return out, of
}

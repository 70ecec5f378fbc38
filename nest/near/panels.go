package near

import (
	"fmt"
	"slices"

	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// trims returns the changes of the trim of one edge. Opposite edges with the same trim
// are alike: one of them stands for both.
func (s *search) trims() []candidate {
	var list []candidate
	for i := range s.job.Stock {
		st := &s.job.Stock[i]
		for _, e := range []struct {
			name  string
			of    func(*parts.Trim) *length.Length
			other func(*parts.Trim) *length.Length
		}{
			{"the left end", left, nil},
			{"the right end", right, left},
			{"the bottom edge", bottom, nil},
			{"the top edge", top, bottom},
		} {
			from := *e.of(&st.Trim)
			if from == 0 || e.other != nil && *e.other(&st.Trim) == from {
				continue
			}
			c := candidate{
				Change:  Change{Kind: Trim, Of: fmt.Sprintf("trim of %s of %q", e.name, st.Name), Material: st.Material, From: from, Pos: st.Pos},
				amounts: steps(step(s.job), from),
			}
			if n := len(c.amounts); n == 0 || c.amounts[n-1] != from {
				c.amounts = append(c.amounts, from) // none at all
			}
			c.most = len(c.amounts)
			c.job = func(n int) (*parts.Job, error) {
				job := *s.job
				job.Stock = slices.Clone(job.Stock)
				*e.of(&job.Stock[i].Trim) = from - c.amounts[n-1]
				return &job, nil
			}
			list = append(list, c)
		}
	}
	return list
}

func left(t *parts.Trim) *length.Length   { return &t.Left }
func right(t *parts.Trim) *length.Length  { return &t.Right }
func bottom(t *parts.Trim) *length.Length { return &t.Bottom }
func top(t *parts.Trim) *length.Length    { return &t.Top }

// maxCopies bounds how many copies of a panel are changed.
const maxCopies = 2

// grains returns the changes that free the grain of a panel.
func (s *search) grains() []candidate {
	var list []candidate
	for i := range s.job.Panels {
		p := &s.job.Panels[i]
		if p.Grain == parts.NoAxis || !s.job.Material(p.Material).Grained {
			continue
		}
		list = append(list, s.ofCopies(i, Change{Kind: Grain, Of: fmt.Sprintf("grain of panel %q", p.Name)}, func(p parts.Panel) []parts.Panel {
			p.Name += ", grain free"
			p.Grain = parts.NoAxis
			return []parts.Panel{p}
		}))
	}
	return list
}

// leastPiece is the least side of a piece that a panel is joined from (ours), and
// leastJoined the least length of a panel that is worth joining.
const (
	leastPiece  = 80 * length.Millimetre
	leastJoined = 400 * length.Millimetre
)

// joins returns the changes that join a rectangular panel from two pieces, at half its
// width or half its length.
func (s *search) joins() []candidate {
	var list []candidate
	for i := range s.job.Panels {
		p := &s.job.Panels[i]
		size := p.Size()
		if !p.Outline.IsRectangle() || p.Bend != nil || max(size.X, size.Y) < leastJoined {
			continue
		}
		for _, w := range []struct {
			name   string
			across bool // the joint runs across the panel's length
		}{{"joined along its length", false}, {"joined across its length", true}} {
			a, b, ok := halves(p, w.across)
			if !ok {
				continue
			}
			how := w.name
			if w.across && p.Grain == parts.AlongLength || !w.across && p.Grain == parts.AlongWidth {
				how += ", across the grain" // it shows, and holds less
			}
			list = append(list, s.ofCopies(i, Change{Kind: Join, Of: fmt.Sprintf("panel %q, %s", p.Name, how)}, func(p parts.Panel) []parts.Panel {
				a.Quantity, b.Quantity = p.Quantity, p.Quantity
				return []parts.Panel{a, b}
			}))
		}
	}
	return list
}

// ofCopies returns the change of some copies of a panel, which others take the place of.
func (s *search) ofCopies(i int, ch Change, change func(parts.Panel) []parts.Panel) candidate {
	p := s.job.Panels[i]
	ch.Material, ch.Pos = p.Material, p.Pos
	return candidate{Change: ch, most: min(p.Quantity, maxCopies), job: func(n int) (*parts.Job, error) {
		job := *s.job
		job.Panels = slices.Clone(job.Panels[:i])
		if stay := p; p.Quantity > n {
			stay.Quantity -= n
			job.Panels = append(job.Panels, stay)
		}
		some := p
		some.Quantity, some.Numbers, some.Of = n, nil, 0
		job.Panels = append(append(job.Panels, change(some)...), s.job.Panels[i+1:]...)
		return &job, nil
	}}
}

// halves returns the two pieces that a rectangular panel is joined from. It reports false
// where an opening is in the way or a piece would be too small.
func halves(p *parts.Panel, across bool) (a, b parts.Panel, ok bool) {
	box := p.Outline.Box()
	first, second := box, box
	if across {
		first.Max.X = box.Min.X + box.Dx()/2
		second.Min.X = first.Max.X
	} else {
		first.Max.Y = box.Min.Y + box.Dy()/2
		second.Min.Y = first.Max.Y
	}
	if a, ok = piece(p, first); !ok {
		return a, b, false
	}
	if b, ok = piece(p, second); !ok || len(a.Openings)+len(b.Openings) < len(p.Openings) {
		return a, b, false
	}
	a.Name, b.Name = p.Name+", piece 1", p.Name+", piece 2"
	return a, b, true
}

// piece returns what lies in a box of a rectangular panel: its edge bands where the box is
// at the panel's edge, and the openings that lie in it.
func piece(p *parts.Panel, box geom.Box) (parts.Panel, bool) {
	q := *p
	size := box.Size()
	if min(size.X, size.Y) < leastPiece {
		return q, false
	}
	q.Outline = outline.Rectangle(size.X, size.Y)
	whole := p.Outline.Box()
	// The sides in the order of an outline: bottom, right, top, left.
	at := [4]bool{box.Min.Y == whole.Min.Y, box.Max.X == whole.Max.X, box.Max.Y == whole.Max.Y, box.Min.X == whole.Min.X}
	q.Edging = make([]string, 4)
	for i := range p.Outline {
		v, w := p.Outline[i].At, p.Outline[(i+1)%len(p.Outline)].At
		side := 0
		switch {
		case v.X == whole.Max.X && w.X == whole.Max.X:
			side = 1
		case v.Y == whole.Max.Y && w.Y == whole.Max.Y:
			side = 2
		case v.X == whole.Min.X && w.X == whole.Min.X:
			side = 3
		}
		if at[side] && i < len(p.Edging) {
			q.Edging[side] = p.Edging[i]
		}
	}
	q.Openings = nil
	for _, o := range p.Openings {
		in := o.Outline.Box()
		switch {
		case in.Min.X > box.Min.X && in.Max.X < box.Max.X && in.Min.Y > box.Min.Y && in.Max.Y < box.Max.Y:
			o.Outline = o.Outline.Translate(box.Min.Neg())
			q.Openings = append(q.Openings, o)
		case in.Min.X < box.Max.X && in.Max.X > box.Min.X && in.Min.Y < box.Max.Y && in.Max.Y > box.Min.Y:
			return q, false // the joint would run through it
		}
	}
	return q, true
}

package export

import (
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// Step is a cut of a saw as the person who makes it needs it. Sides and edges are
// named as the sheet lies at the saw, which is from its back when the good face
// lies down.
type Step struct {
	nest.Cut
	N     int // from 1
	Kind  StepKind
	Piece geom.Box // that is in hand
	KG    float64  // its mass; 0 when the density is unknown
	// Fenced is the part between the fence and the blade, Rest the other one; it is
	// empty where the blade takes all there is.
	Fenced, Rest geom.Box
	Edge         string // of the piece that lies at the fence: left, right, bottom, top
	Kerf         string // side of the measured line on which the kerf falls: left, right, below, above
	Reset        bool   // the fence is set for this step
	Panels       []*PlacedPanel
	Offcuts      []*nest.Offcut // all that come free, Panels with a shared blank one after the other
	Warnings     []Warning
}

// StepKind is what a cut is for.
type StepKind int

// The kinds of steps. A rip runs along the longer side of the piece in hand.
const (
	Rip StepKind = iota
	Crosscut
	Square    // takes off a factory edge before anything is divided
	BreakDown // makes pieces that can be carried, where the sheet lies
)

// String returns the word for a kind of step.
func (k StepKind) String() string {
	return [...]string{"rip", "crosscut", "square", "break down"}[k]
}

// Warning is something to mind at a step.
type Warning int

// The warnings of steps.
const (
	Narrow      Warning = iota // a strip that brings the hands near the blade
	TooNarrow                  // a strip that is not ripped by hand
	Short                      // a piece too short to be guided along a fence alone
	Trapped                    // what is left lies between fence and blade, the panel beside it
	Heavy                      // the piece in hand is one for two people
	BeyondFence                // the fence cannot be set so wide
	Unsupported                // neither side holds the rail
)

// String returns what to do, in a few words for a list.
func (w Warning) String() string {
	return [...]string{
		"push stick", "sled or jig", "push block or stop", "trapped offcut", "two people", "beyond the fence: guided hand saw", "support the rail",
	}[w]
}

// steps replays the cuts of a sheet, as the judge accepts them: what is in hand,
// what it becomes, and what comes free. The fence stands where the sheet before has
// left it; steps returns where it stands then. Cost: cuts times pieces.
func (x *Dossier) steps(m *SheetMap, fence length.Length) length.Length {
	type part struct {
		box  geom.Box
		step int // that it comes from, or -1
	}
	pieces := []part{{geom.Box{Max: geom.Pt(m.Stock.Length, m.Stock.Width)}, -1}}
	for i := range m.Cuts {
		c := &m.Cuts[i]
		for n := len(pieces) - 1; n >= 0; n-- {
			low, high, ok := c.Divide(pieces[n].box, x.Demand.Kerf)
			if !ok {
				continue
			}
			s := x.step(c, pieces[n].box, low, high)
			s.N = i + 1
			s.Reset = c.Fence != fence
			s.KG = m.Material.MassKG(boxMM2(s.Piece))
			pieces = append(pieces[:n], pieces[n+1:]...)
			for _, b := range [2]geom.Box{s.Rest, s.Fenced} {
				if !b.Empty() {
					pieces = append(pieces, part{b, i})
				}
			}
			m.Steps = append(m.Steps, s)
			break
		}
		fence = c.Fence
	}
	for _, p := range pieces {
		if p.step < 0 {
			continue
		}
		s := &m.Steps[p.step]
		for i := range m.Placements {
			if m.Placements[i].Blank == p.box {
				s.Panels = append(s.Panels, &m.Placements[i])
			}
		}
		for i := range m.Offcuts {
			if p.box.Contains(m.Offcuts[i].Box) {
				s.Offcuts = append(s.Offcuts, &m.Offcuts[i])
			}
		}
	}
	for i := range m.Steps {
		m.Steps[i].Warnings = x.warnings(m, &m.Steps[i])
	}
	return fence
}

// Long returns the length of the cut.
func (s *Step) Long() length.Length {
	return (s.To.X - s.From.X).Abs() + (s.To.Y - s.From.Y).Abs()
}

// Off returns how much is taken off the piece in hand, kerf included: the measure of
// a step that squares an edge.
func (s *Step) Off() length.Length {
	return s.Piece.Dx() - s.Fenced.Dx() + s.Piece.Dy() - s.Fenced.Dy()
}

// Measure writes what a step is set or marked to: the size of what lies at the fence,
// or what comes off where an edge is squared.
func (w Lengths) Measure(s *Step) string {
	if s.Kind == Square {
		return w.Text(s.Off()) + " off"
	}
	return w.Text(s.Fence)
}

// At returns the edge from which a step is measured: the one at the fence, or the one
// that is squared.
func (s *Step) At() string {
	if s.Kind != Square {
		return s.Edge
	}
	return map[string]string{"left": "right", "right": "left", "bottom": "top", "top": "bottom"}[s.Edge]
}

// wanted reports whether a blank lies in a part of a step.
func (m *SheetMap) wanted(b geom.Box) bool {
	for i := range m.Placements {
		if b.Contains(m.Placements[i].Blank) {
			return true
		}
	}
	return false
}

// step returns the step of a cut that leaves two parts of a piece.
func (x *Dossier) step(c *nest.Cut, piece, low, high geom.Box) Step {
	s := Step{Cut: *c, Piece: piece}
	upright := c.From.X == c.To.X
	size := low.Dy()
	if upright {
		size = low.Dx()
	}
	switch fromLow := size == c.Fence; {
	case upright && fromLow:
		s.Edge, s.Kerf = "left", "right"
	case upright:
		s.Edge, s.Kerf = "right", "left"
	case fromLow:
		s.Edge, s.Kerf = "bottom", "above"
	default:
		s.Edge, s.Kerf = "top", "below"
	}
	s.Fenced, s.Rest = low, high
	if size != c.Fence {
		s.Fenced, s.Rest = high, low
	}
	if upright && x.Job.Saw.FaceDown { // seen from the back
		s.Edge, s.Kerf = s.Kerf, s.Edge
	}
	if s.Rest.Empty() {
		s.Rest = geom.Box{}
	}
	switch {
	case c.BreakDown:
		s.Kind = BreakDown
	case c.Trim && c.Stage == 0:
		s.Kind = Square
	case upright == (piece.Dx() >= piece.Dy()):
		s.Kind = Crosscut
	}
	return s
}

// warnings returns what to mind at a step, from the sizes beside the blade.
func (x *Dossier) warnings(m *SheetMap, s *Step) []Warning {
	saw := &x.Job.Saw
	across := func(b geom.Box) length.Length {
		if s.From.X == s.To.X {
			return b.Dx()
		}
		return b.Dy()
	}
	const mm = length.Millimetre
	fenced, rest := across(s.Fenced), across(s.Rest)
	byHand := saw.Kind == parts.TableSaw && s.Kind != BreakDown
	var list []Warning
	note := func(w Warning, when bool) {
		if when {
			list = append(list, w)
		}
	}
	note(TooNarrow, byHand && fenced < tooNarrowMM*mm)
	note(Narrow, byHand && fenced < narrowMM*mm && fenced >= tooNarrowMM*mm)
	note(Short, byHand && s.Long() < shortMM*mm)
	wasteFenced := !m.wanted(s.Fenced) && m.wanted(s.Rest)
	note(Trapped, byHand && wasteFenced)
	note(Heavy, s.Kind != BreakDown && saw.Kind != parts.BeamSaw && s.KG > heavyKG)
	note(BeyondFence, saw.Fence > 0 && s.Fence > saw.Fence)
	note(Unsupported, saw.Kind == parts.TrackSaw && saw.Support > 0 && max(fenced, rest) < saw.Support)
	return list
}

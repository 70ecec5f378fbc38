package parts

import (
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// SawKind is a kind of saw for straight cuts: it sets the order of cuts.
type SawKind int

// The kinds of saw.
const (
	TableSaw SawKind = iota // the piece is pushed along a fence: rips first
	TrackSaw                // the saw runs on a rail laid on the piece: crosscuts first
	BeamSaw                 // a beam clamps the piece: cuts in stages
)

// String returns the words for a kind of saw.
func (k SawKind) String() string {
	switch k {
	case TrackSaw:
		return "track saw"
	case BeamSaw:
		return "beam saw"
	}
	return "table saw"
}

// Saw is a saw for straight cuts and what its user can handle.
type Saw struct {
	Kind      SawKind
	Kerf      length.Length
	Allowance length.Length // added to a blank beyond each edge that is shaped afterwards
	OwnBlanks bool          // no two panels share a blank
	// FaceDown says that the good face lies down when the saw cuts, so that a sheet
	// is seen from its back.
	FaceDown bool
	// Stages is the most stages a sheet may be cut in: cuts of one direction through
	// all pieces. 0 is any number.
	Stages int
	// Fence is the widest that the fence can be set to, and Support the least width
	// of board that holds the rail. 0 is no limit.
	Fence   length.Length
	Support length.Length
	// Largest is the largest piece, longer side first, that can be carried to the
	// saw, and Heaviest its mass in kg. 0 is no limit.
	Largest  geom.Point
	Heaviest float64
	Pos      diag.Pos
}

// Movable reports whether a piece of a size, in any turn, and a mass in kg, 0 where
// it is unknown, can be carried to the saw.
func (s *Saw) Movable(size geom.Point, kg float64) bool {
	if s.Heaviest > 0 && kg > s.Heaviest {
		return false
	}
	return s.Largest == geom.Point{} ||
		max(size.X, size.Y) <= s.Largest.X && min(size.X, size.Y) <= s.Largest.Y
}

// The defaults of a saw, common practice, no source: DefaultHeaviest is a mass for
// two people, DefaultSupport the width of a rail.
const (
	DefaultHeaviest = 25.0
	DefaultSupport  = 180 * length.Millimetre
	DefaultStages   = 3
)

// DefaultSaw returns a saw of a kind as it is when a job says no more. A sheet is
// carried to a table saw or a track saw, and slid onto a beam saw. A track saw
// cuts upwards, so that the good face lies down, unless its rail has a splinter strip.
func DefaultSaw(kind SawKind) Saw {
	s := Saw{Kind: kind, Kerf: DefaultKerf, Allowance: DefaultAllowance, Heaviest: DefaultHeaviest}
	switch kind {
	case TrackSaw:
		s.Support, s.FaceDown = DefaultSupport, true
	case BeamSaw:
		s.Stages, s.Heaviest = DefaultStages, 0
	}
	return s
}

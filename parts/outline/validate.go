package outline

import (
	"errors"
	"fmt"
	"math"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// The faults of an outline.
var (
	ErrFewVertices = errors.New("an outline needs three corners, or two when an edge is an arc")
	ErrNoLength    = errors.New("two corners that follow each other are at the same place")
	ErrNoArea      = errors.New("the outline encloses nothing")
	ErrTooLarge    = errors.New("the outline is larger than 33.5 m")
	ErrFullCircle  = errors.New("an arc is a full circle but for a hair: draw it as two arcs")
	ErrTooFine     = fmt.Errorf("the arcs of the outline need more than %d points when drawn to 0.01 mm", MaxPieces)
	ErrCrosses     = errors.New("the outline crosses or touches itself")
)

// Fault is what is wrong with an outline, with the segments concerned, counted
// from 0, and the place. It unwraps to one of the errors above.
type Fault struct {
	Err  error
	A, B int // segments; -1 where none is concerned
	At   geom.Point
}

func (f *Fault) Error() string { return f.Err.Error() }

// Unwrap returns the kind of the fault.
func (f *Fault) Unwrap() error { return f.Err }

// maxBulge is the bulge of an arc that leaves open a five-hundred-thousandth of
// its diameter. Up to it the points of an arc of 33.5 m are computed within a
// tenth of a grid unit; beyond it the chord no longer says where the arc is.
const maxBulge = 1e6

// Validate returns nil when o is a simple loop with area: no segment without
// length, no crossing, no touching, no spike. Lines are examined exactly, arcs
// on a polyline within 0.01 mm. The orientation does not matter. The error is a
// *Fault. The cost is O(n log n).
func (o Outline) Validate() error {
	straight := o.Straight()
	if len(o) < 2 || len(o) < 3 && straight {
		return &Fault{Err: ErrFewVertices, A: -1, B: -1}
	}
	for i, v := range o {
		a, b := o.ends(i)
		if a == b {
			return &Fault{ErrNoLength, i, -1, a}
		}
		if max(a.X.Abs(), a.Y.Abs()) > length.Max {
			return &Fault{ErrTooLarge, i, -1, a}
		}
		if !(math.Abs(v.Bulge) < maxBulge) {
			return &Fault{ErrFullCircle, i, -1, a}
		}
	}
	if b := o.Box(); max(b.Dx(), b.Dy(), b.Min.X.Abs(), b.Min.Y.Abs(), b.Max.X.Abs(), b.Max.Y.Abs()) > length.Max {
		return &Fault{Err: ErrTooLarge, A: -1, B: -1}
	}
	flat := straight
	for i := 2; i < len(o) && flat; i++ {
		flat = geom.Orient(o[0].At, o[1].At, o[i].At) == geom.Collinear
	}
	if flat {
		return &Fault{ErrNoArea, -1, -1, o[0].At}
	}
	if o.count() > MaxPieces {
		return &Fault{Err: ErrTooFine, A: -1, B: -1}
	}
	list := o.pieces()
	if len(list) < 3 { // arcs that are smaller than the grid
		return &Fault{ErrNoArea, -1, -1, o[0].At}
	}
	if f := crossing(list); f != nil {
		return f
	}
	if math.Abs(o.Area2()) < 1 { // less than any triangle on the grid
		return &Fault{ErrNoArea, -1, -1, o[0].At}
	}
	return nil
}

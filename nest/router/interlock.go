package router

import (
	"math"
	"slices"

	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// Interlocked is two panels for the saw that lie beside each other in one blank.
type Interlocked struct {
	Size geom.Point // of the shared blank
	// Places are those of the panels, the lower left corner of the blank at the
	// origin. The first panel lies as drawn.
	Places [2]nest.Placement
}

// joint is how outlines of panels that share a blank are simplified, and how round
// the gap between them is: its corners stand off by half a percent.
var joint = level{0.0001, 0.002, 24, 32}

// Interlock returns the smallest blank that is found for two congruent parts a and b,
// or one and the mirror image of the other: their shapes Apart from each other, their
// own blanks within it, turned against each other as grain allows, and laid face
// down only where they may. It reports false when nothing was found that saves
// anything, and of outlines with too many convex pieces. a and b may be the same part.
//
// The places tried are the corners of the no-fit polygon of both and where it passes
// lines on which sides of their blanks are flush; the best is then moved in ever
// smaller steps while the blank gets smaller. Cost: the product of the convex pieces
// of both, for each way in which they may lie: up to 20 ms each for curved brackets
// where it was measured.
func Interlock(p *nest.Problem, a, b int) (Interlocked, bool) {
	first, second := &p.Parts[a], &p.Parts[b]
	if p.Apart <= 0 {
		return Interlocked{}, false
	}
	s := &shop{p: p, gap: p.Apart, ring: gapPolygon(p.Apart, joint.gapSides)}
	plainA, piecesA := joint.cut(first.Shape)
	plainB, piecesB := joint.cut(second.Shape)
	if max(len(piecesA), len(piecesB)) > maxCoupled {
		return Interlocked{}, false
	}
	f := fitting{}
	f.blanks[0], f.insets[0] = ownBlank(p, nest.Placement{Part: a})
	f.area = 2 * int64(first.Blank.X) * int64(first.Blank.Y)
	var none []*shape
	fixed := s.oriented(&none, first.Shape, plainA, piecesA, 0, false)
	best, found := Interlocked{}, false
	for _, turn := range against(first, second) {
		for _, flip := range []bool{false, true} {
			if flip && !second.CanFlip {
				continue
			}
			pl := nest.Placement{Part: b, Turn: turn, Flip: flip}
			f.blanks[1], f.insets[1] = ownBlank(p, pl)
			var none []*shape
			f.pair = newPair(fixed, s.oriented(&none, second.Shape, plainB, piecesB, turn, flip), s.ring)
			if !f.search() {
				continue
			}
			lo := geom.Pt(min(0, f.at.X), min(0, f.at.Y))
			pl.At = f.at.Sub(lo)
			best, found = Interlocked{Size: f.size(f.at), Places: [2]nest.Placement{{Part: a, At: lo.Neg()}, pl}}, true
		}
	}
	return best, found
}

// Congruent reports whether two parts have the same outline, or one that of the
// other's face down, by their measures.
func Congruent(a, b *nest.Part) bool {
	if a.Material != b.Material || a.CanFlip != b.CanFlip || a.Blank != b.Blank && a.Blank != geom.Pt(b.Blank.Y, b.Blank.X) {
		return false
	}
	const share = 1e-4 // curves are covered by other corners in the mirror
	area := float64(a.Shape.Area2())
	return math.Abs(area-float64(b.Shape.Area2())) <= share*area
}

// against returns the turns of part b when part a lies as drawn that leave both a
// turn they may have, however their blank is then turned.
func against(a, b *nest.Part) []int {
	switch {
	case a.Turns != nil && b.Turns != nil:
		var list []int
		for _, t := range a.Turns {
			for _, u := range b.Turns {
				if r := (u - t + 360) % 360; t%90 == 0 && r%90 == 0 && !slices.Contains(list, r) {
					list = append(list, r)
				}
			}
		}
		return list
	case a.Turns != nil || b.Turns != nil || a.Grain != b.Grain || a.OneWay != b.OneWay:
		return nil
	case a.OneWay:
		return []int{0}
	case a.Grain == parts.NoAxis:
		return []int{0, 90, 180, 270}
	}
	return []int{0, 180}
}

// ownBlank returns the size of a part's own blank as it lies, and where the box of its
// shape is in it.
func ownBlank(p *nest.Problem, pl nest.Placement) (size, inset geom.Point) {
	shape, blank := p.Place(pl)
	return blank.Size(), shape.Box().Min.Sub(blank.Min)
}

// fitting looks for the place of one blank relative to another: of their lower left
// corners.
type fitting struct {
	pair           *pair
	blanks, insets [2]geom.Point
	at             geom.Point // the best place
	area           int64      // of the blank that holds both then
}

// size returns the size of what holds both blanks.
func (f *fitting) size(at geom.Point) geom.Point {
	return geom.Pt(
		max(f.blanks[0].X, at.X+f.blanks[1].X)-min(0, at.X),
		max(f.blanks[0].Y, at.Y+f.blanks[1].Y)-min(0, at.Y),
	)
}

// tenth is what lengths and widths of shared blanks are whole numbers of, so that a
// fence can be set to them, unless they are those of a panel's own blank.
const tenth = length.Millimetre / 10

// rounded moves a blank farther away, so that the size is rounded up.
func (f *fitting) rounded(at geom.Point) geom.Point {
	axis := func(at, a, b length.Length) length.Length {
		switch {
		case at < min(0, a-b): // it begins before the first
			return at - (tenth-(max(a, at+b)-at)%tenth)%tenth
		case at > max(0, a-b):
			return at + (tenth-(at+b)%tenth)%tenth
		}
		return at
	}
	return geom.Pt(axis(at.X, f.blanks[0].X, f.blanks[1].X), axis(at.Y, f.blanks[0].Y, f.blanks[1].Y))
}

// try takes a place, rounded, that is better, and reports whether it is.
func (f *fitting) try(at geom.Point) bool {
	at = f.rounded(at)
	size := f.size(at)
	area := int64(size.X) * int64(size.Y)
	if area >= f.area || f.pair.inside(at.Add(f.insets[1]).Sub(f.insets[0])) {
		return false
	}
	f.at, f.area = at, area
	return true
}

// search looks for a better place and reports whether there is one.
func (f *fitting) search() bool {
	found := false
	try := func(x, y length.Length) { found = f.try(geom.Pt(x, y)) || found }
	shift := f.insets[0].Sub(f.insets[1])
	flushX := [2]length.Length{0, f.blanks[0].X - f.blanks[1].X}
	flushY := [2]length.Length{0, f.blanks[0].Y - f.blanks[1].Y}
	for i := range f.pair.edges {
		e := &f.pair.edges[i]
		x, y := length.Length(e.ax)+shift.X, length.Length(e.ay)+shift.Y
		dx, dy := length.Length(e.ex), length.Length(e.ey)
		try(x, y)
		for _, fx := range flushX {
			if d := fx - x; dx != 0 && d*dx >= 0 && d.Abs() <= dx.Abs() {
				c := y + dy*d/dx // rounded one way or the other
				try(fx, c-1)
				try(fx, c)
				try(fx, c+1)
			}
		}
		for _, fy := range flushY {
			if d := fy - y; dy != 0 && d*dy >= 0 && d.Abs() <= dy.Abs() {
				c := x + dx*d/dy
				try(c-1, fy)
				try(c, fy)
				try(c+1, fy)
			}
		}
	}
	if found {
		f.settle()
	}
	return found
}

// settle moves the place in ever smaller steps while the blank gets smaller: where
// two convex pieces of the no-fit polygon cross there is a corner that none of them
// has.
func (f *fitting) settle() {
	const most = 64 // steps of a size
	for step := max(f.blanks[0].X, f.blanks[0].Y) / 8; step > tenth/2; step /= 2 {
		for range most {
			from := f.at
			for _, d := range [8]geom.Point{{X: -1}, {X: 1}, {Y: -1}, {Y: 1}, {X: -1, Y: -1}, {X: -1, Y: 1}, {X: 1, Y: -1}, {X: 1, Y: 1}} {
				f.try(from.Add(geom.Pt(d.X*step, d.Y*step)))
			}
			if f.at == from {
				break
			}
		}
	}
}

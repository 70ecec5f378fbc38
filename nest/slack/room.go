package slack

import (
	"fmt"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// Room is what a sheet of a plan can bear.
type Room struct {
	// Bare is the least length and width of usable area that holds the panels, and
	// Least that of a sheet with its trim, and margin, on all edges.
	Bare, Least geom.Point
	// Widest is the widest kerf, for the router the widest gap, with which the panels
	// come out of the sheet, all else the same; for the saw it is even.
	Widest length.Length
}

// Of returns the room of a sheet of a judged plan. The error is for a plan that the judge
// would refuse.
func Of(p *nest.Problem, s *nest.Sheet) (Room, error) {
	st := &p.Stocks[s.Stock]
	trim := st.Size.Sub(st.Usable.Size())
	var r Room
	if p.Cut == kerf.Router {
		l := laid(p, s)
		r.Bare = l.box().Size()
		r.Widest = max(l.closest(), l.spread(st.Usable).closest())
		r.Least = r.Bare.Add(trim)
		return r, nil
	}
	root, err := tree(p, s)
	if err != nil {
		return r, err
	}
	r.Bare = root.need(p.Kerf)
	r.Least = r.Bare.Add(trim)
	r.Widest = widest(root, st.Usable.Size(), p.Kerf)
	return r, nil
}

// widest returns the widest even kerf with which a tree fits into a size. The need grows
// with the kerf, so halving finds it exactly.
func widest(root *piece, size geom.Point, planned length.Length) length.Length {
	fits := func(half length.Length) bool {
		n := root.need(2 * half)
		return n.X <= size.X && n.Y <= size.Y
	}
	low, high := planned/2, min(size.X, size.Y)/2 // low fits, as planned
	for low < high {
		mid := (low + high + 1) / 2
		if fits(mid) {
			low = mid
		} else {
			high = mid - 1
		}
	}
	return 2 * low
}

// piece is a piece of a sheet in its tree of cuts: what a cut leaves below and above it,
// or at its left and right, or a piece that is not cut any more.
type piece struct {
	box       geom.Box
	low, high *piece // nil where there is nothing
	cut       bool
	upright   bool
	blank     bool // one of the panels or shared blanks
	holds     bool // a blank, itself or in its parts
}

// tree replays the cuts of a sheet.
func tree(p *nest.Problem, s *nest.Sheet) (*piece, error) {
	root := &piece{box: geom.Box{Max: p.Stocks[s.Stock].Size}}
	open := []*piece{root}
	for i := range s.Cuts {
		c := &s.Cuts[i]
		n := len(open) - 1 // the newest first: cuts mostly follow one another
		for ; n >= 0; n-- {
			low, high, ok := c.Divide(open[n].box, p.Kerf)
			if !ok {
				continue
			}
			pc := open[n]
			pc.cut, pc.upright = true, c.From.X == c.To.X
			open = append(open[:n], open[n+1:]...)
			for _, side := range []struct {
				box geom.Box
				to  **piece
			}{{low, &pc.low}, {high, &pc.high}} {
				if !side.box.Empty() {
					*side.to = &piece{box: side.box}
					open = append(open, *side.to)
				}
			}
			break
		}
		if n < 0 {
			return nil, fmt.Errorf("cut %d runs through no piece", i+1)
		}
	}
	at := map[geom.Box]*piece{}
	for _, pc := range open {
		at[pc.box] = pc
	}
	for _, pl := range s.Placements {
		b := pl.Shared
		if !pl.IsShared() {
			_, b = p.Place(pl)
		}
		pc := at[b]
		if pc == nil {
			return nil, fmt.Errorf("part %d, copy %d is not freed", pl.Part+1, pl.Copy)
		}
		pc.blank = true
	}
	root.mark()
	return root, nil
}

// mark notes which pieces hold blanks.
func (pc *piece) mark() bool {
	if pc == nil {
		return false
	}
	low, high := pc.low.mark(), pc.high.mark()
	pc.holds = pc.blank || low || high
	return pc.holds
}

// need returns the least extents of a piece that its blanks can come out of.
func (pc *piece) need(k length.Length) geom.Point {
	switch {
	case pc == nil || !pc.holds:
		return geom.Point{}
	case !pc.cut:
		return pc.box.Size()
	}
	low, high := pc.low.need(k), pc.high.need(k)
	if !pc.between() {
		k = 0 // the other side may give way altogether, and the cut with it
	}
	if pc.upright {
		return geom.Pt(low.X+k+high.X, max(low.Y, high.Y))
	}
	return geom.Pt(max(low.X, high.X), low.Y+k+high.Y)
}

// between reports whether the cut of a piece parts two that hold blanks.
func (pc *piece) between() bool {
	return pc.low != nil && pc.low.holds && pc.high != nil && pc.high.holds
}

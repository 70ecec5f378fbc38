package rest

import (
	"fmt"
	"slices"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// All is the number of cuts of a sheet that is cut.
const All = -1

// Panel is one copy of a part.
type Panel struct{ Part, Copy int }

// State is how far the work on a plan has come.
type State struct {
	Cuts    map[int]int // of sheets of the plan that are begun: the cuts made, or All
	Spoiled []Panel
}

// Done is a panel that is cut, and its sheet.
type Done struct {
	Panel
	Sheet int
}

// Piece is a part of a begun sheet that is still there.
type Piece struct {
	Sheet  int
	Box    geom.Box // on the sheet
	N      int      // of the pieces of its sheet, from 1
	InHand bool     // panels were still to be cut from it
	// Planned and Kept are those panels, and the offcuts to keep, with their places in
	// the piece.
	Planned []nest.Placement
	Kept    []nest.Offcut
}

// Rest is what is left of a plan.
type Rest struct {
	Done    []Done
	Spoiled []Panel
	Missing [][]int // of each part the copies that are not done, ascending
	Pieces  []Piece
	Uncut   []int // sheets that are not begun
}

// Of returns what is left of a plan that the judge accepts. The error says what of
// the state cannot be: a sheet or a cut that the plan does not have, a spoiled panel
// that is not cut, or cuts on a router's sheet. Cost: the cuts of a sheet times its
// pieces.
func Of(p *nest.Problem, plan *nest.Plan, s State) (*Rest, error) {
	r := &Rest{Spoiled: s.Spoiled, Missing: make([][]int, len(p.Parts))}
	for i := range s.Cuts {
		if i < 0 || i >= len(plan.Sheets) {
			return nil, fmt.Errorf("the plan has no sheet %d", i+1)
		}
	}
	freed := map[Panel]int{}
	for i := range plan.Sheets {
		n, begun := s.Cuts[i]
		if !begun {
			r.Uncut = append(r.Uncut, i)
			continue
		}
		if err := r.begun(p, plan, i, n, freed); err != nil {
			return nil, err
		}
	}
	for _, q := range s.Spoiled {
		if _, ok := freed[q]; !ok {
			return nil, fmt.Errorf("%q copy %d is not cut yet, so it cannot be spoiled", p.Parts[q.Part].Name, q.Copy)
		}
		delete(freed, q)
	}
	for part := range p.Parts {
		for c := 1; c <= p.Parts[part].Copies; c++ {
			q := Panel{part, c}
			if sheet, ok := freed[q]; ok {
				r.Done = append(r.Done, Done{q, sheet})
			} else {
				r.Missing[part] = append(r.Missing[part], c)
			}
		}
	}
	return r, nil
}

// begun takes down what a sheet has become after n cuts.
func (r *Rest) begun(p *nest.Problem, plan *nest.Plan, sheet, n int, freed map[Panel]int) error {
	s := &plan.Sheets[sheet]
	if p.Cut == kerf.Router {
		if n != All {
			return fmt.Errorf("a router's sheet has no cuts to count")
		}
		for _, pl := range s.Placements {
			freed[Panel{pl.Part, pl.Copy}] = sheet
		}
		n = 0
		for _, o := range s.Offcuts {
			if o.Keep {
				n++
				r.Pieces = append(r.Pieces, Piece{Sheet: sheet, N: n, Box: o.Box})
			}
		}
		return nil
	}
	if n == All {
		n = len(s.Cuts)
	}
	if n < 0 || n > len(s.Cuts) {
		return fmt.Errorf("the sheet has %d cuts, not %d", len(s.Cuts), n)
	}
	pieces := []geom.Box{{Max: p.Stocks[s.Stock].Size}}
	for i := range s.Cuts[:n] {
		pieces = cutThrough(pieces, &s.Cuts[i], p.Kerf)
	}
	// What lies in each piece.
	holds := make([]int, len(pieces))
	planned := make([][]nest.Placement, len(pieces))
	for _, pl := range s.Placements {
		b := pl.Shared
		if !pl.IsShared() {
			_, b = p.Place(pl)
		}
		for k, q := range pieces {
			if q == b {
				freed[Panel{pl.Part, pl.Copy}] = sheet
				holds[k] = done
			} else if q.Contains(b) {
				holds[k] = wanted
				pl.At = pl.At.Sub(q.Min)
				if pl.IsShared() {
					pl.Shared = b.Translate(q.Min.Neg())
				}
				planned[k] = append(planned[k], pl)
			}
		}
	}
	n = 0
	u := p.Stocks[s.Stock].Usable
	for k, q := range pieces {
		kept := p.Keep.Keeps(q.Meet(u).Size())
		if holds[k] == wanted || holds[k] == nothing && kept {
			n++
			piece := Piece{Sheet: sheet, N: n, Box: q, InHand: holds[k] == wanted, Planned: planned[k]}
			for _, o := range s.Offcuts {
				if o.Keep && piece.InHand && q.Contains(o.Box) {
					piece.Kept = append(piece.Kept, nest.Offcut{Box: o.Box.Translate(q.Min.Neg()), Keep: true})
				}
			}
			r.Pieces = append(r.Pieces, piece)
		}
	}
	return nil
}

// What a piece holds.
const (
	nothing = iota
	wanted
	done
)

// cutThrough makes a cut in the piece that it runs through from edge to edge.
func cutThrough(pieces []geom.Box, c *nest.Cut, kerf length.Length) []geom.Box {
	for k, b := range pieces {
		low, high, ok := c.Divide(b, kerf)
		if !ok {
			continue
		}
		pieces = slices.Delete(pieces, k, k+1)
		for _, q := range [2]geom.Box{low, high} {
			if !q.Empty() {
				pieces = append(pieces, q)
			}
		}
		return pieces
	}
	return pieces
}

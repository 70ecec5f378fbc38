package check

import (
	"fmt"

	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// replay makes the cuts of a sheet one after the other, beginning with the raw
// sheet, and compares the pieces with the blanks and offcuts. Pieces that a cut
// has separated count as moved away from each other: a cut concerns the one
// piece it runs through from edge to edge. A cut that cannot be made ends the
// replay, as everything after it rests on it.
//
//	    piece               lo..hi = From..To along the cut
//	+---------+---+---------+
//	|         |ker|         |   the strip of the kerf is half a kerf either
//	|  side   |   |  side   |   side of the line c; where it passes the edge of
//	|         | c |         |   the piece, that side is gone (a trim cut whose
//	+---------+---+---------+   line may even lie beside the sheet)
func (j *judge) replay(sheet int, s *nest.Sheet, stock *nest.Stock, blanks, offcuts []panel) {
	raw := geom.Box{Max: stock.Size}
	if len(s.Cuts) == 0 && len(s.Placements) > 0 {
		// A single blank of the raw size needs no cut, and none could be made.
		if len(blanks) > 1 || len(blanks) == 1 && blanks[0].box != raw {
			j.report(&Violation{
				Kind: CutsMissing, Sheet: sheet, Index: -1,
				Fact: fmt.Sprintf("%d panels and no cuts", len(s.Placements)),
			})
			return
		}
	}
	pieces := []geom.Box{raw}
	stages := []stage{{}} // of the pieces
	for i := range s.Cuts {
		n, sides := j.cut(sheet, i, &s.Cuts[i], pieces)
		if n < 0 {
			return
		}
		next := stages[n].after(&s.Cuts[i])
		if most := j.p.Saw.Stages; most > 0 && next.count > most {
			j.report(&Violation{
				Kind: TooManyStages, Sheet: sheet, Index: i, At: s.Cuts[i].From,
				Fact: fmt.Sprintf("cut %d is of stage %d, the saw allows %d", i+1, next.count, most),
			})
		}
		pieces = append(pieces[:n], pieces[n+1:]...)
		stages = append(stages[:n], stages[n+1:]...)
		for _, b := range sides {
			pieces, stages = append(pieces, b), append(stages, next)
		}
	}
	j.freed(sheet, blanks, offcuts, pieces)
}

// stage counts the changes of direction of the cuts that made a piece.
type stage struct {
	count   int
	upright bool
}

// after returns the stage of the sides of a cut.
func (s stage) after(c *nest.Cut) stage {
	if upright := c.From.X == c.To.X; s.count == 0 || upright != s.upright {
		return stage{s.count + 1, upright}
	}
	return s
}

// cut makes one cut. It returns which piece is cut and the sides that are left of
// it, or -1 when the cut cannot be made.
func (j *judge) cut(sheet, index int, c *nest.Cut, pieces []geom.Box) (n int, sides []geom.Box) {
	v := func(k Kind, format string, args ...any) {
		j.report(&Violation{Kind: k, Sheet: sheet, Index: index, At: c.From, Fact: fmt.Sprintf(format, args...)})
	}
	if !inRange(c.From) || !inRange(c.To) {
		v(OutOfRange, "cut %d ends beyond %d units", index+1, int64(Limit))
		return -1, nil
	}
	upright := c.From.X == c.To.X
	if upright == (c.From.Y == c.To.Y) {
		v(CutNotStraight, "cut %d from %s to %s", index+1, at(c.From), at(c.To))
		return -1, nil
	}
	// line is where the cut is, lo..hi what it spans across.
	line, lo, hi := c.From.X, min(c.From.Y, c.To.Y), max(c.From.Y, c.To.Y)
	if !upright {
		line, lo, hi = c.From.Y, min(c.From.X, c.To.X), max(c.From.X, c.To.X)
	}
	half := j.p.Kerf / 2
	// Pieces of one span are a full kerf apart, so the strip meets one at most.
	// The newest are looked at first, because cuts mostly follow one another.
	n = len(pieces) - 1
	for ; n >= 0; n-- {
		along, across := axes(pieces[n], upright)
		if across == (interval{lo, hi}) && line-half < along.hi && line+half > along.lo && (half > 0 || line > along.lo && line < along.hi) {
			break
		}
	}
	if n < 0 {
		v(CutNotThrough, "cut %d from %s to %s: %s", index+1, at(c.From), at(c.To), whyNot(c, pieces))
		return -1, nil
	}
	piece := pieces[n]
	along, _ := axes(piece, upright)
	fence := false
	for _, side := range []interval{{line + half, along.hi}, {along.lo, line - half}} {
		if side.lo >= side.hi {
			continue // the kerf takes it all
		}
		fence = fence || c.Fence == side.hi-side.lo
		b := piece
		if upright {
			b.Min.X, b.Max.X = side.lo, side.hi
		} else {
			b.Min.Y, b.Max.Y = side.lo, side.hi
		}
		sides = append(sides, b)
	}
	if !fence {
		v(WrongFence, "cut %d: fence at %v, the sides are %v and %v", index+1, c.Fence,
			max(0, line-half-along.lo), max(0, along.hi-line-half))
	}
	return n, sides
}

// interval is an extent along one axis.
type interval struct{ lo, hi length.Length }

// axes returns a box as its extents across an upright cut and along it, or the
// same for a level cut.
func axes(b geom.Box, upright bool) (along, across interval) {
	x, y := interval{b.Min.X, b.Max.X}, interval{b.Min.Y, b.Max.Y}
	if upright {
		return x, y
	}
	return y, x
}

// whyNot describes the piece that holds the middle of a cut.
func whyNot(c *nest.Cut, pieces []geom.Box) string {
	x, y := c.From.X+c.To.X, c.From.Y+c.To.Y
	for _, b := range pieces {
		if x >= 2*b.Min.X && x <= 2*b.Max.X && y >= 2*b.Min.Y && y <= 2*b.Max.Y {
			return "the piece there is " + spread(b)
		}
	}
	return "no piece is there"
}

// freed checks that each blank is a piece of its own and each offcut lies in a
// piece without a blank that no other offcut claims.
func (j *judge) freed(sheet int, blanks, offcuts []panel, pieces []geom.Box) {
	index := make(map[geom.Box]int, len(pieces))
	for i, b := range pieces {
		index[b] = i
	}
	holder := make([]*panel, len(pieces))
	for i := range blanks {
		q := &blanks[i]
		n, ok := index[q.box]
		if !ok {
			v := q.violation(BlankNotFreed, sheet)
			v.Fact = fmt.Sprintf("blank %s is not what the cuts leave: %s", spread(q.box), pieceAround(q.box, pieces))
			j.report(v)
			continue
		}
		if holder[n] != nil {
			v := q.violation(BlankShared, sheet)
			v.Other, v.OtherCopy = holder[n].part, holder[n].copy
			v.Fact = fmt.Sprintf("the piece is already %q copy %d", v.Other, v.OtherCopy)
			j.report(v)
			continue
		}
		holder[n] = q
	}
	for i := range offcuts {
		q := &offcuts[i]
		n := 0
		for n < len(pieces) && !holds(pieces[n], q.box) {
			n++
		}
		v := q.violation(OffcutNotThere, sheet)
		switch {
		case n == len(pieces):
			v.Fact = fmt.Sprintf("offcut %d, %s, lies in no piece: %s", q.index+1, spread(q.box), pieceAround(q.box, pieces))
		case holder[n] == nil:
			holder[n] = q
			continue
		case holder[n].offcut:
			v.Kind = OffcutOverlap
			v.Fact = fmt.Sprintf("offcuts %d and %d lie in one piece", holder[n].index+1, q.index+1)
		default:
			v.Other, v.OtherCopy = holder[n].part, holder[n].copy
			v.Fact = fmt.Sprintf("offcut %d lies in the blank of %q copy %d", q.index+1, v.Other, v.OtherCopy)
		}
		j.report(v)
	}
}

// pieceAround describes the piece that holds the middle of a box.
func pieceAround(b geom.Box, pieces []geom.Box) string {
	x, y := b.Min.X+b.Max.X, b.Min.Y+b.Max.Y
	for _, c := range pieces {
		if x >= 2*c.Min.X && x <= 2*c.Max.X && y >= 2*c.Min.Y && y <= 2*c.Max.Y {
			return "the piece there is " + spread(c)
		}
	}
	return "a kerf runs there"
}

package toolpath

import (
	"fmt"

	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// leftover is what the paths along one wall leave of it.
type leftover struct {
	corners, hollows int
	worst, deepest   float64 // residual of the worst of the corners, of the hollows
	corner, hollow   vec     // where the first of each is
	narrows          []gap
	lost             int
}

// note adds a gap.
func (l *leftover) note(w *wall, g gap) {
	switch g.kind {
	case corner:
		if l.corners++; l.corners == 1 {
			l.corner = w.list[g.vertex].a
		}
		l.worst = max(l.worst, g.residual)
	case hollow:
		if l.hollows++; l.hollows == 1 {
			l.hollow = g.bit
		}
		l.deepest = max(l.deepest, g.residual)
	case narrow:
		l.narrows = append(l.narrows, g)
	}
}

// maxNamed is how many narrow places of a wall are named one by one.
const maxNamed = 5

// report warns of what is left of a wall.
func (f *finder) report(pos diag.Pos, what string, how parts.Relief, l leftover) {
	warn := func(fact, remedy string) { f.list.Warn(pos, f.part(), what+": "+fact, remedy) }
	bit := f.paths.Bit.Decimal()
	if l.corners > 0 {
		fact := fmt.Sprintf("an inside corner at %s keeps the radius of the bit, %s mm of board stays in it", place(l.corner), mm(l.worst))
		if l.corners > 1 {
			fact = fmt.Sprintf("%d inside corners keep the radius of the bit, up to %s mm of board stays in them, the first at %s", l.corners, mm(l.worst), place(l.corner))
		}
		if how == parts.NoRelief {
			warn(fact, fmt.Sprintf("round what goes there to %s mm, finish by hand, or say relief: dog-bone or t-bone", (f.paths.Bit/2).Decimal()))
		} else {
			warn(fact+": there is no room for the relief", "use a thinner bit, or finish by hand")
		}
	}
	if l.hollows > 0 {
		fact := fmt.Sprintf("a bit of %s mm leaves %s mm of board in a hollow at %s", bit, mm(l.deepest), place(l.hollow))
		if l.hollows > 1 {
			fact = fmt.Sprintf("a bit of %s mm leaves up to %s mm of board in %d hollows, the first at %s", bit, mm(l.deepest), l.hollows, place(l.hollow))
		}
		warn(fact, "use a thinner bit, or finish by hand")
	}
	for i, g := range l.narrows {
		if i == maxNamed {
			warn(fmt.Sprintf("a bit of %s mm does not enter %d more narrow places", bit, len(l.narrows)-i), "use a thinner bit, or widen them")
			break
		}
		warn(fmt.Sprintf("a bit of %s mm does not pass beyond %s, where the walls stand %s mm apart", bit, place(g.bit), mm(g.mouth)), "use a thinner bit, or widen it")
	}
	if l.lost > 0 {
		warn(fmt.Sprintf("%d pieces of the path could not be joined", l.lost), "compare the drawing of the path with the panel before cutting")
	}
}

// closed warns that the bit does not enter an opening at all, unless [kerf.Build]
// has.
func (f *finder) closed(i int) {
	if kerf.TooNarrow(f.item.CutOpenings[i], f.router.Bit) {
		return
	}
	op := &f.item.Panel.Openings[i]
	f.list.Warn(op.Pos, f.part(), fmt.Sprintf("opening %q is nowhere as wide as the bit of %s mm, which does not enter it", op.Name, f.paths.Bit.Decimal()),
		"use a thinner bit, or drill it")
}

func (f *finder) part() string { return fmt.Sprintf("panel %q", f.item.Panel.Name) }

// mm writes a number of units in millimetres, to a thousandth.
func mm(units float64) string { return fmt.Sprintf("%.3f", units/float64(length.Millimetre)) }

// place writes a point in millimetres from the lower left corner of the panel's box.
func place(p vec) string {
	return fmt.Sprintf("(%.1f, %.1f)", p.x/float64(length.Millimetre), p.y/float64(length.Millimetre))
}

package bound

import (
	"slices"

	"panelyard/parts/length"
)

// losses are what is lost on the way from a sheet to the points of its table: how much less than
// the best the heaviest pattern weighs that has a piece of the size of a point. The table must stay
// as it is filled, or be filled the same again.
type losses struct {
	corner
	loss  []int32 // in tiles, as far as it is no more than reach: [block of y][x][lane]
	reach int32
	row   []int32 // scratch: of a point of x
}

// corner is the point of a table that a sheet reaches, and its true size.
type corner struct {
	t    *table
	x, y int32
	w, h length.Length
}

// corner returns that of a kind of sheet.
func (p *pricing) corner(j int) corner {
	return corner{p.tables[p.of[j]], p.x[j], p.y[j], p.sheets[j].w, p.sheets[j].h}
}

const (
	// farther is by how much losses are worked out beyond what is asked for, and mostReach how far:
	// no sheet weighs more.
	farther, mostReach = 4, 1 << 29
	// unreached is the loss of points that are no part of what is sought.
	unreached = 1 << 30
)

// losses returns those of a kind of sheet.
func (t *choice) losses(j int) *losses {
	if t.lost[j] == nil {
		t.lost[j] = &losses{corner: t.p.corner(j)}
	}
	return t.lost[j]
}

// tile returns the losses of a point of x at a block of y.
func (l *losses) tile(x int32, block int) *[lanes]int32 {
	return (*[lanes]int32)(l.loss[(block*l.t.tiles.nx+int(x))*lanes:])
}

// at is the loss of a point.
func (l *losses) at(x, y int32) int32 { return l.tile(x, int(y)/lanes)[y%lanes] }

// spread works out what is lost on the way to all points, from the largest down: what their
// patterns may weigh less than the best is the slack of the sheet less that. Where larger ones
// follow it reaches further than a slack asks for. It returns how many additions it took, about.
//
// Of a point of x it follows first the cuts along y, point by point, and then those along x, for
// lanes of y at a time.
func (l *losses) spread(slack int32) (work int) {
	if slack <= l.reach && l.loss != nil {
		return 0
	}
	t, s := l.t, l.t.tiles
	l.reach = max(slack, min(slack, mostReach/farther)*farther)
	high := blocks(int(l.y) + 1)
	size := high * s.nx * lanes
	l.loss = slices.Grow(l.loss[:0], size)[:size]
	for i := range l.loss {
		l.loss[i] = unreached
	}
	l.tile(l.x, int(l.y)/lanes)[l.y%lanes] = 0
	l.row = slices.Grow(l.row[:0], high*lanes)[:high*lanes]
	for x := l.x; x > 0; x-- {
		for b := range high {
			copy(l.row[b*lanes:], l.tile(x, b)[:])
		}
		work += l.down(t.row(x))
		for b := range high {
			lost := (*[lanes]int32)(l.row[b*lanes:])
			if slices.Min(lost[:]) > l.reach {
				continue
			}
			loss, values := l.loss[b*s.nx*lanes:][:s.nx*lanes], s.byX[b*s.nx*lanes:][:s.nx*lanes]
			*l.tile(x, b) = *lost
			for i, f := range values[x*lanes:][:lanes] {
				lost[i] += f
			}
			lower8(loss, values, []pair{{x - 1, 0}}, lost)
			lower8(loss, values, t.x.cuts[x], lost)
			work += 2 + 2*len(t.x.cuts[x])
		}
	}
	return work
}

// down follows the cuts along y of a point of x, with its values.
func (l *losses) down(values []int32) (work int) {
	for y := l.y; y > 0; y-- {
		lost := l.row[y]
		if lost > l.reach {
			continue
		}
		f := values[y]
		l.row[y-1] = min(l.row[y-1], lost+f-values[y-1])
		least := f - (l.reach - lost)
		for _, c := range l.t.y.cuts[y] {
			if sum := values[c.a] + values[c.b]; sum >= least {
				l.row[c.a], l.row[c.b] = min(l.row[c.a], lost+f-sum), min(l.row[c.b], lost+f-sum)
			}
		}
		work += 1 + len(l.t.y.cuts[y])
	}
	return work
}

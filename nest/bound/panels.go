package bound

import (
	"math"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// panel is a kind of panel.
type panel struct {
	part           int // index of Problem.Parts
	copies         float64
	w, h           length.Length // enlarged; of a rectangle
	area           float64       // of the true shape, of the blank for the saw
	spread         float64       // least area of the shape grown by half the gap
	level, upright bool          // the ways in which it fits a sheet
	square         bool          // a rectangle that is turned by quarter turns only
	shares         bool          // may share its blank with another panel
	ways           []byte        // of lying on each kind of sheet, whether it fits or not
	shape          geom.Polygon
}

// sheet is a kind of sheet that can be had.
type sheet struct {
	w, h      length.Length // enlarged
	area      float64
	spread    float64 // area grown by half the gap
	cost      int64
	available int
}

// loss is how deep, in units, the judge lets two shapes overlap when one of them is
// turned by other than quarter turns, and what rounding its corners may take.
const loss = 3

// sheetsOf returns the kinds of sheet of a material that can be had, and which
// stock each is.
func sheetsOf(p *nest.Problem, material string) (list []sheet, index []int) {
	by, r := enlargement(p), float64(p.Gap)/2
	for j := range p.Stocks {
		st := &p.Stocks[j]
		if st.Material != material || st.Available == 0 || st.Usable.Empty() {
			continue
		}
		w, h := float64(st.Usable.Dx()), float64(st.Usable.Dy())
		list = append(list, sheet{
			w: st.Usable.Dx() + by, h: st.Usable.Dy() + by,
			area: w * h, spread: w*h + 2*(w+h)*r + math.Pi*r*r, cost: st.Cost, available: st.Available,
		})
		index = append(index, j)
	}
	return list, index
}

// panelsOf returns the panels of a material that fit a sheet of it; the others
// will be unplaced. shares says which parts could share a blank.
func panelsOf(p *nest.Problem, material string, sheets []sheet, index []int, shares []bool) []panel {
	by := enlargement(p)
	free := freeTurns(p, material)
	var list []panel
	for i := range p.Parts {
		q := &p.Parts[i]
		if q.Material != material || q.Copies == 0 {
			continue
		}
		size := q.Shape.Box().Size()
		pl := panel{part: i, copies: float64(q.Copies), ways: make([]byte, len(sheets)), square: !free && q.Shape.Outer.IsRectangle() && len(q.Shape.Holes) == 0}
		pl.shape = q.Shape
		if p.Cut == kerf.Saw {
			size, pl.square = q.Blank, true
			pl.shares = shares[i]
			pl.area = float64(size.X) * float64(size.Y)
		} else {
			pl.area, pl.spread = areas(q.Shape, p.Gap, free)
		}
		pl.w, pl.h = size.X+by, size.Y+by
		fits := false
		for k, j := range index {
			for _, t := range p.Turns(i, j) {
				switch {
				case t%180 == 0:
					pl.ways[k] |= lyingLevel
					pl.level = pl.level || pl.w <= sheets[k].w && pl.h <= sheets[k].h
				case t%90 == 0:
					pl.ways[k] |= lyingUpright
					pl.upright = pl.upright || pl.h <= sheets[k].w && pl.w <= sheets[k].h
				default:
					b := q.Shape.Turned(t).Box()
					fits = fits || b.Dx()+by <= sheets[k].w && b.Dy()+by <= sheets[k].h
				}
			}
		}
		if pl.level || pl.upright || fits {
			list = append(list, pl)
		}
	}
	return list
}

// freeTurns reports whether a part of a material may be turned by other than
// quarter turns.
func freeTurns(p *nest.Problem, material string) bool {
	for i := range p.Parts {
		if p.Parts[i].Material != material {
			continue
		}
		for _, t := range p.Parts[i].Turns {
			if t%90 != 0 {
				return true
			}
		}
	}
	return false
}

// enlargement returns by how much rectangles and sheets may be enlarged: a full
// kerf for straight cuts. Two routed rectangles a gap apart may be so diagonally:
// then they are at least gap/√2 apart along one axis.
func enlargement(p *nest.Problem) length.Length {
	if p.Cut == kerf.Saw {
		return p.Kerf
	}
	return length.Length(math.Floor(float64(p.Gap) / math.Sqrt2 * (1 - 1e-12)))
}

// areas returns the area of a shape and the least area it has when it is grown by
// half the gap on all sides. For a convex outline that is known (Steiner):
// A + U*r + pi*r^2 with the circumference U; any other grows at least as a disc of
// its area does (Brunn & Minkowski). What it grows into its holes is not counted.
// With free turns, what the judge forgives is taken off.
func areas(s geom.Polygon, gap length.Length, free bool) (area, spread float64) {
	area, r := float64(s.Area2())/2, float64(gap)/2
	around := circumference(s.Outer)
	if free {
		edges := around
		for _, h := range s.Holes {
			edges += circumference(h)
		}
		area, r = max(0, area-loss*edges), max(0, r-loss)
	}
	if convex(s.Outer) {
		return area, area + around*r + math.Pi*r*r
	}
	root := math.Sqrt(area) + math.Sqrt(math.Pi)*r
	return area, root * root
}

func circumference(r geom.Ring) float64 {
	sum := 0.0
	for i, a := range r {
		d := r[(i+1)%len(r)].Sub(a)
		sum += math.Hypot(float64(d.X), float64(d.Y))
	}
	return sum
}

// convex reports whether a counter-clockwise ring has no notch.
func convex(r geom.Ring) bool {
	n := len(r)
	for i := range r {
		if geom.Orient(r[i], r[(i+1)%n], r[(i+2)%n]) == geom.Clockwise {
			return false
		}
	}
	return true
}

// turnedSize returns the box of a turned part, of its blank for the saw.
func turnedSize(p *nest.Problem, part, turn int) geom.Point {
	q := &p.Parts[part]
	if p.Cut != kerf.Saw || turn%90 != 0 {
		return q.Shape.Turned(turn).Box().Size()
	}
	if turn%180 == 0 {
		return q.Blank
	}
	return geom.Pt(q.Blank.Y, q.Blank.X)
}

package bound

import (
	"context"
	"math"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/length"
)

// Of returns what no plan for p can beat. Panels that fit no sheet, and problems
// whose limited stock cannot hold the panels, count only as far as something is
// certain: the bound is then that of the material without them, or zero. When
// ctx ends, the best bound so far is returned.
func Of(ctx context.Context, p *nest.Problem) nest.Bound {
	var b nest.Bound
	method := area
	for _, m := range p.Materials() {
		one := ofMaterial(ctx, p, m)
		b.Sheets += one.sheets
		b.Cost += one.cost
		method = max(method, one.method)
	}
	b.Method = method.String()
	return b
}

// StripLength returns a length no plan for an open-ended strip can be under: the
// area of the shapes over the width of the strip, or the largest least extent of
// a shape.
func StripLength(p *nest.Problem) length.Length {
	if len(p.Stocks) == 0 {
		return 0
	}
	total := 0.0
	var least length.Length
	for i := range p.Parts {
		q := &p.Parts[i]
		if q.Copies == 0 {
			continue
		}
		total += float64(q.Shape.Area2()) / 2 * float64(q.Copies)
		ext := length.Length(math.MaxInt64)
		for _, t := range p.Turns(i, 0) {
			ext = min(ext, q.Shape.Turned(t).Box().Dx())
		}
		if ext != math.MaxInt64 {
			least = max(least, ext)
		}
	}
	width := p.Stocks[0].Usable.Dy()
	if width <= 0 {
		return least
	}
	return max(least, length.Length(math.Ceil(total/float64(width)*(1-1e-12))))
}

// method says which weights gave a bound; a later one is stronger.
type method int

const (
	area method = iota
	areaWithKerf
	dualFeasible
)

func (m method) String() string {
	switch m {
	case areaWithKerf:
		return "area with kerf"
	case dualFeasible:
		return "dual feasible functions"
	}
	return "area"
}

// single is the bound of one material.
type single struct {
	sheets int
	cost   int64
	method method
}

// raise takes a better bound over.
func (s *single) raise(sheets int, cost int64, m method) {
	if sheets > s.sheets || cost > s.cost {
		s.method = m
	}
	s.sheets, s.cost = max(s.sheets, sheets), max(s.cost, cost)
}

// sheet is a kind of sheet that can be had.
type sheet struct {
	w, h      length.Length // enlarged
	area      float64
	cost      int64
	available int
}

// panel is a kind of panel.
type panel struct {
	copies         float64
	w, h           length.Length // enlarged
	area           float64       // of the true shape
	level, upright bool          // the ways in which it fits a sheet
	square         bool          // a rectangle
}

func ofMaterial(ctx context.Context, p *nest.Problem, material string) single {
	by := enlargement(p)
	var sheets []sheet
	var index []int
	for j := range p.Stocks {
		st := &p.Stocks[j]
		if st.Material != material || st.Available == 0 || st.Usable.Empty() {
			continue
		}
		sheets = append(sheets, sheet{
			w: st.Usable.Dx() + by, h: st.Usable.Dy() + by,
			area: float64(st.Usable.Dx()) * float64(st.Usable.Dy()), cost: st.Cost, available: st.Available,
		})
		index = append(index, j)
	}
	panels, square := panelsOf(p, material, by, sheets, index)
	var b single
	if len(panels) == 0 {
		return b
	}
	// The area of the shapes, blanks for the saw.
	demand := 0.0
	capacity := make([]float64, len(sheets))
	for i := range panels {
		demand += panels[i].copies * panels[i].area
	}
	for j := range sheets {
		capacity[j] = sheets[j].area
	}
	n, c, ok := cover(demand, capacity, sheets)
	if !ok {
		return single{} // the stock cannot hold everything: nothing is certain
	}
	b.raise(n, c, area)
	if !square {
		return b
	}
	demand = 0
	for i := range panels {
		demand += panels[i].copies * float64(panels[i].w) * float64(panels[i].h)
	}
	for j := range sheets {
		capacity[j] = float64(sheets[j].w) * float64(sheets[j].h)
	}
	if n, c, ok = cover(demand, capacity, sheets); !ok {
		return single{}
	}
	b.raise(n, c, areaWithKerf)
	b.functions(ctx, panels, sheets)
	return b
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

// panelsOf returns the panels of a material that fit a sheet of it, and whether
// all of them are rectangles.
func panelsOf(p *nest.Problem, material string, by length.Length, sheets []sheet, index []int) ([]panel, bool) {
	var list []panel
	square := true
	for i := range p.Parts {
		q := &p.Parts[i]
		if q.Material != material || q.Copies == 0 {
			continue
		}
		size := q.Shape.Box().Size()
		pl := panel{copies: float64(q.Copies), area: float64(q.Shape.Area2()) / 2, square: q.Shape.Outer.IsRectangle() && len(q.Shape.Holes) == 0}
		if p.Cut == kerf.Saw {
			size, pl.square = q.Blank, true
			pl.area = float64(size.X) * float64(size.Y)
		}
		pl.w, pl.h = size.X+by, size.Y+by
		free := false // a free turn: only the area counts
		for k, j := range index {
			for _, t := range p.Turns(i, j) {
				switch {
				case t%90 != 0:
					free = true
				case t%180 == 0:
					pl.level = pl.level || pl.w <= sheets[k].w && pl.h <= sheets[k].h
				default:
					pl.upright = pl.upright || pl.h <= sheets[k].w && pl.w <= sheets[k].h
				}
			}
		}
		if !pl.level && !pl.upright && !free {
			continue // fits no sheet: it will be unplaced
		}
		square = square && pl.square && !free
		list = append(list, pl)
	}
	return list, square
}

// cover returns the fewest sheets and the least cost, each by itself, whose
// capacities reach a demand. It reports false when all there are do not.
func cover(demand float64, capacity []float64, sheets []sheet) (int, int64, bool) {
	total := 0.0
	for j := range sheets {
		if capacity[j] <= 0 {
			continue
		}
		if sheets[j].available == parts.Unlimited {
			total = math.Inf(1)
			break
		}
		total += capacity[j] * float64(sheets[j].available)
	}
	demand *= 1 - 1e-9
	if total < demand {
		return 0, 0, false
	}
	count := make([]kind, 0, len(sheets))
	money := make([]kind, 0, len(sheets))
	for j := range sheets {
		if capacity[j] > 0 {
			count = append(count, kind{capacity[j], 1, sheets[j].available})
			money = append(money, kind{capacity[j], sheets[j].cost, sheets[j].available})
		}
	}
	return int(leastCost(demand, count)), leastCost(demand, money), true
}

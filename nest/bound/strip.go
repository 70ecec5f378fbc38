package bound

import (
	"math"

	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// StripLength returns a length that no plan for an open-ended strip can be under,
// in units; parts that fit the width in no turn are left out. It is the largest of
// the area of the shapes over the width of the strip, of the longest part as it
// may lie, and for rectangles of the length times the width put through a dual
// feasible function, so that parts too wide to lie side by side add up.
func StripLength(p *nest.Problem) length.Length {
	if len(p.Stocks) == 0 || p.Stocks[0].Usable.Empty() {
		return 0
	}
	st := &p.Stocks[0]
	sheets, index := sheetsOf(p, st.Material)
	if len(sheets) == 0 {
		return 0
	}
	width, by := st.Usable.Dy(), enlargement(p)
	demand := 0.0
	for _, q := range panelsOf(p, st.Material, sheets, index, make([]bool, len(p.Parts))) {
		demand += q.copies * q.area
	}
	least := roundUp(demand / float64(width))
	var lying [][]geom.Point // sizes of each square part's turns, enlarged
	var copies []float64
	var across []length.Length
	for i := range p.Parts {
		q := &p.Parts[i]
		if q.Copies == 0 || q.Material != st.Material {
			continue
		}
		part := *p // the part alone, so that panelsOf judges it
		part.Parts = p.Parts[i : i+1]
		one := panelsOf(&part, st.Material, sheets, index, []bool{false})
		if len(one) == 0 {
			continue
		}
		var sizes []geom.Point
		shortest := length.Length(math.MaxInt64)
		for _, t := range p.Turns(i, 0) {
			size := turnedSize(p, i, t)
			if size.Y > width {
				continue
			}
			if t%90 != 0 {
				size.X -= loss
			}
			shortest = min(shortest, size.X)
			sizes = append(sizes, size.Add(geom.Pt(by, by)))
		}
		least = max(least, shortest)
		if one[0].square && !freeTurns(p, st.Material) {
			lying, copies = append(lying, sizes), append(copies, float64(q.Copies))
			for _, s := range sizes {
				across = append(across, s.Y)
			}
		}
	}
	for _, f := range family(across, width+by) {
		sum := 0.0
		for i, sizes := range lying {
			v := math.Inf(1)
			for _, s := range sizes {
				v = min(v, float64(s.X)*f.at(s.Y, width+by))
			}
			sum += copies[i] * v
		}
		least = max(least, roundUp(sum)-by)
	}
	return least
}

// roundUp returns the least length in units that is not under v, but for what
// float64 loses of a sum.
func roundUp(v float64) length.Length { return length.Length(math.Ceil(v * (1 - 1e-12))) }

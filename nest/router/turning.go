package router

import (
	"panelyard/nest"
)

// turning thins the turns of free angles out, so that shapes stay few enough for
// their pairs to be kept.
type turning struct{ most int } // turns of a shape that is no rectangle

// maxTurned is how many shapes, turns counted, a material should not have more of.
const maxTurned = 480

func newTurning(p *nest.Problem, material string) turning {
	n := 0
	for i := range p.Parts {
		if q := &p.Parts[i]; q.Material == material && q.Copies > 0 && !isPlate(q) {
			n++
		}
	}
	return turning{max(4, maxTurned/max(1, n))}
}

func isPlate(q *nest.Part) bool { return q.Shape.Outer.IsRectangle() && len(q.Shape.Holes) == 0 }

// thin returns the turns of a part to try on a stock. A rectangle gains next to
// nothing from others than quarter turns; of other shapes every so many are left out.
// A part that fits only in one that would be left out keeps all.
func (l turning) thin(q *nest.Part, st *nest.Stock, turns []int) []int {
	if len(turns) <= 4 {
		return turns
	}
	most := l.most
	if isPlate(q) {
		most = 4
	}
	keep := (len(turns) + most - 1) / most
	for len(turns)%keep != 0 {
		keep++
	}
	var list []int
	fits := false
	for k, t := range turns {
		if k%keep != 0 && t%90 != 0 {
			continue
		}
		list = append(list, t)
		size := q.Shape.Turned(t).Box().Size()
		fits = fits || size.X <= st.Usable.Dx() && size.Y <= st.Usable.Dy()
	}
	if !fits {
		return turns
	}
	return list
}

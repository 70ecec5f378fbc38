package bound

import (
	"slices"

	"panelyard/nest"
)

// views returns the panels of a material in ways whose weights all bound a plan. There
// is one, unless panels for a saw may share blanks, two of them each. Then there are
// three, and the weights of one are not to be mixed with those of another:
//
//   - A shared blank is as long and as wide as each of the blanks it stands for, so it
//     weighs as much as either, and half of both: such panels count half.
//   - Shapes in a shared blank keep Apart between them, others a kerf, so shapes grown
//     by half the lesser do not overlap: such panels count with their shape.
//   - Points Apart from each other are Apart/√2 or more from each other along an axis;
//     where that is a kerf, rectangles in the shapes lie as blanks do: such panels
//     count with a rectangle that lies in their shape.
func views(p *nest.Problem, panels []panel) [][]panel {
	sharing := 0.0
	for i := range panels {
		if panels[i].shares {
			sharing += panels[i].copies
		}
	}
	if sharing < 2 {
		return [][]panel{panels}
	}
	halves, shapes := slices.Clone(panels), slices.Clone(panels)
	for i := range panels {
		if !panels[i].shares {
			continue
		}
		halves[i].copies /= 2
		q := &shapes[i]
		q.square = false
		q.area, q.spread = areas(q.shape, min(p.Kerf, p.Gap, p.Apart), false)
	}
	list := [][]panel{halves, shapes}
	if 2*int64(p.Kerf)*int64(p.Kerf) > int64(p.Apart)*int64(p.Apart) {
		return list
	}
	rectangles := slices.Clone(panels)
	for i := range panels {
		if !panels[i].shares {
			continue
		}
		q := &rectangles[i]
		size := inscribed(q.shape)
		if size.X == 0 {
			q.copies = 0
			continue
		}
		q.w, q.h = size.X+p.Kerf, size.Y+p.Kerf
		q.area = float64(size.X) * float64(size.Y)
	}
	return append(list, rectangles)
}

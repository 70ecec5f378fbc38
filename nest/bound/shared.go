package bound

import (
	"context"
	"slices"

	"panelyard/kerf"
	"panelyard/nest"
)

// views returns the panels of a material in ways whose weights all bound a plan. There
// is one, unless panels for a saw may share blanks, two of them each. Then there are
// two, and the weights of one are not to be mixed with those of the other:
//
//   - A shared blank is as long and as wide as each of the blanks it stands for, so it
//     weighs as much as either, and half of both: such panels count half.
//   - Shapes in a shared blank keep Apart between them, others a kerf, so shapes grown
//     by half the lesser do not overlap: such panels count with their shape.
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
	return [][]panel{halves, shapes}
}

// maxTried is how many pairs of parts are looked at by how they lie beside each other;
// of the others nothing is said.
const maxTried = 40

// sharers returns which parts of a material could share a blank with another panel. It
// is certain only of those that could not.
func sharers(ctx context.Context, p *nest.Problem, material string) []bool {
	could := make([]bool, len(p.Parts))
	if p.Cut != kerf.Saw || p.Apart <= 0 {
		return could
	}
	var open []int
	for i := range p.Parts {
		if q := &p.Parts[i]; q.Material == material && q.Copies > 0 && q.MayShare() {
			open = append(open, i)
		}
	}
	tried := 0
	for n, i := range open {
		for _, j := range open[n:] {
			if could[i] && could[j] || i == j && p.Parts[i].Copies < 2 || tooLarge(&p.Parts[i], &p.Parts[j]) {
				continue
			}
			if tried++; tried > maxTried || ctx.Err() != nil || couldShare(p, i, j) {
				could[i], could[j] = true, true
			}
		}
	}
	return could
}

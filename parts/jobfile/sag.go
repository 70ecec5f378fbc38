package jobfile

import (
	"fmt"

	"panelyard/parts"
	"panelyard/parts/length"
	"panelyard/parts/shelf"
)

// sag says how far a panel that carries a load sags over its length, and warns when
// that is more than usual. The panel rests on supports at its ends.
func (r *reader) sag(p *parts.Panel) {
	m := r.out.Material(p.Material)
	if p.Load == 0 || m == nil {
		return
	}
	what := fmt.Sprintf("panel %q", clip(p.Name))
	if m.Modulus == 0 {
		r.list.Warn(p.Pos, what, fmt.Sprintf("it carries %g kg, and how stiff %q is is not known", p.Load, clip(m.Name)), "say modulus: at the material, in N/mm2; 2200 for MDF and 7000 for plywood are usual (boards differ, their maker's data come first)")
		return
	}
	size := p.Size()
	s := shelf.Shelf{Span: size.X, Depth: size.Y, Thickness: m.Measured, Modulus: m.Modulus, Density: m.Density, Creep: shelf.DefaultCreep}
	load := shelf.Load{Mass: p.Load, Spread: shelf.Whole}
	got, err := s.Sag(load)
	if err != nil {
		r.list.Warn(p.Pos, what, "its sag cannot be worked out: "+err.Error(), "check load and modulus")
		return
	}
	limit := shelf.Over(shelf.UsualOver)
	allowed := limit.Allowed(size.X)
	p.Workings = append(p.Workings, fmt.Sprintf("%g kg evenly: sags %s at once, %s in the long run; span/%d is %s",
		p.Load, r.tenth(got.Now), r.tenth(got.Later), shelf.UsualOver, r.tenth(allowed)))
	if got.Later <= allowed {
		return
	}
	remedy := "use thicker board, a shorter span, or a strip along its front"
	if most, err := s.MaxSpan(load, limit); err == nil {
		remedy = fmt.Sprintf("it would be within it up to %s long; %s", r.tenth(most), remedy)
	}
	r.list.Warn(p.Pos, what, fmt.Sprintf("with %g kg it sags %s in the long run, more than span/%d, which is %s", p.Load, r.tenth(got.Later), shelf.UsualOver, r.tenth(allowed)), remedy)
}

// tenth writes a length to a tenth of a millimetre, or a hundredth of an inch.
func (r *reader) tenth(l length.Length) string {
	if r.out.Units == length.IN {
		return fmt.Sprintf("%.2f in", l.Inches())
	}
	return l.Fixed(1) + " mm"
}

package toolpath

import (
	"math"

	"panelyard/parts"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// slope is the tangent of the angle at which the bit goes down along a path: 5
// degrees, common practice, no source.
const slope = 0.0875

// add completes a path, whose board is on the left, and adds it to the list.
func (f *finder) add(p Path, w *wall) {
	p.Panel = f.item.Panel.Name
	p.Small = IsSmall(f.item.CutOutline)
	if p.Closed {
		if f.router.Direction == parts.Climb {
			p.Line = outline.Outline(p.Line).Reversed()
		}
		p.Line = started(p.Line)
	}
	f.hold(&p)
	p.Depths = Depths(f.paths.Thickness, max(f.router.Overcut, 0), f.router.Pass, p.Skin)
	if p.Closed && p.Kind != Outline {
		f.lead(&p, w)
	}
	if p.Lead == nil && p.Length() > f.paths.Bit {
		p.Ramp = f.ramp(&p)
	}
	f.paths.List = append(f.paths.List, p)
}

// ramp returns the stretch on which the bit goes down along a path.
func (f *finder) ramp(p *Path) length.Length {
	l := length.Length(math.Round(float64(p.Depths[0]) / slope))
	if p.Closed {
		return min(l, p.Length()/2)
	}
	return min(l, p.Length())
}

// started returns a closed line that starts in the middle of its longest piece, where
// coming down and leaving do least harm.
func started(line []outline.Vertex) []outline.Vertex {
	o := outline.Outline(line)
	best := 0
	for i := range o {
		if o.SegmentLength(i) > o.SegmentLength(best) {
			best = i
		}
	}
	c := segment(o, best)
	at := round(c.at(c.len / 2))
	next := line[(best+1)%len(line)].At
	if at == line[best].At || at == next {
		return line
	}
	half := math.Tan(math.Atan(line[best].Bulge) / 2)
	list := []outline.Vertex{{At: at, Bulge: half}}
	for k := 1; k <= len(line); k++ {
		list = append(list, line[(best+k)%len(line)])
	}
	list[len(list)-1].Bulge = half
	return list
}

// lead adds quarter arcs on the waste side by which the bit comes to a closed path
// and leaves it, where there is room for them: of the bit's radius, of a half or a
// quarter of it.
func (f *finder) lead(p *Path, w *wall) {
	c := segment(p.Line, 0)
	s, d := c.a, c.heading(0)
	waste, bulge := d.left().mul(-1), -math.Tan(math.Pi/8)
	if f.router.Direction == parts.Climb {
		waste, bulge = d.left(), math.Tan(math.Pi/8)
	}
	for _, k := range [3]float64{1, 0.5, 0.25} {
		rho := k * f.r
		in := bulged(s.add(waste.mul(rho)).sub(d.mul(rho)), s, bulge)
		out := bulged(s, s.add(waste.mul(rho)).add(d.mul(rho)), bulge)
		if w.clearAlong(&in, f.r-depth) && w.clearAlong(&out, f.r-depth) {
			at := p.Line[0].At
			p.Lead = []outline.Vertex{{At: round(in.a), Bulge: bulge}, {At: at}}
			p.Exit = []outline.Vertex{{At: at, Bulge: bulge}, {At: round(out.b)}}
			return
		}
	}
}

// clearAlong reports whether places along a short curve are no nearer to the wall
// than d.
func (w *wall) clearAlong(c *curve, d float64) bool {
	const steps = 8
	for k := range steps + 1 {
		if !w.clear(c.at(c.len*float64(k)/steps), d) {
			return false
		}
	}
	return true
}

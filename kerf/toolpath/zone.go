package toolpath

import (
	"fmt"
	"math"

	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// Zone is a place on a sheet that the bit must keep clear of: a circle about the
// middle of Box when Round, otherwise Box.
type Zone struct {
	Name  string
	Box   geom.Box
	Round bool
	Pos   diag.Pos
}

// ScrewMargin is what is kept between the edge of the bit and a screw: common
// practice, no source.
const ScrewMargin = 2 * length.Millimetre

// Screws returns the zones of the screws of a router.
func Screws(router parts.Router) []Zone {
	var list []Zone
	for i, s := range router.Screws {
		r := (s.Diameter + 1) / 2
		list = append(list, Zone{
			Name: fmt.Sprintf("screw %d at (%s, %s)", i+1, s.At.X.Decimal(), s.At.Y.Decimal()),
			Box:  geom.Box{Min: s.At.Sub(geom.Pt(r, r)), Max: s.At.Add(geom.Pt(r, r))}, Round: true, Pos: s.Pos,
		})
	}
	return list
}

// Crossings warns of paths on a sheet that come nearer to a zone than half the bit and
// a margin: one finding for each panel and zone. Where a zone is a rectangle the
// distance is right within 0.01 mm. Cost: curves of paths near a zone, times zones.
func Crossings(sheet string, list []Path, zones []Zone, bit, margin length.Length) diag.List {
	var found diag.List
	keep := float64(bit)/2 + float64(margin)
	for _, z := range zones {
		lo, hi := exactly(z.Box.Min), exactly(z.Box.Max)
		room := box{lo, hi}.grown(keep)
		type who struct {
			panel string
			copy  int
		}
		named := map[who]bool{}
		for i := range list {
			p := &list[i]
			if named[who{p.Panel, p.Copy}] {
				continue
			}
			least := math.Inf(1)
			for _, c := range p.curves() {
				if c.box().meets(room) {
					least = min(least, z.distance(&c))
				}
			}
			if least >= keep {
				continue
			}
			named[who{p.Panel, p.Copy}] = true
			found.Warn(z.Pos, fmt.Sprintf("panel %q", p.Panel), fmt.Sprintf("on sheet %s the path of its %s passes %s at %s mm from the bit's edge, less than the %s mm to be kept",
				sheet, p.Kind, z.Name, mm(max(least-float64(bit)/2, 0)), margin.Decimal()), "move the screw, or plan again with a wider margin")
		}
	}
	return found
}

// distance returns the distance of a curve from a zone, 0 when it enters it.
func (z *Zone) distance(c *curve) float64 {
	lo, hi := exactly(z.Box.Min), exactly(z.Box.Max)
	if z.Round {
		return max(c.distance(mid(lo, hi))-(hi.x-lo.x)/2, 0)
	}
	const step = float64(length.Millimetre) / 5
	n := math.Ceil(c.len/step) + 1
	least := math.Inf(1)
	for k := range int(n) + 1 {
		p := c.at(c.len * float64(k) / n)
		least = min(least, math.Hypot(max(lo.x-p.x, 0, p.x-hi.x), max(lo.y-p.y, 0, p.y-hi.y)))
	}
	return least
}

package svgmap

import (
	"math"
	"slices"
)

// lead writes the keys of panels that have no room for one near them, each with a
// line that leads to its panel. Keys keep clear of one another and, where they
// can, of such panels, and their lines of other texts. A panel that finds no
// place in reach is counted as unlabelled.
func (p *page) lead(panels []int) {
	small := make([]rect, len(panels))
	for k, i := range panels {
		small[k] = p.box(p.m.Placements[i].Shape.Box())
	}
	for k, i := range panels {
		l, ok := p.beside(p.m.Placements[i].Row.Key, small[k], small)
		if !ok {
			p.unlabelled++
			continue
		}
		p.labels[i] = l
		p.take(l.box)
	}
}

// beside looks for the place of a key around the box of its panel, on rings of
// growing size. First it stays off the panels that are small too and lets the
// line cross no text; then that is given up.
func (p *page) beside(text string, panel rect, small []rect) (label, bool) {
	const (
		size = 1.9
		step = 2.0
		far  = 15 // rings
	)
	lines := []string{text}
	w, h := extent(lines, size)
	to := panel.middle()
	// The map and the rim that numbers of cuts may use.
	area := p.sheet.grown(edgeW - 0.5)
	area.x, area.w = p.sheet.x, area.w-(p.sheet.x-area.x)
	area.h = p.sheet.y + p.sheet.h - area.y
	for _, strict := range [2]bool{true, false} {
		for ring := 1; ring <= far; ring++ {
			for k := range 16 {
				sin, cos := math.Sincos(float64(k) * math.Pi / 8)
				from := spot{to.x + cos*float64(ring)*step, to.y - sin*float64(ring)*step}
				r := rect{from.x - w/2, from.y - h/2, w, h}
				if !area.contains(r) || r.overlaps(panel) || !p.free(r) {
					continue
				}
				if strict && (!clearOf(small, r) || p.crosses(from, to)) {
					continue
				}
				return label{lines: lines, size: size, box: r, leader: &to}, true
			}
		}
	}
	return label{}, false
}

// crosses reports whether a line runs over anything written.
func (p *page) crosses(a, b spot) bool {
	return slices.ContainsFunc(p.taken, func(t rect) bool { return t.meets(a, b) })
}

// meets reports whether the line from a to b runs through r: Liang and Barsky's
// clipping (A new concept and method for line clipping, 1984, from memory)
// leaves something of it.
func (r rect) meets(a, b spot) bool {
	t0, t1 := 0.0, 1.0
	for _, e := range [4][2]float64{
		{a.x - b.x, a.x - r.x},
		{b.x - a.x, r.x + r.w - a.x},
		{a.y - b.y, a.y - r.y},
		{b.y - a.y, r.y + r.h - a.y},
	} {
		switch d, q := e[0], e[1]; {
		case d == 0:
			if q < 0 {
				return false
			}
		case d < 0:
			t0 = max(t0, q/d)
		default:
			t1 = min(t1, q/d)
		}
	}
	return t0 < t1
}

package book

import (
	"slices"

	"panelyard/export"
	"panelyard/parts/length"
)

// ground is where words may stand on a panel: within its outline and clear of its
// openings. Rings are in mm of board.
type ground struct {
	ring  [][2]float64
	holes [][][2]float64
}

// chord is how far a ring may stand off a curve.
const chord = length.Millimetre / 4

func groundOf(p *export.PlacedPanel) ground {
	g := ground{ring: ring(p.Outline.Points(chord))}
	for _, o := range p.Openings {
		g.holes = append(g.holes, ring(o.Points(chord)))
	}
	return g
}

// ring turns points into mm.
func ring(points [][2]float64) [][2]float64 {
	for i := range points {
		points[i][0] /= float64(length.Millimetre)
		points[i][1] /= float64(length.Millimetre)
	}
	return points
}

// has reports whether a box of w by h mm about a point lies in the panel: one point of
// it does, and no edge comes into it.
func (g *ground) has(x, y, w, h float64) bool {
	low, high := [2]float64{x - w/2, y - h/2}, [2]float64{x + w/2, y + h/2}
	return within(g.ring, x, y) && !enters(g.ring, low, high) && !slices.ContainsFunc(g.holes, func(hole [][2]float64) bool {
		return within(hole, x, y) || enters(hole, low, high)
	})
}

// within reports whether a point lies in a ring, by the crossings of a ray.
func within(ring [][2]float64, x, y float64) bool {
	in := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a[1] > y) != (b[1] > y) && x < a[0]+(b[0]-a[0])*(y-a[1])/(b[1]-a[1]) {
			in = !in
		}
	}
	return in
}

// enters reports whether an edge of a ring has a point within a box: what is left of
// it after it is clipped by one side after the other (by Liang and Barsky, from
// memory).
func enters(ring [][2]float64, low, high [2]float64) bool {
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		from, to := 0.0, 1.0
		for k := range 2 {
			d := b[k] - a[k]
			if d == 0 {
				if a[k] <= low[k] || a[k] >= high[k] {
					to = -1
				}
				continue
			}
			s, e := (low[k]-a[k])/d, (high[k]-a[k])/d
			from, to = max(from, min(s, e)), min(to, max(s, e))
		}
		if from < to {
			return true
		}
	}
	return false
}

// spots are places in a box of eighths, those near its middle first.
var spots = func() [][2]length.Length {
	var list [][2]length.Length
	for x := range length.Length(7) {
		for y := range length.Length(7) {
			list = append(list, [2]length.Length{x + 1, y + 1})
		}
	}
	slices.SortStableFunc(list, func(a, b [2]length.Length) int {
		far := func(s [2]length.Length) int { return int((s[0]-4)*(s[0]-4) + (s[1]-4)*(s[1]-4)) }
		return far(a) - far(b)
	})
	return list
}()

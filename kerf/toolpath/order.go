package toolpath

import (
	"math"
	"slices"

	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// Order returns the paths of the panels on one sheet in the order in which they are
// cut, from the sheet's origin:
//
//  1. panels that lie in an opening or a pocket of another before that is cut loose,
//  2. openings and pockets before outlines,
//  3. outlines of small panels before those of large ones,
//  4. within these a short way between them.
//
// A path whose waste holds another panel loses its leads, which would run into that
// panel, and comes down along itself. Cost: about n² for n paths of a sheet, and the
// vertices of openings times panels.
func Order(panels []Paths) []Path {
	level, holds := nesting(panels)
	type entry struct {
		path  Path
		stage [3]int
	}
	var list []entry
	for i, ps := range panels {
		for k, p := range ps.List {
			if holds[i][k] {
				p = p.withoutLeads()
			}
			late, large := 0, 0
			if p.Kind == Outline {
				late = 1
				if !p.Small {
					large = 1
				}
			}
			list = append(list, entry{p, [3]int{-level[i], late, large}})
		}
	}
	slices.SortStableFunc(list, func(a, b entry) int { return slices.Compare(a.stage[:], b.stage[:]) })
	var done []Path
	from := geom.Point{}
	for i := 0; i < len(list); {
		var group []Path
		for stage := list[i].stage; i < len(list) && list[i].stage == stage; i++ {
			group = append(group, list[i].path)
		}
		done = append(done, tour(from, group)...)
		from = done[len(done)-1].End()
	}
	return done
}

// withoutLeads returns a path that comes down along itself.
func (p Path) withoutLeads() Path {
	if p.Lead != nil {
		p.Lead, p.Exit = nil, nil
		p.Ramp = min(length.Length(math.Round(float64(p.Depths[0])/slope)), p.Length()/2)
	}
	return p
}

// nesting returns in how many openings or pockets each panel lies, and which paths
// have another panel in their waste.
func nesting(panels []Paths) (level []int, holds [][]bool) {
	level, holds = make([]int, len(panels)), make([][]bool, len(panels))
	for i, ps := range panels {
		holds[i] = make([]bool, len(ps.List))
		for k := range ps.List {
			p := &ps.List[k]
			if p.Kind == Outline || !p.Closed {
				continue
			}
			ring := outline.Outline(p.Line).Points(length.Millimetre / 10)
			b := outline.Outline(p.Line).Box()
			for j, other := range panels {
				at := other.Outline[0].At
				in := at.X >= b.Min.X && at.X <= b.Max.X && at.Y >= b.Min.Y && at.Y <= b.Max.Y
				if j != i && in && encloses(ring, exactly(at)) {
					level[j]++
					holds[i][k] = true
				}
			}
		}
	}
	return level, holds
}

// encloses reports whether a point lies in a loop of points: a ray from it meets the
// loop an odd number of times.
func encloses(ring [][2]float64, p vec) bool {
	odd := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a[1] > p.y) != (b[1] > p.y) && p.x < a[0]+(p.y-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			odd = !odd
		}
	}
	return odd
}

// most2opt is how many paths a group may have for its tour to be bettered.
const most2opt = 1000

// tour returns paths in an order that is short to travel from a point: always the
// nearest next, then the way between two of them turned round while that makes it
// shorter (2-opt, folklore). Paths are taken as their starts there.
func tour(from geom.Point, group []Path) []Path {
	var list []Path
	at := from
	for left := slices.Clone(group); len(left) > 0; {
		best := 0
		for i := range left {
			if far(at, left[i].Start()) < far(at, left[best].Start()) {
				best = i
			}
		}
		list = append(list, left[best])
		at = left[best].End()
		left = slices.Delete(left, best, best+1)
	}
	if len(list) > most2opt {
		return list
	}
	points := []geom.Point{from}
	for i := range list {
		points = append(points, list[i].Start())
	}
	const rounds = 50
	for range rounds {
		better := false
		for i := 0; i+2 < len(points); i++ {
			for j := i + 2; j < len(points); j++ {
				// The way i, i+1 ... j, j+1 becomes i, j ... i+1, j+1.
				gain := far(points[i], points[i+1]) - far(points[i], points[j])
				if j+1 < len(points) {
					gain += far(points[j], points[j+1]) - far(points[i+1], points[j+1])
				}
				if gain > tight {
					slices.Reverse(points[i+1 : j+1])
					slices.Reverse(list[i:j])
					better = true
				}
			}
		}
		if !better {
			break
		}
	}
	return list
}

func far(a, b geom.Point) float64 { return exactly(a).to(exactly(b)) }

// Travel returns the way above the sheet from its origin through paths in their order
// and back.
func Travel(list []Path) length.Length {
	sum := 0.0
	at := geom.Point{}
	for i := range list {
		sum += far(at, list[i].Start())
		at = list[i].End()
	}
	return length.Length(math.Round(sum + far(at, geom.Point{})))
}

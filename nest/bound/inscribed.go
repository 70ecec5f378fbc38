package bound

import (
	"slices"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// lines is how many lines along each axis the sides of an inscribed rectangle are
// chosen from.
const lines = 14

// inscribed returns the size of a large rectangle, sides along the axes, that lies in a
// shape and off its holes; zero when none was found. Its sides lie on lines through
// corners of the shape, or evenly spaced. Cost: 4th power of lines, times the edges, at
// worst.
func inscribed(s geom.Polygon) geom.Point {
	box := s.Box()
	rings := append([]geom.Ring{s.Outer}, s.Holes...)
	var xs, ys []length.Length
	for _, r := range rings {
		for _, p := range r {
			xs, ys = append(xs, p.X), append(ys, p.Y)
		}
	}
	xs, ys = chosen(xs, box.Min.X, box.Max.X), chosen(ys, box.Min.Y, box.Max.Y)
	var best geom.Point
	area := int64(0)
	for i, x0 := range xs {
		for _, x1 := range xs[i+1:] {
			for k, y0 := range ys {
				// The highest first: the first that lies in the shape is the largest.
				for n := len(ys) - 1; n > k; n-- {
					a := int64(x1-x0) * int64(ys[n]-y0)
					if a <= area {
						break
					}
					if b := (geom.Box{Min: geom.Pt(x0, y0), Max: geom.Pt(x1, ys[n])}); within(rings, b) {
						best, area = b.Size(), a
						break
					}
				}
			}
		}
	}
	return best
}

// chosen returns at most so many of the coordinates of corners, in order; evenly spaced
// ones when there are too many.
func chosen(at []length.Length, lo, hi length.Length) []length.Length {
	slices.Sort(at)
	if at = slices.Compact(at); len(at) <= lines {
		return at
	}
	list := make([]length.Length, lines)
	for i := range list {
		list[i] = lo + (hi-lo)*length.Length(i)/(lines-1)
	}
	return list
}

// within reports whether a box lies in the outer one of some rings and off the others:
// its middle does, and no edge enters it.
func within(rings []geom.Ring, b geom.Box) bool {
	for _, r := range rings {
		for i, p := range r {
			if enters(p, r[(i+1)%len(r)], b) {
				return false
			}
		}
	}
	middle := geom.Pt((b.Min.X+b.Max.X)/2, (b.Min.Y+b.Max.Y)/2)
	if rings[0].Locate(middle) != geom.Inside {
		return false
	}
	for _, h := range rings[1:] {
		if h.Locate(middle) != geom.Outside {
			return false
		}
	}
	return true
}

// enters reports whether a segment meets the inside of a box: its own box does, and the
// corners of the box lie on both sides of its line.
func enters(p, q geom.Point, b geom.Box) bool {
	if max(p.X, q.X) <= b.Min.X || min(p.X, q.X) >= b.Max.X || max(p.Y, q.Y) <= b.Min.Y || min(p.Y, q.Y) >= b.Max.Y {
		return false
	}
	left, right := false, false
	for _, c := range b.Ring() {
		switch geom.Orient(p, q, c) {
		case geom.CounterClockwise:
			left = true
		case geom.Clockwise:
			right = true
		}
	}
	return left && right
}

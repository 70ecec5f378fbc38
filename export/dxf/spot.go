package dxf

import (
	"cmp"
	"slices"
	"unicode/utf8"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// textHeights are the heights that labels are tried with, largest first (our own
// choice; the least can be read on a screen and engraved).
var textHeights = [...]length.Length{
	10 * length.Millimetre, 7 * length.Millimetre, 5 * length.Millimetre, 3 * length.Millimetre, 2 * length.Millimetre,
}

// scans is into how many parts the lines divide a panel on which room for its label
// is looked for, and for how many openings there are lines beside them.
const scans = 16

// advance is how far a letter is taken to go on, in heights: more than the wide
// letters of common faces.
const advance = 1

// labelled returns a text that stands on the board of a panel, clear of its openings
// if there is room, lengthways or else across. Its place is on the board in any
// case, as far as the polygon tells; a text that has no room reaches out of it. The
// cost is that of some hundred lines through the panel.
func labelled(content string, p geom.Polygon) Text {
	letters := length.Length(utf8.RuneCountInString(content))
	for _, h := range textHeights {
		for _, turn := range [...]int{0, 90} {
			need := letters*h*advance + h
			if at, free := room(p.Turned(-turn), h, need); free >= need {
				return Text{At: geom.Pt(at.X+h/2, at.Y).Turned(turn), Height: h, Turn: turn, Content: content}
			}
		}
	}
	h := textHeights[len(textHeights)-1]
	at, free := room(p, 0, length.Max)
	return Text{At: geom.Pt(at.X+min(h/2, free/2), at.Y), Height: h, Content: content}
}

// room returns the left end of a free stretch of a height, and how wide it is: the
// widest on the first baseline where one is as wide as needed, or else on any.
func room(p geom.Polygon, height, need length.Length) (at geom.Point, free length.Length) {
	for _, y := range baselines(p, height) {
		if free >= need {
			break
		}
		board, edges := band(p, y, y+height)
		for _, s := range without(board, edges) {
			if w := s.to - s.from; w > free {
				at, free = geom.Pt(s.from, y), w
			}
		}
	}
	return at, free
}

// baselines returns where the baseline of a label may be: from the middle outwards,
// so that it stands in the middle where it has a choice; then along the lower and the
// upper edge of the panel, and below and above its first openings, where a frame has
// room.
func baselines(p geom.Polygon, height length.Length) []length.Length {
	b := p.Box()
	low, high := b.Min.Y, b.Max.Y-height
	if low >= high {
		return nil
	}
	var list []length.Length
	for i := 1; i < scans; i++ {
		k := scans/2 + (i/2)*(1-2*(i%2))
		list = append(list, low+(high-low)*length.Length(k)/scans)
	}
	air := height / 4
	list = append(list, low+air, high-air)
	for _, h := range p.Holes[:min(len(p.Holes), scans)] {
		c := h.Box()
		list = append(list, c.Min.Y-height-air, c.Max.Y+air)
	}
	return list
}

// stretch is a part of a line across a panel.
type stretch struct{ from, to length.Length }

// band returns where the line at low runs on the board, and over which stretches of
// it an edge passes between low and high, each list from left to right.
func band(p geom.Polygon, low, high length.Length) (board, edges []stretch) {
	var xs []length.Length
	for _, r := range append([]geom.Ring{p.Outer}, p.Holes...) {
		for i, a := range r {
			b := r[(i+1)%len(r)]
			if a.Y > b.Y {
				a, b = b, a
			}
			if a.Y > high || b.Y < low {
				continue
			}
			from, to := a.X, b.X
			if a.Y < low {
				from = crossing(a, b, low)
			}
			if b.Y > high {
				to = crossing(a, b, high)
			}
			edges = append(edges, stretch{min(from, to), max(from, to)})
			if a.Y <= low && b.Y > low {
				xs = append(xs, from)
			}
		}
	}
	slices.Sort(xs)
	for i := 0; i+1 < len(xs); i += 2 {
		board = append(board, stretch{xs[i], xs[i+1]})
	}
	slices.SortFunc(edges, func(s, t stretch) int { return cmp.Compare(s.from, t.from) })
	return board, edges
}

// crossing returns where the line from a to b is at a height between them.
func crossing(a, b geom.Point, y length.Length) length.Length {
	return a.X + length.Length(float64(b.X-a.X)*float64(y-a.Y)/float64(b.Y-a.Y))
}

// without returns what is left of the stretches of a list without those of another.
func without(list, others []stretch) []stretch {
	var left []stretch
	for _, s := range list {
		for _, o := range others {
			if o.to < s.from || o.from > s.to {
				continue
			}
			left = append(left, stretch{s.from, o.from})
			s.from = o.to
		}
		left = append(left, s)
	}
	return left
}

package template

import (
	"math"

	"panelyard/export/pdf"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// chordError is how far the pieces of a loop leave its arcs, where it is asked what
// lies in a window: less than the pen is wide.
const chordError = 20 * length.Micrometre

// piece is a piece of a loop: a line, or so little of an arc that its chord is as good
// where it is asked what lies where. Coordinates are those of the panel.
type piece struct {
	a, b    pdf.Point
	quarter float64 // quarter of the signed angle of the arc, in radians; 0 is a line
	segment int     // of the outline
}

// box returns what a piece lies in.
func (p piece) box() Rect {
	return Rect{
		min(p.a.X, p.b.X), min(p.a.Y, p.b.Y), max(p.a.X, p.b.X), max(p.a.Y, p.b.Y),
	}.grown(chordError.MM())
}

// length returns the length of the chord.
func (p piece) length() float64 { return math.Hypot(p.b.X-p.a.X, p.b.Y-p.a.Y) }

// loop is an outline in pieces, in order.
type loop []piece

// newLoop cuts an outline into pieces.
func newLoop(o outline.Outline) loop {
	var l loop
	for i, v := range o {
		next := outline.Vertex{At: o[(i+1)%len(o)].At}
		quarter := 0.0
		if o.Radius(i) > 0 {
			quarter = math.Atan(v.Bulge)
		} else {
			v.Bulge = 0
		}
		pts := outline.Outline{v, next}.Points(chordError)
		n := len(pts) - 1
		for k := range n {
			l = append(l, piece{place(pts[k]), place(pts[k+1]), quarter / float64(n), i})
		}
	}
	return l
}

// place returns a point of an outline in mm.
func place(p [2]float64) pdf.Point {
	return pdf.Point{X: p[0] / float64(length.Millimetre), Y: p[1] / float64(length.Millimetre)}
}

// view maps coordinates of the panel to those of a page: the point at of the panel
// comes to lie at on of the page, a mm of the panel is scale mm of paper.
type view struct {
	at, on pdf.Point
	scale  float64
}

func (v view) point(p pdf.Point) pdf.Point {
	return pdf.Point{X: v.on.X + (p.X-v.at.X)*v.scale, Y: v.on.Y - (p.Y-v.at.Y)*v.scale}
}

// path returns a whole loop on a page, each segment in one step.
func (v view) path(l loop) pdf.Path {
	p := v.runs(l, Rect{math.Inf(-1), math.Inf(-1), math.Inf(1), math.Inf(1)})[0]
	p.Closed = true
	return p
}

// runs returns what of a loop may be seen in a window of the panel, on a page: pieces
// that follow each other in one path, those of one arc in one step.
func (v view) runs(l loop, window Rect) []pdf.Path {
	var list []pdf.Path
	var sweep float64 // quarter of the angle of the last step
	last := -1        // piece of the last step
	for i, p := range l {
		if !p.box().touches(window) {
			continue
		}
		// The page's y runs the other way, and so does the arc.
		step := pdf.Step{To: v.point(p.b), Bulge: -math.Tan(p.quarter)}
		switch {
		case last < 0 || last != i-1:
			list = append(list, pdf.Path{From: v.point(p.a), Steps: []pdf.Step{step}})
			sweep = p.quarter
		case l[last].segment == p.segment:
			path := &list[len(list)-1]
			sweep += p.quarter
			step.Bulge = -math.Tan(sweep)
			path.Steps[len(path.Steps)-1] = step
		default:
			path := &list[len(list)-1]
			path.Steps = append(path.Steps, step)
			sweep = p.quarter
		}
		last = i
	}
	return list
}

// clip returns the ends of what of the line from a to b lies in a rectangle, as shares
// of its length, by the method of Liang and Barsky (A New Concept and Method for Line
// Clipping, ACM Transactions on Graphics 3 (1), 1984; from memory).
func clip(a, b pdf.Point, r Rect) (from, to float64, ok bool) {
	from, to = 0, 1
	for _, e := range [4][2]float64{ // how far it moves towards a side, and how far that is
		{a.X - b.X, a.X - r.X0},
		{b.X - a.X, r.X1 - a.X},
		{a.Y - b.Y, a.Y - r.Y0},
		{b.Y - a.Y, r.Y1 - a.Y},
	} {
		move, room := e[0], e[1]
		switch {
		case move == 0 && room < 0:
			return 0, 0, false
		case move < 0:
			from = max(from, room/move)
		case move > 0:
			to = min(to, room/move)
		}
	}
	return from, to, from <= to
}

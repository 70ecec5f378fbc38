package template

import (
	"math"
	"slices"

	"panelyard/export/pdf"
)

// The texts of the drawing, in mm.
const (
	labelSize    = 3.2
	leastLabel   = 1.8
	labelAway    = 1.6 // from the line it belongs to
	leastRun     = 12.0
	mostLabels   = 60 // of a page
	mostOfARun   = 0.9
	smallOpening = 14.0 // openings up to it are named beside
)

// scribe places labels in a window so that they lie in it whole and on nothing else.
type scribe struct {
	window Rect // of the page
	// lines are small boxes along what is drawn, by the cells of the page they touch.
	lines  map[[2]int][]Rect
	placed []Words
}

// cell is the side of a cell in mm, and cells calls f with those that a rectangle
// touches.
const cell = 8.0

func cells(r Rect, f func(c [2]int)) {
	for x := int(math.Floor(r.X0 / cell)); x <= int(math.Floor(r.X1/cell)); x++ {
		for y := int(math.Floor(r.Y0 / cell)); y <= int(math.Floor(r.Y1/cell)); y++ {
			f([2]int{x, y})
		}
	}
}

// block adds what is drawn to what labels keep off.
func (s *scribe) block(a, b pdf.Point) {
	if _, _, ok := clip(a, b, s.window); !ok {
		return
	}
	n := int(math.Hypot(b.X-a.X, b.Y-a.Y)/2) + 1 // boxes of 2 mm at most
	at := func(k int) pdf.Point {
		f := float64(k) / float64(n)
		return pdf.Point{X: a.X + f*(b.X-a.X), Y: a.Y + f*(b.Y-a.Y)}
	}
	for k := range n {
		p, q := at(k), at(k+1)
		r := Rect{min(p.X, q.X), min(p.Y, q.Y), max(p.X, q.X), max(p.Y, q.Y)}
		if r.touches(s.window) {
			if s.lines == nil {
				s.lines = map[[2]int][]Rect{}
			}
			cells(r, func(c [2]int) { s.lines[c] = append(s.lines[c], r) })
		}
	}
}

// try places a label about a centre where it has room.
func (s *scribe) try(centre pdf.Point, turn, size float64, text string) bool {
	if text == "" {
		return false
	}
	w := Words{Size: size, Anchor: Middle, Turn: turn, Text: text}
	sin, cos := math.Sincos(turn * math.Pi / 180)
	down := 0.36 * size // of the foot below the middle of the letters
	w.At = pdf.Point{X: centre.X + down*sin, Y: centre.Y + down*cos}
	box := newSlant(centre, pdf.Width(text, size, pdf.Regular)/2, size*0.6, turn)
	bounds := Rect{centre.X, centre.Y, centre.X, centre.Y}
	for _, c := range box.corners() {
		if !s.window.has(c) {
			return false
		}
		bounds = Rect{min(bounds.X0, c.X), min(bounds.Y0, c.Y), max(bounds.X1, c.X), max(bounds.Y1, c.Y)}
	}
	free := true
	cells(bounds.grown(2), func(c [2]int) { // a box touches what its cells do, or nearly
		free = free && !slices.ContainsFunc(s.lines[c], box.meets)
	})
	if !free {
		return false
	}
	for _, other := range s.placed {
		if box.near(other.slant()) {
			return false
		}
	}
	s.placed = append(s.placed, w)
	return true
}

// slant is a rectangle turned counter-clockwise about its centre.
type slant struct {
	c          pdf.Point
	half, rise float64 // along the text and across
	sin, cos   float64
}

func newSlant(c pdf.Point, half, rise, turn float64) slant {
	sin, cos := math.Sincos(turn * math.Pi / 180)
	return slant{c, half, rise, sin, cos}
}

// slant returns the place of a text that is anchored in its middle.
func (w Words) slant() slant {
	b := newSlant(w.At, pdf.Width(w.Text, w.Size, w.Face)/2, 0.6*w.Size, w.Turn)
	b.c = pdf.Point{X: w.At.X - 0.36*w.Size*b.sin, Y: w.At.Y - 0.36*w.Size*b.cos}
	return b
}

// corners returns the corners of s.
func (s slant) corners() [4]pdf.Point {
	var list [4]pdf.Point
	for i, k := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		u, v := k[0]*s.half, k[1]*s.rise
		list[i] = pdf.Point{X: s.c.X + u*s.cos + v*s.sin, Y: s.c.Y - u*s.sin + v*s.cos}
	}
	return list
}

// own returns a point in the frame of s.
func (s slant) own(p pdf.Point) pdf.Point {
	dx, dy := p.X-s.c.X, p.Y-s.c.Y
	return pdf.Point{X: dx*s.cos - dy*s.sin, Y: dx*s.sin + dy*s.cos}
}

// meets reports whether a small box may touch s.
func (s slant) meets(r Rect) bool {
	reach := math.Hypot(r.width(), r.height()) / 2
	p := s.own(pdf.Point{X: (r.X0 + r.X1) / 2, Y: (r.Y0 + r.Y1) / 2})
	return math.Abs(p.X) <= s.half+reach && math.Abs(p.Y) <= s.rise+reach
}

// near reports whether two may touch: whether their boxes in the frame of one do.
func (s slant) near(t slant) bool {
	box := Rect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, c := range t.corners() {
		p := s.own(c)
		box = Rect{min(box.X0, p.X), min(box.Y0, p.Y), max(box.X1, p.X), max(box.Y1, p.Y)}
	}
	return box.touches(Rect{-s.half, -s.rise, s.half, s.rise})
}

// run is what of a line is seen in one go: its points, on the page.
type run []pdf.Point

func (r run) length() float64 {
	sum := 0.0
	for i := 1; i < len(r); i++ {
		sum += math.Hypot(r[i].X-r[i-1].X, r[i].Y-r[i-1].Y)
	}
	return sum
}

// at returns the point at a share of the length and the direction there.
func (r run) at(share float64) (p pdf.Point, dx, dy float64) {
	left := share * r.length()
	for i := 1; i < len(r); i++ {
		a, b := r[i-1], r[i]
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		if l == 0 {
			continue
		}
		dx, dy = (b.X-a.X)/l, (b.Y-a.Y)/l
		p = pdf.Point{X: a.X + left*dx, Y: a.Y + left*dy}
		if left <= l {
			break
		}
		left -= l
	}
	return p, dx, dy
}

// longest returns the longest run of pieces that is seen in the window of a page.
func longest(v view, pieces []piece, window Rect) run {
	var best, now run
	var bestLong, nowLong float64
	for _, p := range pieces {
		a, b := v.point(p.a), v.point(p.b)
		from, to, ok := clip(a, b, window)
		if !ok {
			now, nowLong = nil, 0
			continue
		}
		if from > 0 || len(now) == 0 {
			now, nowLong = run{{X: a.X + from*(b.X-a.X), Y: a.Y + from*(b.Y-a.Y)}}, 0
		}
		now = append(now, pdf.Point{X: a.X + to*(b.X-a.X), Y: a.Y + to*(b.Y-a.Y)})
		if nowLong += (to - from) * p.length() * v.scale; nowLong > bestLong {
			best, bestLong = now, nowLong
		}
		if to < 1 {
			now, nowLong = nil, 0
		}
	}
	return best
}

// along names a line beside it, on the left of the way it runs in the panel: within.
func (s *scribe) along(r run, text string) bool {
	long := r.length()
	if long < leastRun || len(s.placed) >= mostLabels {
		return false
	}
	text, size := pdf.Fit(text, labelSize, leastLabel, mostOfARun*long, pdf.Regular)
	half := pdf.Width(text, size, pdf.Regular) / 2 / long
	for _, share := range [5]float64{0.5, 0.3, 0.7, half + 0.02, 0.98 - half} {
		p, dx, dy := r.at(share)
		// How far the line bends towards the text along it.
		a, _, _ := r.at(max(0, share-half))
		b, _, _ := r.at(min(1, share+half))
		bend := max(0, ((a.X+b.X)/2-p.X)*dy-((a.Y+b.Y)/2-p.Y)*dx)
		away := labelAway + size*0.6 + 1.2*bend
		turn := math.Atan2(-dy, dx) * 180 / math.Pi
		if turn > 90.01 || turn <= -89.99 { // never upside down
			turn += 180
		}
		if s.try(pdf.Point{X: p.X + away*dy, Y: p.Y - away*dx}, math.Remainder(turn, 360), size, text) {
			return true
		}
	}
	return false
}

package svgmap

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"panelyard/export"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// label is text in a panel or an offcut, or beside it. The first of several
// lines is bold.
type label struct {
	lines   []string
	size    float64 // of the text
	box     rect
	upright bool
	whole   bool  // says name and sizes in full
	leader  *spot // a place in the panel that a line leads to
}

// arrow is a grain arrow in a panel.
type arrow struct {
	box     rect
	upright bool
}

// wording is what a label may say, with the least and most size of its text.
type wording struct {
	lines       []string
	least, most float64
	whole       bool
}

// labelSizes are the sizes of text that labels are tried with.
var labelSizes = [...]float64{3.4, 3.0, 2.6, 2.2, 1.9}

// A label of more than smallLabel leaves sideAir free in its panel, lengthways or
// across, so that numbers of cuts have a place there.
const (
	smallLabel = 2.2
	sideAir    = 5.0
)

// labelPanels puts the label of every panel inside it, as much of it as there is
// room for, clear of openings. It returns the panels that have no room for one.
func (p *page) labelPanels() (outside []int) {
	p.labels = make([]label, len(p.m.Placements))
	for i := range p.m.Placements {
		pl := &p.m.Placements[i]
		l, ok := p.inside(pl)
		if !ok {
			outside = append(outside, i)
			continue
		}
		p.labels[i] = l
		p.take(l.box)
		p.grainArrow(pl, l.box)
	}
	return outside
}

// title returns the first line of a panel's label: key, name, hand.
func title(r *export.PanelRow) string {
	s := r.Key + "  " + plain(r.Name)
	if h := r.Hand.String(); h != "" && !strings.Contains(strings.ToLower(r.Name), h) {
		s += ", " + h
	}
	return s
}

// blankLine says what is sawn of a shaped panel; it is empty for others.
func (p *page) blankLine(pl *export.PlacedPanel) string {
	if !pl.Row.Shaped || p.d.Demand.Cut != kerf.Saw {
		return ""
	}
	s := "blank " + p.write.Size(pl.BlankSize())
	if pl.With != nil {
		s += ", shared by two"
	}
	return s
}

// wordings returns what the label of a panel may say, most first. A name too long
// for a room is cut short to fit it.
func (p *page) wordings(pl *export.PlacedPanel, room float64) []wording {
	r := pl.Row
	name, size := title(r), p.write.Size(r.Cut)
	sizes := []string{size}
	if b := p.blankLine(pl); b != "" {
		sizes = append(sizes, b)
	}
	var which []string
	if r.Of > 1 {
		which = append(which, fmt.Sprintf("%d of %d", pl.Copy, r.Of))
	}
	if pl.Flip {
		which = append(which, "face down")
	}
	full := slices.Concat([]string{name}, sizes)
	var list []wording
	if len(which) > 0 {
		list = append(list, wording{append(slices.Clone(full), strings.Join(which, ", ")), 2.2, 3.4, true})
	}
	list = append(list, wording{full, 1.9, 3.4, true})
	const small = smallLabel
	room -= sideAir
	if short := cutShort(name, small, room, boldWidth); len([]rune(short)) > len(r.Key)+8 {
		list = append(list, wording{slices.Concat([]string{short}, sizes), small, small, false})
	}
	list = append(list, wording{slices.Concat([]string{r.Key}, sizes), 1.9, 3.0, false})
	if short := cutShort(name, small, room, textWidth); len([]rune(short)) > len(r.Key)+5 {
		list = append(list, wording{[]string{short}, small, small, false})
	}
	return append(list, wording{[]string{r.Key}, 1.9, 3.4, false})
}

// inside returns the first label that fits into a panel.
func (p *page) inside(pl *export.PlacedPanel) (label, bool) {
	box := p.box(pl.Shape.Box())
	// Only what reaches into the panel can be in the way.
	var near []rect
	for _, t := range p.taken {
		if t.overlaps(box) {
			near = append(near, t)
		}
	}
	at := p.heart(pl, box)
	for _, wd := range p.wordings(pl, max(box.w, box.h)) {
		for _, size := range labelSizes {
			if size < wd.least || size > wd.most {
				continue
			}
			w, h := extent(wd.lines, size)
			for _, upright := range [2]bool{box.h > box.w, box.h <= box.w} {
				bw, bh := w, h
				if upright {
					bw, bh = h, w
				}
				if size > smallLabel && bw+sideAir > box.w && bh+sideAir > box.h {
					continue // nothing else could be written around it
				}
				if r, ok := p.clearSpot(pl, near, box, at, bw, bh); ok {
					return label{lines: wd.lines, size: size, box: r, upright: upright, whole: wd.whole}, true
				}
			}
		}
	}
	return label{}, false
}

// extent returns the size of lines of text with a little air.
func extent(lines []string, size float64) (w, h float64) {
	for i, l := range lines {
		if i == 0 && len(lines) > 1 {
			w = boldWidth(l, size)
		} else {
			w = max(w, textWidth(l, size))
		}
	}
	return w + 1, float64(len(lines))*size*1.25 + 0.6
}

// heart returns the place where a label is looked for first: the centre of
// gravity of a panel.
func (p *page) heart(pl *export.PlacedPanel, box rect) spot {
	if square(pl) && len(pl.Shape.Holes) == 0 {
		return box.middle()
	}
	area, sx, sy := 0.0, 0.0, 0.0
	for _, ring := range append([]geom.Ring{pl.Shape.Outer}, pl.Shape.Holes...) {
		o := ring[0]
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			c := float64(a.Sub(o).Cross(b.Sub(o)))
			area += c
			sx += c * (float64(a.X) + float64(b.X) + float64(o.X)) / 3
			sy += c * (float64(a.Y) + float64(b.Y) + float64(o.Y)) / 3
		}
	}
	if area <= 0 {
		return box.middle()
	}
	return spot{p.x(length.Length(sx / area)), p.y(length.Length(sy / area))}
}

// clearSpot looks for a place for a box inside a panel, as near to a spot as a
// grid of trials gives it.
func (p *page) clearSpot(pl *export.PlacedPanel, near []rect, in rect, at spot, w, h float64) (rect, bool) {
	if w > in.w || h > in.h {
		return rect{}, false
	}
	first := rect{
		max(in.x, min(in.x+in.w-w, at.x-w/2)),
		max(in.y, min(in.y+in.h-h, at.y-h/2)), w, h,
	}
	if clearOf(near, first) && p.covers(pl, first) {
		return first, true
	}
	if len(near) == 0 && square(pl) && len(pl.Shape.Holes) == 0 {
		return rect{}, false
	}
	const n = 13
	type trial struct {
		r   rect
		far float64
	}
	trials := make([]trial, 0, n*n)
	for i := range n {
		for k := range n {
			r := rect{in.x + (in.w-w)*float64(i)/(n-1), in.y + (in.h-h)*float64(k)/(n-1), w, h}
			c := r.middle()
			trials = append(trials, trial{r, math.Hypot(c.x-at.x, c.y-at.y)})
		}
	}
	slices.SortStableFunc(trials, func(a, b trial) int { return cmp.Compare(a.far, b.far) })
	for _, t := range trials {
		if clearOf(near, t.r) && p.covers(pl, t.r) {
			return t.r, true
		}
	}
	return rect{}, false
}

// square reports whether a panel fills its box on the sheet, openings aside.
func square(pl *export.PlacedPanel) bool { return !pl.Row.Shaped && pl.Turn%90 == 0 }

// air is kept between a label and the outline of a shaped panel or an opening.
const air = 0.4

// covers reports whether a box on the page lies on the board of a panel: inside
// its outline and off its openings. Shaped outlines are tried at points a
// millimetre and a half apart.
func (p *page) covers(pl *export.PlacedPanel, r rect) bool {
	for _, h := range pl.Shape.Holes {
		// The box of an opening stands for it: small ones are not missed then.
		if p.box(h.Box()).grown(air).overlaps(r) {
			return false
		}
	}
	if square(pl) {
		return true
	}
	const step = 1.5
	r = r.grown(air)
	nx, ny := max(1, int(math.Ceil(r.w/step))), max(1, int(math.Ceil(r.h/step)))
	outside := func(i, k int) bool {
		q := p.onSheet(r.x+r.w*float64(i)/float64(nx), r.y+r.h*float64(k)/float64(ny))
		return pl.Shape.Outer.Locate(q) == geom.Outside
	}
	// The corners tell most.
	if outside(0, 0) || outside(nx, 0) || outside(0, ny) || outside(nx, ny) {
		return false
	}
	for i := range nx + 1 {
		for k := range ny + 1 {
			if outside(i, k) {
				return false
			}
		}
	}
	return true
}

// bound reports whether the grain of a panel runs the way the map shows because
// it must.
func (p *page) bound(r *export.PanelRow) bool {
	return r.Grain != parts.NoAxis && p.m.Stock.Grain != parts.NoAxis
}

// grainArrow puts a grain arrow beside the label of a panel whose grain must run
// as it does, if there is room.
func (p *page) grainArrow(pl *export.PlacedPanel, l rect) {
	if !p.bound(pl.Row) {
		return
	}
	box := p.box(pl.Shape.Box())
	upright := p.m.Stock.Grain == parts.AlongWidth
	for _, long := range [2]float64{8, 5} {
		w, h := long, 1.8
		if upright {
			w, h = h, w
		}
		c := l.middle()
		for _, r := range [4]rect{
			{c.x - w/2, l.y + l.h + 0.8, w, h},
			{c.x - w/2, l.y - 0.8 - h, w, h},
			{l.x + l.w + 0.8, c.y - h/2, w, h},
			{l.x - 0.8 - w, c.y - h/2, w, h},
		} {
			if box.grown(-0.6).contains(r) && p.free(r) && p.covers(pl, r) {
				p.arrows = append(p.arrows, arrow{r, upright})
				p.take(r)
				return
			}
		}
	}
}

// labelOffcuts writes the size of every offcut into it where there is room.
func (p *page) labelOffcuts() {
	p.offcuts = make([]label, len(p.m.Offcuts))
	for i, o := range p.m.Offcuts {
		s := "offcut " + p.write.Size(o.Box.Size())
		if o.Keep {
			s = "keep " + p.write.Size(o.Box.Size())
		}
		b := p.box(o.Box)
		p.offcuts[i] = p.inOffcut(b, s)
		if p.offcuts[i].lines != nil {
			p.take(p.offcuts[i].box)
		}
	}
}

// inOffcut returns the label of an offcut in the middle of its box; it has no
// lines when there is no room.
func (p *page) inOffcut(b rect, s string) label {
	for _, size := range [...]float64{3, 2.4, 1.9} {
		w, h := textWidth(s, size)+1, size*1.4
		for _, upright := range [2]bool{false, true} {
			bw, bh := w, h
			if upright {
				bw, bh = h, w
			}
			c := b.middle()
			r := rect{c.x - bw/2, c.y - bh/2, bw, bh}
			if b.contains(r) && p.free(r) {
				return label{lines: []string{s}, size: size, box: r, upright: upright}
			}
		}
	}
	return label{}
}

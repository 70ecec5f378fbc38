package svgmap

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"panelyard/export"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// The page, in mm: A4 landscape.
const (
	pageW, pageH = 297.0, 210.0
	margin       = 9.0
	headH        = 17.0 // title lines
	dimW         = 11.0 // running dimensions at the left
	dimH         = 9.0  // and below
	keyGap       = 3.0
	footH        = 9.0
	besideW      = 74.0  // key at the right of a sheet that leaves so much
	mapH         = 138.0 // the most a map with the key below may take
)

// scales are the scales a map may have, 1:n.
var scales = []float64{1, 2, 2.5, 5, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200}

// rect is a rectangle on the page, y downwards.
type rect struct{ x, y, w, h float64 }

func (r rect) overlaps(o rect) bool {
	return r.x < o.x+o.w && o.x < r.x+r.w && r.y < o.y+o.h && o.y < r.y+r.h
}

// label is text in a panel or beside it.
type label struct {
	lines   []string
	size    float64 // of the text
	box     rect
	upright bool
	leader  *[2]float64 // a point in the panel that a line leads to
}

// number is the order of a cut in a circle.
type number struct {
	n    int
	x, y float64
}

// dimension is a running dimension from the lower left corner of the sheet.
type dimension struct {
	at   float64 // on the page
	text string
	tick bool // only a tick: there was no room for the text
}

// page is a laid out map.
type page struct {
	d      *export.Dossier
	m      *export.SheetMap
	scale  float64 // 1:scale
	x0, y0 float64 // the sheet's lower left corner on the page
	sheet  rect
	labels []label // of placements, in their order
	nums   []number
	across []dimension
	up     []dimension
	taken  []rect
	rows   []row // of the key
	key    rect
	// keyBeside puts the key at the right of the map.
	keyBeside bool
	more      int // kinds the key has no room for
}

// row is a line of the key of panels.
type row struct {
	text string
	x, y float64
}

// layout lays sheet i out.
func layout(d *export.Dossier, i int) *page {
	p := &page{d: d, m: &d.Sheets[i]}
	l, w := p.m.Stock.Length.MM(), p.m.Stock.Width.MM()
	const room = pageW - 2*margin - dimW
	below := fit(l, w, room, mapH-dimH)
	beside := fit(l, w, room-besideW-keyGap, pageH-2*margin-headH-dimH-footH)
	p.scale = min(below, beside)
	p.keyBeside = beside < below
	p.x0 = margin + dimW
	p.y0 = margin + headH + w/p.scale
	p.sheet = rect{p.x0, margin + headH, l / p.scale, w / p.scale}
	p.dimensions()
	p.label()
	p.number()
	p.legend()
	return p
}

// fit returns the largest scale at which a sheet fits a room.
func fit(l, w, roomL, roomW float64) float64 {
	for _, s := range scales {
		if l/s <= roomL && w/s <= roomW {
			return s
		}
	}
	return scales[len(scales)-1]
}

// x and y turn lengths on the sheet into places on the page.
func (p *page) x(l length.Length) float64 { return p.x0 + l.MM()/p.scale }
func (p *page) y(l length.Length) float64 { return p.y0 - l.MM()/p.scale }

// box turns a box on the sheet into one on the page.
func (p *page) box(b geom.Box) rect {
	return rect{p.x(b.Min.X), p.y(b.Max.Y), b.Dx().MM() / p.scale, b.Dy().MM() / p.scale}
}

// short writes a length in mm with one decimal at most.
func short(l length.Length) string {
	return strings.TrimSuffix(l.Fixed(1), ".0")
}

// sizes writes length × width.
func sizes(p geom.Point) string { return short(p.X) + " × " + short(p.Y) }

// dimensions chooses the running dimensions: the far sides of blanks, the ends of
// the sheet first, then those that most panels share.
func (p *page) dimensions() {
	xs, ys := map[length.Length]int{}, map[length.Length]int{}
	for i := range p.m.Placements {
		b := p.m.Placements[i].Blank
		xs[b.Min.X]++
		xs[b.Max.X]++
		ys[b.Min.Y]++
		ys[b.Max.Y]++
	}
	xs[p.m.Stock.Length] = math.MaxInt32
	ys[p.m.Stock.Width] = math.MaxInt32
	p.across = running(xs, p.x, 2.7)
	p.up = running(ys, p.y, 2.7)
}

// running returns dimensions in order, texts at least gap apart.
func running(at map[length.Length]int, place func(length.Length) float64, gap float64) []dimension {
	var list []length.Length
	for l := range at {
		if l > 0 {
			list = append(list, l)
		}
	}
	slices.SortFunc(list, func(a, b length.Length) int { return cmp.Or(-cmp.Compare(at[a], at[b]), cmp.Compare(a, b)) })
	var out []dimension
	for _, l := range list {
		dim := dimension{at: place(l), text: short(l)}
		for _, o := range out {
			if !o.tick && math.Abs(o.at-dim.at) < gap {
				dim.tick = true
			}
		}
		out = append(out, dim)
	}
	slices.SortFunc(out, func(a, b dimension) int { return cmp.Compare(a.at, b.at) })
	return out
}

// The sizes of text that labels are tried with, large first.
var labelSizes = []float64{3.4, 3.0, 2.6, 2.2, 1.9}

// label places the label of every panel inside it, as much of it as there is room
// for, clear of openings and of each other; where there is none, beside it with
// a line to it.
func (p *page) label() {
	p.labels = make([]label, len(p.m.Placements))
	var outside []int
	for i := range p.m.Placements {
		pl := &p.m.Placements[i]
		if l, ok := p.inside(pl); ok {
			p.labels[i] = l
			p.taken = append(p.taken, l.box)
		} else {
			outside = append(outside, i)
		}
	}
	for _, i := range outside {
		p.labels[i] = p.beside(&p.m.Placements[i])
		p.taken = append(p.taken, p.labels[i].box)
	}
}

// texts returns what a label may say, most first.
func texts(pl *export.PlacedPanel) [][]string {
	r := pl.Row
	name := plain(r.Name)
	size := sizes(r.Cut)
	list := [][]string{{r.Key + "  " + name, size}}
	if r.Copies > 1 {
		nth := fmt.Sprintf("%d of %d", pl.Copy, r.Copies)
		list = append([][]string{{r.Key + "  " + name, size, nth}}, list...)
	}
	return append(list, []string{r.Key + "  " + name}, []string{r.Key, size}, []string{r.Key})
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
	for _, lines := range texts(pl) {
		for _, size := range labelSizes {
			if len(lines) == 1 && lines[0] != pl.Row.Key && size > 2.6 {
				continue
			}
			w, h := extent(lines, size)
			for _, upright := range []bool{box.h > box.w, box.h <= box.w} {
				bw, bh := w, h
				if upright {
					bw, bh = h, w
				}
				if bw > box.w || bh > box.h {
					continue
				}
				if r, ok := p.clearSpot(pl, near, box, bw, bh); ok {
					return label{lines: lines, size: size, box: r, upright: upright}, true
				}
			}
		}
	}
	// A long name, cut short.
	const size = 2.2
	for _, upright := range []bool{box.h > box.w, box.h <= box.w} {
		room := box.w
		if upright {
			room = box.h
		}
		lines := []string{pl.Row.Key + "  " + shorten(plain(pl.Row.Name), size, 0.8*room-textWidth(pl.Row.Key+"  ", size))}
		w, h := extent(lines, size)
		if upright {
			w, h = h, w
		}
		if len([]rune(lines[0])) > len(pl.Row.Key)+5 {
			if r, ok := p.clearSpot(pl, near, box, w, h); ok {
				return label{lines: lines, size: size, box: r, upright: upright}, true
			}
		}
	}
	return label{}, false
}

// extent returns the size of lines of text with a little air.
func extent(lines []string, size float64) (w, h float64) {
	for _, l := range lines {
		w = max(w, textWidth(l, size))
	}
	return w + 1, float64(len(lines))*size*1.25 + 0.6
}

// clearSpot looks for a place for a box inside a panel, nearest to its middle.
func (p *page) clearSpot(pl *export.PlacedPanel, near []rect, in rect, w, h float64) (rect, bool) {
	const n = 9
	best, bestFar := rect{}, math.Inf(1)
	for i := range n {
		for k := range n {
			r := rect{in.x + (in.w-w)*float64(i)/(n-1), in.y + (in.h-h)*float64(k)/(n-1), w, h}
			dx, dy := r.x+w/2-in.x-in.w/2, r.y+h/2-in.y-in.h/2
			if far := dx*dx + dy*dy; far < bestFar && clear(near, r) && p.covers(pl, r) {
				best, bestFar = r, far
			}
		}
	}
	return best, !math.IsInf(bestFar, 1)
}

// free reports whether a box is clear of what is placed already.
func (p *page) free(r rect) bool { return clear(p.taken, r) }

func clear(taken []rect, r rect) bool {
	for _, t := range taken {
		if t.overlaps(r) {
			return false
		}
	}
	return true
}

// covers reports whether a box on the page lies on the board of a panel: inside
// its outline and off its openings.
func (p *page) covers(pl *export.PlacedPanel, r rect) bool {
	for _, h := range pl.Shape.Holes {
		// The box of an opening stands for it: small ones are not missed then.
		if p.box(h.Box()).overlaps(r) {
			return false
		}
	}
	if pl.Row.Shaped {
		const step = 1.5
		nx, ny := int(math.Ceil(r.w/step)), int(math.Ceil(r.h/step))
		for i := range nx + 1 {
			for k := range ny + 1 {
				q := p.onSheet(r.x+r.w*float64(i)/float64(max(nx, 1)), r.y+r.h*float64(k)/float64(max(ny, 1)))
				if pl.Shape.Outer.Locate(q) == geom.Outside {
					return false
				}
			}
		}
	}
	return true
}

// onSheet turns a place on the page into a point on the sheet.
func (p *page) onSheet(x, y float64) geom.Point {
	const unit = float64(length.Millimetre)
	return geom.Pt(length.Length((x-p.x0)*p.scale*unit), length.Length((p.y0-y)*p.scale*unit))
}

// beside places the key of a panel that has no room for it near the panel, on
// what is free of other labels, with a line that leads to it.
func (p *page) beside(pl *export.PlacedPanel) label {
	box := p.box(pl.Shape.Box())
	cx, cy := box.x+box.w/2, box.y+box.h/2
	const size = 1.9
	lines := []string{pl.Row.Key}
	w, h := extent(lines, size)
	to := [2]float64{cx, cy}
	for ring := 1; ring < 60; ring++ {
		for k := range 16 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 8)
			r := rect{cx + cos*float64(ring)*2 - w/2, cy - sin*float64(ring)*2 - h/2, w, h}
			onPage := r.x > margin && r.y > margin+headH-4 && r.x+w < pageW-margin && r.y+h < p.y0+dimH
			if onPage && !r.overlaps(box) && p.free(r) {
				return label{lines: lines, size: size, box: r, leader: &to}
			}
		}
	}
	return label{lines: lines, size: size, box: rect{cx - w/2, cy - h/2, w, h}}
}

// radius of the circle around the number of a cut.
const circle = 1.75

// number places the order of every cut on its line, near an end, clear of labels
// and of other numbers; a number that finds no place is left out: the cut list
// has it.
func (p *page) number() {
	for i := range p.m.Cuts {
		c := &p.m.Cuts[i]
		x1, y1, x2, y2 := p.x(c.From.X), p.y(c.From.Y), p.x(c.To.X), p.y(c.To.Y)
		for _, t := range []float64{0.03, 0.97, 0.12, 0.88, 0.22, 0.78, 0.34, 0.66, 0.5, 0.43, 0.57, 0.28, 0.72, 0.17, 0.83, 0.07, 0.93} {
			x, y := x1+t*(x2-x1), y1+t*(y2-y1)
			x, y = max(p.sheet.x, min(p.sheet.x+p.sheet.w, x)), max(p.sheet.y, min(p.sheet.y+p.sheet.h, y))
			r := rect{x - circle, y - circle, 2 * circle, 2 * circle}
			if p.free(r) {
				p.taken = append(p.taken, r)
				p.nums = append(p.nums, number{i + 1, x, y})
				break
			}
		}
	}
}

// legend lays the key of panels out in columns below the map.
func (p *page) legend() {
	p.key = rect{margin, p.y0 + dimH + keyGap, pageW - 2*margin, 0}
	if p.keyBeside {
		x := p.sheet.x + p.sheet.w + keyGap
		p.key = rect{x, p.sheet.y, pageW - margin - x, 0}
	}
	p.key.h = pageH - margin - footH - p.key.y
	counts := map[*export.PanelRow]int{}
	var rows []*export.PanelRow
	for i := range p.m.Placements {
		r := p.m.Placements[i].Row
		if counts[r] == 0 {
			rows = append(rows, r)
		}
		counts[r]++
	}
	slices.SortStableFunc(rows, func(a, b *export.PanelRow) int { return cmp.Compare(len(a.Key), len(b.Key)) })
	slices.SortStableFunc(rows, func(a, b *export.PanelRow) int {
		return cmp.Or(cmp.Compare(len(a.Key), len(b.Key)), cmp.Compare(a.Key, b.Key))
	})
	const lineH, size = 3.3, 2.4
	perColumn := max(1, int(p.key.h/lineH))
	columns := min(max(1, int(p.key.w/65)), max(1, (len(rows)+perColumn-1)/perColumn))
	if len(rows) > perColumn*columns {
		p.more = len(rows) - perColumn*columns
		rows = rows[:perColumn*columns]
	}
	w := p.key.w / float64(columns)
	for n, r := range rows {
		tail := fmt.Sprintf("  %s", sizes(r.Cut))
		if counts[r] > 1 {
			tail += fmt.Sprintf("  %d pieces", counts[r])
		}
		if r.Shaped {
			tail += "  shaped"
		}
		if r.Hand != parts.NoHand {
			tail += "  " + r.Hand.String()
		}
		head := r.Key + "  "
		name := shorten(plain(r.Name), size, w-3-textWidth(head+tail, size))
		p.rows = append(p.rows, row{head + name + tail, p.key.x + w*float64(n/perColumn), p.key.y + lineH*float64(n%perColumn+1)})
	}
}

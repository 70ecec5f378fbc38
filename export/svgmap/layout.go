package svgmap

import (
	"panelyard/export"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// The page, in mm.
const (
	margin     = 9.0
	headH      = 19.0 // title lines, numbers of cuts above the map
	dimH       = 11.0 // running dimensions below the map
	dimW       = 12.0 // and at its left, in millimetres
	dimWInches = 15.0
	edgeW      = 4.5 // numbers of cuts at the right of the map
	keyGap     = 2.0
	besideW    = 76.0 // key at the right of a map that leaves so much
	besidesH   = 82.0 // of the page beside a map with its key below
	footH      = 13.0 // signs and cautions
)

// scales are the scales a map may have, 1:n. The last holds the longest sheet a
// job may have.
var scales = [...]float64{1, 2, 2.5, 5, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200, 250, 300}

// rect is a rectangle on the page, y downwards.
type rect struct{ x, y, w, h float64 }

func (r rect) overlaps(o rect) bool {
	return r.x < o.x+o.w && o.x < r.x+r.w && r.y < o.y+o.h && o.y < r.y+r.h
}

// contains reports whether o lies in r.
func (r rect) contains(o rect) bool {
	return o.x >= r.x && o.y >= r.y && o.x+o.w <= r.x+r.w && o.y+o.h <= r.y+r.h
}

// grown returns r with a rim of m around it.
func (r rect) grown(m float64) rect { return rect{r.x - m, r.y - m, r.w + 2*m, r.h + 2*m} }

// middle returns the centre of r.
func (r rect) middle() spot { return spot{r.x + r.w/2, r.y + r.h/2} }

// spot is a place on the page.
type spot struct{ x, y float64 }

// page is a laid out map.
type page struct {
	d      *export.Dossier
	m      *export.SheetMap
	paper  Paper
	back   bool // the sheet is seen from its back
	linked bool // panels are links
	write  export.Lengths
	scale  float64 // 1:scale
	x0     float64 // the sheet's lower left corner on the page
	y0     float64
	sheet  rect
	taken  []rect // what nothing else may be written on

	across, up []dimension
	labels     []label // of placements, in their order
	arrows     []arrow // grain of panels
	offcuts    []label // of offcuts, in their order; no lines where there is no room
	numbers    []number
	key        key
	signs      []sign

	unnumbered int // cuts without a number on the map
	unlabelled int // panels without a label
}

// layout lays sheet i out. What comes first has the choice of places.
func layout(d *export.Dossier, i int, look Look) *page {
	p := &page{d: d, m: &d.Sheets[i], write: d.Lengths(), paper: look.Paper, back: d.FaceDown() != look.Mirrored, linked: look.Linked}
	if p.paper == (Paper{}) {
		p.paper = A4
	}
	if p.back {
		p.m = p.m.Mirrored()
	}
	keyBeside := p.place()
	p.dimensions()
	outside := p.labelPanels()
	p.labelOffcuts()
	p.lead(outside)
	p.numberCuts()
	p.signsOfMap()
	if keyBeside {
		x := p.sheet.x + p.sheet.w + edgeW + keyGap
		p.fillKey(rect{x, p.sheet.y, p.paper.W - margin - x, p.paper.H - margin - footH - p.sheet.y})
	} else {
		y := p.y0 + dimH + keyGap
		p.fillKey(rect{margin, y, p.paper.W - 2*margin, p.paper.H - margin - footH - y})
	}
	return p
}

// place chooses the scale and the place of the sheet, and whether the key stands
// beside the map, where it has more room, rather than below.
func (p *page) place() (keyBeside bool) {
	l, w := p.m.Stock.Length.MM(), p.m.Stock.Width.MM()
	left := dimW
	if p.write.Unit() == "in" {
		left = dimWInches
	}
	room := p.paper.W - 2*margin - left - edgeW
	below := fit(l, w, room, p.paper.H-besidesH)
	beside := fit(l, w, room-keyGap-besideW, p.paper.H-2*margin-headH-dimH-footH)
	p.scale = min(below, beside)
	p.x0 = margin + left
	p.y0 = margin + headH + w/p.scale
	p.sheet = rect{p.x0, margin + headH, l / p.scale, w / p.scale}
	return beside <= below
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

// onSheet turns a place on the page into a point on the sheet.
func (p *page) onSheet(x, y float64) geom.Point {
	const unit = float64(length.Millimetre)
	return geom.Pt(length.Length((x-p.x0)*p.scale*unit), length.Length((p.y0-y)*p.scale*unit))
}

// free reports whether a box is clear of what is placed already.
func (p *page) free(r rect) bool { return clearOf(p.taken, r) }

func (p *page) take(r rect) { p.taken = append(p.taken, r) }

// clearOf reports whether r overlaps none of the rectangles taken.
func clearOf(taken []rect, r rect) bool {
	for _, t := range taken {
		if t.overlaps(r) {
			return false
		}
	}
	return true
}

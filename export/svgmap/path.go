package svgmap

import (
	"math"
	"strconv"
	"strings"

	"panelyard/export"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// boardPath returns the path data of a panel: its outline and its openings, to be
// filled by the even-odd rule.
func (p *page) boardPath(pl *export.PlacedPanel) string {
	var b strings.Builder
	p.path(&b, pl.Outline)
	for _, o := range pl.Openings {
		p.path(&b, o)
	}
	return b.String()
}

// flat is the rise of an arc, in mm of paper, below which it is drawn as a line:
// half of the last decimal that is written.
const flat = 0.00005

// path writes an outline as path data, arcs as arcs.
func (p *page) path(b *strings.Builder, o outline.Outline) {
	for i, v := range o {
		if i == 0 {
			b.WriteByte('M')
			p.vertex(b, v)
		}
		to := o[(i+1)%len(o)]
		chord := math.Hypot(to.At.X.MM()-v.At.X.MM(), to.At.Y.MM()-v.At.Y.MM()) / p.scale
		if math.Abs(v.Bulge)*chord/2 < flat {
			b.WriteByte('L')
			p.vertex(b, to)
			continue
		}
		r := coord(o.Radius(i) / float64(length.Millimetre) / p.scale)
		flags := [2]byte{'0', '0'} // large arc, and clockwise as seen on the page
		if math.Abs(v.Bulge) > 1 {
			flags[0] = '1'
		}
		if v.Bulge < 0 {
			flags[1] = '1'
		}
		b.WriteString("A" + r + " " + r + " 0 " + string(flags[0]) + " " + string(flags[1]) + " ")
		p.vertex(b, to)
	}
	b.WriteByte('Z')
}

// vertex writes the place of a vertex.
func (p *page) vertex(b *strings.Builder, v outline.Vertex) {
	b.WriteString(coord(p.x(v.At.X)) + " " + coord(p.y(v.At.Y)))
}

// coord writes a coordinate to a tenth of a micrometre of paper.
func coord(v float64) string {
	s := strconv.FormatFloat(v, 'f', 4, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

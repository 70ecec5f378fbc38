package svgmap

import (
	"math"
	"strconv"
	"strings"

	"panelyard/export"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// boardPath returns the path data of a panel: its outline and its openings, to be
// filled by the even-odd rule. Coordinates are those of the sheet in mm, y
// upwards, the vertices exact.
func boardPath(pl *export.PlacedPanel) string {
	var b strings.Builder
	path(&b, pl.Outline)
	for _, o := range pl.Openings {
		path(&b, o)
	}
	return b.String()
}

// path writes an outline as path data, arcs as arcs.
func path(b *strings.Builder, o outline.Outline) {
	for i, v := range o {
		if i == 0 {
			b.WriteString("M" + v.At.X.Decimal() + " " + v.At.Y.Decimal())
		}
		to := o[(i+1)%len(o)].At
		if o.Radius(i) == 0 { // a line
			b.WriteString("L" + to.X.Decimal() + " " + to.Y.Decimal())
			continue
		}
		arc(b, mmOf(v.At), mmOf(to), v.Bulge, to.X.Decimal()+" "+to.Y.Decimal())
	}
	b.WriteByte('Z')
}

// mmOf returns a point of the sheet in mm.
func mmOf(p geom.Point) spot { return spot{p.X.MM(), p.Y.MM()} }

// mostBulge is the most that an arc is written with at once, a little over a
// quarter turn. The centre of a larger one would hang too much on the last
// decimals: that of a half turn moves by the root of an error in its radius.
const mostBulge = 0.45

// arc writes an arc from a to b, whose place is written as end, in as many steps
// as it takes.
func arc(w *strings.Builder, a, b spot, bulge float64, end string) {
	dx, dy := b.x-a.x, b.y-a.y
	if math.Abs(bulge) > mostBulge {
		// The middle of the arc lies to the right of the chord when it runs
		// counter-clockwise.
		m := spot{(a.x+b.x)/2 + dy*bulge/2, (a.y+b.y)/2 - dx*bulge/2}
		half := (math.Sqrt(1+bulge*bulge) - 1) / bulge
		arc(w, a, m, half, decimal(m.x)+" "+decimal(m.y))
		arc(w, m, b, half, end)
		return
	}
	sweep := "0"
	if bulge > 0 {
		sweep = "1"
	}
	r := decimal(math.Hypot(dx, dy) * (1 + bulge*bulge) / (4 * math.Abs(bulge)))
	w.WriteString("A" + r + " " + r + " 0 0 " + sweep + " " + end)
}

// decimal writes a computed number of mm, finer than the grid of lengths so that
// the arc is not changed.
func decimal(v float64) string {
	s := strconv.FormatFloat(v, 'f', 8, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// boxPath returns the path data of a box on the sheet, drawn in by a distance.
func boxPath(b geom.Box, in length.Length) string {
	if c := b.Inset(in, in, in, in); !c.Empty() {
		b = c
	}
	var w strings.Builder
	path(&w, outline.Rectangle(b.Dx(), b.Dy()).Translate(b.Min))
	return w.String()
}

package svgmap

import (
	"strings"

	"panelyard/export"
	"panelyard/kerf/toolpath"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
	"panelyard/parts/svgpath"
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

// bitPath returns the path data of a run of the bit, without its leads.
func bitPath(p *toolpath.Path) string {
	var b strings.Builder
	if p.Closed {
		path(&b, p.Line)
	} else {
		run(&b, p.Line, len(p.Line)-1)
		if len(p.Line) == 1 {
			b.WriteString("h0") // a hole: the round ends of the line are drawn
		}
	}
	return b.String()
}

// path writes an outline as path data, arcs as arcs.
func path(b *strings.Builder, o outline.Outline) {
	run(b, o, len(o))
	b.WriteByte('Z')
}

// run writes the first segments of a line.
func run(b *strings.Builder, o outline.Outline, segments int) {
	for i, v := range o {
		if i == 0 {
			b.WriteString("M" + v.At.X.Decimal() + " " + v.At.Y.Decimal())
		}
		if i >= segments {
			return
		}
		to := o[(i+1)%len(o)].At
		if o.Radius(i) == 0 { // a line
			b.WriteString("L" + to.X.Decimal() + " " + to.Y.Decimal())
			continue
		}
		svgpath.Arc(b, v.At.X.MM(), v.At.Y.MM(), to.X.MM(), to.Y.MM(), v.Bulge, to.X.Decimal()+" "+to.Y.Decimal())
	}
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

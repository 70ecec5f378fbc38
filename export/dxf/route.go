package dxf

import (
	"slices"

	"panelyard/export"
	"panelyard/kerf"
	"panelyard/kerf/toolpath"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// edgeOf returns the layer of an opening: a round one that the bit cannot go round in
// is drilled, with the bit where it is just as wide, else with a drill of its width.
// A router that is not used has no bit.
func edgeOf(o outline.Outline, bit length.Length) Layer {
	if _, _, round := diameter(o); round && o.Box().Dx() <= bit {
		return Drill
	}
	return Opening
}

// bitOf returns the diameter of the bit with which a plan is cut, and 0 when it is
// sawn.
func bitOf(d *export.Dossier) length.Length {
	if d.Demand.Cut != kerf.Router {
		return 0
	}
	return d.Job.Router.Bit.EvenUp()
}

// route adds the paths of a bit in their order: what it takes out of corners, its way
// in, the way of its middle, its way out, and the parts of the way at which it stays
// above a tab.
func (d *Drawing) route(paths []toolpath.Path, bit length.Length) {
	for i := range paths {
		p := &paths[i]
		for _, at := range p.Reliefs {
			d.Add(Relief, Circle{geom.Pt(at.X-bit/2, at.Y), geom.Pt(at.X+bit/2, at.Y)})
		}
		d.run(Lead, p.Lead, false)
		d.run(Path, p.Line, p.Closed)
		d.run(Lead, p.Exit, false)
		for _, t := range p.Tabs {
			d.Add(Tab, Line{p.At(t.From), p.At(t.To)}) // tabs are on straight parts
		}
	}
}

// run adds a run of the bit, in its direction: a closed one is a polyline even where
// it is a circle, which has no direction; a hole is a point.
func (d *Drawing) run(on Layer, line []outline.Vertex, closed bool) {
	switch len(line) {
	case 0:
	case 1:
		d.Add(on, Point{line[0].At})
	default:
		d.Add(on, Polyline{Path: line, Closed: closed})
	}
}

// legend says what the lines of a drawing are, for a bit of a width and with kerfs.
func legend(d *export.Dossier, bit length.Length, kerfs []kerf.KerfLine) []string {
	w := d.Lengths()
	var lines []string
	if bit > 0 {
		lines = append(lines,
			"OUTLINE, OPENING, DRILL: edges of panels, without the width of the bit",
			"PATH, LEAD: middle of a bit of "+w.Text(bit)+" "+w.Unit()+", in the order of the cuts; TAB: where it stays above a tab")
	}
	if len(kerfs) > 0 {
		deep := w.Text(kerfs[0].Depth) + " " + w.Unit() + " deep"
		if slices.ContainsFunc(kerfs, func(k kerf.KerfLine) bool { return k.Depth != kerfs[0].Depth }) {
			deep = "as deep as the drawings of the panels say"
		}
		lines = append(lines, "KERF: in the back, "+deep+"; the drawing is seen from the good face")
	}
	return lines
}

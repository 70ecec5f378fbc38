package main

import (
	"fmt"
	"io"
	"math"

	svg "github.com/ajstarks/svgo/float"

	"panelyard/parts/length"
)

// The page of the picture, in mm of paper: A4, landscape, as for an arc. The blank is
// above, the bent board below.
const (
	bendLeft, bendRoom    = 16.0, 265.0 // of both views
	blankTop, blankRoom   = 66.0, 30.0
	sectionTop            = 124.0
	sectionRoom           = 78.0
	leastWritten, tightly = 3.7, 3.2 // between two measures side by side; height of their text
)

// draw writes the picture as SVG. What it writes to does not fail.
func (x bendSheet) draw(w io.Writer) {
	c := svg.New(w)
	c.Decimals = 3
	c.StartviewUnit(pageW, pageH, "mm", 0, 0, pageW, pageH)
	c.Title(fmt.Sprintf("bend: radius %s outside, %v degrees, %s", x.write.with(x.bend.Outer.Radius), x.bend.Outer.Angle, count(x.cuts.Count, "kerf")))
	c.Desc(pictureMark("bend") + ": a flat blank with its kerfs, and the board bent")
	c.Rect(0, 0, pageW, pageH, "fill:#fff")
	c.Gstyle("font-family:Helvetica,Arial,'Liberation Sans','DejaVu Sans',sans-serif;fill:#111")
	c.Text(15, 18, fmt.Sprintf("Bend: radius %s outside, angle %v°, board %s", x.write.to(x.bend.Outer.Radius), x.bend.Outer.Angle, x.write.with(x.bend.Thickness)), "font-size:6px;font-weight:bold")
	c.Text(15, 25, fmt.Sprintf("%s, %s wide, %s deep, web %s; measures in %s, to the middles of the kerfs; a picture, no template",
		count(x.cuts.Count, "kerf"), x.write.to(x.bend.Kerf), x.write.to(x.cuts.Depth), x.write.to(x.bend.Web), x.write.Word()), "font-size:4px;fill:#555")
	x.drawBlank(c)
	x.drawSection(c)
	c.Gend()
	c.End()
}

// caption writes what a view shows.
func (x bendSheet) caption(c *svg.SVG, y float64, text string, scale float64) {
	c.Text(15, y, fmt.Sprintf("%s, scale %s on A4", text, scaleWords(scale)), "font-size:4px")
}

// drawBlank draws the flat blank from its kerfed face, with running measures from one
// end. A blank that is too wide for the page is cut short.
func (x bendSheet) drawBlank(c *svg.SVG) {
	scale := tidy(x.blank().MM() / bendRoom)
	x.caption(c, 32, fmt.Sprintf("Blank, seen from the %s face that is kerfed", x.kerfedFace()), scale)
	long, high := x.blank().MM()/scale, blankRoom*2/3
	if x.width > 0 {
		high = min(blankRoom, x.width.MM()/scale)
	}
	at := func(l length.Length) float64 { return bendLeft + l.MM()/scale }
	bottom := blankTop + high
	c.Rect(bendLeft, blankTop, long, high, "fill:#f3ead9")
	for _, l := range []length.Length{x.from, x.from + x.cuts.Flat} {
		if l > 0 && l < x.blank() {
			c.Line(at(l), blankTop, at(l), bottom+3, inkStyle+"0.2;stroke-dasharray:3 1")
		}
	}
	kerf := max(0.12, x.bend.Kerf.MM()/scale)
	for _, l := range x.positions {
		c.Line(at(l), blankTop, at(l), bottom, fmt.Sprintf("stroke:#a33;stroke-width:%.3f", kerf), `class="kerf"`)
	}
	edge := inkStyle + "0.4"
	c.Polyline([]float64{bendLeft, bendLeft, bendLeft + long, bendLeft + long}, []float64{bottom, blankTop, blankTop, bottom}, edge)
	if x.width == 0 || x.width.MM()/scale > blankRoom {
		edge += ";stroke-dasharray:6 1.5 1 1.5" // goes on
	}
	c.Line(bendLeft, bottom, bendLeft+long, bottom, edge)
	x.runningMeasures(c, at)
	c.Text(bendLeft, bottom+8, fmt.Sprintf("blank %s: %s%s", x.write.with(x.blank()), x.sum(), x.widthWords(scale)), fmt.Sprintf("font-size:%gpx", textSize))
}

// widthWords says how wide the blank is, and whether the picture shows all of it.
func (x bendSheet) widthWords(scale float64) string {
	switch {
	case x.width == 0:
		return "; its width is not given"
	case x.width.MM()/scale > blankRoom:
		return fmt.Sprintf("; %s wide, cut short here", x.write.to(x.width))
	}
	return fmt.Sprintf("; %s wide", x.write.to(x.width))
}

// runningMeasures writes the distances of the kerfs from the left end, upright above
// them: all, or where they are too close every so many.
func (x bendSheet) runningMeasures(c *svg.SVG, at func(length.Length) float64) {
	write := func(px float64, text string) {
		c.Line(px, blankTop-1, px, blankTop-3, inkStyle+"0.15")
		c.Gtransform(fmt.Sprintf("translate(%.3f,%.3f) rotate(-90)", px+tightly*0.35, blankTop-4))
		c.Text(0, 0, text, fmt.Sprintf("font-size:%gpx", tightly), `class="measure"`)
		c.Gend()
	}
	// The ends give way to the kerfs: one is where measuring begins, the other is
	// written below.
	last, end := math.Inf(-1), at(x.blank())
	if at(x.positions[0])-at(0) >= leastWritten {
		write(at(0), "0")
		last = at(0)
	}
	every := x.everyWritten(at)
	for i, l := range x.positions {
		if (i+1)%every != 0 && i != 0 || at(l)-last < leastWritten {
			continue
		}
		text := x.write.Text(l)
		if every > 1 {
			text += fmt.Sprintf(" (%d)", i+1)
		}
		write(at(l), text)
		last = at(l)
	}
	if end-last >= leastWritten {
		write(end, x.write.Text(x.blank()))
	}
}

// everyWritten returns that each, every second, fifth, tenth, ... kerf has room for its
// measure.
func (x bendSheet) everyWritten(at func(length.Length) float64) int {
	pitch := at(x.cuts.Pitch) - at(0)
	for ten := 1; ; ten *= 10 {
		for _, k := range []int{1, 2, 5} {
			if float64(k*ten)*pitch >= leastWritten || k*ten > x.cuts.Count {
				return k * ten
			}
		}
	}
}

// drawSection draws the bent board from its edge, the outer face up.
func (x bendSheet) drawSection(c *svg.SVG) {
	pieces := x.section()
	box := [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, p := range pieces {
		for _, q := range p {
			box = [4]float64{min(box[0], q[0]), min(box[1], q[1]), max(box[2], q[0]), max(box[3], q[1])}
		}
	}
	wide, high := box[2]-box[0], box[3]-box[1]
	scale := tidy(max(wide/bendRoom, high/sectionRoom))
	left := bendLeft + (bendRoom-wide/scale)/2 - box[0]/scale
	top := sectionTop + (sectionRoom-high/scale)/2 - box[1]/scale
	x.caption(c, sectionTop-6, fmt.Sprintf("Bent, seen from the edge: kerfs %s to %s at the mouth, facets %s", x.gapWords(), x.write.to(x.cuts.Gap), x.write.to(x.cuts.Facet)), scale)
	for _, p := range pieces {
		var xs, ys []float64
		for _, q := range p {
			xs, ys = append(xs, left+q[0]/scale), append(ys, top+q[1]/scale)
		}
		c.Polygon(xs, ys, "fill:#f3ead9;stroke:#111;stroke-width:0.2;stroke-linejoin:round", `class="piece"`)
	}
}

func (x bendSheet) gapWords() string {
	if x.bend.Open {
		return "open"
	}
	return "close"
}

// section returns the pieces of the bent board in mm, y down: the blocks between the
// kerfs at full thickness, and the webs, each turned by its part of the angle. The floor
// of a kerf is drawn as the chord of its arc.
func (x bendSheet) section() [][][2]float64 {
	b := x.bend
	web, kerf, turn := b.Web.MM(), b.Kerf.MM(), x.cuts.Each.Degrees()/180*math.Pi
	up, down := web/2, b.Thickness.MM()-web/2 // from the middle of the web
	webUp, webDown := web/2, web/2
	if b.Open {
		up, down = down, up
	}
	heading := -turn * float64(x.cuts.Count) / 2
	var px, py, done float64
	var pieces [][][2]float64
	run := func(long, up, down, heading float64) {
		sin, cos := math.Sincos(heading)
		at := func(along, across float64) [2]float64 {
			return [2]float64{px + along*cos - across*sin, py + along*sin + across*cos}
		}
		pieces = append(pieces, [][2]float64{at(0, -up), at(long, -up), at(long, down), at(0, down)})
		end := at(long, 0)
		px, py = end[0], end[1]
	}
	for _, l := range x.positions {
		run(l.MM()-kerf/2-done, up, down, heading)
		chord := kerf
		if turn > 0 {
			chord = 2 * kerf / turn * math.Sin(turn/2)
		}
		run(chord, webUp, webDown, heading+turn/2)
		heading += turn
		done = l.MM() + kerf/2
	}
	run(x.blank().MM()-done, up, down, heading)
	return pieces
}

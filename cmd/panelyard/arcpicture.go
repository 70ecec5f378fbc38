package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	svg "github.com/ajstarks/svgo/float"
)

// The page of the picture, in mm of paper: A4, landscape.
const (
	pageW, pageH = 297.0, 210.0
	pageTop      = 40.0 // of the arc
	roomW, roomH = 240.0, 140.0
	belowChord   = 30.0 // for the chord's dimension and the radius line
	textSize     = 4.0
	inkStyle     = "stroke:#111;fill:none;stroke-width:"
)

// picture is an arc on the page: the middle of its chord at x0, y0, y down.
type picture struct {
	arcSheet
	scale      float64 // mm of the arc on a mm of paper
	x0, y0     float64
	half       float64 // half the angle in radians
	c, h, r    float64 // on paper
	withCentre bool    // the centre has room on the page
}

// layout places an arc on the page.
func (x arcSheet) layout() picture {
	p := picture{arcSheet: x, x0: pageW / 2, half: x.arc.Angle.Degrees() / 360 * math.Pi}
	c, h, r := x.arc.Chord.MM(), x.arc.Rise.MM(), x.arc.Radius.MM()
	width := c
	if x.arc.Long() {
		width = 2 * r
	}
	p.withCentre = r <= c || x.arc.Long()
	least := max(width/roomW, h/(roomH-belowChord))
	if p.withCentre && !x.arc.Long() {
		least = max(least, r/(roomH-8))
	}
	p.scale = tidy(least)
	p.c, p.h, p.r = c/p.scale, h/p.scale, r/p.scale
	below := belowChord
	if p.withCentre {
		below = max(below, p.r-p.h+5)
	}
	p.y0 = pageTop + p.h + max(0, (roomH-p.h-below)/2)
	return p
}

// tidy returns the first scale of 1, 2, 2.5 or 5 times a power of ten that is not
// less.
func tidy(least float64) float64 {
	ten := math.Pow(10, math.Floor(math.Log10(least)))
	for _, k := range []float64{1, 2, 2.5, 5} {
		if k*ten >= least {
			return k * ten
		}
	}
	return 10 * ten
}

// at returns the place on the page of the arc at an angle from its middle, to the
// right, in radians.
func (p picture) at(phi float64) (x, y float64) {
	sin := math.Sin(phi / 2)
	return p.x0 + p.r*math.Sin(phi), p.y0 - p.h + 2*p.r*sin*sin
}

// draw writes the picture as SVG. What it writes to does not fail.
func (x arcSheet) draw(w io.Writer) {
	p := x.layout()
	c := svg.New(w)
	c.Decimals = 3
	c.StartviewUnit(pageW, pageH, "mm", 0, 0, pageW, pageH)
	c.Title(fmt.Sprintf("arc: chord %s, rise %s, radius %s", x.write.with(x.arc.Chord), x.write.with(x.arc.Rise), x.write.with(x.arc.Radius)))
	c.Desc(pictureMark("arc") + ": an arc with its chord, rise and radius")
	c.Rect(0, 0, pageW, pageH, "fill:#fff")
	c.Gstyle("font-family:Helvetica,Arial,'Liberation Sans','DejaVu Sans',sans-serif;fill:#111")
	p.words(c)
	p.ordinates(c)
	c.Path(p.path(), inkStyle+"0.6;stroke-linecap:round", `class="arc"`)
	c.Line(p.x0-p.c/2, p.y0, p.x0+p.c/2, p.y0, inkStyle+"0.3;stroke-dasharray:4 1.5")
	p.chordDimension(c)
	p.riseDimension(c)
	p.radiusLine(c)
	c.Gend()
	c.End()
}

// scaleWords writes a scale.
func scaleWords(scale float64) string {
	if scale < 1 {
		return fmt.Sprintf("%g:1", math.Round(1e6/scale)/1e6)
	}
	return fmt.Sprintf("1:%g", scale)
}

func (p picture) words(c *svg.SVG) {
	a, w := p.arc, p.write
	c.Text(15, 18, fmt.Sprintf("Arc: angle %v°, length along the arc %s", a.Angle, w.with(a.Length)), "font-size:6px;font-weight:bold")
	c.Text(15, 25, fmt.Sprintf("scale %s on A4, measures in %s; a picture to compare by, no template", scaleWords(p.scale), w.Unit()), "font-size:4px;fill:#555")
}

// mostStep is the most of an arc, in radians, that is written at once: the middle of
// a longer one would hang too much on the last decimals.
const mostStep = math.Pi / 2

// path returns the arc as path data. One that is so flat that its radius would
// swamp the digits of a page is drawn as the parabola that it is there.
func (p picture) path() string {
	left, y := p.at(-p.half)
	var b strings.Builder
	fmt.Fprintf(&b, "M%.3f %.3f", left, y)
	if p.r > 1e5 {
		fmt.Fprintf(&b, "Q%.3f %.3f %.3f %.3f", p.x0, p.y0-2*p.h, p.x0+p.c/2, p.y0)
		return b.String()
	}
	n := int(math.Ceil(2 * p.half / mostStep))
	for i := range n {
		x, y := p.at(p.half * (2*float64(i+1)/float64(n) - 1))
		fmt.Fprintf(&b, "A%.3f %.3f 0 0 1 %.3f %.3f", p.r, p.r, x, y)
	}
	return b.String()
}

// ordinates draws the offsets at the stations.
func (p picture) ordinates(c *svg.SVG) {
	for _, s := range p.stations {
		x := p.x0 - p.c/2 + s.Along.MM()/p.scale
		c.Line(x, p.y0, x, p.y0-s.Offset.MM()/p.scale, inkStyle+"0.12")
	}
}

// haloText writes a measure on a ground of paper, so that lines under it do not cross
// it.
func haloText(c *svg.SVG, x, y float64, anchor, text string) {
	style := fmt.Sprintf("font-size:%gpx;text-anchor:%s", textSize, anchor)
	c.Text(x, y, text, style+";fill:#fff;stroke:#fff;stroke-width:1.6;stroke-linejoin:round", `aria-hidden="true"`)
	c.Text(x, y, text, style)
}

// arrowHead draws the head of an arrow at x, y that points along an angle, in radians,
// y down.
func arrowHead(c *svg.SVG, x, y, angle float64) {
	const long, wide = 3.0, 0.35
	s1, c1 := math.Sincos(angle + math.Pi - wide)
	s2, c2 := math.Sincos(angle + math.Pi + wide)
	c.Polygon([]float64{x, x + long*c1, x + long*c2}, []float64{y, y + long*s1, y + long*s2}, "fill:#111")
}

func (p picture) chordDimension(c *svg.SVG) {
	y := p.y0 + 10
	for _, x := range [2]float64{p.x0 - p.c/2, p.x0 + p.c/2} {
		c.Line(x, p.y0+1.5, x, y+2, inkStyle+"0.15")
	}
	c.Line(p.x0-p.c/2, y, p.x0+p.c/2, y, inkStyle+"0.2")
	if p.c > 8 {
		arrowHead(c, p.x0-p.c/2, y, math.Pi)
		arrowHead(c, p.x0+p.c/2, y, 0)
	}
	// Left of the middle, away from the radius; beside a chord too short for it.
	text := "chord " + p.write.to(p.arc.Chord)
	if p.c < 60 {
		haloText(c, p.x0-p.c/2-4, y+1.4, "end", text)
		return
	}
	haloText(c, p.x0-p.c/4, y+1.4, "middle", text)
}

func (p picture) riseDimension(c *svg.SVG) {
	c.Line(p.x0, p.y0, p.x0, p.y0-p.h, inkStyle+"0.2")
	text := "rise " + p.write.to(p.arc.Rise)
	if p.h < 12 { // no room for text between chord and arc
		haloText(c, p.x0, p.y0-p.h-4, "middle", text)
		return
	}
	arrowHead(c, p.x0, p.y0, math.Pi/2)
	arrowHead(c, p.x0, p.y0-p.h, -math.Pi/2)
	haloText(c, p.x0-2, p.y0-p.h*0.3+1.4, "end", text)
}

// radiusLine draws the radius from the centre to the right half of the arc, or as
// much of it as has room below the chord.
func (p picture) radiusLine(c *svg.SVG) {
	phi := p.half / 2
	x, y := p.at(phi)
	text := "radius " + p.write.to(p.arc.Radius)
	dx, dy := -math.Sin(phi), math.Cos(phi) // towards the centre
	if p.withCentre {
		cx, cy := p.x0, p.y0-p.h+p.r
		c.Line(cx, cy, x, y, inkStyle+"0.2")
		c.Circle(cx, cy, 0.8, "fill:#111")
		haloText(c, x-4*dx, y-4*dy+1.4, "start", text) // outside, where nothing else is
	} else {
		long := (p.y0 + 22 - y) / dy
		c.Line(x, y, x+dx*long, y+dy*long, inkStyle+"0.2;stroke-dasharray:6 1 1 1")
		below := p.arc.Radius - p.arc.Rise
		haloText(c, x+dx*long, y+dy*long+5, "middle", fmt.Sprintf("%s, its centre %s below the chord", text, p.write.to(below)))
	}
	arrowHead(c, x, y, math.Atan2(-dy, -dx))
}

// Package svgcut writes sheets and panels at true size as SVG, for machines and
// programs that cut along its lines.
//
//	dxf.Drawing -> SVG
//
// It shows what the DXF drawing shows, without the texts: a group for each layer with
// the layer's name as its id, one path for each outline, opening or run of the bit, arcs
// as arcs. One unit is a millimetre, and width and height are given in mm. Lines are
// hairlines without fill; openings come before outlines. Edges are black, the ways of
// the bit blue, tabs red, and what is not cut grey. The drawing is as large as the raw sheet, or
// as what is drawn of a panel with a rim of a millimetre.
package svgcut

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	svg "github.com/ajstarks/svgo/float"

	"panelyard/export/dxf"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
	"panelyard/parts/svgpath"
)

// rim is what a panel keeps all round, so that its edge is not on that of the picture.
const rim = length.Millimetre

// Write writes a drawing with a title. The error is the writer's. Cost: the vertices.
func Write(w io.Writer, title string, d dxf.Drawing) error {
	window := extent(d)
	var b bytes.Buffer // the library that draws does not look at errors
	c := svg.New(&b)
	c.Decimals = 6
	wide, high := window.Dx().MM(), window.Dy().MM()
	c.StartviewUnit(wide, high, "mm", 0, 0, wide, high)
	c.Title(title)
	p := pencil{window}
	for layer := dxf.Opening; layer <= dxf.Offcut; layer++ {
		var paths []string
		for _, e := range d.Entities {
			if e.Layer == layer {
				if path := p.shape(e.Shape); path != "" {
					paths = append(paths, path)
				}
			}
		}
		if len(paths) == 0 {
			continue
		}
		c.Group(fmt.Sprintf(`id="%s"`, layer), `fill="none"`, fmt.Sprintf(`stroke="%s"`, colour(layer)), `stroke-width="0.1"`, `stroke-linecap="round"`)
		for _, path := range paths {
			c.Path(path)
		}
		c.Gend()
	}
	c.End()
	_, err := b.WriteTo(w)
	return err
}

// colour returns the colour of the lines of a layer (our own choice; it means nothing
// that the name does not say).
func colour(l dxf.Layer) string {
	switch l {
	case dxf.Path, dxf.Lead:
		return "#06c"
	case dxf.Tab:
		return "#c30"
	case dxf.Board, dxf.Trim, dxf.Offcut:
		return "#888"
	}
	return "#000"
}

// extent returns the window of a drawing: the raw sheet, or what is cut and a rim.
func extent(d dxf.Drawing) geom.Box {
	var all geom.Box
	for _, e := range d.Entities {
		var b geom.Box
		switch s := e.Shape.(type) {
		case dxf.Polyline:
			b = s.Box()
		case dxf.Circle:
			b = circle(s).Box()
		default:
			continue
		}
		if e.Layer == dxf.Board {
			return b
		}
		b = b.Inset(-rim, -rim, -rim, -rim)
		if all.Empty() {
			all = b
		}
		all.Min = geom.Pt(min(all.Min.X, b.Min.X), min(all.Min.Y, b.Min.Y))
		all.Max = geom.Pt(max(all.Max.X, b.Max.X), max(all.Max.Y, b.Max.Y))
	}
	return all
}

// circle returns a circle as two arcs.
func circle(s dxf.Circle) outline.Outline {
	return outline.Outline{{At: s.From, Bulge: 1}, {At: s.To, Bulge: 1}}
}

// pencil writes shapes in the coordinates of the picture, y downwards.
type pencil struct{ window geom.Box }

func (p pencil) at(q geom.Point) geom.Point {
	return geom.Pt(q.X-p.window.Min.X, p.window.Max.Y-q.Y)
}

// shape returns the path data of a shape; texts have none.
func (p pencil) shape(s dxf.Shape) string {
	switch s := s.(type) {
	case dxf.Polyline:
		return p.line(s.Path, s.Closed)
	case dxf.Circle:
		return p.line(circle(s), true)
	case dxf.Point:
		at := p.at(s.At)
		return "M" + at.X.Decimal() + " " + at.Y.Decimal() + "h0" // the round ends of the line show
	case dxf.Line:
		return p.line([]outline.Vertex{{At: s.From}, {At: s.To}}, false)
	}
	return ""
}

// line returns path data of lines and arcs, the vertices exact.
func (p pencil) line(list []outline.Vertex, closed bool) string {
	var b strings.Builder
	word := func(q geom.Point) string { return q.X.Decimal() + " " + q.Y.Decimal() }
	for i, v := range list {
		from := p.at(v.At)
		if i == 0 {
			b.WriteString("M" + word(from))
		}
		if i == len(list)-1 && !closed {
			break
		}
		to := p.at(list[(i+1)%len(list)].At)
		if v.Bulge == 0 {
			b.WriteString("L" + word(to))
			continue
		}
		// y is turned over, and with it the sense of an arc.
		svgpath.Arc(&b, from.X.MM(), from.Y.MM(), to.X.MM(), to.Y.MM(), -v.Bulge, word(to))
	}
	if closed {
		b.WriteByte('Z')
	}
	return b.String()
}

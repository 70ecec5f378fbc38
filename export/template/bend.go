package template

import (
	"fmt"

	"panelyard/export/pdf"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/geom"
)

// kerfLine is the middle of a kerf that lets the panel bend, on the drawing.
type kerfLine struct{ from, to geom.Point }

// setKerfs takes over the kerfs of an item. They are stated for the cut outline; on the
// finished one they lie as far from the first end of the bend.
func (t *Template) setKerfs(it *kerf.Item, width string) {
	if len(it.KerfLines) == 0 {
		return
	}
	size := t.Outline.Box().Size()
	across := it.Panel.Bend.Along == parts.AlongWidth // the bend runs up the drawing
	var shift geom.Point
	if t.Finished {
		at := it.Bend.Positions(it.Panel.Bend.From)[0]
		low := it.Panel.Outline.Box().Min
		shift = geom.Pt(at-low.X-it.KerfLines[0].From.X, 0)
		if across {
			shift = geom.Pt(0, at-low.Y-it.KerfLines[0].From.Y)
		}
	}
	for _, l := range it.KerfLines {
		k := kerfLine{l.From.Add(shift), l.To.Add(shift)}
		if across {
			k.to.X = size.X
		} else {
			k.to.Y = size.Y
		}
		t.kerfs = append(t.kerfs, k)
	}
	l := it.KerfLines[0]
	face := "outer face, where they gape"
	if l.Inner {
		face = "inner face, where they close"
	}
	t.bend = fmt.Sprintf("%d kerfs by %s, %s %s deep, in the back, the %s; test on scrap",
		len(t.kerfs), width, t.write.Text(l.Depth), t.write.Unit(), face)
}

// kerfPieces returns the kerfs as pieces, in mm.
func (d *drawing) kerfPieces() []piece {
	var list []piece
	for _, k := range d.kerfs {
		list = append(list, piece{a: pdf.Point{X: k.from.X.MM(), Y: k.from.Y.MM()}, b: pdf.Point{X: k.to.X.MM(), Y: k.to.Y.MM()}})
	}
	return list
}

// kerfPen returns the pen of the kerfs, which lie in the back: solid where it is seen.
func (t *Template) kerfPen() pdf.Pen {
	p := bendPen
	if t.Mirrored {
		p.Dash = nil
	}
	return p
}

package template

import (
	"fmt"
	"strconv"

	"panelyard/export/pdf"
	"panelyard/parts"
)

// headerH is the height of the strip above the window of a page, and rulerW what the
// rulers take of its width, in mm.
const (
	headerH = 19.0
	rulerW  = 114.0
)

// header returns the strip above the window: what the page is on the left, check rulers
// on the right.
func (t *Template) header(name string, strip Rect) []Item {
	x, room := strip.X0, strip.width()-rulerW
	var list []Item
	put := func(y, size float64, f pdf.Face, grey int, text string) {
		text, size = pdf.Fit(text, size, 1.8, room-2, f)
		list = append(list, Words{At: pdf.Point{X: x, Y: strip.Y0 + y}, Size: size, Face: f, Grey: grey, Text: text})
	}
	title := t.Panel.Name
	if name != "" {
		title = name + "  " + title
	}
	put(4.6, 4.6, pdf.Bold, 0, title)
	put(8.6, 2.8, pdf.Regular, 0, t.sizeWord()+", "+t.face())
	put(12.2, 2.8, pdf.Regular, 0, t.stuff())
	put(15.8, 2.4, pdf.Regular, soft, t.Job.Name+variant(t.Job))
	list = append(list, t.grainArrow(pdf.Point{X: strip.X1 - rulerW + 4, Y: strip.Y0 + 6}, 3)...)
	right := strip.X1 - 1.5
	list = append(list, ruler(right, strip.Y0+4.5, 100, 1, 10, "mm")...)
	if t.write.Unit() == "in" {
		list = append(list, ruler(right, strip.Y0+12.5, 4*25.4, 25.4/8, 8, "in")...)
	}
	return list
}

// stuff writes the material and its thickness as measured.
func (t *Template) stuff() string {
	m := t.Job.Material(t.Panel.Material)
	return fmt.Sprintf("%s, %s %s thick", m.Name, t.write.Text(m.Measured), t.write.Unit())
}

// variant writes which variant of a job it is.
func variant(j *parts.Job) string {
	if j.Variant == "" {
		return ""
	}
	return ", " + j.Variant
}

// ruler returns a ruler of a length in mm that ends at the right: a tick a step, longer
// ones every so many, numbered.
func ruler(right, y, long, step float64, every int, unit string) []Item {
	left := right - long
	ticks := []pdf.Path{pdf.Straight(left, y, right, y)}
	var list []Item
	n := int(long/step + 0.5)
	for i := range n + 1 {
		x, h := left+float64(i)*step, 1.2
		switch {
		case i%every == 0:
			h = 3
			text := strconv.Itoa(i * int(step+0.5))
			if unit == "in" {
				text = strconv.Itoa(i / every)
			}
			anchor := Middle
			if i == n {
				text, anchor, x = text+" "+unit, End, x+1.5
			}
			list = append(list, Words{At: pdf.Point{X: x, Y: y - 1}, Size: 2.2, Anchor: anchor, Text: text})
			x = left + float64(i)*step
		case 2*i%every == 0:
			h = 2
		}
		ticks = append(ticks, pdf.Straight(x, y, x, y+h))
	}
	return append(list, Lines{Class: "ruler", Pen: rulerPen, Paths: ticks})
}

// grainArrow returns an arrow with two heads along the grain about a point, none where
// the grain is free.
func (t *Template) grainArrow(c pdf.Point, half float64) []Item {
	const head = 1.2
	var paths []pdf.Path
	down := head / 2 // from its middle to its foot
	arrow := func(dx, dy float64) {
		paths = append(paths, pdf.Straight(c.X-half*dx, c.Y-half*dy, c.X+half*dx, c.Y+half*dy))
		for _, s := range [2]float64{-1, 1} {
			x, y := c.X+s*half*dx, c.Y+s*half*dy
			bx, by := x-s*head*dx, y-s*head*dy
			paths = append(paths, pdf.Path{
				From:  pdf.Point{X: bx + head/2*dy, Y: by + head/2*dx},
				Steps: []pdf.Step{{To: pdf.Point{X: x, Y: y}}, {To: pdf.Point{X: bx - head/2*dy, Y: by - head/2*dx}}},
			})
		}
	}
	switch t.Panel.Grain {
	case parts.AlongLength:
		arrow(1, 0)
	case parts.AlongWidth:
		arrow(0, 1)
		down = half
	default:
		return nil
	}
	return []Item{
		Lines{Class: "grain", Pen: pdf.Pen{Width: 0.3}, Paths: paths},
		Words{At: pdf.Point{X: c.X, Y: c.Y + down + 2.8}, Size: 2.2, Anchor: Middle, Text: "grain"},
	}
}

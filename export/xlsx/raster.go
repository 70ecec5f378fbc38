package xlsx

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"sync"

	"codeberg.org/go-fonts/dejavu/dejavusansbold"
	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"panelyard/export"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// drawn is the longer side of a picture in pixels. Up to 512 the rasteriser of the
// library works with integers, alike on every machine.
const drawn = 512

// Greys and line widths of a picture; the widths in pixels.
const (
	ink, panelGrey, hatchGrey, blankGrey = 0, 228, 130, 150

	sheetLine, panelLine, openingLine, blankLine = 2.4, 1.7, 1.3, 1.0

	hatchPitch, hatchLine = 9, 2
)

// chord is how far a picture's line may stand off an arc: a tenth of a pixel or so.
const chord = length.Millimetre / 2

// greys is the palette of the pictures: sixteen greys, four bits a pixel.
var greys = sync.OnceValue(func() color.Palette {
	p := make(color.Palette, 16)
	for i := range p {
		p[i] = color.Gray{Y: uint8(i * 17)}
	}
	return p
})

// numberFont is the font of the numbers of panels.
var numberFont = sync.OnceValue(func() *opentype.Font {
	f, err := opentype.Parse(dejavusansbold.TTF)
	if err != nil {
		panic(fmt.Sprintf("xlsx: the embedded font cannot be read: %v", err))
	}
	return f
})

// artist draws sheets. It is not for use by several goroutines, as its faces are not.
type artist struct {
	sawn  bool        // panels come out of blanks
	faces []font.Face // of the numbers of panels, large ones first
}

func newArtist(sawn bool) (*artist, error) {
	a := &artist{sawn: sawn}
	for _, size := range []float64{24, 18, 14, 11} {
		face, err := opentype.NewFace(numberFont(), &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingNone})
		if err != nil {
			return nil, err
		}
		a.faces = append(a.faces, face)
	}
	return a, nil
}

// canvas is the picture of a sheet. A millimetre of board is k pixels.
type canvas struct {
	img *image.Gray
	k   float64
}

// draw returns a small picture of a sheet as a PNG (ISO/IEC 15948): its outline, the
// panels with their numbers, the blanks that are sawn of shaped ones, and kept offcuts
// hatched. A panel too small for its number has none. Cost: pixels, and those of each
// panel's box four times.
func (a *artist) draw(m *export.SheetMap) ([]byte, error) {
	l, w := m.Stock.Length.MM(), m.Stock.Width.MM()
	c := &canvas{k: (drawn - 4) / max(l, w)}
	c.img = image.NewGray(image.Rect(0, 0, int(math.Ceil(l*c.k))+4, int(math.Ceil(w*c.k))+4))
	for i := range c.img.Pix {
		c.img.Pix[i] = 255
	}
	for i := range m.Offcuts {
		if m.Offcuts[i].Keep {
			c.hatch(m.Offcuts[i].Box)
		}
	}
	for i := range m.Placements {
		p := &m.Placements[i]
		if a.sawn && p.Row.Shaped && !p.Second {
			c.line(corners(p.Blank), blankLine, blankGrey)
		}
	}
	for i := range m.Placements {
		c.panel(&m.Placements[i], a.faces)
	}
	c.line(corners(geom.Box{Max: geom.Pt(m.Stock.Length, m.Stock.Width)}), sheetLine, ink)
	flat := image.NewPaletted(c.img.Rect, greys())
	for i, v := range c.img.Pix {
		flat.Pix[i] = (v + 8) / 17
		if v > 247 {
			flat.Pix[i] = 15
		}
	}
	var b bytes.Buffer
	e := png.Encoder{CompressionLevel: png.BestCompression}
	err := e.Encode(&b, flat)
	return b.Bytes(), err
}

// panel draws a panel with its openings, the kerfs of its bend and its number.
func (c *canvas) panel(p *export.PlacedPanel, faces []font.Face) {
	ring := loop(p.Outline)
	c.fill(ring, panelGrey)
	room := c.mask(ring)
	for _, o := range p.Openings {
		hole := loop(o)
		c.fill(hole, 255)
		c.line(hole, openingLine, ink)
		room.take(c.mask(hole))
	}
	for _, k := range p.Kerfs {
		c.line(loop(k), blankLine, blankGrey)
	}
	c.line(ring, panelLine, ink)
	for _, face := range faces {
		width := font.MeasureString(face, p.Row.Key).Ceil()
		height := digits(face)
		if at, ok := room.find(width+6, height+6); ok {
			d := font.Drawer{Dst: c.img, Src: image.NewUniform(color.Gray{Y: ink}), Face: face, Dot: fixed.P(at.X+3, at.Y+3+height)}
			d.DrawString(p.Row.Key)
			return
		}
	}
}

// digits returns the height of the digits of a face in pixels.
func digits(face font.Face) int {
	b, _ := font.BoundString(face, "0")
	return (-b.Min.Y).Ceil()
}

// loop returns the points of an outline in millimetres.
func loop(o outline.Outline) [][2]float64 {
	list := o.Points(chord)
	for i := range list {
		list[i][0] /= float64(length.Millimetre)
		list[i][1] /= float64(length.Millimetre)
	}
	return list
}

// corners returns the corners of a box in millimetres.
func corners(b geom.Box) [][2]float64 {
	x0, y0, x1, y1 := b.Min.X.MM(), b.Min.Y.MM(), b.Max.X.MM(), b.Max.Y.MM()
	return [][2]float64{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
}

// at returns the pixel of a point of the board: y runs downwards in a picture.
func (c *canvas) at(p [2]float64) (x, y float64) {
	return 2 + p[0]*c.k, float64(c.img.Rect.Max.Y) - 2 - p[1]*c.k
}

// around returns the pixels that a loop lies in, some more at each side.
func (c *canvas) around(ring [][2]float64) image.Rectangle {
	var r image.Rectangle
	for _, p := range ring {
		x, y := c.at(p)
		const more = 3
		r = r.Union(image.Rect(int(math.Floor(x))-more, int(math.Floor(y))-more, int(math.Ceil(x))+more, int(math.Ceil(y))+more))
	}
	return r.Intersect(c.img.Rect)
}

// trace adds a loop of pixels to a rasteriser whose upper left corner is at a pixel.
func trace(r *vector.Rasterizer, corner image.Point, points ...[2]float64) {
	for i, p := range points {
		x, y := float32(p[0]-float64(corner.X)), float32(p[1]-float64(corner.Y))
		if i == 0 {
			r.MoveTo(x, y)
		} else {
			r.LineTo(x, y)
		}
	}
	r.ClosePath()
}

// fill paints the inside of a loop.
func (c *canvas) fill(ring [][2]float64, grey uint8) {
	box := c.around(ring)
	if box.Empty() {
		return
	}
	r := vector.NewRasterizer(box.Dx(), box.Dy())
	trace(r, box.Min, c.pixels(ring)...)
	r.Draw(c.img, box, image.NewUniform(color.Gray{Y: grey}), image.Point{})
}

// pixels returns a loop in pixels.
func (c *canvas) pixels(ring [][2]float64) [][2]float64 {
	list := make([][2]float64, len(ring))
	for i, p := range ring {
		list[i][0], list[i][1] = c.at(p)
	}
	return list
}

// line draws along a loop: a rectangle a segment, all of one orientation so that they
// do not cancel each other where they meet.
func (c *canvas) line(ring [][2]float64, width float64, grey uint8) {
	box := c.around(ring)
	if box.Empty() {
		return
	}
	r := vector.NewRasterizer(box.Dx(), box.Dy())
	points := c.pixels(ring)
	for i, a := range points {
		b := points[(i+1)%len(points)]
		d := math.Hypot(b[0]-a[0], b[1]-a[1])
		if d == 0 {
			continue
		}
		ux, uy := (b[0]-a[0])/d*width/2, (b[1]-a[1])/d*width/2
		trace(
			r, box.Min,
			[2]float64{a[0] - ux - uy, a[1] - uy + ux}, [2]float64{a[0] - ux + uy, a[1] - uy - ux},
			[2]float64{b[0] + ux + uy, b[1] + uy - ux}, [2]float64{b[0] + ux - uy, b[1] + uy + ux},
		)
	}
	r.Draw(c.img, box, image.NewUniform(color.Gray{Y: grey}), image.Point{})
}

// hatch draws lines across a box, and its edge.
func (c *canvas) hatch(b geom.Box) {
	ring := corners(b)
	x0, y1 := c.at(ring[0])
	x1, y0 := c.at(ring[2])
	for y := int(math.Ceil(y0)); float64(y) < y1; y++ {
		for x := int(math.Ceil(x0)); float64(x) < x1; x++ {
			if (x+y)%hatchPitch < hatchLine {
				c.img.SetGray(x, y, color.Gray{Y: hatchGrey})
			}
		}
	}
	c.line(ring, blankLine, hatchGrey)
}

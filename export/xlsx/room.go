package xlsx

import (
	"image"

	"golang.org/x/image/vector"
)

// room is the pixels of a panel in which its number may stand.
type room struct {
	box  image.Rectangle
	free []bool // rows of pixels
}

// mask returns the pixels that lie wholly within a loop.
func (c *canvas) mask(ring [][2]float64) *room {
	m := &room{box: c.around(ring)}
	if m.box.Empty() {
		return m
	}
	r := vector.NewRasterizer(m.box.Dx(), m.box.Dy())
	trace(r, m.box.Min, c.pixels(ring)...)
	alpha := image.NewAlpha(image.Rect(0, 0, m.box.Dx(), m.box.Dy()))
	r.Draw(alpha, alpha.Rect, image.Opaque, image.Point{})
	m.free = make([]bool, len(alpha.Pix))
	for i, v := range alpha.Pix {
		m.free[i] = v == 255
	}
	return m
}

// take takes what lies in a hole out of a room. Pixels on the hole's edge stay, as the
// place that a number needs has a rim of its own.
func (m *room) take(hole *room) {
	both := m.box.Intersect(hole.box)
	for y := both.Min.Y; y < both.Max.Y; y++ {
		for x := both.Min.X; x < both.Max.X; x++ {
			if hole.free[hole.index(x, y)] {
				m.free[m.index(x, y)] = false
			}
		}
	}
}

func (m *room) index(x, y int) int { return (y-m.box.Min.Y)*m.box.Dx() + x - m.box.Min.X }

// find returns the upper left corner of a free rectangle of w by h pixels, the one
// nearest to the middle of the room. Cost: the pixels, by sums over all that is above
// and to the left.
func (m *room) find(w, h int) (image.Point, bool) {
	dx, dy := m.box.Dx(), m.box.Dy()
	if w > dx || h > dy {
		return image.Point{}, false
	}
	stride := dx + 1
	sums := make([]int32, stride*(dy+1))
	for y := range dy {
		line := int32(0)
		for x := range dx {
			if m.free[y*dx+x] {
				line++
			}
			sums[(y+1)*stride+x+1] = sums[y*stride+x+1] + line
		}
	}
	best, found := image.Point{}, false
	least := 0
	for y := 0; y+h <= dy; y++ {
		for x := 0; x+w <= dx; x++ {
			if sums[(y+h)*stride+x+w]-sums[y*stride+x+w]-sums[(y+h)*stride+x]+sums[y*stride+x] < int32(w*h) {
				continue
			}
			ex, ey := 2*x+w-dx, 2*y+h-dy
			if d := ex*ex + ey*ey; !found || d < least {
				best, least, found = m.box.Min.Add(image.Pt(x, y)), d, true
			}
		}
	}
	return best, found
}

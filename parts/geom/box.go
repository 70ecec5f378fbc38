package geom

import "panelyard/parts/length"

// Box is an axis-parallel rectangle. A box with no width or no height is empty,
// the zero Box among them.
type Box struct{ Min, Max Point }

// BoxFromSize returns the box of a size with its lower left corner at min.
func BoxFromSize(min Point, size Point) Box { return Box{min, min.Add(size)} }

// Dx returns the extent of b along x.
func (b Box) Dx() length.Length { return b.Max.X - b.Min.X }

// Dy returns the extent of b along y.
func (b Box) Dy() length.Length { return b.Max.Y - b.Min.Y }

// Size returns the extents of b.
func (b Box) Size() Point { return b.Max.Sub(b.Min) }

// Empty reports whether b has no area.
func (b Box) Empty() bool { return b.Dx() <= 0 || b.Dy() <= 0 }

// Contains reports whether c lies in b, edges included.
func (b Box) Contains(c Box) bool {
	return c.Min.X >= b.Min.X && c.Min.Y >= b.Min.Y && c.Max.X <= b.Max.X && c.Max.Y <= b.Max.Y
}

// Overlaps reports whether the interiors of b and c meet; an empty box has none.
func (b Box) Overlaps(c Box) bool {
	return !b.Empty() && !c.Empty() &&
		b.Min.X < c.Max.X && c.Min.X < b.Max.X && b.Min.Y < c.Max.Y && c.Min.Y < b.Max.Y
}

// Meet returns the common part of b and c, which may be empty.
func (b Box) Meet(c Box) Box {
	return Box{
		Point{max(b.Min.X, c.Min.X), max(b.Min.Y, c.Min.Y)},
		Point{min(b.Max.X, c.Max.X), min(b.Max.Y, c.Max.Y)},
	}
}

// Translate returns b moved by d.
func (b Box) Translate(d Point) Box { return Box{b.Min.Add(d), b.Max.Add(d)} }

// Inset returns b with its left, right, bottom and top edges moved inwards;
// the result may be empty.
func (b Box) Inset(left, right, bottom, top length.Length) Box {
	return Box{Point{b.Min.X + left, b.Min.Y + bottom}, Point{b.Max.X - right, b.Max.Y - top}}
}

// Ring returns the four corners of b, counter-clockwise from the lower left.
func (b Box) Ring() Ring {
	return Ring{b.Min, {b.Max.X, b.Min.Y}, b.Max, {b.Min.X, b.Max.Y}}
}

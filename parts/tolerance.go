package parts

import "panelyard/parts/length"

// BoardStandard is by how much a sheet may differ from its nominal size.
type BoardStandard struct {
	Name string
	// short is by how much an edge of a length may be shorter, and square by how much it
	// may lean.
	short  func(length.Length) length.Length
	square func(length.Length) length.Length
}

// The standards. The values are from the tables of trade bodies and mills, not from the
// standards themselves: buy those before you rely on them.
//
//	PS 1      plywood: 1/16 in under, none over; square within 1/64 in a foot
//	EN 315    plywood: 3.5 mm under or over; square within 1 mm a metre
//	EN 622-1  fibreboards: 2 mm a metre under or over, at most 5 mm; square within 2 mm a metre
func BoardStandards() []BoardStandard {
	per := func(n, of length.Length) func(length.Length) length.Length {
		return func(l length.Length) length.Length { return (l*n + of - 1) / of } // up: the worse
	}
	fixed := func(by length.Length) func(length.Length) length.Length {
		return func(length.Length) length.Length { return by }
	}
	return []BoardStandard{
		{"PS 1", fixed(length.Inch / 16), per(1, 64*12)},
		{"EN 315", fixed(length.Millimetre * 7 / 2), per(1, 1000)},
		{"EN 622-1", func(l length.Length) length.Length {
			return min(per(2, 1000)(l), 5*length.Millimetre)
		}, per(2, 1000)},
	}
}

// Short returns by how much an edge of a nominal length may be shorter.
func (b *BoardStandard) Short(nominal length.Length) length.Length { return b.short(nominal) }

// OutOfSquare returns by how much an edge of a nominal length may lean: how far its ends
// are apart, measured at right angles to it.
func (b *BoardStandard) OutOfSquare(nominal length.Length) length.Length { return b.square(nominal) }

// Worst returns the rectangle that is left of the worst sheet of a nominal size: both
// edges as short as may be, and what the lean of the short edges takes off the long ones.
func (b *BoardStandard) Worst(l, w length.Length) (length.Length, length.Length) {
	x, y := l-b.Short(l), w-b.Short(w)
	if l >= w {
		x -= b.OutOfSquare(w)
	} else {
		y -= b.OutOfSquare(l)
	}
	return max(0, x), max(0, y) // a strip as narrow as that is nothing
}

// UsualStandard returns the standard that a sheet is likely to be sold by: PS 1 for one
// that measures whole inches both ways, else EN 315. Fibreboard has one of its own.
func UsualStandard(l, w length.Length) BoardStandard {
	list := BoardStandards()
	if l%length.Inch == 0 && w%length.Inch == 0 {
		return list[0]
	}
	return list[1]
}

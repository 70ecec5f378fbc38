package shelf

import (
	"fmt"
	"math"

	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// Ends says how the ends of a shelf are held.
type Ends int

// The ends.
const (
	Resting Ends = iota // free to turn: on pins or cleats, in dados
	Fixed               // held so that they cannot turn
)

// Shelf is a shelf between two supports.
type Shelf struct {
	Span      length.Length // clear, between the supports
	Depth     length.Length // front to back, without strips
	Thickness length.Length // measured
	Modulus   float64       // N/mm2, in the direction of the span
	Density   float64       // kg/m3, for the shelf's own weight; 0 leaves it out
	Strips    []Strip
	Ends      Ends
	// Creep is what a load that stays adds in the long run, as a share of the sag
	// at once; 0 is none. See DefaultCreep.
	Creep float64
}

// DefaultCreep adds half of the sag at once (a trade body's page on shelves).
const DefaultCreep = 0.5

// What a shelf can be made of and carry.
const (
	minModulus = 1.0         // N/mm2, softer than any board
	MaxModulus = 1_000_000.0 // N/mm2; steel has 210,000
	MaxDensity = 25_000.0    // kg/m3
	MaxLoad    = 100_000.0   // kg, kg/m or kg/m2
	MaxCreep   = 10.0
	MaxStrips  = 100
)

// Spread says how a load lies on a shelf, and what its mass is of.
type Spread int

// The spreads.
const (
	Whole    Spread = iota // kg on the whole shelf, evenly
	PerMetre               // kg on a metre of span, evenly
	PerArea                // kg on a square metre of shelf, strips aside, evenly
	Middle                 // kg at the middle of the span
)

// Load is what stands on a shelf.
type Load struct {
	Mass   float64
	Spread Spread
}

// Sag is how far the middle of a shelf goes down.
type Sag struct {
	Now   length.Length // as soon as it is loaded
	Later length.Length // in the long run, creep included
}

// gravity is the standard acceleration of free fall in m/s2, by definition (3rd
// CGPM, 1901; from memory).
const gravity = 9.80665

// Sag estimates the sag of s under a load, its own weight included when the density
// is given. The error is a [diag.List] with every measure that is out of range;
// its last case is a shelf that would sag by more than a tenth of its span, where
// the formula says nothing.
func (s Shelf) Sag(load Load) (Sag, error) {
	list := s.check(load)
	between(&list, "span", s.Span)
	if err := list.Err(); err != nil {
		return Sag{}, err
	}
	now := s.beam(load).sag(s.Span.MM())
	later := now * (1 + s.Creep)
	if later > s.Span.MM()/10 {
		list.Add(diag.Pos{}, "load", "the shelf would sag by more than a tenth of its span, where no estimate holds",
			"take a thicker or stiffer board, a shorter span, a strip along the edge, or less load")
		return Sag{}, list
	}
	return Sag{grid(now), grid(later)}, nil
}

// grid rounds a number of mm below length.Max.
func grid(mm float64) length.Length {
	return length.Length(math.Round(mm * float64(length.Millimetre)))
}

// beam is a shelf of any span under a load, in N and mm.
type beam struct {
	stiffness float64 // E I
	whole     float64 // N, whatever the span, evenly
	along     float64 // N a mm of span
	middle    float64 // N
	ends      Ends
}

func (s Shelf) beam(load Load) beam {
	b := beam{stiffness: s.Stiffness(), along: s.weight(), ends: s.Ends}
	n := load.Mass * gravity
	switch load.Spread {
	case Whole:
		b.whole = n
	case PerMetre:
		b.along += n / 1000
	case PerArea:
		b.along += n / 1e6 * s.Depth.MM()
	case Middle:
		b.middle = n
	}
	return b
}

// sag returns the sag at once over a span, in mm.
func (b beam) sag(span float64) float64 {
	even, middle := 5.0/384, 1.0/48
	if b.ends == Fixed {
		even, middle = 1.0/384, 1.0/192
	}
	return ((b.whole+b.along*span)*even + b.middle*middle) * span * span * span / b.stiffness
}

// check adds everything that is out of range, the span aside.
func (s Shelf) check(load Load) diag.List {
	var list diag.List
	between(&list, "depth", s.Depth)
	between(&list, "thickness", s.Thickness)
	number(&list, "modulus", s.Modulus, minModulus, MaxModulus, "N/mm2")
	number(&list, "density", s.Density, 0, MaxDensity, "kg/m3")
	number(&list, "creep", s.Creep, 0, MaxCreep, "times the sag at once")
	number(&list, "load", load.Mass, 0, MaxLoad, "kg")
	if s.Ends != Resting && s.Ends != Fixed {
		list.Add(diag.Pos{}, "ends", "unknown", "use Resting or Fixed")
	}
	if load.Spread < Whole || load.Spread > Middle {
		list.Add(diag.Pos{}, "load", "unknown spread", "use Whole, PerMetre, PerArea or Middle")
	}
	if len(s.Strips) > MaxStrips {
		list.Add(diag.Pos{}, "strips", fmt.Sprintf("%d strips", len(s.Strips)), fmt.Sprintf("use %d at most", MaxStrips))
		return list
	}
	for i, strip := range s.Strips {
		strip.check(&list, fmt.Sprintf("strip %d: ", i+1), s.Thickness)
	}
	return list
}

// between adds a mistake unless a length is above 0 and at most length.Max.
func between(list *diag.List, name string, l length.Length) {
	switch {
	case l <= 0:
		list.Add(diag.Pos{}, name, "not above 0", "give what is measured")
	case l > length.Max:
		list.Add(diag.Pos{}, name, fmt.Sprintf("longer than %v", length.Max), "give a shorter one")
	}
}

// number adds a mistake unless a number is within bounds.
func number(list *diag.List, name string, v, least, most float64, unit string) {
	if !(v >= least && v <= most) { // NaN is not within either
		list.Add(diag.Pos{}, name, fmt.Sprintf("%v is not from %.0f to %.0f %s", v, least, most, unit), "correct it; the data of the board's maker come first")
	}
}

package shelf

import (
	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// Strip is a strip glued along a shelf over its whole span, to an edge or a face:
//
//	+--------------------+---+  --- top of the shelf
//	|       shelf        |   |   Drop (0 here)
//	+--------------------+   |
//	                     |   |  Height
//	                     +---+
//	                     Width
type Strip struct {
	Width   length.Length // front to back
	Height  length.Length
	Drop    length.Length // of its top below the top of the shelf; negative above
	Modulus float64       // N/mm2
	Density float64       // kg/m3; 0 leaves its weight out
}

func (s Strip) check(list *diag.List, name string, thickness length.Length) {
	between(list, name+"width", s.Width)
	between(list, name+"height", s.Height)
	number(list, name+"modulus", s.Modulus, minModulus, MaxModulus, "N/mm2")
	number(list, name+"density", s.Density, 0, MaxDensity, "kg/m3")
	if s.Height > 0 && thickness > 0 && (s.Drop > thickness || s.Drop < -s.Height) {
		list.Add(diag.Pos{}, name+"drop", "the strip does not touch the shelf",
			"measure from the top of the shelf down to the top of the strip")
	}
}

// Stiffness returns E I of the section in N mm2: the board and its strips about
// their common neutral axis, each area counted with its modulus. It takes s to be
// within its ranges.
func (s Shelf) Stiffness() float64 {
	var area, moment float64 // of E A, and of E A y
	for _, p := range s.pieces() {
		area += p.ea()
		moment += p.ea() * p.y
	}
	axis := moment / area
	ei := 0.0
	for _, p := range s.pieces() {
		ei += p.ea() * (p.height*p.height/12 + (p.y-axis)*(p.y-axis))
	}
	return ei
}

// piece is a rectangle of the section in mm, y its middle below the shelf's top.
type piece struct{ width, height, y, modulus float64 }

func (p piece) ea() float64 { return p.modulus * p.width * p.height }

func (s Shelf) pieces() []piece {
	t := s.Thickness.MM()
	list := []piece{{s.Depth.MM(), t, t / 2, s.Modulus}}
	for _, r := range s.Strips {
		h := r.Height.MM()
		list = append(list, piece{r.Width.MM(), h, r.Drop.MM() + h/2, r.Modulus})
	}
	return list
}

// weight returns the weight of the shelf in N a mm of span.
func (s Shelf) weight() float64 {
	kg := s.Density * s.Depth.MM() * s.Thickness.MM() // times 1e9
	for _, r := range s.Strips {
		kg += r.Density * r.Width.MM() * r.Height.MM()
	}
	return kg / 1e9 * gravity
}

package shelf

// Board is a material and how stiff it is in bending: defaults to edit, no promise
// of a board. The data of its maker come first.
type Board struct {
	Name    string
	Modulus float64 // N/mm2, in the direction of the span
	Density float64 // kg/m3; 0 when unknown
	Source  string
}

// Boards returns the boards with known moduli. Where a source gives a range, the
// modulus is its lower end; a density is the middle of the range that sheets of mills
// and handbooks give.
func Boards() []Board {
	const (
		minimum  = "EN 622-5, least value for general use, as mill sheets give it"
		handbook = "wood handbook of a forest products laboratory, table 12-1, from memory"
		birch    = "handbook of birch plywood, from memory; density from a mill's data sheet"
	)
	return []Board{
		{"MDF, over 9 to 12 mm", 2500, 760, minimum},
		{"MDF, over 12 to 19 mm", 2200, 750, minimum},
		{"MDF, over 19 to 30 mm", 2100, 740, minimum},
		{"particleboard P2, 13 to 20 mm", 1600, 680, "a mill's sheet, quoted"},
		{"birch plywood 18 mm, face grain along the span", 10_700, 685, birch},
		{"birch plywood 18 mm, face grain across the span", 6800, 685, birch},
		{"softwood plywood, face grain along the span", 8200, 500, "handbook table of sheathing, quoted"},
		{"plywood of unknown kind", 6960, 500, handbook},
		{"hardboard", 3100, 950, handbook},
		{"red oak, solid", 12_548, 0, "Architectural Woodwork Standards 4.4.14.10: 1.82 million psi"},
	}
}

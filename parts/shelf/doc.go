// Package shelf estimates how far a shelf sags, and the largest span that keeps a
// limit.
//
//	Shelf, Load        -> Sag          now, and in the long run
//	Shelf, Load, Limit -> MaxSpan
//
// The shelf is a beam that bends little, the same along its length, its supports at
// both ends. With W the load, E the modulus and I the second moment of area:
//
//	              spread evenly     at the middle
//	resting       5 W L³ / 384 E I    W L³ / 48 E I
//	fixed           W L³ / 384 E I    W L³ / 192 E I
//
// (the first from a trade body's page on shelves, the others from memory; a test
// integrates the beam's equation). Shelves on pins, cleats or in dados rest. An end
// is fixed only where nothing can turn, which joinery hardly reaches.
//
// Strips of another stiffness glued along the shelf make it a composite section:
// each part counts with its own modulus about the common neutral axis. That holds
// for a glue line that carries the shear along the whole strip, and for a shelf
// that does not twist.
//
// Lengths are [length.Length], moduli N/mm2, densities kg/m3, loads kg. Results
// are rounded to the grid, an allowed sag down. All of it is an estimate, see
// [Caution]; shear is left out, which counts where the span is less than some ten
// thicknesses.
package shelf

// Caution goes with every figure of this package that is shown.
const Caution = "a computed sag is an estimate: local practice and the data of the board's maker come first; " +
	"board differs from sheet to sheet, and damp or a load that stays makes it sag more"

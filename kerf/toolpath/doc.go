// Package toolpath works out where the centre of a router's bit runs to free a panel:
// the outside offset of its outline and the inside offset of its openings by the
// radius of the bit, with relief of inside corners, passes, tabs or a skin, leads, the
// order on a sheet, and an estimate of the time.
//
//	kerf.Item + parts.Router -> Paths -> Place on the sheet -> Order, Crossings, Estimate
//
// Arcs stay arcs: a moved arc keeps its centre, an outside corner becomes an arc of
// the bit's radius. The construction is done in float64; the vertices of a path are
// rounded to the grid of 1/8 micrometre and its arcs keep their angle, so that a path
// stands off its true place by less than 0.005 mm. A slot that is narrower than the bit
// by no more than 0.002 mm counts as just as wide, and is run along its middle. What the bit does not get to is named: inside corners, curves that are
// tighter than it, narrow places, openings that it does not enter.
//
// Paths are in the frame of [kerf.Item]. Depths are positive downwards from the top
// of the sheet. A path is never an instruction for a machine: zero points, clamps and
// feeds are its user's.
package toolpath

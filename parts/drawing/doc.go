// Package drawing makes panels of a drawing: what any drawing reader yields, and
// what is done with it, whatever the format.
//
//	reader -> Drawing (pieces, texts, layers) -> Panels -> []Panel + diag.List
//
//	select   which layers hold outlines, openings, or nothing of ours
//	distinct pieces without length and pieces drawn twice are left out
//	join     loose pieces become closed loops
//	arcs     short segments that follow a circle become true arcs
//	nest     a loop in a panel is its opening, a loop in an opening a panel
//	name     a text names the innermost loop it stands in
//
// Coordinates are [length.Length] with y up. A piece is a run of lines and true
// arcs; a curve that is neither is a run of lines that the reader made, and says
// within what it follows the curve.
//
// # Joining
//
// Two ends at the same place are joined. Of the ends left over, those nearest to
// each other are joined first, up to the tolerance, and are moved to one place:
// where two lines meet when produced, if that is within the tolerance of both,
// so that a rectangle stays one; else the end of a line is kept, or that of the
// piece drawn first. A piece is moved by no more than the tolerance. A panel has
// no branches: three ends at a place are a mistake, and so are ends that find no
// partner, outlines that cross or touch themselves, and loops that cross or touch
// each other.
//
// # Arcs
//
// A run of at least [MinSegments] lines is replaced by an arc through its ends
// where no corner turns by more than [MaxTurn] degrees and the
// arc leaves no point of the run, nor the run a point of the arc, by more than
// the tolerance. Curves that the reader flattened are held to what they were
// flattened with, when that is less.
//
// # Exactness and cost
//
// Ends are compared, loops examined and openings placed exactly, arcs within
// 0.01 mm (parts/outline). The cost is O(n log n) in the segments of the drawing,
// and grows with the number of pairs of loops whose boxes overlap, of which there
// may be [MaxPairs]. The same drawing gives the same panels and findings.
package drawing

// Package check is the independent judge of plans. [Plan] takes a
// [nest.Problem] and a [nest.Plan] and returns nil when the plan may be cut as
// it stands, or [Violations], which lists what is wrong with it.
//
//	nest.Problem + nest.Plan -> nil | *Violations
//
// # Independence
//
// The judge shares no code with the solvers. It reads the data types of parts,
// parts/geom, parts/length, kerf and nest, and calls none of their functions
// but those that print a length, an axis or a way to cut; its transforms, turn
// rules and predicates are its own. A test reads the package with go/types and
// fails when that changes.
//
// # What is accepted
//
// A plan is accepted when all of this holds.
//
//  1. Every index is valid, and every copy 1..Copies of every part is placed
//     once or counted in Unplaced.
//  2. Part and stock are of one material; the turn is one that grain (or
//     Part.Turns) allows; a part is flipped only if it may be.
//  3. No more sheets of a stock are used than are available, and a strip
//     problem uses one at most.
//  4. Saw: each blank lies in the usable area, and two blanks of a sheet are
//     Gap or more apart along x or along y. A blank that placements share
//     (Placement.Shared) counts once; it is that of two panels, whose own blanks
//     lie in it and whose shapes are Apart or more from each other. It saves
//     nest.LeastSaved percent or more of these blanks, and a shape that fills more
//     than nine tenths of its own blank shares none.
//  5. Router: each shape lies in the usable area; the interiors of two shapes
//     do not meet, and their Euclidean distance is Gap or more. A part may lie
//     in another's hole. With no gap shapes may touch. Cuts is empty.
//  6. Saw: the cuts can be made one after the other, each from edge to edge of
//     one piece, in no more stages than the saw allows (Problem.Saw.Stages: the
//     changes of direction that a piece has seen, trimming cuts included), and
//     afterwards each blank is a piece of its own.
//  7. Each offcut is there: for the saw it lies in a piece that holds no blank
//     and no other offcut; for the router it lies on the sheet, Gap or more
//     from all shapes, and overlaps no other offcut. Keep follows the job's rule.
//
// The problem is read with the same distrust: a shape that does not lie in its
// blank, an odd kerf, or a usable area beyond the sheet is a violation too.
//
// # Exactness
//
// Coordinates up to [Limit] (2^29 units) are judged, larger ones are refused.
// Then differences fit 30 bits, products 60, orientation determinants 61.
// Distances are compared as squares of up to 122 bits in 128-bit arithmetic.
// Nothing is rounded, with one exception: a turn that is not a multiple of 90
// degrees rounds each vertex to the grid, half away from zero, and for a pair
// with such a turn a fault of up to [Tolerance] units (2, a quarter of a
// micrometre) is forgiven, because a processor may round the last bit
// differently.
//
// Shapes are taken to be regions bounded by simple rings, holes inside the
// outer ring. A ring may run either way and may touch itself; for one that
// crosses itself the even-odd rule says what is inside. That a part's ring is
// simple is not checked here.
//
// # Cost
//
// With n panels on a sheet the candidate pairs come from a sweep: n log n plus
// the pairs that lie side by side along one axis, n^2 box comparisons at
// worst. Two shapes with close boxes cost the edges near each other, and for
// touching shapes the contacts times the edges. A replay of m cuts looks for
// each piece from the newest back: m^2 comparisons at worst. Memory is linear
// in the problem and the plan. Once [MaxListed] pairs of a kind are listed the
// search for pairs stops, so a plan with everything in one heap is judged fast.
package check

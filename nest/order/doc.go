// Package order finds the cuts of a sheet that is sawn, and the order in which a
// person, or a beam saw, makes them.
//
//	nest.Problem + placements and kept offcuts of a sheet -> cuts in order, offcuts
//
// # What is cut when
//
// The blanks and kept offcuts of a sheet are wanted pieces. A piece in hand is
// divided where a cut can run through it from edge to edge between wanted pieces:
//
//  1. A piece that cannot be carried (parts.Saw: Largest, Heaviest) is broken down
//     first, by the cut that leaves the fewest such pieces, and of those by the one
//     nearest to its middle. These are the first cuts of a sheet, made where it lies.
//  2. Then the factory edges at the left and at the bottom come off, at the size of
//     the usable area; for a beam saw each in the stage of its direction. The others
//     come off with the last cut along them.
//  3. A table saw rips first: cuts along the longer side of the piece. A track saw
//     crosscuts first. A beam saw begins with the direction that needs fewer stages.
//     Where only one direction divides a piece there is no choice.
//  4. Cuts of one direction through a piece go from its left, or bottom, edge to
//     the other: the wanted piece lies between fence and blade, and the kerf falls
//     beyond it. With a track saw they begin at the end with the narrower piece, so
//     that the rail lies on the wide rest.
//  5. All cuts of a stage are made before those of the next. In a stage the fence
//     stays as long as any piece needs that setting, and then goes to the largest
//     setting there is: large pieces come first, so that a spoiled one can become a
//     smaller one, and equal pieces come off one setting.
//
// Sources: breaking down on the floor, equal strips at one setting and large pieces
// first are workshop advice that magazines repeat; no one source.
//
// # Guarantees
//
// All coordinates stay on the grid: a cut lies half a kerf from the wanted piece it
// frees. Where a strip of less than a kerf is left beside a wanted piece, the blade
// takes that strip and no more. Wanted pieces are not moved, so kerfs and gaps are
// those of the plan. What is left of the sheet within its usable area and is no
// sliver is an offcut, kept by the rule of the job; kept offcuts that the plan had
// may grow, never shrink.
//
// Cost: cuts times pieces in hand, and a sort of the wanted pieces for every piece.
package order

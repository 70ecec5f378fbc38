// Package rest says what is left to do, and what there is to do it with, when part
// of a plan has been cut.
//
//	nest.Problem + judged nest.Plan + State -> Rest -> parts.Job
//
// A sheet is not begun, cut up to one of its cuts, or cut. A panel is done when the
// cuts that were made have freed it and it is not spoiled; all others are missing,
// under the numbers of their copies. What the cuts have left without a done panel is
// a piece: in hand when panels were still to come out of it, otherwise an offcut,
// there when it is worth keeping. Pieces keep the trim of the factory edges they
// have, and need none along sawn edges. The pieces of spoiled panels are not counted
// on.
//
// The job that goes on asks for the missing panels, and has as stock the pieces, the
// sheets that are not begun, and what can still be bought. What is in hand costs
// nothing, or next to nothing for whole sheets, so that pieces are used first.
package rest

// Package slack says how much a plan can bear: the smallest sheet on which the same
// panels come out with the same cuts, and the widest kerf.
//
//	nest.Problem + a sheet of a plan -> Of -> Room
//
// For the saw the plan is its tree of cuts. Pieces that hold no blank give way: they may
// shrink to nothing, and then their cut falls away, while every cut between two pieces
// that hold blanks takes its kerf. The least extent along an axis is a sum over the cuts
// across it and a maximum over the others, so that length and width do not bear on each
// other, and the figures are exact for these cuts; a plan with other cuts may need less.
//
// For the router the layout is moved as one: the least extent is that of its box, and the
// widest gap the least distance of two shapes, as laid or with their places spread over
// the whole usable area, whichever is more. Both are sure but not the best there are:
// shapes could be pushed one by one. Distances are float64 and rounded down.
//
// Cost: for the saw the cuts times the pieces; for the router the pairs of shapes that
// are neighbours, times their edges.
package slack

// Package nest is the vocabulary of nesting: a [Problem] to solve, the
// [Settings] of a run, a [Plan] and a [Result]. There is no algorithm here.
// Solvers (nest/saw, nest/router) turn a Problem into a Plan, nest/check judges
// a Plan and shares no code with them, nest/bound says what no plan can beat,
// and nest/choose runs solvers and keeps the best plan the judge accepts.
//
// # Frames
//
// A sheet lies with its good face up, its lower left corner at the origin, x
// along its length. A part has its own frame with the lower left corner of the
// box of its Shape at the origin. A [Placement] takes the part's blank (which
// holds the shape at Inset), mirrors it in a vertical line if Flip is set,
// turns it counter-clockwise by Turn degrees, and moves it so that the lower
// left corner of the turned blank's box comes to At. For the router blank and
// box of the shape are the same.
//
// # Gap
//
// Two parts on a sheet, and two blanks, keep Gap between them: for the saw it
// is the kerf, for the router the bit and what the user adds. Parts keep no
// distance from the edge of the usable area.
//
// # Shared blanks
//
// Two panels for the saw that leave much of their blanks open may share one, which
// is sawn in the place of both: [Placement].Shared. Each panel's own blank lies in it,
// so that what is shaped keeps its allowance to all sides, and the two shapes keep
// [Problem].Apart between them.
package nest

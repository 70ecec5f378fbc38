// Package saw nests blanks for straight cuts: each cut runs from edge to edge of
// the piece in hand, to any depth (guillotine patterns).
//
//	nest.Problem -> Solver -> nest.Plan with cuts in order
//
// # Method
//
// A sheet is a tree of rows: a row lies left to right or is stacked bottom to top,
// and its children are blanks or rows of the other direction. Any such tree can be
// cut by straight cuts, and any pattern of straight cuts is such a tree. Only the
// sizes that the content needs are stored, so rows grow and shrink with it: a
// blank fits wherever the rows around it can give up enough, and what is free in a
// row is always in one piece.
//
//  1. A first plan fills sheet after sheet, each with the best of some tries.
//  2. Cheaper: the costliest plan that would be better is the goal. Sheets are
//     dropped until the rest costs less than the best plan, and what lay on them
//     waits. A step takes some blanks off one to three sheets and places all that
//     waits, in an order blurred by chance, in the best spots, on new sheets only
//     if the goal allows it. Where a bound has left mixes of sheets to try
//     (nest.Settings), three goals of four are one of these: one in which little
//     waited when it was last left, and the search goes on from there (mix.go). The
//     step stands when less area waits, or the rest is less broken up, than before or
//     than some steps ago: 40 at first, and more, differently in each chain, when there is
//     time for it. When nothing waits a better plan is found.
//  3. Dive: full sheets that were met are remembered (pattern.go). From time to time
//     a linear program says how the best of them go together, what is worth more
//     than it costs by its dual values is sought as well, and the solution is
//     rounded, sheet by sheet (dive.go, price.go, program.go). That is where the
//     search for the next goal begins.
//  4. Offcut: the same, for a part of a sheet that is kept free and is larger
//     than the largest offcut of the best plan.
//
// The frame of 2 is that of Gardeyn & Wauters, "A goal-driven ruin and recreate
// heuristic for the 2D variable-sized bin packing problem with guillotine
// constraints", European Journal of Operational Research 301, 2022 (from memory).
// It differs, as far as we remember that paper, in the tree, whose rows grow, in
// how spots are chosen, in the measure of how broken up the rest is, and in 3 and 4.
// Late acceptance is from Burke & Bykov (from memory); the first plan is ours. Rounding
// what patterns of a search make together is common for set covering, as in Monaci & Toth,
// "A set-covering-based heuristic approach for bin-packing problems", INFORMS Journal on
// Computing 18, 2006 (from memory).
//
// # Objective
//
// In this order: fewest panels without a place, least of their area, least cost,
// fewest sheets, the largest offcut that is kept, and the most area of all such
// offcuts.
//
// # Kerf
//
// Blanks and sheets are enlarged by one kerf, which then vanishes from the search:
// a strip of n blanks needs n blanks and n-1 kerfs, and the sheet has one kerf
// more than it has. The enlargement is exact.
//
// # Guarantees
//
// Every plan can be cut as listed; nothing is said about how near it is to the
// best, which is for nest/bound. Few fence settings and short cuts decide among plans
// that are as good; at the end each sheet is laid out anew for them, which keeps its
// content and its offcuts. A strip (Problem.Strip) is taken for a
// sheet: the largest offcut is sought, not the least length.
//
// Four chains search for each material and meet after every round. All numbers in
// the search are integers, or are rounded alike everywhere, so the plan depends on
// problem, seed and budget, on what it is told of mixes and plans that others found
// (adopt.go), and on nothing else. When the context ends before there
// is a plan, a hasty one is finished first. Without a budget the search ends before the
// context when its plan is proved by nest.Settings.Least and no larger offcut turns up
// for as long as a default budget lasts.
//
// # Cost
//
// A step looks at the nodes of some sheets, of eight at most or of those it ruins,
// once for each kind of blank that waits. A dive takes the time of some thousand steps,
// which a counted budget pays for, and is made up to 250 kinds of blanks and 120 sheets.
// Memory of a chain: two plans and one for each mix that was tried, each about a hundred
// bytes a panel, and up to ten megabytes of patterns.
package saw

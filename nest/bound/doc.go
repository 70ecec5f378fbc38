// Package bound says what no plan can beat: the least cost and the fewest sheets
// for a problem, so that a plan can be called proved or its distance be named.
//
//	nest.Problem -> nest.Bound
//
// # Method
//
// Materials are bounded by themselves and added. For one material every bound
// has the same form: give each panel a weight and each kind of sheet a capacity
// such that the panels of no possible sheet weigh more than its capacity; then
// the cheapest mix of sheets whose capacities cover the total weight bounds the
// cost, and the fewest such sheets bound their number. The weights tried:
//
//   - area: panel area against usable area;
//   - area with kerf: both enlarged by one kerf, which is exact for straight cuts
//     (a strip of n panels has n-1 kerfs between them and one to spare); for the
//     router, both grown by half the gap on all sides, which cannot overlap. What a
//     shape gains by that is bounded from below: Steiner's formula for convex
//     outlines, the inequality of Brunn & Minkowski for others;
//   - dual feasible functions: lengths and widths are first put through functions
//     that never make a possible row of panels impossible, so that panels larger
//     than half a sheet count as halves or wholes. Fekete & Schepers, "A general
//     framework for bounds for higher-dimensional orthogonal packing problems",
//     Math. Methods of Operations Research 60, 2004 (from memory). The functions
//     used are superadditive, so that they also bound what smaller sheets hold:
//     f(W) is the capacity of a sheet of length W;
//   - column generation, for straight cuts: weights are the dual values of the master
//     problem of Gilmore & Gomory, and the capacity of a sheet is worked out by a dynamic
//     program over its patterns (columns.go, master.go, pricing.go, pattern.go, fill.go). It
//     forgets how many copies of a panel there are, and counts lengths exactly where grain
//     leaves few to count, else in units of some millimetres, rounded to the safe side
//     (raster.go).
//
// Every set of weights is a condition on how many sheets of each kind there are. The
// cheapest mix of sheets that keeps all conditions is the bound, and conditions that rule
// it out are sought until there are none (mix.go, and refute in settle.go). Up to eight
// kinds of sheet are mixed so. What is not ruled out tells the search what to try.
//
// A mix that has enough in fractions of patterns may have too little in whole ones, when
// next to nothing is to spare. Then its patterns can be listed and branched over: whole.go,
// with losses.go, proper.go, builds.go, runs.go, alike.go, branch.go, relax.go, and cuts.go,
// which often leaves nothing to branch over. Either the mix is ruled out, or there is a plan of
// it (layout.go), or they are too many to say. Plans are sought among the heaviest patterns,
// too (heaviest.go, union.go), those that are likely in one (odds.go), by annealing (anneal.go,
// rows.go, places.go), which need only come near (finish.go).
//
// A panel that may be turned takes the lesser of its weights. A shape that is no
// rectangle is bounded by its area alone, and so are all panels of a material of
// which one may be turned by free angles; rectangles beside other shapes have their
// functions.
//
// Panels for the saw that could share a blank with another count half, or with their
// shape instead of their blank, whichever bounds the better. A pair that leaves no room
// for that, however its panels lie, is found by rectangles in their shapes.
//
// A strip has no sheets to count: StripLength bounds the length it is cut to.
//
// # Exactness
//
// Areas are integers, weights float64 with sums good to 1e-12 of their size;
// 1e-9 is given away before a total is rounded up. Where the judge forgives rounding,
// with turns by free angles, three units along every edge are given away. The mix of
// sheets is found by branch and bound; when that takes too long, one condition at a
// time is relaxed and rounded up. The weights of column generation are whole numbers, and
// so are the capacities: what the simplex method finds is never trusted, only tried. It is
// not rounded alike on all kinds of processors, though, so which conditions are tried, and
// what the search is told, may differ between them. The bound is one all the same.
//
// Cost: kinds of panels times pairs of functions, at most 2,000 pairs. Column generation
// counts its additions and stops after 3.2 thousand million for a material, about three
// seconds; most cabinets take a third of a second. It is left out beyond 250 kinds of
// blanks. Whole patterns are asked about for up to 100 kinds, with four million additions a
// panel and an eighth of all at most, and patiently with forty times as many. Memory is a
// table of 12 bytes a point, and for patterns up to 350 MB as far as was measured. A context
// ends it between two tables. Times are of processors with vectors (AVX2); others take some
// five times as long for tables and ten to thirty times for annealing, and find the same.
package bound

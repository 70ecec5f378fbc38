// Package router nests true shapes, for a machine that cuts along outlines: curved
// panels, openings that hold smaller panels, a gap between all.
//
//	nest.Problem -> Solver -> nest.Plan
//
// # Method
//
// Shapes are simplified so that they contain the panel (simplify.go), cut into
// convex pieces (convex.go), and for two shapes the no-fit polygon is kept as the
// union of the Minkowski sums of their pieces (nfp.go): exact integers, touching
// placements included, no union to be computed. A first layout places panels one
// by one where they touch (construct.go), or fills sheet after sheet with what touches
// most (fill.go, contact.go); congruent panels that interlock are laid together at
// first (couple.go).
//
// The search then allows overlap and removes it (separate.go): overlap is measured
// as penetration depth, one overlapping panel at a time moves to the place of least
// weighted overlap that sampling and descent find (layout.go), and the weights of
// pairs that persist are raised. A strip is shortened step by step that way,
// from several first layouts (strip.go); a sheet is saved by spreading its panels over
// the others, or changed for a cheaper one, and the last sheet is pushed together so
// that one large offcut remains (sheets.go). By turns with that some sheets are emptied
// and filled again, which finds exact fits that no descent meets.
//
// The line of Egeblad, Nielsen & Odgaard, "Fast neighborhood search for two- and
// three-dimensional nesting problems", European Journal of Operational Research
// 183, 2007; Umetani, Yagiura, Imahori, Imamichi, Nonobe & Ibaraki, "Solving the
// irregular strip packing problem via guided local search for overlap
// minimization", International Transactions in Operational Research 16, 2009;
// Imamichi, Yagiura & Nagamochi, "An iterated local search algorithm based on
// nonlinear programming for the irregular strip packing problem", Discrete
// Optimization 6, 2009; Elkeran, European Journal of Operational Research 231,
// 2013; Gardeyn, Vanden Berghe & Wauters 2025, arXiv 2509.13329 (all from memory).
// What fillings go back to is said there.
// It differs from them in: the measure sums the depths over convex pieces; places
// are sampled at random, near, and touching corners of no-fit polygons; several
// sheets are one layout.
//
// # Cost and limits
//
// Pairs of shapes take the product of their convex pieces in memory and are made
// when first needed; two rectangles need none. Up to 2,500 panels of a material
// are searched, more are constructed only. Nothing is guaranteed about how near a
// plan is to the best. Chains search at the same time, each with its own
// layout and random numbers, and go on from the best that one of them finds
// (meeting.go); with a counted budget there are two, and the plan does not depend on
// the number of workers.
package router

// Package saw nests blanks for straight cuts: each cut runs from edge to edge of
// the piece in hand, to any depth (guillotine patterns).
//
//	nest.Problem -> Solver -> nest.Plan with cuts in order
//
// # Method
//
// A sheet is a tree of cuts. An item is placed into the lower left of a free
// piece, which two cuts turn into the blank and at most two smaller free pieces.
// A first layout is the best of many orders and rules of choice; then rounds of
// ruin and recreate follow: up to three sheets are emptied and their items packed
// again, in a new order, into what is free everywhere, and the result is kept
// when it is no worse than 40 rounds ago (late acceptance). Both are folklore of
// cutting and packing; the names are from memory: ruin and recreate from
// Schrimpf, Schneider, Stamm-Wilbrandt & Dueck 2000, late acceptance from Burke
// & Bykov 2008.
//
// # Kerf
//
// Items and sheets are enlarged by one kerf, which then vanishes from the search:
// a strip of n items needs n items and n-1 kerfs, and the sheet has one kerf
// more than it has. The enlargement is exact.
//
// # Guarantees
//
// Every plan can be cut as listed; nothing is said about how near it is to the
// best, which is for nest/bound. Four chains search independently and the best
// is taken by value, then by number, so the plan does not depend on the number of
// workers. Time a round: the items on three sheets times the free pieces of all.
// Memory: a few copies of the layout a chain.
package saw

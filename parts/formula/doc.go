// Package formula works out the formulas of a job file: depth - 2*thickness.
//
//	text -> literals cut out -> syntax tree (expr-lang/expr) -> Value | []Problem
//
// The library parses; values are computed here, because they are exact fractions with
// a dimension: a length times a length is an area, which is no length. Sums, products
// and quotients are exact; roots and angles go through floating point. What is wanted as
// a length is rounded to the grid in the end, halves away from zero.
//
// # Numbers
//
// A number may carry a unit, as lengths of a job file do: 23 11/16 in, 4' 6", 18.2 mm;
// 3/4 alone is a quotient, 23 3/4 a mixed number. A number without a unit is a plain
// number until it meets a length in a sum, a comparison or the place it is for: there
// it counts in the unit of the job (squared, where it meets an area). So does a name that stands for a plain number.
//
// # Functions
//
// min, max, abs, sqrt, hypot; round, floor and ceil to a step (1 in the unit of the job if
// not given); sin, cos, tan of degrees and asin, acos, atan in degrees; pi. Of arcs:
// radius(chord, rise), rise(chord, radius), developed(chord, rise). A choice is written
// condition ? this : that.
//
// # Limits
//
// A formula has at most [MaxText] characters. Names stand for values that the caller
// gives; there is no way to anything else.
package formula

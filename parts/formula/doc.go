// Package formula works out the formulas of a job file: depth - 2*thickness.
//
//	text -> literals cut out -> syntax tree (expr-lang/expr) -> Value | []Problem
//
// The library parses; values are computed here, because they are exact fractions with
// a dimension: a length times a length is an area, which is no length. Sums, products
// and quotients are exact, and so are roots of squares and the sine of a right angle;
// other roots and angles go through floating point and are kept to 14 digits, which is
// the same on every machine. What is wanted as a length is rounded to the grid of
// 1/8 micrometre in the end, halves away from zero.
//
// # Numbers
//
// A number may carry a unit, as lengths of a job file do: 23 11/16 in, 4' 6", 18.2 mm;
// 3/4 alone is a quotient, 23 3/4 a mixed number. A number without a unit is a plain
// number until it meets a length in a sum, a comparison or the place it is for: there
// it counts in the unit of the job (squared, where it meets an area). So does a name
// that stands for a plain number. A quotient of two lengths has lost its unit: it is a
// ratio, and neither it nor what is multiplied by it counts in the unit of the job.
//
// What a maker may mean in two ways is a problem, never a guess: 3,5 (a decimal comma
// or two arguments), 23-11/16 and 4'-6" (a mixed number or a difference), and
// width/3/4 in (which is divided by what).
//
// # Functions
//
// min, max, abs, sqrt, hypot; round, floor and ceil to a step (1 in the unit of the job if
// not given; a value within 1e-12 of itself, or of a step, from a multiple counts as that
// multiple, so that a rounded root does not cost a step); sin, cos, tan of degrees and
// asin, acos, atan in degrees; pi. Of arcs: radius(chord, rise), rise(chord, radius),
// developed(chord, rise).
//
// A choice is written condition ? this : that. What is not chosen may divide by zero: a
// condition can guard. Its names, functions and dimensions are looked at all the same.
//
// # Limits
//
// A formula has at most [MaxText] characters, which also bounds how deep it nests, and
// its fractions at most 2000 bits above and below the line. Names stand for values that
// the caller gives; there is no way to anything else.
package formula

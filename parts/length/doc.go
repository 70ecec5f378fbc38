// Package length holds the one unit of length of panelyard: an integer count of
// eighths of a micrometre.
//
// One eighth of a micrometre is the largest unit in which both a thousandth of
// a millimetre (8 units) and a sixty-fourth of an inch (3175 units) are whole
// numbers, so what is read from a metric or an imperial drawing is held
// exactly. Every length in a job is at most [Max] (2^28 units, about 33.5 m)
// in absolute value; the difference of two coordinates then fits 30 bits and an
// orientation determinant of three points fits 62 bits, so geometry on lengths
// is exact in int64.
//
// Parsing is decimal and fractional, never through floating point. A value that
// is not a whole number of units is rounded to the nearest one, ties away from
// zero: at most 62.5 nanometres.
package length

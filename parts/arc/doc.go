// Package arc computes circular arcs from what a maker can measure: two of chord,
// rise, radius and angle, or the developed length and one of the last two, give the
// rest.
//
//	Known -> Solve   -> Arc            the arc
//	Known -> Effects -> []Effect       what an error of measuring does to it
//	Arc   -> Stations                  offsets from the chord, to set it out by hand
//	Ratio, diagonal -> width, height   of a display, and the arc of a curved one
//
// The words, with t for half the angle:
//
//	chord c    the straight distance of the two ends        c = 2 r sin t
//	rise h     from the middle of the chord to the arc      h = r (1 - cos t)
//	radius r                                                r = c²/8h + h/2
//	angle      of the arc, seen from the centre             2 t
//	length     along the arc: developed                     2 r t
//
//	          .-'''''-.
//	       .'     |     '.
//	      /       |h      \
//	     +--------+--------+
//	      \       c       /
//	        \ t  |      / r
//	          \  |    /
//	            \|  /
//	             +
//
// An arc longer than half a circle, with a rise above half the chord, is long
// ([Arc.Long]). Chord and radius fit two arcs, a short one and a long one; every
// other pair fits one.
//
// Everything is computed in float64 by formulas that do not lose digits on flat
// arcs (the rise is never a difference of radii), and rounded once to the grid of
// [length.Length], an angle to a millionth of a degree: a result is the nearest,
// ties and the last of some 15 digits aside. (What is computed from an angle above
// 359.999 degrees has 8 digits.) Chord, rise and length are at most
// [length.Max]; a radius may be larger, see [MaxRadius]. What lies beyond, or
// vanishes on the grid, is an error with a remedy.
//
// Each function takes constant time, Stations time linear in their number. The
// formulas are school geometry; each follows from the triangle of centre, end and
// middle of the chord.
package arc

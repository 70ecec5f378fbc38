// Package outline holds the true shape of a panel or an opening: a closed loop
// of straight lines and true circular arcs.
//
// Vertices are on the integer grid of [length.Length]; an arc is given by its
// bulge, the tangent of a quarter of its angle, positive when it runs
// counter-clockwise (the definition published for DXF polylines). Bulges stay
// exact under translation, mirroring and turns of 90 degrees. Points on an arc
// are computed in float64 in the frame of its chord, which is well conditioned
// for flat arcs as well, and rounded once.
//
// Arcs stay arcs as far as the exporters. Nesting works on polylines that
// [Outline.Cover] and [Outline.Core] make, which err to the safe side: a cover
// contains the panel, a core is contained in the opening, both within a stated
// chord tolerance. An Outline is not changed after it was made.
package outline

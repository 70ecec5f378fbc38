// Package bend works out how a flat board is bent: by kerfs sawn nearly through it, or
// dry, without any.
//
//	Bend         -> Flat             developed length of the blank, without the tool
//	Bend         -> Solve -> Cuts    how many kerfs, where, and what they leave
//	Dry          -> Check -> Advice  whether plywood bends as it is, and what does
//
// The words, lengths [length.Length]:
//
//	thickness t   of the board, as measured
//	web w         left under each kerf; the depth of cut is t - w
//	kerf k        width of the cut
//	radius R      of the outer, convex face when bent; the inner face has R - t
//	hinge h       from the middle of the web to the kerfed face: t - w/2
//	facet e       how far the flat pieces of the uncut face stand off the arc
//
//	        |<-- pitch -->|
//	   +----+ +---------+ +---------+ +----+   kerfed face
//	   |    | |         | |         | |    |     ^
//	   |    |k|         | |         | |    |     | h
//	   |    +-+         +-+         +-+    |     v
//	   |- - - - - - - - - - - - - - - - - -|   middle of the web: keeps its length
//	   +-----------------------------------+   uncut face
//
// Closed kerfs are sawn into the inner face and close when it is bent. The middle of
// the web keeps its length; it is a circle of radius R - w/2:
//
//	closing angle of a kerf   k/h
//	kerfs for an angle A      the least whole number from A h/k up, whatever the radius
//	flat length L             A (R - w/2)
//	pitch p                   L/n, half of it at both ends
//	facet                     p²/8R
//	gap left of a kerf        k - h A/n, at its mouth
//
// The floor of a kerf is taken to bend evenly over its width. Its walls then point to
// one centre, and meet at the mouth when that centre is h from the middle of the web:
// k/h is exact, not a small angle.
//
// Open kerfs are sawn into the outer face and gape when it is bent: the uncut face is
// the inner one, the middle of the web has the radius R - h, nothing closes, and the
// facet alone, p²/8(R - t), says how many there are. The gap is k + h A/n.
//
// All of it is school geometry (an arc of constant length, the sagitta p²/8R of a flat
// arc) and computed in float64, rounded once to the grid. Two things it does not know:
// how far the fibres of a board let its web bend, which a piece of scrap tells, and
// that straight pieces between hinges bring the ends of the bend nearer to each other
// than an arc of their length would, by less than A²/12n² of the chord. Straight wood
// beside the bend is trimmed afterwards.
//
// Every function takes constant time, those that list kerfs time linear in their
// number.
package bend

// Caution goes with every bend that is shown.
const Caution = "a bend is as good as its board: saw and bend a strip of scrap of the same board first, with the grain " +
	"the same way round; how thin the web may be differs from board to board, and factory edges are often damaged or out of square: trim them before anything is measured from them"

package pdf

import "math"

// ArcError is the most that a Bézier curve leaves the arc it stands for, in mm.
const ArcError = 0.001

// bezier is a cubic Bézier curve from where the one before it ends.
type bezier struct{ x1, y1, x2, y2, x, y float64 }

// arcBeziers returns Bézier curves for the arc of a bulge from ax, ay to bx, by: pieces
// of equal angle t with tangents of length 4/3·tan(t/4)·r, which meet the arc at both
// ends and in the middle. Such a piece leaves the arc outwards by at most
//
//	2/27 · sin(t/4)^6 / cos(t/4)^2 · r
//
// (the radial error of this well-known approximation, worked out by us; the test
// measures it). A straight step has the bulge 0 and no curve.
func arcBeziers(ax, ay, bx, by, bulge float64) []bezier {
	theta := 4 * math.Atan(bulge)
	dx, dy := bx-ax, by-ay
	r := math.Hypot(dx, dy) * (1 + bulge*bulge) / (4 * math.Abs(bulge))
	n := math.Ceil(math.Abs(theta) / (math.Pi / 2))
	for ; ; n++ {
		s, c := math.Sincos(theta / n / 4)
		if 2.0/27*math.Pow(s, 6)/(c*c)*r <= ArcError {
			break
		}
	}
	// The point at angle alpha from the start, and the direction there, in the frame
	// of the chord: no centre is needed, however flat the arc.
	at := func(alpha float64) (x, y, tx, ty float64) {
		k := math.Sin(alpha/2) / math.Sin(theta/2)
		sin, cos := math.Sincos((alpha - theta) / 2)
		x, y = ax+k*(dx*cos-dy*sin), ay+k*(dx*sin+dy*cos)
		sin, cos = math.Sincos(alpha - theta/2)
		d := math.Hypot(dx, dy)
		return x, y, (dx*cos - dy*sin) / d, (dx*sin + dy*cos) / d
	}
	step := theta / n
	h := 4.0 / 3 * math.Tan(math.Abs(step)/4) * r
	list := make([]bezier, int(n))
	x0, y0, tx, ty := at(0)
	for i := range list {
		x, y, ux, uy := at(step * float64(i+1))
		if i == len(list)-1 {
			x, y = bx, by
		}
		list[i] = bezier{x0 + h*tx, y0 + h*ty, x - h*ux, y - h*uy, x, y}
		x0, y0, tx, ty = x, y, ux, uy
	}
	return list
}

package svgpath

import (
	"math"
	"strconv"
	"strings"
)

// mostBulge is the most that an arc is written with at once, a little over a
// quarter turn. The centre of a larger one would hang too much on the last
// decimals: that of a half turn moves by the root of an error in its radius.
const mostBulge = 0.45

// Arc writes the path data of an arc from ax, ay to bx, by, whose place is written as
// end, in as many steps as it takes. The bulge is positive from x towards y.
func Arc(w *strings.Builder, ax, ay, bx, by, bulge float64, end string) {
	dx, dy := bx-ax, by-ay
	if math.Abs(bulge) > mostBulge {
		// The middle of the arc lies to the right of the chord when it runs
		// counter-clockwise.
		mx, my := (ax+bx)/2+dy*bulge/2, (ay+by)/2-dx*bulge/2
		half := (math.Sqrt(1+bulge*bulge) - 1) / bulge
		Arc(w, ax, ay, mx, my, half, Decimal(mx)+" "+Decimal(my))
		Arc(w, mx, my, bx, by, half, end)
		return
	}
	sweep := "0"
	if bulge > 0 {
		sweep = "1"
	}
	r := Decimal(math.Hypot(dx, dy) * (1 + bulge*bulge) / (4 * math.Abs(bulge)))
	w.WriteString("A" + r + " " + r + " 0 0 " + sweep + " " + end)
}

// Decimal writes a computed number of mm, finer than the grid of lengths so that
// an arc is not changed.
func Decimal(v float64) string {
	s := strconv.FormatFloat(v, 'f', 8, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

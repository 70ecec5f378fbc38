package outline

import (
	"math"
	"math/big"
	"slices"

	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// This file is the slow, exact view of arcs that the tests compare with. It
// shares no formula with arc.go: points of an arc come from a rational
// parametrisation and distances from the power of a point, both in rationals.

// ratPoint is a point with rational coordinates.
type ratPoint struct{ x, y *big.Rat }

func rat(v int64) *big.Rat { return new(big.Rat).SetInt64(v) }

func ratOf(v float64) *big.Rat { return new(big.Rat).SetFloat64(v) }

func mul(a, b *big.Rat) *big.Rat { return new(big.Rat).Mul(a, b) }
func add(a, b *big.Rat) *big.Rat { return new(big.Rat).Add(a, b) }
func sub(a, b *big.Rat) *big.Rat { return new(big.Rat).Sub(a, b) }

// truePoint returns a point of the arc from a to b exactly. For a positive
// ratio k the point p with (p-a)/(b-p) = k·exp(-iθ/2), as complex numbers, sees
// the chord under the angle of the arc, and exp(iθ/2) = (1+iB)²/(1+B²) is
// rational in the bulge B. k runs from 0 at a to infinity at b.
func truePoint(a, b geom.Point, bulge float64, k *big.Rat) ratPoint {
	t := new(big.Rat).SetFloat64(bulge)
	t2 := mul(t, t)
	n := add(rat(1), t2)
	// w = k·exp(-iθ/2)
	re := mul(k, new(big.Rat).Quo(sub(rat(1), t2), n))
	im := mul(k, new(big.Rat).Quo(mul(rat(-2), t), n))
	// p = a + (b-a)·w/(1+w)
	re1 := add(rat(1), re)
	d := add(mul(re1, re1), mul(im, im))
	fr := new(big.Rat).Quo(add(mul(re, re1), mul(im, im)), d)
	fi := new(big.Rat).Quo(sub(mul(im, re1), mul(re, im)), d)
	dx, dy := rat(int64(b.X-a.X)), rat(int64(b.Y-a.Y))
	return ratPoint{
		add(rat(int64(a.X)), sub(mul(dx, fr), mul(dy, fi))),
		add(rat(int64(a.Y)), add(mul(dx, fi), mul(dy, fr))),
	}
}

// samples returns n points of the arc from a to b, at about equal angles.
func samples(a, b geom.Point, bulge float64, n int) []ratPoint {
	theta := 4 * math.Atan(math.Abs(bulge))
	var pts []ratPoint
	for i := 1; i <= n; i++ {
		f := float64(i) / float64(n+1)
		k := new(big.Rat).SetFloat64(math.Sin(theta/2*f) / math.Sin(theta/2*(1-f)))
		pts = append(pts, truePoint(a, b, bulge, k))
	}
	return pts
}

// away returns the signed distance of p from the circle of the arc from a to b,
// positive outside. The power of a point is exact; only the last step is in
// float64, without cancellation.
func away(p ratPoint, a, b geom.Point, bulge float64) float64 {
	ax, ay := sub(p.x, rat(int64(a.X))), sub(p.y, rat(int64(a.Y)))
	bx, by := sub(p.x, rat(int64(b.X))), sub(p.y, rat(int64(b.Y)))
	dx, dy := rat(int64(b.X-a.X)), rat(int64(b.Y-a.Y))
	dot := add(mul(ax, bx), mul(ay, by))
	cross := sub(mul(dx, ay), mul(dy, ax))
	t := new(big.Rat).SetFloat64(bulge)
	cot := new(big.Rat).Quo(sub(rat(1), mul(t, t)), mul(rat(2), t))
	power, _ := sub(dot, mul(cot, cross)).Float64()
	c := math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))
	r := c * (1 + bulge*bulge) / (4 * math.Abs(bulge))
	return power / (r + math.Sqrt(max(0, r*r+power)))
}

func exact(p geom.Point) ratPoint { return ratPoint{rat(int64(p.X)), rat(int64(p.Y))} }

// locate is geom.Ring.Locate for a rational point.
func locate(r geom.Ring, p ratPoint) geom.Side {
	fy, _ := p.y.Float64()
	in := false
	for i, a := range r {
		b := r[(i+1)%len(r)]
		if a.Y > b.Y {
			a, b = b, a
		}
		if fy < float64(a.Y)-1 || fy > float64(b.Y)+1 { // far from it, whatever the rounding
			continue
		}
		ay, by := rat(int64(a.Y)), rat(int64(b.Y))
		if p.y.Cmp(ay) < 0 || p.y.Cmp(by) > 0 {
			continue
		}
		side := sub(
			mul(rat(int64(b.X-a.X)), sub(p.y, ay)),
			mul(rat(int64(b.Y-a.Y)), sub(p.x, rat(int64(a.X))))).Sign()
		switch {
		case a.Y == b.Y:
			if p.x.Cmp(rat(int64(min(a.X, b.X)))) >= 0 && p.x.Cmp(rat(int64(max(a.X, b.X)))) <= 0 {
				return geom.Boundary
			}
		case side == 0:
			return geom.Boundary
		case side > 0 && p.y.Cmp(by) < 0:
			in = !in
		}
	}
	if in {
		return geom.Inside
	}
	return geom.Outside
}

// distance returns the distance of p from the polyline of r.
func distance(r geom.Ring, p ratPoint) float64 {
	best := math.Inf(1)
	x, _ := p.x.Float64()
	y, _ := p.y.Float64()
	for i, a := range r {
		b := r[(i+1)%len(r)]
		vx, vy := x-float64(a.X), y-float64(a.Y)
		ux, uy := float64(b.X-a.X), float64(b.Y-a.Y)
		t := max(0, min(1, (ux*vx+uy*vy)/(ux*ux+uy*uy)))
		best = min(best, math.Hypot(vx-t*ux, vy-t*uy))
	}
	return best
}

// noise is what float64 may cost: [Outline.Box] takes a value within 1/1024 of a
// whole number for that number, an eighth of a nanometre.
const noise = 1.0 / 1024

// polygonOf returns the simplefeatures polygon of a ring, which it validates.
func polygonOf(t rapid.TB, r geom.Ring) sf.Polygon {
	var xy []float64
	for _, p := range append(slices.Clone(r), r[0]) {
		xy = append(xy, float64(p.X), float64(p.Y))
	}
	p := sf.NewPolygon([]sf.LineString{sf.NewLineString(sf.NewSequence(xy, sf.DimXY))})
	if err := p.Validate(); err != nil {
		t.Fatalf("%v: %v", r, err)
	}
	return p
}

// isSimple returns nil when r is a simple ring, examined exactly.
func isSimple(r geom.Ring) error {
	o := make(Outline, len(r))
	for i, p := range r {
		o[i].At = p
	}
	return o.Validate()
}

// drawLog gives numbers from lo to hi, evenly by their logarithms.
func drawLog(t *rapid.T, name string, lo, hi float64) float64 {
	return math.Exp(rapid.Float64Range(math.Log(lo), math.Log(hi)).Draw(t, name))
}

// drawSegment gives a region between an arc and its chord: from a micrometre to
// the bound, flat, steep and major. It is counter-clockwise.
func drawSegment(t *rapid.T) Outline {
	for {
		var theta, r float64
		switch rapid.IntRange(0, 3).Draw(t, "kind") {
		case 0: // any angle
			theta, r = rapid.Float64Range(0.01, 2*math.Pi-0.01).Draw(t, "theta"), drawLog(t, "radius", 40, 1<<27)
		case 1: // flat, to a radius of 100 km
			r = drawLog(t, "radius", 1<<20, 1e12)
			theta = drawLog(t, "theta", 1e-4, 1)
		case 2: // all but a full circle
			theta, r = 2*math.Pi-drawLog(t, "gap", 1e-3, 1), drawLog(t, "radius", 40, 1<<27)
		case 3: // round angles, as drawn by hand
			theta = math.Pi / 12 * float64(rapid.IntRange(1, 23).Draw(t, "15 degrees"))
			r = float64(rapid.IntRange(1, 4000).Draw(t, "radius mm")) * float64(length.Millimetre)
		}
		c := 2 * r * math.Abs(math.Sin(theta/2))
		dir := math.Pi / 12 * float64(rapid.IntRange(0, 23).Draw(t, "direction"))
		if rapid.Bool().Draw(t, "any direction") {
			dir = rapid.Float64Range(0, 2*math.Pi).Draw(t, "direction")
		}
		a := geom.Pt(length.Length(rapid.IntRange(-1<<20, 1<<20).Draw(t, "x")), length.Length(rapid.IntRange(-1<<20, 1<<20).Draw(t, "y")))
		sin, cos := math.Sincos(dir)
		if c > 1<<28 || r*theta < 8 {
			continue
		}
		b := a.Add(geom.Pt(length.Length(math.Round(c*cos)), length.Length(math.Round(c*sin))))
		if a == b {
			continue
		}
		o := Outline{{At: a, Bulge: math.Tan(theta / 4)}, {At: b}}
		if box := o.Box(); max(box.Dx(), box.Dy(), box.Min.X.Abs(), box.Min.Y.Abs(), box.Max.X.Abs(), box.Max.Y.Abs()) > length.Max {
			continue
		}
		return o
	}
}

// tolerances is the ladder of tolerances, from the least to a centimetre.
var tolerances = []length.Length{8, 80, 400, 800, 8000, 80_000}

package dxf

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"panelyard/parts/drawing/curve"
)

// farthest returns the greatest distance of a point of a from the polyline b.
func farthest(a, b []vec) float64 {
	worst := 0.0
	for _, p := range a {
		best := math.Inf(1)
		for i := 1; i < len(b); i++ {
			d, v := b[i].Sub(b[i-1]), p.Sub(b[i-1])
			t := 0.0
			if l := d.Dot(d); l > 0 {
				t = max(0, min(1, d.Dot(v)/l))
			}
			best = min(best, v.Sub(d.By(t)).Long())
		}
		worst = max(worst, best)
	}
	return worst
}

// Random splines against the definition of Cox and de Boor, evaluated one basis
// function at a time: the lines stay within the tolerance of the curve, and the
// curve within that of the lines.
func TestSplineByDefinition(t *testing.T) {
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 5))
		p := 1 + r.IntN(5)
		n := p + 1 + r.IntN(8)
		s := &spline{degree: p}
		for range n {
			s.points = append(s.points, vec{X: 100 * r.Float64(), Y: 100 * r.Float64()})
			if seed%2 == 0 {
				s.weights = append(s.weights, 0.1+5*r.Float64())
			}
		}
		knot := 0.0
		for i := range n + p + 1 {
			clamped := seed%3 != 0 && (i > 0 && i <= p || i > n)
			if !clamped && r.IntN(5) > 0 {
				knot += r.Float64() + 0.01
			}
			s.knots = append(s.knots, knot)
		}
		if !(s.knots[p] < s.knots[n]) {
			continue
		}
		const tolerance = 0.05
		v := view{X: vec{X: 1.2, Y: 0.3}, Y: vec{X: -0.4, Y: 0.9}, O: vec{X: 7, Y: 5}}
		lines, err := s.flat(v, tolerance)
		if err != nil {
			t.Fatal(err)
		}
		var curve []vec
		const steps = 4000
		begin, end := s.knots[p], s.knots[n]
		at := slices.Clone(s.knots[p:n]) // where there may be corners
		for k := range steps {
			at = append(at, begin+(end-begin)*float64(k)/steps)
		}
		slices.Sort(at)
		for _, u := range append(at, end-1e-9*(end-begin)) { // the basis functions are 0 at the very end
			if u == end {
				continue
			}
			var sum vec
			w := 0.0
			for i, q := range s.points {
				b := basis(s.knots, i, p, u)
				if s.weights != nil {
					b *= s.weights[i]
				}
				sum, w = sum.Add(q.By(b)), w+b
			}
			curve = append(curve, v.Point(sum.By(1/w)))
		}
		broken := false // a knot that is there degree+1 times may part the curve
		for i := p + 1; i < n; i++ {
			broken = broken || s.knots[i] == s.knots[min(i+p, n)] && i+p <= n
		}
		if broken {
			continue
		}
		if a, b := farthest(curve, lines), farthest(lines, curve); a > tolerance || b > tolerance*1.1 { // the samples cut corners too
			t.Errorf("seed %d, degree %d: %.4f and %.4f", seed, p, a, b)
		}
	}
}

func basis(k []float64, i, p int, t float64) float64 {
	if p == 0 {
		if k[i] <= t && t < k[i+1] {
			return 1
		}
		return 0
	}
	sum := 0.0
	if d := k[i+p] - k[i]; d > 0 {
		sum += (t - k[i]) / d * basis(k, i, p-1, t)
	}
	if d := k[i+p+1] - k[i+1]; d > 0 {
		sum += (k[i+p+1] - t) / d * basis(k, i+1, p-1, t)
	}
	return sum
}

// Ellipses seen through any view: points are on the curve, chords within the
// tolerance of it, the box is that of the curve, and the area of a whole one is π
// times the cross product of two half diameters.
func TestConic(t *testing.T) {
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 6))
		any := func() float64 { return 20*r.Float64() - 10 }
		c := circular(vec{X: any(), Y: any()}, 1+100*r.Float64(), 360*r.Float64(), 360*r.Float64())
		if seed%2 == 0 {
			c = circular(vec{X: any(), Y: any()}, 1+100*r.Float64(), 0, 360)
		}
		v := c.Through(view{X: vec{X: any(), Y: any()}, Y: vec{X: any(), Y: any()}, O: vec{X: any(), Y: any()}})
		longer := major(v)
		const tolerance = 0.02
		lines, err := pointsOf(v, tolerance)
		if err != nil {
			t.Fatal(err)
		}
		var curve []vec
		const steps = 3000
		for k := range steps + 1 {
			curve = append(curve, v.At(v.From+(v.To-v.From)*float64(k)/steps))
		}
		if d := farthest(curve, lines); d > tolerance*1.000001 {
			t.Errorf("seed %d: the curve leaves the lines by %g", seed, d)
		}
		for _, at := range [2]func(vec) float64{func(p vec) float64 { return p.X }, func(p vec) float64 { return p.Y }} {
			top := func(list []vec) float64 {
				best := math.Inf(-1)
				for _, p := range list {
					best = max(best, at(p))
				}
				return best
			}
			if a, b := top(curve), top(lines); a > b+1e-9*longer || b > a+1e-5*longer {
				t.Errorf("seed %d: box %v of the curve, %v of the lines", seed, a, b)
			}
		}
		if v.Whole() {
			area := 0.0
			for i, p := range lines {
				area += p.Cross(lines[(i+1)%len(lines)]) / 2
			}
			want := math.Pi * v.U.Cross(v.V)
			if math.Abs(area-want) > tolerance*2*math.Pi*longer {
				t.Errorf("seed %d: area %v, want %v", seed, area, want)
			}
		}
	}
}

// major returns the longer half axis: the greater singular value of the matrix with
// columns U and V.
func major(c curve.Conic) float64 {
	p := (c.U.Dot(c.U) + c.V.Dot(c.V)) / 2
	q := math.Hypot((c.U.Dot(c.U)-c.V.Dot(c.V))/2, c.U.Dot(c.V))
	return math.Sqrt(p + q)
}

// The arc of a bulge passes through the ends, and its rise is half the bulge times
// the chord.
func TestBulged(t *testing.T) {
	for _, bulge := range []float64{1, -1, 0.2, -0.2, 3, -3, 1e-4, 100} {
		a, b := vec{X: 10, Y: 20}, vec{X: 40, Y: -5}
		c, back := bulged(a, b, bulge)
		from, to, middle := c.At(c.From), c.At(c.To), c.At((c.From+c.To)/2)
		if back {
			from, to = to, from
		}
		d := b.Sub(a)
		// To the right of the direction of travel when positive.
		want := mix(a, b, 0.5).Add(vec{X: d.Y, Y: -d.X}.By(bulge / 2))
		const close = 1e-7
		if from.Sub(a).Long() > close || to.Sub(b).Long() > close || middle.Sub(want).Long() > close*max(1, math.Abs(bulge)) {
			t.Errorf("bulge %v: %v to %v by %v, want %v", bulge, from, to, middle, want)
		}
	}
}

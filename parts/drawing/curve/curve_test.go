package curve

import (
	"math"
	"math/rand/v2"
	"testing"

	"panelyard/parts/length"
)

// farthest returns the greatest distance of a point of a from the polyline b.
func farthest(a, b []Vec) float64 {
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

// extent returns how far points reach to the right, the left, up and down.
func extent(list []Vec) [4]float64 {
	e := [4]float64{math.Inf(-1), math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	for _, p := range list {
		e = [4]float64{max(e[0], p.X), max(e[1], -p.X), max(e[2], p.Y), max(e[3], -p.Y)}
	}
	return e
}

// Bézier curves by their definition, the sum of Bernstein polynomials: the lines stay
// within the tolerance of the curve, and the curve within that of the lines.
func TestFlattener(t *testing.T) {
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 5))
		n := 1 + r.IntN(5)
		var c []Weighted
		for range n + 1 {
			w := 1.0
			if seed%2 == 0 {
				w = 0.1 + 5*r.Float64()
			}
			c = append(c, Weighted{100 * r.Float64() * w, 100 * r.Float64() * w, w})
		}
		const tolerance = 0.05
		f := Flattener{Tolerance: tolerance, Out: []Vec{c[0].Flat()}}
		parts := [][]Weighted{c}
		if seed%2 == 1 {
			parts = Monotone(c)
		}
		for _, p := range parts {
			if err := f.Add(p); err != nil {
				t.Fatal(err)
			}
		}
		var curve []Vec
		const steps = 3000
		for k := range steps + 1 {
			u := float64(k) / steps
			var sum Weighted
			choose := 1.0
			for i, p := range c {
				b := choose * math.Pow(u, float64(i)) * math.Pow(1-u, float64(n-i))
				sum = Weighted{sum.X + b*p.X, sum.Y + b*p.Y, sum.W + b*p.W}
				choose = choose * float64(n-i) / float64(i+1)
			}
			curve = append(curve, sum.Flat())
		}
		if a, b := farthest(curve, f.Out), farthest(f.Out, curve); a > tolerance || b > tolerance*1.1 { // the samples cut corners too
			t.Errorf("seed %d: %.4f and %.4f", seed, a, b)
		}
		if seed%2 == 1 && (n == 2 || n == 3) {
			a, b := extent(curve), extent(f.Out)
			for i := range a {
				if a[i] > b[i]+1e-9 || b[i] > a[i]+1e-4 { // the samples miss the very end
					t.Errorf("seed %d, degree %d: extent %v of the curve, %v of the lines", seed, n, a, b)
				}
			}
		}
	}
	for _, c := range [][]Weighted{
		{{0, 0, 1}, {math.Inf(1), 0, 1}, {1, 1, 1}},
		{{0, 0, 1}, {math.NaN(), 0, 1}, {1, 1, 1}},
		{{0, 0, 1}, {1e300, 1e300, 1}, {-1e300, 1e300, 1}, {1, 1, 1}},
	} {
		f := Flattener{Tolerance: 1}
		if err := f.Add(c); err == nil {
			t.Errorf("%v was drawn with %d points", c, len(f.Out))
		}
	}
}

// Ellipses seen through any view: chords within the tolerance of the curve, the box
// is that of the curve, the half axes are the longest and the shortest half diameter,
// and the area of a whole one is π times the cross product of two of them.
func TestConic(t *testing.T) {
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 6))
		any := func() float64 { return 20*r.Float64() - 10 }
		c := Conic{Centre: Vec{any(), any()}, U: Vec{X: 1 + 100*r.Float64()}, To: 2 * math.Pi}
		if c.V = (Vec{Y: c.U.X}); seed%2 == 1 {
			c.From = any()
			c.To = c.From + 0.1 + 6*r.Float64()
		}
		v := c.Through(View{Vec{any(), any()}, Vec{any(), any()}, Vec{any(), any()}})
		const tolerance = 0.02
		cuts, err := v.Flat(tolerance)
		if err != nil {
			t.Fatal(err)
		}
		var lines, curve []Vec
		for _, a := range cuts {
			lines = append(lines, v.At(a))
		}
		const steps = 3000
		for k := range steps + 1 {
			curve = append(curve, v.At(v.From+(v.To-v.From)*float64(k)/steps))
		}
		major, minor := v.axes()
		if d := farthest(curve, lines); d > tolerance*1.000001 {
			t.Errorf("seed %d: the curve leaves the lines by %g", seed, d)
		}
		for i, a := range extent(curve) {
			if b := extent(lines)[i]; a > b+1e-9*major || b > a+1e-5*major {
				t.Errorf("seed %d: extent %v of the curve, %v of the lines", seed, a, b)
			}
		}
		if !v.Whole() {
			continue
		}
		area, far := 0.0, 0.0
		for i, p := range lines {
			area += p.Cross(lines[(i+1)%len(lines)]) / 2
		}
		for _, p := range curve {
			far = max(far, p.Sub(v.Centre).Long())
		}
		if want := math.Pi * v.U.Cross(v.V); math.Abs(area-want) > tolerance*2*math.Pi*major {
			t.Errorf("seed %d: area %v, want %v", seed, area, want)
		}
		// Two half diameters have the product and the sum of squares of the half axes
		// (Apollonius, Conics, book VII, from memory).
		product, squares := math.Abs(v.U.Cross(v.V)), v.U.Dot(v.U)+v.V.Dot(v.V)
		if math.Abs(far-major) > 1e-5*major || math.Abs(major*minor-product) > 1e-9*product || math.Abs(major*major+minor*minor-squares) > 1e-9*squares {
			t.Errorf("seed %d: half axes %v and %v, the longest is %v", seed, major, minor, far)
		}
	}
	if _, err := (Conic{U: Vec{X: 1e9}, V: Vec{Y: 1}, To: 6}).Flat(1e-9); err != ErrFine {
		t.Errorf("a curve of too many points: %v", err)
	}
}

// What is a circle on the grid: the half axes differ by no more than a micrometre.
func TestRound(t *testing.T) {
	const r = float64(1000 * length.Millimetre)
	um := float64(length.Micrometre)
	for _, c := range []struct {
		u, v Vec
		want bool
	}{
		{Vec{r, 0}, Vec{0, r}, true},
		{Vec{r * math.Cos(0.3), r * math.Sin(0.3)}, Vec{-r * math.Sin(0.3), r * math.Cos(0.3)}, true},
		{Vec{r, 0}, Vec{0, r + 0.9*um}, true},
		{Vec{r, 0}, Vec{0, r + 1.1*um}, false},
		{Vec{r, 0}, Vec{0.9 * um, r}, true}, // skewed by that much the axes differ by as much
		{Vec{r, 0}, Vec{1.1 * um, r}, false},
		{Vec{}, Vec{}, true},
		{Vec{1e200, 0}, Vec{0, 1e200}, true},
		{Vec{1e200, 0}, Vec{0, 2e200}, false},
	} {
		if got := (Conic{U: c.u, V: c.v}).Round(); got != c.want {
			t.Errorf("%v, %v: %v", c.u, c.v, got)
		}
	}
}

// Views one after the other, and points that lie on no grid.
func TestView(t *testing.T) {
	a, b := View{Vec{1, 2}, Vec{3, 4}, Vec{5, 6}}, View{Vec{-2, 1}, Vec{0, 3}, Vec{7, -1}}
	p := Vec{10, -20}
	if got, want := a.Then(b).Point(p), a.Point(b.Point(p)); got != want {
		t.Errorf("%v, want %v", got, want)
	}
	if got := Identity().Point(p); got != p {
		t.Errorf("%v, want %v", got, p)
	}
	for _, p := range []Vec{{math.NaN(), 0}, {0, math.Inf(-1)}, {float64(length.Max) + 1, 0}, {0, -1e300}} {
		if g, ok := p.OnGrid(); ok {
			t.Errorf("%v is %v", p, g)
		}
	}
	if g, ok := (Vec{-float64(length.Max), 1.6}).OnGrid(); !ok || g.X != -length.Max || g.Y != 2 {
		t.Errorf("%v, %v", g, ok)
	}
	if (Vec{math.NaN(), 0}).Finite() || (Vec{0, math.Inf(1)}).Finite() || !(Vec{1e300, -1e300}).Finite() {
		t.Error("what is a number")
	}
}

package outline

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

const mm = length.Millimetre

// mmOf returns millimetres with decimals as a length.
func mmOf(t *testing.T, v float64) length.Length {
	t.Helper()
	l, err := length.FromMM(v)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// TestArcTable checks chord, rise, radius, angle and arc length against a table
// computed outside the project from R = c²/8h + h/2, θ = 2·atan2(c/2, R-h) and
// s = R·θ, the relations of the circular segment in any handbook (from memory).
// Lengths agree to half a unit of the last decimal, the angle to 1/10,000 degree.
func TestArcTable(t *testing.T) {
	for _, c := range []struct{ chord, rise, radius, degrees, arc float64 }{
		{48, 12, 30, 106.2602, 55.6377},
		{600, 50, 925, 37.8493, 611.0501},
		{1200, 100, 1850, 37.8493, 1222.1002},
		{2400, 300, 2550, 56.1450, 2498.7824},
		{1000, 25, 5012.5, 11.4496, 1001.6658},
		{200, 100, 100, 180, 314.1593},
	} {
		a, b := geom.Pt(7, -3), geom.Pt(7, -3).Add(geom.Pt(mmOf(t, c.chord), 0))
		byRise, err := BulgeFromRise(a, b, mmOf(t, c.rise))
		if err != nil {
			t.Fatal(err)
		}
		byRadius, err := BulgeFromRadius(a, b, mmOf(t, c.radius), true, false)
		if err != nil {
			t.Fatal(err)
		}
		through, err := BulgeThrough(a, geom.Pt(7+mmOf(t, c.chord/2), -3-mmOf(t, c.rise)), b)
		if err != nil {
			t.Fatal(err)
		}
		for name, bulge := range map[string]float64{"rise": byRise, "radius": byRadius, "through": through} {
			o := Outline{{At: a, Bulge: bulge}, {At: b}}
			if got := o.Radius(0) / float64(mm); math.Abs(got-c.radius) > 1e-6*c.radius {
				t.Errorf("chord %v by %s: radius %v mm, want %v", c.chord, name, got, c.radius)
			}
			if got := 4 * math.Atan(bulge) * 180 / math.Pi; math.Abs(got-c.degrees) > 0.5001e-4 {
				t.Errorf("chord %v by %s: %v degrees, want %v", c.chord, name, got, c.degrees)
			}
			if got := o.SegmentLength(0).MM(); math.Abs(got-c.arc) > 0.5001e-4+0.0001 {
				t.Errorf("chord %v by %s: arc %v mm, want %v", c.chord, name, got, c.arc)
			}
			if got := o.Box().Dy().MM(); math.Abs(got-c.rise) > 0.0003 {
				t.Errorf("chord %v by %s: rise %v mm, want %v", c.chord, name, got, c.rise)
			}
		}
	}
}

// TestTwoRises has the worked examples of a published text on the sagitta: with
// R = 10 over a chord of 12 the rise is 2, or 18 for the longer arc; with R = 15
// over 20 it is 3.82, or 26.18.
func TestTwoRises(t *testing.T) {
	for _, c := range []struct{ radius, chord, short, long float64 }{{10, 12, 2, 18}, {15, 20, 3.82, 26.18}} {
		a, b := geom.Point{}, geom.Pt(mmOf(t, c.chord), 0)
		for _, large := range []bool{false, true} {
			want := c.short
			if large {
				want = c.long
			}
			for _, ccw := range []bool{false, true} {
				bulge, err := BulgeFromRadius(a, b, mmOf(t, c.radius), ccw, large)
				if err != nil {
					t.Fatal(err)
				}
				if got := math.Abs(bulge) * c.chord / 2; math.Abs(got-want) > 0.005 || ccw != (bulge > 0) {
					t.Errorf("R %v over %v: rise %v (bulge %v), want %v", c.radius, c.chord, got, bulge, want)
				}
			}
		}
	}
}

// TestCurvedScreens has curved components: width along the arc gives chord and
// rise, width along the chord gives rise and arc, computed outside the project
// from R·θ and R - √(R² - c²/4).
func TestCurvedScreens(t *testing.T) {
	for _, c := range []struct{ radius, width, chord, rise, riseOfChord, arc float64 }{
		{1800, 597.73, 594.98, 24.75, 24.98, 600.51},
		{1500, 708.42, 701.85, 41.63, 42.42, 715.17},
		{1500, 793.77, 784.54, 52.20, 53.46, 803.34},
		{1000, 1198.12, 1127.73, 174.13, 199.29, 1284.65},
		{1800, 1198.12, 1176.12, 98.77, 102.61, 1221.41},
		{4200, 1217.59, 1213.33, 44.05, 44.36, 1221.90},
	} {
		of := func(chord float64) (rise, arc float64) {
			a, b := geom.Point{}, geom.Pt(0, mmOf(t, chord))
			bulge, err := BulgeFromRadius(a, b, mmOf(t, c.radius), true, false)
			if err != nil {
				t.Fatal(err)
			}
			o := Outline{{At: a, Bulge: bulge}, {At: b}}
			return o.Box().Dx().MM(), o.SegmentLength(0).MM()
		}
		if rise, arc := of(c.chord); math.Abs(rise-c.rise) > 0.01 || math.Abs(arc-c.width) > 0.01 {
			t.Errorf("R %v, chord %v: rise %.3f, arc %.3f, want %v, %v", c.radius, c.chord, rise, arc, c.rise, c.width)
		}
		if rise, arc := of(c.width); math.Abs(rise-c.riseOfChord) > 0.01 || math.Abs(arc-c.arc) > 0.01 {
			t.Errorf("R %v, chord %v: rise %.3f, arc %.3f, want %v, %v", c.radius, c.width, rise, arc, c.riseOfChord, c.arc)
		}
	}
}

func TestArcErrors(t *testing.T) {
	a, b := geom.Point{}, geom.Pt(100*mm, 0)
	half := 50 * mm
	for _, c := range []struct {
		name string
		err  error
		f    func() (float64, error)
	}{
		{"radius, no chord", ErrNoChord, func() (float64, error) { return BulgeFromRadius(a, a, half, true, false) }},
		{"radius too small", ErrSmallRadius, func() (float64, error) { return BulgeFromRadius(a, b, half-1, true, false) }},
		{"radius zero", ErrSmallRadius, func() (float64, error) { return BulgeFromRadius(a, b, 0, true, false) }},
		{"radius below zero", ErrSmallRadius, func() (float64, error) { return BulgeFromRadius(a, b, -100*mm, true, true) }},
		{"rise, no chord", ErrNoChord, func() (float64, error) { return BulgeFromRise(b, b, mm) }},
		{"through, no chord", ErrNoChord, func() (float64, error) { return BulgeThrough(a, b, a) }},
		{"through the start", ErrNoChord, func() (float64, error) { return BulgeThrough(a, a, b) }},
		{"through the end", ErrNoChord, func() (float64, error) { return BulgeThrough(a, b, b) }},
		{"through a point between", ErrOnLine, func() (float64, error) { return BulgeThrough(a, geom.Pt(half, 0), b) }},
		{"through a point beyond", ErrOnLine, func() (float64, error) { return BulgeThrough(a, geom.Pt(4*half, 0), b) }},
	} {
		if got, err := c.f(); !errors.Is(err, c.err) || got != 0 {
			t.Errorf("%s: %v, %v, want %v", c.name, got, err, c.err)
		}
	}
	if got, err := BulgeFromRadius(a, b, half, true, true); err != nil || math.Abs(got-1) > 1e-12 {
		t.Errorf("half a circle by its radius has the bulge %v, %v, want 1", got, err)
	}
	if got, err := BulgeFromRise(a, b, 0); err != nil || got != 0 {
		t.Errorf("no rise has the bulge %v, %v, want 0", got, err)
	}
}

// TestBulges: the three ways to give an arc agree with the arc they are given,
// and its reverse has the opposite bulge.
func TestBulges(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawSegment(t)
		a, b, want := o[0].At, o[1].At, o[0].Bulge
		c := newArc(a, b, want)
		// The bulge moves the middle of the arc by half the chord, so it is wanted
		// to a unit there, after the rounding of what it is computed from.
		near := func(name string, got, units float64) {
			if off := math.Abs(got-want) * chord(a, b) / 2; off > units {
				t.Fatalf("%s: bulge %v instead of %v, %v units off at the middle", name, got, want, off)
			}
		}
		if rise := length.Length(math.Round(want * chord(a, b) / 2)); rise <= 2*length.Max {
			got, err := BulgeFromRise(a, b, rise)
			if err != nil {
				t.Fatal(err)
			}
			near("rise", got, 0.51)
			if back, _ := BulgeFromRise(b, a, -rise); back != -got {
				t.Fatalf("the reverse has the bulge %v, want %v", back, -got)
			}
		}
		if r := c.radius(); r < float64(length.Max) && math.Abs(want-1) > 0.1 {
			got, err := BulgeFromRadius(a, b, length.Length(math.Round(r)), true, want > 1)
			if err == nil { // a rounded radius may be too small
				// dh/dR = tan(θ/4)·tan(θ/2), or its counterpart for the longer arc.
				near("radius", got, 1+math.Abs(want*2*want/(1-want*want)))
			}
		}
		x, y := c.point(c.theta / 2)
		m := geom.Pt(length.Length(math.Round(x)), length.Length(math.Round(y)))
		// One unit at the middle is the whole bend of a very flat or small arc.
		if got, err := BulgeThrough(a, m, b); err == nil && want*chord(a, b) > 100 && chord(a, b) > 100 {
			near("through", got, 2+2*want*want)
			back, _ := BulgeThrough(b, m, a)
			near("through, backwards", -back, 2+2*want*want)
		}
	})
}

// TestArcPoints compares points, radius and normals with the exact view.
func TestArcPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawSegment(t)
		a, b, bulge := o[0].At, o[1].At, o[0].Bulge
		if rapid.Bool().Draw(t, "clockwise") {
			bulge = -bulge
		}
		c := newArc(a, b, bulge)
		for i := range 9 {
			alpha := c.theta * float64(i) / 8
			x, y := c.point(alpha)
			p := ratPoint{ratOf(x), ratOf(y)}
			if d := away(p, a, b, bulge); math.Abs(d) > 1e-3 {
				t.Fatalf("the point at %v of %v, bulge %v, is %v units off the circle", alpha, o, bulge, d)
			}
			nx, ny := c.right(alpha)
			if l := math.Hypot(nx, ny); math.Abs(l-1) > 1e-12 {
				t.Fatalf("the normal at %v has the length %v", alpha, l)
			}
			// A unit step to the right leads a unit outwards, inwards on a
			// clockwise arc.
			d := away(ratPoint{ratOf(x + nx), ratOf(y + ny)}, a, b, bulge)
			if bulge < 0 {
				d = -d
			}
			if math.Abs(d-1) > 1e-3 {
				t.Fatalf("a unit step to the right at %v of %v, bulge %v, leads %v outwards", alpha, o, bulge, d)
			}
		}
		for _, p := range samples(a, b, bulge, 5) {
			if d := away(p, a, b, bulge); math.Abs(d) > 1e-6 {
				t.Fatalf("the exact view contradicts itself by %v", d)
			}
		}
	})
}

// TestPieces has the counts of a table computed outside the project from the
// step 2·acos(1-e/R). Ours is 2·acos(R/(R+e)), that of tangents, less the room
// for rounding; it is a little smaller and gives the same counts.
func TestPieces(t *testing.T) {
	for _, c := range []struct {
		radius, tolerance, degrees float64
		want                       int
	}{
		{1800, 0.1, 19.03, 16},
		{300, 0.1, 90, 31},
		{1000, 0.1, 360, 223},
	} {
		r := c.radius * float64(mm)
		got := (arc{dx: 2 * r, theta: math.Pi}).pieces(c.degrees*math.Pi/180, c.tolerance*float64(mm))
		if got != c.want {
			t.Errorf("R %v, e %v, %v degrees: %d pieces, want %d", c.radius, c.tolerance, c.degrees, got, c.want)
		}
	}
	// A whole circle has one more: it is cut at the quadrants, 56 pieces each.
	if got := len(Circle(2000 * mm).Cover(100 * length.Micrometre)); got != 4*56+2 {
		t.Errorf("a circle of R 1000 is covered by %d corners, want 4·56 and the two ends of its arcs", got)
	}
}

// TestQuadrants: the angles are those at which the normal lies along an axis,
// each once.
func TestQuadrants(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawSegment(t)
		bulge := o[0].Bulge
		if rapid.Bool().Draw(t, "clockwise") {
			bulge = -bulge
		}
		c := newArc(o[0].At, o[1].At, bulge)
		at := c.quadrants()
		last := 0.0
		for _, alpha := range at {
			if math.Abs(alpha) <= math.Abs(last) || math.Abs(alpha) >= math.Abs(c.theta) || alpha*bulge < 0 {
				t.Fatalf("quadrants %v of an arc of %v", at, c.theta)
			}
			nx, ny := c.right(alpha)
			if min(math.Abs(nx), math.Abs(ny)) > 1e-9 {
				t.Fatalf("the normal at %v is (%v, %v)", alpha, nx, ny)
			}
			if last != 0 && math.Abs(math.Abs(alpha-last)-math.Pi/2) > 1e-9 {
				t.Fatalf("quadrants %v are not a quarter turn apart", at)
			}
			last = alpha
		}
		// As many as quarter turns fit, or one more.
		if whole := int(math.Abs(c.theta) / (math.Pi / 2)); len(at) < whole-1 || len(at) > whole+1 {
			t.Fatalf("%d quadrants in %v", len(at), c.theta)
		}
	})
}

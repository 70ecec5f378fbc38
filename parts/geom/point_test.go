package geom

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"panelyard/parts/length"
)

// limit is the largest coordinate for which the package promises exact
// predicates: the sum of two shapes of a job.
const limit = 2 * length.Max

// drawPoint gives points near the origin, at the bounds, and anywhere.
func drawPoint(t *rapid.T) Point {
	c := rapid.OneOf(
		rapid.Int64Range(-4, 4),
		rapid.Int64Range(int64(limit)-3, int64(limit)),
		rapid.Int64Range(-int64(limit), -int64(limit)+3),
		rapid.Int64Range(-int64(limit), int64(limit)),
	)
	return Pt(length.Length(c.Draw(t, "x")), length.Length(c.Draw(t, "y")))
}

// bigCross is the cross product of b-a and c-a in big integers.
func bigCross(a, b, c Point) *big.Int {
	n := func(v length.Length) *big.Int { return big.NewInt(int64(v)) }
	sub := func(x, y length.Length) *big.Int { return new(big.Int).Sub(n(x), n(y)) }
	l := new(big.Int).Mul(sub(b.X, a.X), sub(c.Y, a.Y))
	return l.Sub(l, new(big.Int).Mul(sub(b.Y, a.Y), sub(c.X, a.X)))
}

// TestOrient repeats the three identities of its comment and compares with big
// integers, up to the limit of coordinates.
func TestOrient(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := drawPoint(t), drawPoint(t), drawPoint(t)
		if rapid.Bool().Draw(t, "nearly collinear") {
			// c one step beside the line through a and its mirror in b, where an
			// inexact test would go wrong.
			m := b.Sub(a)
			c = Pt(b.X-m.X/2+length.Length(rapid.Int64Range(-1, 1).Draw(t, "dx")), b.Y-m.Y/2)
		}
		got := Orient(a, b, c)
		if want := Orientation(bigCross(a, b, c).Sign()); got != want {
			t.Fatalf("Orient(%v, %v, %v) = %d, want %d", a, b, c, got, want)
		}
		if Orient(b, c, a) != got || Orient(c, a, b) != got {
			t.Fatalf("identity 1 fails for %v, %v, %v", a, b, c)
		}
		if Orient(c, b, a) != -got || Orient(b, a, c) != -got {
			t.Fatalf("identity 2 fails for %v, %v, %v", a, b, c)
		}
		for _, p := range [][3]Point{{a, a, c}, {a, b, a}, {a, b, b}} {
			if Orient(p[0], p[1], p[2]) != Collinear {
				t.Fatalf("identity 3 fails for %v", p)
			}
		}
	})
}

// TestOrientAtBound has the largest determinant of the package, 2^61, and a
// triple where one unit in 2^30 decides.
func TestOrientAtBound(t *testing.T) {
	const m = limit
	a, b, c := Pt(-m, -m), Pt(m, -m), Pt(-m, m)
	if d := b.Sub(a).Cross(c.Sub(a)); d != 1<<60 {
		t.Errorf("the determinant of three corners = %d, want 2^60", d)
	}
	if d := b.Sub(c).Cross(Pt(m, m).Sub(Pt(-m, -m))); d != 1<<61 {
		t.Errorf("the cross product of the two diagonals = %d, want 2^61", d)
	}
	for _, s := range []struct {
		name string
		c    Point
		want Orientation
	}{
		{"on the diagonal", Pt(0, 0), Collinear},
		{"a unit above", Pt(0, 1), CounterClockwise},
		{"a unit to the right", Pt(1, 0), Clockwise},
		{"a unit above the far end", Pt(m-1, m), CounterClockwise},
	} {
		if got := Orient(Pt(-m, -m), Pt(m, m), s.c); got != s.want {
			t.Errorf("%s: %d, want %d", s.name, got, s.want)
		}
	}
}

func TestPointArithmetic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := drawPoint(t), drawPoint(t)
		if p.Add(q).Sub(q) != p || p.Sub(q) != p.Add(q.Neg()) {
			t.Fatalf("sums of %v and %v", p, q)
		}
		if p.Cross(q) != -q.Cross(p) || p.Dot(q) != q.Dot(p) || p.Cross(p) != 0 {
			t.Fatalf("products of %v and %v", p, q)
		}
		// The quarter turn makes a scalar product of a cross product.
		if p.Turned(90).Dot(q) != p.Cross(q) {
			t.Fatalf("the quarter turn of %v with %v", p, q)
		}
		if p.Less(q) && q.Less(p) || p != q && !p.Less(q) && !q.Less(p) || p.Less(p) {
			t.Fatalf("the order of %v and %v", p, q)
		}
	})
}

// TestPointTurned: quarter turns are exact and add up; other turns are within
// half a unit a coordinate of the true point and keep the distance.
func TestPointTurned(t *testing.T) {
	for _, c := range []struct {
		deg  int
		want Point
	}{{0, Pt(3, 1)}, {90, Pt(-1, 3)}, {180, Pt(-3, -1)}, {270, Pt(1, -3)}, {360, Pt(3, 1)}, {-90, Pt(1, -3)}, {-360, Pt(3, 1)}, {450, Pt(-1, 3)}} {
		if got := Pt(3, 1).Turned(c.deg); got != c.want {
			t.Errorf("(3,1) turned by %d = %v, want %v", c.deg, got, c.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		p := drawPoint(t)
		deg := rapid.IntRange(-720, 720).Draw(t, "angle")
		if p.Turned(90).Turned(90) != p.Turned(180) || p.Turned(270).Turned(90) != p || p.Turned(deg) != p.Turned(deg+360) && deg%90 == 0 {
			t.Fatalf("turns of %v", p)
		}
		q := p.Turned(deg)
		sin, cos := math.Sincos(float64(deg) * math.Pi / 180)
		x, y := float64(p.X)*cos-float64(p.Y)*sin, float64(p.X)*sin+float64(p.Y)*cos
		if math.Abs(float64(q.X)-x) > 0.5001 || math.Abs(float64(q.Y)-y) > 0.5001 {
			t.Fatalf("%v turned by %d = %v, want (%v, %v)", p, deg, q, x, y)
		}
		if d := math.Hypot(float64(q.X), float64(q.Y)) - math.Hypot(float64(p.X), float64(p.Y)); math.Abs(d) > 0.71 {
			t.Fatalf("%v turned by %d is %v units further out", p, deg, d)
		}
	})
}

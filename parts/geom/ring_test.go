package geom

import (
	"math/big"
	"slices"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"panelyard/parts/length"
)

// star returns a simple ring about a centre: in every direction of a list of
// directions, in the order of their angles, one corner.
func star(t *rapid.T, centre Point, reach int) Ring {
	wheel := []Point{{5, 0}, {5, 2}, {4, 4}, {2, 5}, {0, 5}, {-2, 5}, {-4, 4}, {-5, 2}, {-5, 0}, {-5, -2}, {-4, -4}, {-2, -5}, {0, -5}, {2, -5}, {4, -4}, {5, -2}}
	var r Ring
	for _, d := range wheel {
		k := length.Length(rapid.IntRange(1, reach).Draw(t, "k"))
		r = append(r, centre.Add(Pt(k*d.X, k*d.Y)))
	}
	return r
}

// comb returns a rectilinear ring with teeth of random heights: many vertices on
// one level and edges in line with each other.
func comb(t *rapid.T) Ring {
	heights := rapid.SliceOfN(rapid.IntRange(1, 4), 1, 8).Draw(t, "heights")
	r := Ring{Pt(0, 0), Pt(length.Length(len(heights)), 0)}
	for i, h := range slices.Backward(heights) {
		r = append(r, Pt(length.Length(i+1), length.Length(h)), Pt(length.Length(i), length.Length(h)))
	}
	return r
}

func drawRing(t *rapid.T) Ring {
	switch rapid.IntRange(0, 2).Draw(t, "kind") {
	case 0:
		return star(t, Pt(0, 0), 4)
	case 1:
		return comb(t)
	}
	return star(t, Pt(length.Max/3, -length.Max/5), int(length.Max/16))
}

// TestLocate has the places where a ray test goes wrong: level with vertices,
// along edges, at spikes.
func TestLocate(t *testing.T) {
	square := box(0, 0, 10, 10).Ring()
	lShape := Ring{Pt(0, 0), Pt(10, 0), Pt(10, 4), Pt(4, 4), Pt(4, 10), Pt(0, 10)}
	diamond := Ring{Pt(5, 0), Pt(10, 5), Pt(5, 10), Pt(0, 5)}
	valley := Ring{Pt(0, 0), Pt(12, 0), Pt(12, 6), Pt(9, 3), Pt(6, 6), Pt(3, 3), Pt(0, 6)}
	for _, c := range []struct {
		name string
		r    Ring
		p    Point
		want Side
	}{
		{"middle", square, Pt(5, 5), Inside},
		{"left", square, Pt(-1, 5), Outside},
		{"right", square, Pt(11, 5), Outside},
		{"corner", square, Pt(10, 10), Boundary},
		{"edge", square, Pt(10, 5), Boundary},
		{"in line with an edge, left", square, Pt(-3, 0), Outside},
		{"in line with an edge, right", square, Pt(13, 10), Outside},
		{"in the corner of the L", lShape, Pt(4, 4), Boundary},
		{"level with the inner corner, inside", lShape, Pt(2, 4), Inside},
		{"level with the inner corner, outside", lShape, Pt(12, 4), Outside},
		{"in the notch of the L", lShape, Pt(5, 5), Outside},
		{"level with two tips", diamond, Pt(5, 5), Inside},
		{"level with two tips, left", diamond, Pt(-1, 5), Outside},
		{"level with the lower tip", diamond, Pt(0, 0), Outside},
		{"level with the upper tip", diamond, Pt(0, 10), Outside},
		{"left of two valleys, level with their floors", valley, Pt(-1, 3), Outside},
		{"between two valleys, level with their floors", valley, Pt(6, 3), Inside},
		{"level with the peak, in the air", valley, Pt(3, 6), Outside},
		{"on the peak", valley, Pt(6, 6), Boundary},
		{"no ring", nil, Pt(0, 0), Outside},
		{"a ring of one point, on it", Ring{Pt(2, 2)}, Pt(2, 2), Boundary},
		{"a ring of two points, between", Ring{Pt(0, 0), Pt(4, 4)}, Pt(2, 2), Boundary},
		{"a ring of two points, beside", Ring{Pt(0, 0), Pt(4, 4)}, Pt(2, 1), Outside},
	} {
		for _, r := range []Ring{c.r, c.r.Reversed()} {
			if got := r.Locate(c.p); got != c.want {
				t.Errorf("%s: Locate(%v) = %d, want %d", c.name, c.p, got, c.want)
			}
		}
	}
}

// slowLocate is Locate by another way: the boundary by rationals, the inside by
// the sign-changing winding of a vertical ray at a non-integer abscissa, which
// meets no vertex.
func slowLocate(r Ring, p Point) Side {
	for i, a := range r {
		b := r[(i+1)%len(r)]
		if bigCross(a, b, p).Sign() == 0 &&
			min(a.X, b.X) <= p.X && p.X <= max(a.X, b.X) && min(a.Y, b.Y) <= p.Y && p.Y <= max(a.Y, b.Y) {
			return Boundary
		}
	}
	// p is a whole unit grid point off the boundary, so it and the point a little
	// to its right, nearer than any edge, lie on one side.
	x := new(big.Rat).Add(big.NewRat(int64(p.X), 1), big.NewRat(1, 1<<62))
	winding := 0
	for i, a := range r {
		b := r[(i+1)%len(r)]
		ax, bx := big.NewRat(int64(a.X), 1), big.NewRat(int64(b.X), 1)
		if (ax.Cmp(x) < 0) == (bx.Cmp(x) < 0) {
			continue
		}
		// The height of the edge above x.
		h := new(big.Rat).Sub(x, ax)
		h.Mul(h, big.NewRat(int64(b.Y-a.Y), int64(b.X-a.X)))
		h.Add(h, big.NewRat(int64(a.Y), 1))
		if h.Cmp(big.NewRat(int64(p.Y), 1)) > 0 {
			if a.X < b.X {
				winding--
			} else {
				winding++
			}
		}
	}
	if winding != 0 {
		return Inside
	}
	return Outside
}

// TestLocateOracle compares Locate with the slow way, with simplefeatures where
// its float64 are exact, and with itself under the symmetries of the square.
func TestLocateOracle(t *testing.T) {
	count := map[Side]int{}
	rapid.Check(t, func(t *rapid.T) {
		r := drawRing(t)
		b := r.Box()
		p := Pt(
			length.Length(rapid.Int64Range(int64(b.Min.X)-1, int64(b.Max.X)+1).Draw(t, "x")),
			length.Length(rapid.Int64Range(int64(b.Min.Y)-1, int64(b.Max.Y)+1).Draw(t, "y")))
		if rapid.IntRange(0, 3).Draw(t, "near") == 0 { // at a vertex, or level with it
			v := rapid.SampledFrom(r).Draw(t, "vertex")
			p = Pt(v.X+length.Length(rapid.IntRange(-1, 1).Draw(t, "dx")), v.Y)
		}
		got := r.Locate(p)
		count[got]++
		if want := slowLocate(r, p); got != want {
			t.Fatalf("Locate(%v) in %v = %d, want %d", p, r, got, want)
		}
		if b.Dx() < 1<<24 { // products exact in float64
			in, err := sf.Relate(sf.XY{X: float64(p.X), Y: float64(p.Y)}.AsPoint().AsGeometry(), polygonOf(t, r).AsGeometry())
			if err != nil {
				t.Fatal(err)
			}
			want := Outside
			switch {
			case in[0] != 'F':
				want = Inside
			case in[1] != 'F':
				want = Boundary
			}
			if got != want {
				t.Fatalf("Locate(%v) in %v = %d, simplefeatures %d", p, r, got, want)
			}
		}
		for _, deg := range []int{90, 180, 270} {
			if s := r.Turned(deg).Locate(p.Turned(deg)); s != got {
				t.Fatalf("Locate(%v) in %v changes from %d to %d on a turn of %d", p, r, got, s, deg)
			}
		}
		if s := r.Flipped().Locate(Pt(-p.X, p.Y)); s != got {
			t.Fatalf("Locate(%v) in %v changes from %d to %d in the mirror", p, r, got, s)
		}
		if s := r.Reversed().Locate(p); s != got {
			t.Fatalf("Locate(%v) in %v changes from %d to %d when reversed", p, r, got, s)
		}
	})
	for _, s := range []Side{Outside, Boundary, Inside} {
		if count[s] < 5 {
			t.Errorf("side %d was met only %d times", s, count[s])
		}
	}
}

// polygonOf returns the simplefeatures polygon of rings.
func polygonOf(t rapid.TB, rings ...Ring) sf.Polygon {
	var lines []sf.LineString
	for _, r := range rings {
		var xy []float64
		for _, p := range append(slices.Clone(r), r[0]) {
			xy = append(xy, float64(p.X), float64(p.Y))
		}
		lines = append(lines, sf.NewLineString(sf.NewSequence(xy, sf.DimXY)))
	}
	p := sf.NewPolygon(lines)
	if err := p.Validate(); err != nil {
		t.Fatalf("%v: %v", rings, err)
	}
	return p
}

// bigArea2 is the shoelace sum in big integers.
func bigArea2(r Ring) *big.Int {
	sum := new(big.Int)
	for i, a := range r {
		sum.Add(sum, bigCross(Point{}, a, r[(i+1)%len(r)]))
	}
	return sum
}

func TestArea2(t *testing.T) {
	for _, c := range []struct {
		name string
		r    Ring
		want int64
	}{
		{"no ring", nil, 0},
		{"a point", Ring{Pt(3, 4)}, 0},
		{"two points", Ring{Pt(0, 0), Pt(3, 4)}, 0},
		{"a triangle", Ring{Pt(0, 0), Pt(4, 0), Pt(0, 3)}, 12},
		{"clockwise", Ring{Pt(0, 0), Pt(0, 3), Pt(4, 0)}, -12},
		{"a square at the bound", box(-length.Max, -length.Max, length.Max, length.Max).Ring(), 2 << 58},
		{"a square at the bound of sums", box(-limit, -limit, limit, limit).Ring(), 2 << 60},
		{"a square of 2^31-1 a side", box(-1<<30, -1<<30, 1<<30-1, 1<<30-1).Ring(), 2 * (1<<31 - 1) * (1<<31 - 1)},
		{"a bow tie", Ring{Pt(0, 0), Pt(4, 4), Pt(4, 0), Pt(0, 4)}, 0},
	} {
		if got := c.r.Area2(); got != c.want {
			t.Errorf("%s: Area2 = %d, want %d", c.name, got, c.want)
		}
		if got := c.r.Reversed().Area2(); got != -c.want {
			t.Errorf("%s, reversed: Area2 = %d, want %d", c.name, got, -c.want)
		}
	}
}

// TestArea2WrapsAround: the sum leaves int64 on the way and comes back to the
// exact area.
func TestArea2WrapsAround(t *testing.T) {
	// Five times round a square and four times back.
	sq := box(-limit, -limit, limit, limit).Ring()
	var r Ring
	for range 5 {
		r = append(r, sq...)
	}
	r = append(r, sq[0])
	for range 4 {
		r = append(r, sq[3], sq[2], sq[1], sq[0])
	}
	var sum int64
	wrapped := false
	exact := new(big.Int)
	for i := 1; i+1 < len(r); i++ {
		d := r[i].Sub(r[0]).Cross(r[i+1].Sub(r[0]))
		sum += d
		exact.Add(exact, big.NewInt(d))
		wrapped = wrapped || !exact.IsInt64()
	}
	if !wrapped {
		t.Fatal("the sum never left int64: the test has lost its point")
	}
	if got := r.Area2(); got != 2<<60 || sum != got {
		t.Errorf("Area2 = %d, want %d", got, int64(2<<60))
	}
}

// TestRingSymmetries: area, box and rectangle-ness under turns, mirror,
// translation and reversal, against big integers and simplefeatures.
func TestRingSymmetries(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRing(t)
		a := r.Area2()
		if want := bigArea2(r); !want.IsInt64() || want.Int64() != a || a <= 0 {
			t.Fatalf("Area2 of %v = %d, want %v", r, a, want)
		}
		if b := r.Box(); b.Dx() < 1<<20 {
			if got := polygonOf(t, r).Area(); got != float64(a)/2 {
				t.Fatalf("area of %v is %v in simplefeatures, %v here", r, got, float64(a)/2)
			}
		}
		if r.Reversed().Area2() != -a || r.Flipped().Area2() != a {
			t.Fatalf("the area of %v changes in the mirror", r)
		}
		if !slices.Equal(r.Reversed().Reversed(), r) || !slices.Equal(r.Flipped().Flipped(), r) {
			t.Fatalf("%v is not itself when reversed or flipped twice", r)
		}
		turned := r
		for deg := 90; deg <= 360; deg += 90 {
			turned = turned.Turned(90)
			if !slices.Equal(turned, r.Turned(deg)) || turned.Area2() != a {
				t.Fatalf("turn of %v by %d", r, deg)
			}
		}
		if !slices.Equal(turned, r) {
			t.Fatalf("%v is not itself after a full turn", r)
		}
		// Mirror, turn, mirror, turn is the identity: the two keep the group law.
		if !slices.Equal(r.Flipped().Turned(90).Flipped().Turned(90), r) {
			t.Fatalf("flips and turns of %v", r)
		}
		s := r.Box().Size()
		if q := r.Turned(90).Box().Size(); q != Pt(s.Y, s.X) {
			t.Fatalf("%v turned has the size %v", r, q)
		}
		d := Pt(length.Length(rapid.Int64Range(-100, 100).Draw(t, "dx")), 7)
		if q := r.Translate(d); q.Area2() != a || q.Box() != r.Box().Translate(d) || !slices.Equal(q.Translate(d.Neg()), r) {
			t.Fatalf("%v moved by %v", r, d)
		}
		for _, p := range r {
			if b := r.Box(); !b.Contains(Box{p, p}) {
				t.Fatalf("%v lies outside the box %v of %v", p, b, r)
			}
		}
	})
}

// TestRingTurnedFreely: a turn by any angle changes the area by no more than
// the rounding of its vertices: half the perimeter by 0.71 units a vertex.
func TestRingTurnedFreely(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := star(t, Pt(1000, 2000), 1000)
		deg := rapid.IntRange(1, 359).Draw(t, "angle")
		s := r.Turned(deg)
		perimeter := 0.0
		for i, a := range r {
			d := r[(i+1)%len(r)].Sub(a)
			perimeter += float64(d.X.Abs() + d.Y.Abs())
		}
		if off := s.Area2() - r.Area2(); float64(max(off, -off)) > 2*(0.71*perimeter+float64(len(r))) {
			t.Fatalf("a turn of %v by %d changes twice the area by %d", r, deg, off)
		}
	})
}

func TestPolygon(t *testing.T) {
	p := Polygon{
		Outer: box(0, 0, 20, 10).Ring(),
		Holes: []Ring{box(2, 2, 6, 6).Ring().Reversed(), box(10, 3, 15, 8).Ring().Reversed()},
	}
	const want = 2 * (200 - 16 - 25)
	moved := p.Translate(Pt(100, -50))
	for name, q := range map[string]Polygon{
		"as made": p, "turned": p.Turned(90), "half turned": p.Turned(180), "flipped": p.Flipped(), "moved": moved,
		"flipped and turned": p.Flipped().Turned(270),
	} {
		if q.Area2() != want {
			t.Errorf("%s: Area2 = %d, want %d", name, q.Area2(), want)
		}
		if q.Outer.Area2() <= 0 {
			t.Errorf("%s: the outer ring runs clockwise", name)
		}
		for i, h := range q.Holes {
			if h.Area2() >= 0 {
				t.Errorf("%s: hole %d runs counter-clockwise", name, i)
			}
			if q.Outer.Locate(h[0]) != Inside {
				t.Errorf("%s: hole %d lies outside", name, i)
			}
		}
	}
	if got := polygonOf(t, moved.Outer, moved.Holes[0], moved.Holes[1]).Area(); got != want/2 {
		t.Errorf("simplefeatures has the area %v, want %v", got, want/2)
	}
	if p.Box() != box(0, 0, 20, 10) || moved.Box() != box(100, -50, 120, -40) {
		t.Errorf("boxes %v, %v", p.Box(), moved.Box())
	}
}

func TestIsRectangle(t *testing.T) {
	for _, c := range []struct {
		name string
		r    Ring
		want bool
	}{
		{"a box", box(0, 0, 4, 3).Ring(), true},
		{"a box from another corner", Ring{Pt(4, 0), Pt(4, 3), Pt(0, 3), Pt(0, 0)}, true},
		{"clockwise", box(0, 0, 4, 3).Ring().Reversed(), true},
		{"three points", Ring{Pt(0, 0), Pt(4, 0), Pt(4, 3)}, false},
		{"five points", Ring{Pt(0, 0), Pt(2, 0), Pt(4, 0), Pt(4, 3), Pt(0, 3)}, false},
		{"a diamond", Ring{Pt(5, 0), Pt(10, 5), Pt(5, 10), Pt(0, 5)}, false},
		{"a trapezium", Ring{Pt(0, 0), Pt(4, 0), Pt(4, 3), Pt(0, 2)}, false},
		{"a bow tie", Ring{Pt(0, 0), Pt(4, 0), Pt(0, 3), Pt(4, 3)}, false},
		{"no width", Ring{Pt(0, 0), Pt(0, 0), Pt(0, 3), Pt(0, 3)}, false},
		{"four times a point", Ring{Pt(1, 1), Pt(1, 1), Pt(1, 1), Pt(1, 1)}, false},
	} {
		if got := c.r.IsRectangle(); got != c.want {
			t.Errorf("%s: IsRectangle = %t", c.name, got)
		}
	}
}

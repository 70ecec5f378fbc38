package outline

import (
	"errors"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
	"time"

	sf "github.com/peterstace/simplefeatures/geom"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// loop makes an outline of coordinates in millimetres.
func loop(xy ...length.Length) Outline {
	var o Outline
	for i := 0; i < len(xy); i += 2 {
		o = append(o, Vertex{At: geom.Pt(xy[i]*mm, xy[i+1]*mm)})
	}
	return o
}

// bent returns o with the bulge of a segment set.
func bent(o Outline, segment int, bulge float64) Outline {
	o[segment].Bulge = bulge
	return o
}

func TestValidate(t *testing.T) {
	half := math.Tan(math.Pi / 4) // a half circle
	for _, c := range []struct {
		name string
		o    Outline
		want error
	}{
		{"rectangle", Rectangle(600*mm, 400*mm), nil},
		{"one grid unit a side", Rectangle(1, 1), nil},
		{"the largest square", Rectangle(length.Max, length.Max), nil},
		{"circle", Circle(300 * mm), nil},
		{"smallest circle", Circle(2), nil},
		{"circle of a micrometre", Circle(8), nil},
		{"rounded", RoundedRectangle(600*mm, 400*mm, [4]length.Length{20 * mm, 0, 200 * mm, 200 * mm}), nil},
		{"triangle", loop(0, 0, 10, 0, 0, 10), nil},
		{"clockwise", loop(0, 0, 0, 10, 10, 0), nil},
		{"a corner on a straight edge", loop(0, 0, 5, 0, 10, 0, 0, 10), nil},
		{"half disc", bent(loop(0, 0, 10, 0), 0, half), nil},
		{"lens", bent(bent(loop(0, 0, 10, 0), 0, 0.3), 1, 0.3), nil},
		{"crescent", bent(bent(loop(0, 0, 10, 0), 0, 0.6), 1, -0.3), nil},
		{"the same arc there and back", bent(bent(loop(0, 0, 10, 0), 0, 0.3), 1, -0.3), ErrCrosses},
		{"D", bent(loop(0, 0, 10, 0, 10, 10, 0, 10), 1, half), nil},
		{"arc across the far edge", bent(loop(0, 0, 10, 0, 10, 100, 0, 100), 1, -half), ErrCrosses},
		{"arc that touches the far edge", bent(loop(0, 0, 50, 0, 50, 100, 0, 100), 1, -half), ErrCrosses},
		{"arc that stays off it", bent(loop(0, 0, 51, 0, 51, 100, 0, 100), 1, -half), nil},

		{"nothing", nil, ErrFewVertices},
		{"a point", loop(0, 0), ErrFewVertices},
		{"two points", loop(0, 0, 10, 0), ErrFewVertices},
		{"flat", loop(0, 0, 10, 0, 20, 0), ErrNoArea},
		{"flat, there and back", loop(0, 0, 20, 0, 10, 0), ErrNoArea},
		{"a point twice", loop(0, 0, 10, 0, 10, 0, 0, 10), ErrNoLength},
		{"the last point is the first", loop(0, 0, 10, 0, 0, 10, 0, 0), ErrNoLength},
		{"bow tie", loop(0, 0, 10, 10, 10, 0, 0, 10), ErrCrosses},
		{"spike", loop(0, 0, 10, 0, 20, 0, 10, 0, 0, 10), ErrCrosses},
		{"spike at the joint of last and first", loop(0, 0, 10, 0, 10, 10, -5, 0), nil},
		{"a corner on another edge", loop(0, 0, 20, 0, 20, 10, 10, 0, 0, 10), ErrCrosses},
		{"two corners at one place", loop(0, 0, 10, 0, 10, 10, 20, 10, 20, 0, 10, 0, 0, -10), ErrCrosses},
		{"an edge along another", loop(0, 0, 30, 0, 30, 10, 20, 10, 20, 0, 10, 0, 10, 10, 0, 10), ErrCrosses},
		{"too long", Rectangle(length.Max+1, mm), ErrTooLarge},
		{"too far out", Rectangle(mm, mm).Translate(geom.Pt(length.Max, 0)), ErrTooLarge},
		{"an arc that leaves the bound", bent(loop(0, 0, 30_000, 0, 30_000, 100), 0, 3), ErrTooLarge},
		{"bulge without end", bent(loop(0, 0, 10, 0, 0, 10), 0, math.Inf(1)), ErrFullCircle},
		{"bulge that is no number", bent(loop(0, 0, 10, 0, 0, 10), 0, math.NaN()), ErrFullCircle},
	} {
		err := c.o.Validate()
		if !errors.Is(err, c.want) || c.want == nil && err != nil {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
		if err == nil {
			if err := c.o.Reversed().Validate(); err != nil {
				t.Errorf("%s, reversed: %v", c.name, err)
			}
		}
	}
}

// The place and the two edges of a crossing.
func TestCrossingPlace(t *testing.T) {
	var f *Fault
	if err := loop(0, 0, 600, 400, 600, 0, 0, 400).Validate(); !errors.As(err, &f) {
		t.Fatal(err)
	}
	if f.A != 0 || f.B != 2 || f.At != geom.Pt(300*mm, 200*mm) {
		t.Errorf("edges %d and %d at %v", f.A, f.B, f.At)
	}
}

// simpleSlowly is the slow obvious version of Validate for straight outlines: every
// pair of edges, crossings computed with fractions.
func simpleSlowly(o Outline) bool {
	n := len(o)
	rat := func(l length.Length) *big.Rat { return new(big.Rat).SetInt64(int64(l)) }
	cross := func(ax, ay, bx, by *big.Rat) *big.Rat {
		return new(big.Rat).Sub(new(big.Rat).Mul(ax, by), new(big.Rat).Mul(ay, bx))
	}
	one := big.NewRat(1, 1)
	within := func(t *big.Rat) bool { return t.Sign() >= 0 && t.Cmp(one) <= 0 }
	for i := range n {
		for j := i + 1; j < n; j++ {
			a, b := o.ends(i)
			c, d := o.ends(j)
			if a == b || c == d {
				return false
			}
			ux, uy, vx, vy := rat(b.X-a.X), rat(b.Y-a.Y), rat(d.X-c.X), rat(d.Y-c.Y)
			wx, wy := rat(c.X-a.X), rat(c.Y-a.Y)
			neighbours := j == i+1 || i == 0 && j == n-1
			det := cross(ux, uy, vx, vy)
			if det.Sign() != 0 {
				if neighbours {
					continue // not parallel: the joint is all they share
				}
				s := new(big.Rat).Quo(cross(wx, wy, vx, vy), det)
				r := new(big.Rat).Quo(cross(wx, wy, ux, uy), det)
				if within(s) && within(r) {
					return false
				}
				continue
			}
			if cross(ux, uy, wx, wy).Sign() != 0 {
				continue // parallel, on two lines
			}
			// On one line: positions along a-b, which is from 0 to 1.
			uu := new(big.Rat).Add(new(big.Rat).Mul(ux, ux), new(big.Rat).Mul(uy, uy))
			along := func(p geom.Point) *big.Rat {
				dx, dy := rat(p.X-a.X), rat(p.Y-a.Y)
				s := new(big.Rat).Add(new(big.Rat).Mul(dx, ux), new(big.Rat).Mul(dy, uy))
				return s.Quo(s, uu)
			}
			lo, hi := along(c), along(d)
			if lo.Cmp(hi) > 0 {
				lo, hi = hi, lo
			}
			from, to := lo, hi
			if from.Sign() < 0 {
				from = new(big.Rat)
			}
			if to.Cmp(one) > 0 {
				to = one
			}
			switch cmp := from.Cmp(to); {
			case cmp < 0, cmp == 0 && !neighbours:
				return false // they share a stretch, or a point that is no joint
			}
		}
	}
	return true
}

// Against the slow version, and against simplefeatures, whose rule for the
// exterior ring of a polygon (OGC 06-103r4, simple and closed) is the same but
// for its floating point, which is exact at these sizes.
func TestValidateOracle(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	good, bad := 0, 0
	for range 3000 {
		n := 3 + rng.IntN(12)
		grid := 2 + rng.Int64N(12)
		o := make(Outline, n)
		for i := range o {
			o[i].At = geom.Pt(length.Length(rng.Int64N(grid)), length.Length(rng.Int64N(grid)))
		}
		if rng.IntN(2) == 0 { // drawn around a centre: more often simple
			for i := range o {
				r := 20 + 300*rng.Float64()
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
				o[i].At = geom.Pt(length.Length(r*cos), length.Length(r*sin))
			}
			if k := rng.IntN(n); rng.IntN(3) == 0 {
				o[k], o[(k+1)%n] = o[(k+1)%n], o[k]
			}
		}
		want := simpleSlowly(o)
		err := o.Validate()
		if (err == nil) != want {
			t.Fatalf("%v: %v, the slow version says %v", o, err, want)
		}
		var xy []float64
		for i := 0; i <= n; i++ {
			p := o[i%n].At
			xy = append(xy, float64(p.X), float64(p.Y))
		}
		ring := sf.NewLineString(sf.NewSequence(xy, sf.DimXY))
		repeated := false // simplefeatures lets a ring repeat a point
		for i := range o {
			a, b := o.ends(i)
			repeated = repeated || a == b
		}
		if valid := sf.NewPolygon([]sf.LineString{ring}).Validate() == nil; !repeated && valid != want {
			t.Fatalf("%v: simplefeatures says %v, we %v", o, valid, want)
		}
		if want {
			good++
			area := sf.NewPolygon([]sf.LineString{ring}).Area()
			if got := math.Abs(o.Area2()) / 2; math.Abs(got-area) > 1e-6 {
				t.Fatalf("%v: area %v, simplefeatures says %v", o, got, area)
			}
		} else {
			bad++
		}
	}
	if good < 500 || bad < 500 {
		t.Errorf("%d simple and %d others are no fair test", good, bad)
	}
}

// A verdict does not change when the outline is turned, mirrored, moved, run the
// other way or begun elsewhere.
func TestValidateSymmetry(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	verdicts := map[bool]int{}
	for range 1000 {
		n := 3 + rng.IntN(6)
		o := make(Outline, n)
		for i := range o {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			r := float64(mm) * (30 + 100*rng.Float64())
			o[i].At = geom.Pt(length.Length(r*cos), length.Length(r*sin))
			if rng.IntN(3) == 0 {
				o[i].Bulge = 3*rng.Float64() - 1.5
			}
		}
		want := o.Validate() == nil
		verdicts[want]++
		// The sweep against every pair of pieces.
		list := o.pieces()
		var slow *Fault
		for i := range list {
			for j := range i {
				if f := clash(list, i, j); f != nil {
					slow = f
				}
			}
		}
		if fast := crossing(list); (fast == nil) != (slow == nil) {
			t.Fatalf("%v: the sweep says %v, all pairs %v", o, fast, slow)
		}
		k := rng.IntN(n)
		for name, q := range map[string]Outline{
			"turned": o.Turned(90), "mirrored": o.Flipped(), "reversed": o.Reversed(),
			"moved":           o.Translate(geom.Pt(-777*mm, 12345)),
			"begun elsewhere": append(append(Outline{}, o[k:]...), o[:k]...),
		} {
			if got := q.Validate() == nil; got != want {
				// Arcs that only just touch may be told apart by a rounding.
				if wide := o.web(); wide > 2*float64(fine) {
					t.Fatalf("%v %s: %v, was %v", o, name, got, want)
				}
			}
		}
	}
	if verdicts[true] < 100 || verdicts[false] < 100 {
		t.Errorf("%v are no fair test", verdicts)
	}
}

// web returns the least distance between pieces of o that are no neighbours.
func (o Outline) web() float64 {
	list := o.pieces()
	best := math.Inf(1)
	for i := range list {
		for j := i + 2; j < len(list) && (i > 0 || j < len(list)-1); j++ {
			best = min(best, pointToPiece(list[i].a, list[j]), pointToPiece(list[j].a, list[i]))
		}
	}
	return best
}

// ladder returns shapes of about n vertices that are hard in their ways.
func ladder(n int) map[string]Outline {
	comb, spiral, star, slant := Outline{}, Outline{}, Outline{}, Outline{}
	for i := range n {
		x, y := length.Length(i)*mm, 100*mm
		if i%2 == 1 {
			y = 20_000 * mm
		}
		comb = append(comb, Vertex{At: geom.Pt(x, y)})
		// Teeth that lean over: all their boxes overlap.
		slant = append(slant, Vertex{At: geom.Pt(x+y-100*mm, y)})
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		r := float64(16_000 * mm)
		if i%2 == 1 {
			r /= 100
		}
		star = append(star, Vertex{At: geom.Pt(length.Length(r*cos), length.Length(r*sin))})
	}
	comb = append(comb, Vertex{At: geom.Pt(length.Length(n-1)*mm, 0)}, Vertex{At: geom.Pt(0, 0)})
	slant = append(slant, Vertex{At: geom.Pt(length.Length(n)*mm, 0)}, Vertex{At: geom.Pt(0, 0)})
	half := n / 2
	for k := range n {
		// Out along a spiral and back beside it.
		i, off := k, 0.0
		if k >= half {
			i, off = n-1-k, 0.4
		}
		turns := 1 + 40*float64(i)/float64(half)
		sin, cos := math.Sincos(2 * math.Pi * turns)
		r := 300 * float64(mm) * (turns + off)
		spiral = append(spiral, Vertex{At: geom.Pt(length.Length(r*cos), length.Length(r*sin))})
	}
	arcs := Outline{}
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		arcs = append(arcs, Vertex{At: geom.Pt(length.Length(16e6*cos), length.Length(16e6*sin)), Bulge: 0.9})
	}
	return map[string]Outline{"comb": comb, "slanting comb": slant, "star": star, "spiral": spiral, "arcs": arcs}
}

// Ten thousand vertices take well under a second.
func TestValidateLadder(t *testing.T) {
	for name, o := range ladder(10_000) {
		start := time.Now()
		err := o.Validate()
		t.Logf("%-14s %6d vertices, %v", name, len(o), time.Since(start))
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if d := time.Since(start); d > 3*time.Second { // a loaded machine
			t.Errorf("%s: took %v", name, d)
		}
		// Exchange two vertices in the middle and it crosses.
		o[5000].At, o[5003].At = o[5003].At, o[5000].At
		if err := o.Validate(); !errors.Is(err, ErrCrosses) {
			t.Errorf("%s, two vertices exchanged: %v", name, err)
		}
	}
}

// Arcs that would need pieces without number are refused before they are made.
func TestTooFine(t *testing.T) {
	var o Outline
	for i := range 1000 {
		x := length.Length(i) * mm
		o = append(o, Vertex{At: geom.Pt(x, 0), Bulge: 1e4}, Vertex{At: geom.Pt(x+mm/2, 0)})
	}
	start := time.Now()
	if err := o.Validate(); !errors.Is(err, ErrTooFine) {
		t.Error(err)
	}
	if d := time.Since(start); d > time.Second {
		t.Errorf("took %v", d)
	}
}

func BenchmarkValidate(b *testing.B) {
	for name, o := range ladder(10_000) {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if o.Validate() != nil {
					b.Fatal("not valid")
				}
			}
		})
	}
}

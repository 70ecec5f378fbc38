package main

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts/geom"
)

// made returns an instance as the reader gives it.
func made(t *testing.T, v map[string]any) *instance {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "made.json")
	if err := os.WriteFile(file, text, 0o666); err != nil {
		t.Fatal(err)
	}
	in, err := readInstance(file)
	if err != nil {
		t.Fatal(err)
	}
	return in
}

func strip(width float64, outer ...[][2]float64) map[string]any {
	var pieces []any
	for _, r := range outer {
		pieces = append(pieces, map[string]any{"outer": r, "rotations_deg": []int{0, 90, 180, 270}})
	}
	return map[string]any{"container": map[string]any{"kind": "strip", "width": width}, "pieces": pieces}
}

// Whole numbers and decimals are exact, and everything is within reach.
func TestExactGrid(t *testing.T) {
	for _, c := range []struct {
		name  string
		unit  float64
		exact bool
	}{
		{"whole", 1, true},
		{"decimals", 0.001, true},
		{"float64's thousandth of a third is no decimal", 1.0 / 3000, false},
		{"large", 1e7, true},
		{"larger than the grid", 1234567891, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			u := c.unit
			in := made(t, strip(10*u, [][2]float64{{-u, 0}, {6 * u, 0}, {5 * u, 3 * u}}, [][2]float64{{0, 0}, {0, 2 * u}, {2 * u, 2 * u}}))
			g, err := newGrid(in, kerf.Router)
			if err != nil {
				t.Fatal(err)
			}
			if g.exact != c.exact {
				t.Errorf("exact %v, scale %v", g.exact, g.scale)
			}
			p := g.problem
			if s := p.Stocks[0].Size; max(s.X, s.Y) > reach || max(s.X, s.Y) < reach/100 {
				t.Errorf("the strip is %v, reach is %d", s, reach)
			}
			for i := range p.Parts {
				area := in.Pieces[i].area() * g.scale * g.scale * 2
				got := float64(p.Parts[i].Shape.Area2())
				if off := got/area - 1; c.exact && math.Abs(off) > 1e-13 || off < -1e-13 || off > 1e-5 {
					t.Errorf("piece %d: area off by %v", i, off)
				}
			}
		})
	}
}

// star returns a random ring around the origin, with sharp corners and notches.
func star(rng *rand.Rand) [][2]float64 {
	n := 3 + rng.IntN(12)
	r := make([][2]float64, n)
	for i := range r {
		a := (float64(i) + 0.8*rng.Float64()) / float64(n) * 2 * math.Pi
		l := 0.05 + rng.Float64()
		r[i] = [2]float64{l * math.Cos(a), l * math.Sin(a)}
	}
	return r
}

// No piece shrinks: every point of the true outline lies in the outline on the
// grid, and that is never far.
func TestGrownContains(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 14))
	for range 300 {
		r := star(rng)
		g := &grid{scale: 1e6 + rng.Float64()}
		ring := g.ring(r, growth, false)
		for i, a := range r {
			b := r[(i+1)%len(r)]
			for k := range 20 {
				f := float64(k) / 20
				x, y := (a[0]+f*(b[0]-a[0]))*g.scale, (a[1]+f*(b[1]-a[1]))*g.scale
				if !holds(ring, x, y) {
					t.Fatalf("%v: (%v, %v) is lost", r, x, y)
				}
			}
		}
		grew := float64(ring.Area2())/2/g.scale/g.scale - math.Abs(ringArea(r))
		round := 0.0
		for i, a := range r {
			b := r[(i+1)%len(r)]
			round += math.Hypot(b[0]-a[0], b[1]-a[1])
		}
		if grew < 0 || grew > 3*round/g.scale {
			t.Fatalf("%v: area grew by %v", r, grew)
		}
	}
}

// holds reports whether a point is inside, by crossings.
func holds(r geom.Ring, x, y float64) bool {
	in := false
	for i, a := range r {
		b := r[(i+1)%len(r)]
		ax, ay, bx, by := float64(a.X), float64(a.Y), float64(b.X), float64(b.Y)
		if (ay > y) != (by > y) && x < ax+(y-ay)/(by-ay)*(bx-ax) {
			in = !in
		}
	}
	return in
}

// A hole of a piece shrinks when its material grows.
func TestGrownHole(t *testing.T) {
	third := 1.0 / 3
	in := made(t, map[string]any{
		"container": map[string]any{"kind": "bin", "width": 4, "height": 4},
		"pieces": []any{map[string]any{
			"outer": [][2]float64{{0, 0}, {3, 0}, {3, 3}, {0, 3}},
			"holes": [][][2]float64{{{third, third}, {2, third}, {2, 2}, {third, 2}}},
		}},
	})
	g, err := newGrid(in, kerf.Router)
	if err != nil {
		t.Fatal(err)
	}
	hole := g.problem.Parts[0].Shape.Holes
	if g.exact || len(hole) != 1 || hole[0].Area2() >= 0 {
		t.Fatalf("exact %v, holes %v", g.exact, hole)
	}
	if got, most := float64(-hole[0].Area2())/2, (2-third)*(2-third)*g.scale*g.scale; got >= most || got < most*(1-1e-6) {
		t.Errorf("area %v of %v", got, most)
	}
	if lost := in.area - (9 - (2-third)*(2-third)); math.Abs(lost) > 1e-12 {
		t.Errorf("area %v", in.area)
	}
}

// A piece as wide as its strip still fits when the grid is not exact.
func TestFullWidth(t *testing.T) {
	w := math.Sqrt2
	in := made(t, strip(w, [][2]float64{{0, 0}, {math.Pi, 0}, {math.Pi, w}, {0, w}}))
	g, err := newGrid(in, kerf.Router)
	if err != nil {
		t.Fatal(err)
	}
	if g.exact || g.homeless() > 0 {
		t.Errorf("exact %v, %d homeless", g.exact, g.homeless())
	}
}

// A placed piece is the piece itself, turned, and its box begins where it was put.
func TestRings(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for range 200 {
		r := star(rng)
		in := made(t, strip(5, r))
		in.Pieces[0].turns = []int{rng.IntN(360)}
		g, err := newGrid(in, kerf.Router)
		if err != nil {
			t.Fatal(err)
		}
		at := geom.Pt(1000, 70_000)
		turn := in.Pieces[0].turns[0]
		got := g.rings(in, nest.Placement{Part: 0, Copy: 1, Turn: turn, At: at})[0]
		want := turned(r, turn)
		for i := range got {
			d := [2]float64{got[i][0] - got[0][0] - want[i][0] + want[0][0], got[i][1] - got[0][1] - want[i][1] + want[0][1]}
			if math.Abs(d[0])+math.Abs(d[1]) > 1e-12 {
				t.Fatalf("turned by %d: point %d is off by %v", turn, i, d)
			}
		}
		lo := got[0]
		for _, q := range got {
			lo = [2]float64{min(lo[0], q[0]), min(lo[1], q[1])}
		}
		// The box of the grown outline begins up to 15 units earlier, the mitre of a
		// sharp corner.
		for k, a := range []float64{float64(at.X), float64(at.Y)} {
			if off := lo[k]*g.scale - a; off < -1 || off > 17 {
				t.Fatalf("turned by %d: the box is %v units off", turn, off)
			}
		}
	}
}

// The bound is of the instance, not of what was grown: two pieces fill a bin whose
// sides are no decimals.
func TestBoundNotGrown(t *testing.T) {
	a := math.Pi / 3
	half := [][2]float64{{0, 0}, {a, 0}, {a, 2 * a}, {0, 2 * a}}
	corner := [][2]float64{{0, 0}, {a, 0}, {0, 2 * a}}
	in := made(t, map[string]any{
		"container": map[string]any{"kind": "bin", "width": 2 * a, "height": 2 * a},
		"pieces":    []any{map[string]any{"outer": half}, map[string]any{"outer": corner, "quantity": 2}},
	})
	g, err := newGrid(in, kerf.Router)
	if err != nil {
		t.Fatal(err)
	}
	if got := g.bound(t.Context(), in); g.exact || got != 1 {
		t.Errorf("exact %v, %v bins, want 1", g.exact, got)
	}
	in = made(t, strip(2*a, half))
	if g, err = newGrid(in, kerf.Router); err != nil {
		t.Fatal(err)
	}
	if got := g.bound(t.Context(), in); g.exact || got > a || got < a*(1-1e-6) {
		t.Errorf("exact %v, length %v, want %v or a little less", g.exact, got, a)
	}
}

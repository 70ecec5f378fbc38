package drawing

import (
	"math"
	"math/rand/v2"
	"testing"

	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// curve makes a closed polyline of n points of a function of 0 to 1.
func curve(n int, f func(t float64) (x, y float64)) Piece {
	p := corners(true)
	for i := range n {
		x, y := f(float64(i) / float64(n))
		p.Path = append(p.Path, outline.Vertex{At: pt(x, y)})
	}
	return p
}

// polygon is regular, about a point off the origin.
func polygon(n int, radius float64) Piece {
	return curve(n, func(t float64) (float64, float64) {
		s, c := math.Sincos(2 * math.Pi * t)
		return 40 + radius*c, 30 + radius*s
	})
}

// rounded is a rectangle with corners of short chords.
func rounded(w, h, r float64, chords int) Piece {
	p := corners(true)
	for k, c := range [4][2]float64{{w - r, r}, {w - r, h - r}, {r, h - r}, {r, r}} {
		for i := range chords + 1 {
			s, co := math.Sincos(math.Pi/2*(float64(k)-1) + math.Pi/2*float64(i)/float64(chords))
			p.Path = append(p.Path, outline.Vertex{At: pt(c[0]+r*co, c[1]+r*s)})
		}
	}
	return p
}

func TestArcs(t *testing.T) {
	for _, c := range []struct {
		name           string
		piece          Piece
		arcs, vertices int // at most, when there are arcs
		area           float64
	}{
		{"hexagon", polygon(6, 100), 0, 6, 0},
		{"a hexagon smaller than the tolerance", polygon(6, 0.05), 0, 6, 0},
		{"17 sides, however small", polygon(17, 1), 0, 17, 0},
		{"24 sides of a metre", polygon(24, 1000), 0, 24, 0},
		{"72 sides", polygon(72, 50), 3, 3, math.Pi * 50 * 50},
		{"1000 sides", polygon(1000, 5000), 3, 3, math.Pi * 5000 * 5000},
		{"rounded corners", rounded(600, 400, 40, 16), 4, 8, 600*400 - (4-math.Pi)*40*40},
		{"coarse corners", rounded(600, 400, 40, 4), 0, 20, 0},
		{"rectangle", rectangle(0, 0, 600, 400), 0, 4, 0},
		{"many corners on a line", corners(true, 0, 0, 1, 0, 2, 0, 3, 0, 4, 0, 5, 0, 6, 0, 7, 0, 7, 7, 0, 7), 0, 4, 49},
		{"teeth", curve(90, func(t float64) (float64, float64) {
			s, c := math.Sincos(2 * math.Pi * t)
			r := 100 + float64(int(t*90)%2)
			return r * c, r * s
		}), 0, 90, 0},
		{"a flat curve", corners(true, 0, 0, 100, 0.02, 200, 0.035, 300, 0.045, 400, 0.05, 500, 0.045, 600, 0.035, 700, 0.02, 800, 0, 800, 300, 0, 300), 0, 11, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			panels := panelsOf(t, sheet([]Piece{c.piece}), Options{})
			p := panels[0]
			if (p.Recognised.Arcs > 0) != (c.arcs > 0) || p.Recognised.Arcs > c.arcs || len(p.Outline) > c.vertices {
				t.Errorf("%+v, %d corners", p.Recognised, len(p.Outline))
			}
			// The segments are chords: they enclose less than the circle, the arcs do not.
			if got := p.Outline.AreaMM2(); c.area > 0 && math.Abs(got-c.area) > 2e-6*c.area {
				t.Errorf("area %.4f, want %.4f", got, c.area)
			}
			follows(t, c.piece, p, float64(DefaultArcs))
			kept := panelsOf(t, sheet([]Piece{c.piece}), Options{KeepSegments: true})[0]
			if kept.Recognised != (Recognised{}) || !kept.Outline.Straight() {
				t.Errorf("%+v", kept.Recognised)
			}
		})
	}
}

// follows checks that a panel and the polyline it was made of are within a
// tolerance of each other, by points on both, and that what is told of it is true.
func follows(t *testing.T, p Piece, panel Panel, tolerance float64) {
	t.Helper()
	if float64(panel.Recognised.Deviation) > tolerance+1 {
		t.Errorf("deviation %v is told", panel.Recognised.Deviation)
	}
	o := outline.Outline(p.Path)
	var source, made [][2]float64
	for i, v := range o {
		w := o[(i+1)%len(o)]
		for k := range 8 { // points of the segments too
			f := float64(k) / 8
			source = append(source, [2]float64{float64(v.At.X) + f*float64(w.At.X-v.At.X), float64(v.At.Y) + f*float64(w.At.Y-v.At.Y)})
		}
	}
	made = panel.Outline.Points(length.Micrometre)
	// Rounding, and what the points leave the arcs by.
	slack := tolerance + 10
	if d := farthest(source, made); d > slack {
		t.Errorf("the source leaves the panel by %.1f units", d)
	}
	if d := farthest(made, source); d > slack {
		t.Errorf("the panel leaves the source by %.1f units", d)
	}
}

// farthest returns the greatest distance of a point of a from the closed polyline b.
func farthest(a, b [][2]float64) float64 {
	worst := 0.0
	for _, p := range a {
		best := math.Inf(1)
		for i, q := range b {
			r := b[(i+1)%len(b)]
			ux, uy, vx, vy := r[0]-q[0], r[1]-q[1], p[0]-q[0], p[1]-q[1]
			f := 0.0
			if l := ux*ux + uy*uy; l > 0 {
				f = max(0, min(1, (ux*vx+uy*vy)/l))
			}
			best = min(best, math.Hypot(vx-f*ux, vy-f*uy))
		}
		worst = max(worst, best)
	}
	return worst
}

// Curves of all kinds: wherever arcs are found the panel follows the source, and
// what was flattened is held to what it was flattened with.
func TestArcsFollow(t *testing.T) {
	found := 0
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 7))
		a, b, k := 20+80*r.Float64(), 20+80*r.Float64(), float64(2+r.IntN(4))
		wave, noise := 10*r.Float64(), 0.02*r.Float64()
		p := curve(60+r.IntN(400), func(t float64) (float64, float64) {
			s, c := math.Sincos(2 * math.Pi * t)
			w := 1 + wave/100*math.Cos(2*math.Pi*k*t)
			return a*w*c + noise*(r.Float64()-0.5), b*w*s + noise*(r.Float64()-0.5)
		})
		tolerance := []length.Length{10, 50, 500}[seed%3] * length.Micrometre
		opt := Options{Arcs: tolerance}
		if seed%2 == 0 {
			p.Within = 20 * length.Micrometre
			tolerance = min(tolerance, p.Within)
		}
		panel := panelsOf(t, sheet([]Piece{p}), opt)[0]
		found += panel.Recognised.Arcs
		follows(t, p, panel, float64(tolerance))
	}
	if found < 300 {
		t.Errorf("%d arcs in all: nothing was tested", found)
	}
}

// Parts of an outline that are arcs already, and corners, are left as they are.
func TestArcsKeepTheRest(t *testing.T) {
	p := rounded(600, 400, 40, 16)
	p.Path = append(p.Path[:34], outline.Vertex{At: pt(40, 400), Bulge: math.Tan(math.Pi / 8)}, outline.Vertex{At: pt(0, 360)})
	p.Path = append(p.Path, outline.Vertex{At: pt(0, 0)})
	panel := panelsOf(t, sheet([]Piece{p}), Options{})[0]
	curved := 0
	for _, v := range panel.Outline {
		if v.Bulge != 0 {
			curved++
		}
	}
	if curved < 3 || panel.Recognised.Arcs != curved-1 {
		t.Errorf("%+v, %d arcs", panel.Recognised, curved)
	}
}

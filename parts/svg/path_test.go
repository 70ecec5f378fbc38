package svg

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"panelyard/parts/drawing/curve"
)

// told writes runs in one line, with %.4g.
func told(runs []run) string {
	var b strings.Builder
	at := func(p curve.Vec) string { return fmt.Sprintf("%.4g,%.4g", p.X, p.Y) }
	for _, r := range runs {
		fmt.Fprintf(&b, "M%s", at(r.start))
		for _, s := range r.segments {
			switch {
			case s.arc != nil:
				fmt.Fprintf(&b, " A(%s %.4g)%s", at(s.arc.Centre), (s.arc.To-s.arc.From)*180/math.Pi, at(s.to))
			case s.bend != nil:
				b.WriteString(" C")
				for _, c := range s.bend {
					fmt.Fprintf(&b, "(%s)", at(c))
				}
				b.WriteString(at(s.to))
			default:
				fmt.Fprintf(&b, " L%s", at(s.to))
			}
		}
		if r.closed {
			b.WriteString(" Z")
		}
		b.WriteString(" ")
	}
	return strings.TrimSpace(b.String())
}

// Path data that means the same, and what it means. Those named SVG are examples of
// the specifications: SVG 1.1 sections 8.3.1, 8.3.2 and 8.3.8, SVG 2 sections 9.3.1,
// 9.3.6 to 9.3.9 (from memory, checked by what they say).
func TestReadPath(t *testing.T) {
	for _, c := range []struct{ name, want, data string }{
		{"SVG: superfluous blanks", "M100,100 L200,200", "M 100 100 L 200 200"},
		{"SVG: superfluous blanks left out", "M100,100 L200,200", "M100 100L200 200"},
		{"SVG: a command repeated", "M100,200 L200,100 L-100,-200", "M 100 200 L 200 100 L -100 -200"},
		{"SVG: a command left out", "M100,200 L200,100 L-100,-200", "M 100 200 L 200 100 -100 -200"},
		{"SVG: a sign ends a number", "M100,-200 L1,1", "M 100-200 1 1"},
		{"SVG: a second point ends a number", "M0.6,0.5 L1,1", "M 0.6.5 1 1"},
		{"SVG: triangle", "M100,100 L300,100 L200,300 Z", "M 100 100 L 300 100 L 200 300 z"},
		{"SVG: cubic", "M100,200 C(100,100)(250,100)250,200 C(250,300)(400,300)400,200", "M100,200 C100,100 250,100 250,200 S400,300 400,200"},
		{"SVG: quadratic", "M200,300 C(400,50)600,300 C(800,550)1000,300", "M200,300 Q400,50 600,300 T1000,300"},
		{"SVG: pie", "M300,200 L150,200 A(300,200 270)300,50 Z", "M300,200 h-150 a150,150 0 1,0 150,-150 z"},
		{"SVG: the smaller pie", "M275,175 L275,25 A(275,175 90)125,175 Z", "M275,175 v-150 a150,150 0 0,0 -150,150 z"},
		{"relative move", "M10,10 L20,20 M25,25 L30,30", "m10 10 10 10m5 5 5 5"},
		{"after closing", "M1,1 L5,1 L5,5 Z M1,1 L1,9 M3,3 L4,4", "M1 1h4v4zV9m2-6 1 1"},
		{"no reflection after another kind", "M0,0 C(1,1)2,0 C(2,0)(3,1)4,0 C(4,0)6,0", "M0 0Q1 1 2 0S3 1 4 0T6 0"},
		{"flags without blanks", "M0,0 A(5,0 180)10,0", "M0 0a5 5 0 0110 0"},
		{"exponents", "M1000,0.05 L-10,0.1", "M1e3.5E-1-1e+1 1e-1"},
		{"points without digits", "M1,0.5 L2,3", "M1. .5 2. 3"},
		{"lines on end", "M0,0 L1,0 L2,0 L2,1 L0,1", "M0 0H1 2V1H0"},
		{"an arc without a radius", "M0,0 L9,9", "M0 0A0 5 0 0 1 9 9"},
		{"an arc to where it is", "", "M3 3A5 5 0 0 1 3 3"},
		{"radii below 0", "M0,0 A(5,0 180)10,0", "M0 0A-5-5 0 0 1 10 0"},
		{"moves alone", "", "M1 1M2 2m3 3z"},
		{"nothing", "", " \n"},
		{"none", "", "none"},
	} {
		runs, err := readPath(c.data)
		if err != nil || told(runs) != c.want {
			t.Errorf("%s: %s: %s, %v, want %s", c.name, c.data, told(runs), err, c.want)
		}
	}
}

// Faults of path data, with their place.
func TestReadPathFaults(t *testing.T) {
	for data, want := range map[string]string{
		"L1 1":                           `the path does not begin with M, at character 1`,
		"M1":                             `there is nothing where a number belongs, at the end`,
		"M1,,1":                          `there is ",1" where a number belongs, at character 4`,
		"M1 1 2":                         `there is nothing where a number belongs, at the end`,
		"M1 1L2 2,":                      `there is nothing where a number belongs, at the end`,
		"M1 1L2 2,H3":                    `there is "H3" where a number belongs, at character 10`,
		"M1 1z2 2":                       `there is "2" where a command belongs, at character 6`,
		"M1 1X2":                         `there is "X2" where a command belongs`,
		"M1 1\x012":                      `where a command belongs`,
		"M1 1-":                          `there is "-" where a number belongs`,
		"M1 1A5 5 0 2 1 9 9":             `there is "2" where a flag of an arc belongs, 0 or 1, at character 12`,
		"M1 1A5 5 0 1.0 1 9 9":           `where a flag of an arc belongs`,
		"M1 1L1e400 1":                   `the number 1e400 is too large, at character 11`,
		"M1 1L0x10 1":                    `there is "x10" where a number belongs`,
		"M1 1Lnan 1":                     `there is "nan" where a number belongs`,
		"M1 " + strings.Repeat("1", 101): `a number of 101 characters, 100 at most`,
		"M1 1L1_0 1":                     `there is "_0"`,
		"M1 1 ﬁ":                         `there is "ﬁ"`,
	} {
		if _, err := readPath(data); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.40s: %v, want %s", data, err, want)
		}
	}
}

// Arcs by what SVG 2, appendix B.2, says of them: they run on an ellipse with the
// half axes that are given, from one end to the other; of the four there are the
// flags choose one; half axes that are too small are scaled up as one until the
// ellipse just reaches.
func TestArcBetween(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 3000 {
		any := func() float64 { return 200*r.Float64() - 100 }
		a, b := curve.Vec{X: any(), Y: any()}, curve.Vec{X: any(), Y: any()}
		half := curve.Vec{X: 1 + 150*r.Float64(), Y: 1 + 150*r.Float64()}
		deg := float64(r.IntN(9)) * 45
		if r.IntN(2) == 0 {
			deg = any() * 7
		}
		large, sweep := r.IntN(2) == 0, r.IntN(2) == 0
		c := arcBetween(a, b, half, deg, large, sweep)
		if d := max(c.At(c.From).Sub(a).Long(), c.At(c.To).Sub(b).Long()); d > 1e-9 {
			t.Fatalf("the ends are %g off", d)
		}
		// How much of the ellipse the chord needs, by the formula of B.2.5.
		sin, cos := math.Sincos(deg * math.Pi / 180)
		d := a.Sub(b).By(0.5)
		x, y := cos*d.X+sin*d.Y, cos*d.Y-sin*d.X
		lambda := x*x/half.X/half.X + y*y/half.Y/half.Y
		k := math.Max(1, math.Sqrt(lambda))
		if u, v := c.U.Long(), c.V.Long(); math.Abs(u-k*half.X) > 1e-9*u || math.Abs(v-k*half.Y) > 1e-9*v {
			t.Fatalf("half axes %v, %v of %v, scaled by %v", u, v, half, k)
		}
		if math.Abs(c.U.Cross(curve.Vec{X: cos, Y: sin})) > 1e-9*c.U.Long() || math.Abs(c.U.Dot(c.V)) > 1e-9*c.U.Long()*c.V.Long() {
			t.Fatalf("the axes are %v and %v, turned by %v", c.U, c.V, deg)
		}
		if angle := c.To - c.From; lambda < 1-1e-9 && (angle > math.Pi) != large || angle <= 0 || angle >= 2*math.Pi {
			t.Fatalf("turns by %v, large %v", angle, large)
		}
		// y points down, so with sweep the angle from x to y grows.
		if (c.U.Cross(c.V) > 0) != sweep {
			t.Fatalf("sweep %v, axes %v, %v", sweep, c.U, c.V)
		}
	}
}

// Transforms by the matrices of SVG 1.1, section 7.4 and 7.6.
func TestReadTransform(t *testing.T) {
	sin, cos := math.Sincos(math.Pi / 6)
	tan := math.Tan(math.Pi / 6)
	for s, want := range map[string][6]float64{
		"":                    {1, 0, 0, 1, 0, 0},
		"none":                {1, 0, 0, 1, 0, 0},
		"translate(50 90)":    {1, 0, 0, 1, 50, 90},
		"translate(50)":       {1, 0, 0, 1, 50, 0},
		"scale(2)":            {2, 0, 0, 2, 0, 0},
		"scale(2,-3)":         {2, 0, 0, -3, 0, 0},
		" rotate( 30 ) ":      {cos, sin, -sin, cos, 0, 0},
		"rotate(90)":          {0, 1, -1, 0, 0, 0},
		"rotate(-450)":        {0, -1, 1, 0, 0, 0},
		"rotate(90 10,20)":    {0, 1, -1, 0, 30, 10},
		"skewX(30)":           {1, 0, tan, 1, 0, 0},
		"skewY(30)":           {1, tan, 0, 1, 0, 0},
		"matrix(1 2 3 4 5 6)": {1, 2, 3, 4, 5, 6},
		"translate(50,90),rotate(-30) translate(130,160)": {cos, -sin, sin, cos, 50 + 130*cos + 160*sin, 90 - 130*sin + 160*cos},
		"scale(2)translate(1e1-5)":                        {2, 0, 0, 2, 20, -10},
	} {
		v, err := readTransform(s)
		got := [6]float64{v.X.X, v.X.Y, v.Y.X, v.Y.Y, v.O.X, v.O.Y}
		for i := range got {
			if math.Abs(got[i]-want[i]) > 1e-12 {
				err = fmt.Errorf("want %v", want)
			}
		}
		if err != nil {
			t.Errorf("%s: %v, %v", s, got, err)
		}
	}
	for s, want := range map[string]string{
		"rotate(45deg)":        `there is "deg)" where a number belongs at character 10`,
		"rotate(1 2)":          `there is no transform "rotate" with 2 numbers`,
		"matrix(1 2 3 4 5)":    `with 5 numbers`,
		"scale()":              `with 0 numbers`,
		"turn(1)":              `no transform "turn"`,
		"scale(1":              `where a number belongs`,
		"scale(1,)":            `where a number belongs`,
		"scale 1":              `where the bracket of a transform belongs`,
		"scale(1) x":           `where the bracket of a transform belongs`,
		"matrix(1 2 3 4 5 6 7": `more than 6 numbers`,
		strings.Repeat("scale(1)", maxTransforms+1): `more than 1000`,
	} {
		if _, err := readTransform(s); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.40s: %v, want %s", s, err, want)
		}
	}
}

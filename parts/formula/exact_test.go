package formula

import (
	"fmt"
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"panelyard/parts/length"
)

var sizes = map[string]int64{ // in 1/8 micrometre
	"mm": 8000, "cm": 80000, "m": 8000000, "in": 203200, "ft": 2438400,
}

// built is a formula with what it comes to by fractions of math/big, in grid units.
type built struct {
	text string
	num  *big.Rat
}

// lengths builds sums, differences, multiples and even parts of literals with units.
func lengths(t *rapid.T, depth int) built {
	if depth == 0 || rapid.IntRange(0, 3).Draw(t, "leaf") == 0 {
		unit := rapid.SampledFrom([]string{"mm", "cm", "m", "in", "ft"}).Draw(t, "unit")
		num, den := rapid.Int64Range(0, 500).Draw(t, "numerator"), rapid.Int64Range(1, 64).Draw(t, "denominator")
		whole := rapid.Int64Range(0, 30).Draw(t, "whole")
		b := built{fmt.Sprintf("%d %d/%d %s", whole, num, den, unit), big.NewRat(num, den)}
		switch rapid.IntRange(0, 2).Draw(t, "writing") {
		case 0:
			b.num.Add(b.num, big.NewRat(whole, 1))
		case 1:
			b.text = fmt.Sprintf("%d/%d %s", num, den, unit)
		case 2:
			s := b.num.FloatString(3)
			b.text = s + unit
			b.num.SetString(s)
		}
		b.num.Mul(b.num, big.NewRat(sizes[unit], 1))
		return b
	}
	a := lengths(t, depth-1)
	switch n := rapid.Int64Range(1, 12).Draw(t, "count"); rapid.SampledFrom([]string{"+", "-", "*", "/", "neg"}).Draw(t, "operation") {
	case "+":
		b := lengths(t, depth-1)
		return built{"(" + a.text + " + " + b.text + ")", new(big.Rat).Add(a.num, b.num)}
	case "-":
		b := lengths(t, depth-1)
		return built{"(" + a.text + " - " + b.text + ")", new(big.Rat).Sub(a.num, b.num)}
	case "*":
		return built{fmt.Sprintf("%d*(%s)", n, a.text), new(big.Rat).Mul(a.num, big.NewRat(n, 1))}
	case "/":
		return built{fmt.Sprintf("(%s)/%d", a.text, n), new(big.Rat).Mul(a.num, big.NewRat(1, n))}
	}
	return built{"(-(" + a.text + "))", new(big.Rat).Neg(a.num)}
}

// Sums, differences, multiples and parts of lengths are those of exact fractions, and are
// rounded once, to the nearest unit of the grid, halves away from zero as
// [big.Rat.FloatString] rounds.
func TestExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := lengths(t, 4)
		if len(b.text) > MaxText {
			t.Skip("too long")
		}
		f, p := Parse(b.text, length.MM)
		if p != nil {
			t.Fatal(b.text, p)
		}
		v, p := f.Eval(names())
		if p != nil || v.num.Cmp(b.num) != 0 || v.dim != 1 {
			t.Fatalf("%s = %v %v, want %v", b.text, v, p, b.num)
		}
		want, _ := new(big.Int).SetString(b.num.FloatString(0), 10)
		beyond := want.CmpAbs(big.NewInt(int64(length.Max))) > 0
		l, p := f.Length(names())
		switch {
		case beyond != (p != nil):
			t.Fatalf("%s = %v %v, want %v", b.text, l, p, want)
		case !beyond && int64(l) != want.Int64():
			t.Fatalf("%s = %d, want %v", b.text, l, want)
		}
	})
}

// Halves of a unit go away from zero, at the bound nothing is lost, and one unit beyond it
// is refused.
func TestRoundingAndBound(t *testing.T) {
	for text, want := range map[string]length.Length{
		"0.000125 mm/2":              1,
		"0 - 0.000125 mm/2":          -1,
		"0.000124 mm/2":              0,
		"0.000375 mm/2":              2,
		"1 in/128":                   1588, // 1587.5
		"0 - 1 in/128":               -1588,
		"33554.432 mm":               length.Max,
		"-33554.432 mm":              -length.Max,
		"33554.432 mm + 0.000062 mm": length.Max,
		"99999 m - 99999 m + 3 mm":   3 * mm, // on the way it may be beyond
		"sqrt(60 m*60 m) - 60 m":     0,
		"600 mm/3":                   200 * mm,
		"(1 in/3 + 1 in/3 + 1 in/3 == 1 in) ? 1 : 2": mm,
	} {
		if got, p := work(t, text, length.MM, names()); p != nil || got != want {
			t.Errorf("%s = %d %v, want %d", text, got, p, want)
		}
	}
	for _, text := range []string{"33554.432 mm + 0.0000625 mm", "-33554.432 mm - 0.0000625 mm", "10^9*10^9"} {
		if got, p := work(t, text, length.MM, names()); p == nil {
			t.Errorf("%s = %v", text, got)
		}
	}
}

// A literal is the length that a job file has for the same text: length.Parse is the other
// reader of the same notation.
func TestLiteralAgainstLength(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		blank := rapid.SampledFrom([]string{"", " ", "  ", "\t"}).Draw(t, "blank")
		n := func(name string, most int) string { return fmt.Sprint(rapid.IntRange(0, most).Draw(t, name)) }
		num := func() string {
			switch rapid.IntRange(0, 3).Draw(t, "writing") {
			case 0:
				return n("whole", 90)
			case 1:
				return n("whole", 90) + "." + n("decimals", 99999)
			case 2:
				return n("whole", 20) + " " + n("numerator", 40) + blank + "/" + blank + "6" + n("denominator", 9)
			}
			return n("numerator", 40) + "/6" + n("denominator", 9)
		}
		feet := rapid.SampledFrom([]string{"'", "′", "’", "ft", "feet", "foot"})
		inch := rapid.SampledFrom([]string{`"`, "″", "”", "in", "inch", "inches"})
		var text string
		switch rapid.IntRange(0, 2).Draw(t, "kind") {
		case 0:
			text = num() + blank + rapid.SampledFrom([]string{"mm", "cm", "m", "in", "ft", `"`, "'"}).Draw(t, "unit")
		case 1:
			text = num() + blank + feet.Draw(t, "feet") + " " + num() + blank + inch.Draw(t, "inch")
		case 2:
			text = num() + blank + feet.Draw(t, "feet") + " " + n("whole", 11)
		}
		want, err := length.Parse(text, length.MM)
		got, p := work(t, text, length.MM, names())
		if beyond := err != nil; beyond != (p != nil) || !beyond && got != want {
			t.Fatalf("%q = %v %v, length.Parse says %v %v", text, got, p, want, err)
		}
	})
}

// Roots are exact for squares of fractions, and to 14 digits else; a root squared comes
// back. math.Sqrt is the reference.
func TestRoots(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num, den := rapid.Int64Range(0, 1<<40).Draw(t, "numerator"), rapid.Int64Range(1, 1<<20).Draw(t, "denominator")
		r := big.NewRat(num, den)
		if got := squareRoot(new(big.Rat).Mul(r, r)); got.Cmp(r) != 0 {
			t.Fatalf("the root of %v squared is %v", r, got)
		}
		x, _ := r.Float64()
		if got, _ := squareRoot(r).Float64(); math.Abs(got-math.Sqrt(x)) > 1e-13*math.Sqrt(x) {
			t.Fatalf("the root of %v is %v, want %v", x, got, math.Sqrt(x))
		}
	})
}

// Identities of the functions of angles, over two turns both ways; math is the reference.
func TestAngles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.IntRange(-7200, 7200).Draw(t, "tenths of a degree")
		value := func(text string) float64 {
			f, p := Parse(fmt.Sprintf(text, fmt.Sprintf("(%d/10)", d)), length.MM)
			if p != nil {
				t.Fatal(p)
			}
			v, p := f.Eval(names())
			if p != nil {
				t.Fatal(p)
			}
			return v.float()
		}
		near := func(what string, got, want float64) {
			if math.Abs(got-want) > 1e-12 {
				t.Fatalf("%s of %v degrees is %v, want %v", what, float64(d)/10, got, want)
			}
		}
		a := float64(d) / 10 * math.Pi / 180
		near("sine", value("sin(%s)"), math.Sin(a))
		near("cosine", value("cos(%s)"), math.Cos(a))
		near("sine and cosine squared", value("sin(%[1]s)^2 + cos(%[1]s)^2"), 1)
		if d%1800 != 900 && d%1800 != -900 {
			near("tangent times cosine", value("tan(%[1]s)*cos(%[1]s)"), math.Sin(a))
		}
		near("arc tangent of the tangent", value("sin(asin(sin(%s)))"), math.Sin(a))
	})
	// Exact where the sine of a whole number of degrees is a fraction (Niven's theorem: 0,
	// 1/2 and 1 only).
	for d, want := range map[int]string{0: "0", 30: "1/2", 90: "1", 150: "1/2", 180: "0", 210: "-1/2", 270: "-1", 330: "-1/2"} {
		if got := sin(big.NewRat(int64(d), 1)).RatString(); got != want {
			t.Errorf("sin %d = %s, want %s", d, got, want)
		}
	}
}

// Rounding to a step is that of whole numbers: down, up, and to the nearest with halves
// away from zero.
func TestSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Int64Range(-1e9, 1e9).Draw(t, "thousandths")
		step := rapid.Int64Range(1, 1e6).Draw(t, "step")
		down := new(big.Int).Div(big.NewInt(x), big.NewInt(step)).Int64() // Euclidean
		up := down
		if x%step != 0 {
			up++
		}
		middle := up
		if twice := 2*(x-down*step) - step; twice < 0 || twice == 0 && x < 0 {
			middle = down
		}
		for fn, want := range map[string]int64{"floor": down, "ceil": up, "round": middle} {
			f, _ := Parse(fmt.Sprintf("%s(%d/1000, %d/1000 mm)", fn, x, step), length.MM)
			v, p := f.Eval(names())
			if p != nil || v.num.Cmp(big.NewRat(want*step*8, 1)) != 0 {
				t.Fatalf("%s of %d to %d = %v %v, want %d steps", fn, x, step, v, p, want)
			}
		}
	})
}

// Arcs of the trade notes (section 4: computed there, tested against identities; the two
// published checks have a radius of 10 and a chord of 12, and 15 and 20).
func TestArcs(t *testing.T) {
	for _, c := range []struct {
		chord, rise float64
		radius, arc string
	}{
		{48, 12, "30", "55.6377"},
		{600, 50, "925", "611.0501"},
		{1200, 100, "1850", "1222.1002"},
		{2400, 300, "2550", "2498.7824"},
		{1000, 25, "5012.5", "1001.6658"},
		{200, 100, "100", "314.1593"},
	} {
		for text, want := range map[string]string{
			fmt.Sprintf("radius(%v, %v)", c.chord, c.rise):                          c.radius,
			fmt.Sprintf("developed(%v mm, %v)", c.chord, c.rise):                    c.arc,
			fmt.Sprintf("rise(%v, %s mm)", c.chord, c.radius):                       fmt.Sprint(c.rise),
			fmt.Sprintf("2*%s*asin(%v/(2*%s))*pi/180", c.radius, c.chord, c.radius): c.arc,
		} {
			got, p := work(t, text, length.MM, names())
			w, _ := new(big.Rat).SetString(want)
			f, _ := w.Float64()
			if p != nil || math.Abs(got.MM()-f) > 0.0001 {
				t.Errorf("%s = %v %v, want %s", text, got, p, want)
			}
		}
	}
	for text, want := range map[string]float64{"rise(12, 10)": 2, "rise(20, 15)": 3.82} {
		if got, p := work(t, text, length.MM, names()); p != nil || math.Abs(got.MM()-want) > 0.005 {
			t.Errorf("%s = %v %v, want %v", text, got, p, want)
		}
	}
}

package length

import (
	"errors"
	"math"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestUnits checks the units against the definitions of the inch and the foot:
// 1 in = 25.4 mm and 1 ft = 0.3048 m exactly (NIST SP 811, appendix B, from
// memory).
func TestUnits(t *testing.T) {
	for _, c := range []struct {
		name string
		got  Length
		want int64 // in 1/8 micrometre
	}{
		{"a thousandth of a millimetre", Micrometre, 8},
		{"a millimetre", Millimetre, 8_000},
		{"a centimetre", Centimetre, 80_000},
		{"a metre", Metre, 8_000_000},
		{"an inch", Inch, 254 * 800},
		{"a foot", Foot, 3048 * 800},
		{"a 64th of an inch, eightfold exact", Inch / 64, 3175},
		{"the bound", Max, 268_435_456},
	} {
		if int64(c.got) != c.want {
			t.Errorf("%s is %d units, want %d", c.name, c.got, c.want)
		}
	}
	if Inch%64 != 0 || 64*(Inch/64) != Inch {
		t.Error("a 64th of an inch is not a whole number of units")
	}
}

func TestDecimal(t *testing.T) {
	for _, c := range []struct {
		l    Length
		want string
	}{
		{0, "0"},
		{Millimetre, "1"},
		{-Millimetre, "-1"},
		{1, "0.000125"},
		{-1, "-0.000125"},
		{7, "0.000875"},
		{8, "0.001"},
		{Millimetre / 2, "0.5"},
		{18500 * Micrometre, "18.5"},
		{Inch / 64, "0.396875"},
		{23*Inch + 11*Inch/16, "601.6625"},
		{Max, "33554.432"},
		{-Max, "-33554.432"},
		{Max - 1, "33554.431875"},
	} {
		if got := c.l.Decimal(); got != c.want {
			t.Errorf("Decimal of %d = %s, want %s", int64(c.l), got, c.want)
		}
		if got := c.l.String(); got != c.want+" mm" {
			t.Errorf("String of %d = %s, want %s mm", int64(c.l), got, c.want)
		}
	}
}

func TestFixed(t *testing.T) {
	for _, c := range []struct {
		name     string
		l        Length
		decimals int
		want     string
	}{
		{"whole", 600 * Millimetre, 0, "600"},
		{"zeros kept", 600 * Millimetre, 2, "600.00"},
		{"half goes up", 500 * Micrometre, 0, "1"},
		{"half of a minus goes down", -500 * Micrometre, 0, "-1"},
		{"just under half", 500*Micrometre - 1, 0, "0"},
		{"tenth, half", 50 * Micrometre, 1, "0.1"},
		{"thousandth, half", 4, 3, "0.001"},
		{"thousandth, under half", 3, 3, "0.000"},
		{"no minus zero", -1, 2, "0.00"},
		{"no minus zero, no decimals", -499 * Micrometre, 0, "0"},
		{"six decimals are exact", 1, 6, "0.000125"},
		{"bound", Max, 3, "33554.432"},
		{"minus bound", -Max, 1, "-33554.4"},
	} {
		if got := c.l.Fixed(c.decimals); got != c.want {
			t.Errorf("%s: Fixed(%d) of %v = %s, want %s", c.name, c.decimals, c.l, got, c.want)
		}
	}
}

func TestFraction(t *testing.T) {
	for _, c := range []struct {
		name string
		l    Length
		den  int64
		want string
	}{
		{"zero", 0, 64, `0"`},
		{"whole", 24 * Inch, 16, `24"`},
		{"sixteenths", 23*Inch + 11*Inch/16, 16, `23 11/16"`},
		{"reduced", 23*Inch + Inch/2, 64, `23 1/2"`},
		{"no whole part", 3 * Inch / 4, 64, `3/4"`},
		{"64ths", Inch / 64, 64, `1/64"`},
		{"32nds", 5 * Inch / 32, 32, `5/32"`},
		{"half-way to a sixteenth goes up", Inch / 32, 16, `1/16"`},
		{"under half-way", Inch/32 - 1, 16, `0"`},
		{"half-way to a 32nd goes up", Inch / 64, 32, `1/32"`},
		{"carries to the next inch", Inch - 1, 16, `1"`},
		{"18 mm to 1/64", 18 * Millimetre, 64, `45/64"`}, // 18/25.4·64 = 45.354
		{"18 mm to 1/16", 18 * Millimetre, 16, `11/16"`}, // 18/25.4·16 = 11.339
		{"2440 mm to 1/16", 2440 * Millimetre, 16, `96 1/16"`},
		{"minus", -(Inch + Inch/8), 16, `-1 1/8"`},
		{"minus half-way goes away from zero", -Inch / 32, 16, `-1/16"`},
		{"no minus zero", -1, 16, `0"`},
		{"whole inches", 5*Inch + Inch/2, 1, `6"`},
		{"bound", Max, 64, bound64()},
	} {
		if got := c.l.Fraction(c.den); got != c.want {
			t.Errorf("%s: Fraction(%d) of %v = %s, want %s", c.name, c.den, c.l, got, c.want)
		}
	}
}

// bound64 computes [Max] to 1/64 in with rationals.
func bound64() string {
	r := big.NewRat(int64(Max)*64, int64(Inch))
	n, _ := new(big.Int).SetString(r.FloatString(0), 10)
	whole, rest := new(big.Int).QuoRem(n, big.NewInt(64), new(big.Int))
	return whole.String() + " " + big.NewRat(rest.Int64(), 64).String() + `"`
}

// TestFractionNearest: a fraction is within half a denominator of its length,
// it is reduced, and it reads back as what was printed.
func TestFractionNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := draw(t)
		den := rapid.SampledFrom([]int64{1, 2, 4, 8, 16, 32, 64}).Draw(t, "denominator")
		s := l.Fraction(den)
		back, err := Parse(s, MM)
		if err != nil {
			if l.Abs() > Max-Inch && errors.Is(err, ErrTooLong) {
				return // rounded up beyond the bound
			}
			t.Fatal(err)
		}
		if off := (back - l).Abs(); 2*int64(off)*den > int64(Inch) {
			t.Fatalf("%v printed as %s is %v off", l, s, off)
		}
		if again := back.Fraction(den); again != s {
			t.Fatalf("%s reads back and prints as %s", s, again)
		}
		if _, frac, ok := strings.Cut(s, "/"); ok && strings.HasPrefix(frac, "1\"") {
			t.Fatalf("%s is not reduced", s)
		}
	})
}

func TestFromMM(t *testing.T) {
	for _, c := range []struct {
		mm   float64
		want Length
	}{
		{0, 0},
		{1, Millimetre},
		{0.000125, 1},
		{0.0000625, 1}, // half a unit goes away from zero
		{-0.0000625, -1},
		{0.00006, 0},
		{25.4, Inch},
		{33554.432, Max},
		{-33554.432, -Max},
	} {
		if got, err := FromMM(c.mm); err != nil || got != c.want {
			t.Errorf("FromMM(%v) = %d, %v, want %d", c.mm, got, err, c.want)
		}
	}
	for _, mm := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 33554.4322, -33554.4322, 1e300} {
		if got, err := FromMM(mm); err == nil {
			t.Errorf("FromMM(%v) = %v, want an error", mm, got)
		}
	}
}

// TestMM: the float64 of a length in millimetres is the nearest one and comes
// back to the length.
func TestMM(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := draw(t)
		if back, err := FromMM(l.MM()); err != nil || back != l {
			t.Fatalf("%v mm comes back as %v, %v", l.MM(), back, err)
		}
		if near, _ := big.NewRat(int64(l), int64(Millimetre)).Float64(); near != l.MM() {
			t.Fatalf("%d units: MM is not the nearest float64", int64(l))
		}
		if near, _ := big.NewRat(int64(l), int64(Inch)).Float64(); near != l.Inches() {
			t.Fatalf("%d units: Inches is not the nearest float64", int64(l))
		}
	})
}

func TestEvenUpAndAbs(t *testing.T) {
	for _, c := range []struct{ l, even, abs Length }{
		{0, 0, 0}, {1, 2, 1}, {2, 2, 2}, {3, 4, 3}, {-1, 0, 1}, {-2, -2, 2}, {-3, -2, 3}, {Max, Max, Max}, {-Max, -Max, Max},
	} {
		if got := c.l.EvenUp(); got != c.even {
			t.Errorf("EvenUp(%d) = %d, want %d", int64(c.l), int64(got), int64(c.even))
		}
		if got := c.l.Abs(); got != c.abs {
			t.Errorf("Abs(%d) = %d, want %d", int64(c.l), int64(got), int64(c.abs))
		}
	}
}

// draw gives lengths over the whole range, the bounds and round values often.
func draw(t *rapid.T) Length {
	return Length(rapid.OneOf(
		rapid.Int64Range(-int64(Max), int64(Max)),
		rapid.Int64Range(-5000, 5000),
		rapid.SampledFrom([]int64{0, 1, -1, int64(Max), -int64(Max), int64(Inch), int64(Inch / 64), int64(Inch / 128)}),
	).Draw(t, "length"))
}

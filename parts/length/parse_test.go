package length

import (
	"errors"
	"math/big"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestParse(t *testing.T) {
	for _, c := range []struct {
		name string
		in   string
		unit Unit
		want Length
	}{
		{"bare, job in mm", "600", MM, 600 * Millimetre},
		{"bare, job in inches", "600", IN, 600 * Inch},
		{"bare, job in feet", "8", FT, 8 * Foot},
		{"unit beats the job's", "600 mm", IN, 600 * Millimetre},
		{"no space", "18.5mm", IN, 18500 * Micrometre},
		{"centimetres", "2.5 cm", MM, 25 * Millimetre},
		{"metres", "2.44 m", MM, 2440 * Millimetre},
		{"decimal comma", "18,5", MM, 18500 * Micrometre},
		{"decimal comma, four decimals", "2,4405 m", MM, 2440500 * Micrometre},
		{"decimal comma, thousands of metres are none", "2,440 m", MM, 2440 * Millimetre},
		{"decimal comma after zero", "0,125 in", MM, Inch / 8},
		{"no zero before the point", ".5", MM, 500 * Micrometre},
		{"nothing after the point", "5.", MM, 5 * Millimetre},
		{"leading zeros are decimal", "010", MM, 10 * Millimetre},
		{"fraction", "11/16 in", MM, 11 * Inch / 16},
		{"mixed", "23 11/16 in", MM, 23*Inch + 11*Inch/16},
		{"mixed with a hyphen", "23-11/16 in", MM, 23*Inch + 11*Inch/16},
		{"mixed, marks", `23 11/16"`, MM, 23*Inch + 11*Inch/16},
		{"spaces about the stroke", "3 / 4 in", MM, 3 * Inch / 4},
		{"feet", "4'", MM, 4 * Foot},
		{"feet and inches", `1' 7"`, MM, 19 * Inch},
		{"feet and inches, no space", `1'7"`, MM, 19 * Inch},
		{"feet and mixed inches", `1' 7 1/2"`, MM, 19*Inch + Inch/2},
		{"inches left out", "1' 7", MM, 19 * Inch},
		{"in words", "4 ft 6 in", MM, 54 * Inch},
		{"in long words", "4 feet 6 inches", MM, 54 * Inch},
		{"typographic marks", "1′ 7 1/2″", MM, 19*Inch + Inch/2},
		{"curly marks", "1’ 7”", MM, 19 * Inch},
		{"minus", "-3", MM, -3 * Millimetre},
		{"minus on the whole", `-1' 6"`, MM, -18 * Inch},
		{"plus", "+3", MM, 3 * Millimetre},
		{"zero", "0", MM, 0},
		{"minus zero", "-0", MM, 0},
		{"zero over", "0/5 in", MM, 0},
		{"spaces about", "  12 mm\t", MM, 12 * Millimetre},
		{"a 64th", "1/64 in", MM, 3175},
		{"a thousandth", "0.001", MM, 8},
		{"half a unit goes up", "0.0000625", MM, 1},
		{"under half a unit", "0.00006249999999", MM, 0},
		{"minus half a unit goes down", "-0.0000625", MM, -1},
		{"half a unit of inches, 1/128 in", "1/128 in", MM, 1588}, // 1587.5
		{"a third is rounded", "1/3 in", MM, 67733},               // 67733.33
		{"the bound", "33554.432", MM, Max},
		{"the bound in metres", "-33.554432 m", MM, -Max},
		{"the bound, rounded down to", "33554.43206", MM, Max},
		{"many zeros", "0000000000000000000000000000000000000000000000000012", MM, 12 * Millimetre},
		{"many decimals", "1.00000000000000000000000000000000000000000000001", MM, Millimetre},
	} {
		if got, err := Parse(c.in, c.unit); err != nil || got != c.want {
			t.Errorf("%s: Parse(%q, %s) = %d, %v, want %d", c.name, c.in, c.unit.Name, int64(got), err, int64(c.want))
		}
	}
}

func TestParseErrors(t *testing.T) {
	for _, c := range []struct {
		name string
		in   string
		unit Unit
		say  string // a part of the message
	}{
		{"empty", "", MM, "empty"},
		{"blank", " \t ", MM, "empty"},
		{"word", "wide", MM, "not a length"},
		{"not a number", "NaN", MM, "not a length"},
		{"infinity", "Inf", MM, "not a length"},
		{"exponent", "1e3", MM, "not a length"},
		{"hexadecimal", "0x10", MM, "not a length"},
		{"underscore", "1_000", MM, "not a length"},
		{"only a sign", "-", MM, "not a length"},
		{"two signs", "--3", MM, "not a length"},
		{"only a unit", "mm", MM, "not a length"},
		{"only a point", ".", MM, "not a length"},
		{"unknown unit", "3 furlong", MM, "not a length"},
		{"capital unit", "3 MM", MM, "not a length"},
		{"unit twice", "3 mm mm", MM, "not a length"},
		{"sum of metric terms", "3 m 20 cm", MM, "only feet"},
		{"inches before feet", `7" 1'`, MM, "only feet"},
		{"feet before metric", "1' 7 mm", MM, "only feet"},
		{"three terms", `1' 7" 3"`, MM, "not a length"},
		{"two bare numbers", "23 11", MM, "only feet"},
		{"two bare numbers, job in inches", "23 11", IN, "only feet"},
		{"two bare numbers, job in feet", "23 11", FT, "only feet"},
		{"two points", "1.5.2", MM, "only feet"},
		{"two points, job in feet", "1.5.2", FT, "only feet"},
		{"a fraction with a point, job in feet", "7/2.5", FT, "only feet"},
		{"minus inside", "1' -7\"", MM, "not a length"},
		{"over zero", "1/0 in", MM, "over zero"},
		{"mixed over zero", "3 1/00", MM, "over zero"},
		{"half a fraction", "1/", MM, "not a length"},
		{"two strokes", "1/2/3", MM, "not a length"},
		{"comma that may group thousands", "1,220", MM, "1220"},
		{"comma that may group thousands, unit", "12,500 mm", MM, "12500"},
		{"comma that may group thousands, inches", "1,125 in", MM, "1.125 or 1125"},
		{"two grouping commas", "1,220,000", MM, "only feet"},
		{"grouping comma and point", "1,220.5", MM, "only feet"},
		{"far too many digits", strings.Repeat("9", 65), MM, "too long to be"},
		{"a long text", "half " + strings.Repeat("é", 64), MM, "too long to be"},
	} {
		got, err := Parse(c.in, c.unit)
		if err == nil {
			t.Errorf("%s: Parse(%q, %s) = %v, want an error", c.name, c.in, c.unit.Name, got)
			continue
		}
		if !strings.Contains(err.Error(), c.say) {
			t.Errorf("%s: Parse(%q) says %q, want something with %q", c.name, c.in, err, c.say)
		}
	}
	for _, s := range []string{"33554.4322", "-33554.4322", "34 m", "111 ft", strings.Repeat("9", 60), "9999999999999999999 1/2 in"} {
		if got, err := Parse(s, MM); !errors.Is(err, ErrTooLong) {
			t.Errorf("Parse(%q) = %v, %v, want ErrTooLong", s, got, err)
		}
	}
}

func TestParseUnit(t *testing.T) {
	for in, want := range map[string]Unit{
		"mm": MM, " cm ": CM, "m": M, "in": IN, `"`: IN, "inch": IN, "inches": IN, "″": IN, "”": IN,
		"ft": FT, "'": FT, "foot": FT, "feet": FT, "′": FT, "’": FT,
	} {
		if got, err := ParseUnit(in); err != nil || got != want {
			t.Errorf("ParseUnit(%q) = %v, %v, want %v", in, got, err, want)
		}
	}
	for _, in := range []string{"", "MM", "km", "um", "mm2", "yd"} {
		if got, err := ParseUnit(in); err == nil {
			t.Errorf("ParseUnit(%q) = %v, want an error", in, got)
		}
	}
}

// TestParseDecimal: what String and Decimal print reads back exactly, whatever
// the unit of the job, with a point and with a comma.
func TestParseDecimal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := draw(t)
		unit := rapid.SampledFrom([]Unit{MM, CM, M, IN, FT}).Draw(t, "unit")
		if got, err := Parse(l.String(), unit); err != nil || got != l {
			t.Fatalf("Parse(%q) = %d, %v, want %d", l.String(), got, err, l)
		}
		if got, err := Parse(l.Decimal(), MM); err != nil || got != l {
			t.Fatalf("Parse(%q) = %d, %v, want %d", l.Decimal(), got, err, l)
		}
	})
}

// TestParseOracle compares decimals and mixed numbers of every unit with the
// same sum done in rationals.
func TestParseOracle(t *testing.T) {
	size := map[string]*big.Rat{ // in 1/8 micrometre
		"mm": big.NewRat(8000, 1), "cm": big.NewRat(80000, 1), "m": big.NewRat(8000000, 1),
		"in": big.NewRat(203200, 1), "ft": big.NewRat(2438400, 1),
	}
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]string{"mm", "cm", "m", "in", "ft"}).Draw(t, "unit")
		whole := rapid.Int64Range(0, 40).Draw(t, "whole")
		den := rapid.Int64Range(1, 128).Draw(t, "denominator")
		num := rapid.Int64Range(0, 200).Draw(t, "numerator")
		sum := new(big.Rat).Add(big.NewRat(whole, 1), big.NewRat(num, den))
		s := strconv.FormatInt(whole, 10) + " " + strconv.FormatInt(num, 10) + "/" + strconv.FormatInt(den, 10)
		if rapid.Bool().Draw(t, "decimal") {
			digits := rapid.IntRange(0, 9).Draw(t, "decimals")
			s = sum.FloatString(digits)
			sum.SetString(s)
		}
		sum.Mul(sum, size[unit])
		want, _ := strconv.ParseInt(sum.FloatString(0), 10, 64) // ties away from zero
		got, err := Parse(s+" "+unit, MM)
		switch {
		case want > int64(Max):
			if !errors.Is(err, ErrTooLong) {
				t.Fatalf("Parse(%q %s) = %v, %v, want ErrTooLong", s, unit, got, err)
			}
		case err != nil || int64(got) != want:
			t.Fatalf("Parse(%q %s) = %d, %v, want %d", s, unit, got, err, want)
		}
	})
}

// FuzzParse: no panic, nothing beyond the bound, and what was read prints and
// reads as the same length; its negative reads as the opposite.
func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"600", "18.5 mm", "23 11/16 in", "4'", `1' 7 1/2"`, "-3", "1,5", "1/0", "9/9/9", "1.5.2", "1′ 7″", "0x1p3", "", "1 2 3",
	} {
		f.Add(s, byte(0))
		f.Add(s, byte(4))
	}
	units := []Unit{MM, CM, M, IN, FT}
	f.Fuzz(func(t *testing.T, s string, u byte) {
		unit := units[int(u)%len(units)]
		l, err := Parse(s, unit)
		if err != nil {
			if l != 0 || err.Error() == "" {
				t.Fatalf("Parse(%q) = %v with error %q", s, l, err)
			}
			return
		}
		if l.Abs() > Max {
			t.Fatalf("Parse(%q) = %d, beyond the bound", s, l)
		}
		if back, err := Parse(l.String(), unit); err != nil || back != l {
			t.Fatalf("Parse(%q) = %d, %v, want %d", l.String(), back, err, l)
		}
		trimmed := strings.TrimSpace(s)
		if strings.HasPrefix(trimmed, "-") || strings.HasPrefix(trimmed, "+") || len(trimmed) == 64 {
			return
		}
		if back, err := Parse("-"+trimmed, unit); err != nil || back != -l {
			t.Fatalf("Parse(-%q) = %d, %v, want %d", trimmed, back, err, -l)
		}
	})
}

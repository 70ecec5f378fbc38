package money

import (
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
		want Amount
	}{
		{"two decimals", "84.50", 845_000},
		{"whole", "84", 84 * One},
		{"decimal comma", "0,385", 3850},
		{"decimal comma, two decimals", "84,50", 845_000},
		{"decimal comma, four decimals", "1,5000", 15_000},
		{"four decimals", "0.0001", 1},
		{"trailing zeros beyond four decimals", "1.250000", 12_500},
		{"no zero before the point", ".5", 5000},
		{"nothing after the point", "5.", 5 * One},
		{"leading zeros are decimal", "010", 10 * One},
		{"zero", "0", 0},
		{"minus zero", "-0", 0},
		{"minus", "-3.25", -32_500},
		{"spaces about", " 7 ", 7 * One},
		{"a point and three decimals", "1.500", 15_000},
		{"largest", "1000000000", Max},
		{"smallest", "-1000000000.0000", -Max},
	} {
		if got, err := Parse(c.in); err != nil || got != c.want {
			t.Errorf("%s: Parse(%q) = %d, %v, want %d", c.name, c.in, int64(got), err, int64(c.want))
		}
	}
}

func TestParseErrors(t *testing.T) {
	for _, c := range []struct{ name, in, say string }{
		{"empty", "", "not an amount"},
		{"word", "dear", "not an amount"},
		{"only a minus", "-", "not an amount"},
		{"only a point", ".", "not an amount"},
		{"minus and point", "-.", "not an amount"},
		{"plus", "+5", "not an amount"},
		{"two minuses", "--5", "not an amount"},
		{"space inside", "1 000", "not an amount"},
		{"currency", "5 EUR", "not an amount"},
		{"exponent", "1e3", "not an amount"},
		{"hexadecimal", "0x1F", "not an amount"},
		{"fraction", "1/2", "not an amount"},
		{"not a number", "NaN", "not an amount"},
		{"infinity", "Inf", "not an amount"},
		{"two points", "1.2.3", "not an amount"},
		{"two commas", "1,000,000", "not an amount"},
		{"comma and point", "1,000.50", "not an amount"},
		{"comma that may group thousands", "1,500", "1.500 or 1500"},
		{"minus, comma that may group thousands", "-12,345", "-12.345 or -12345"},
		{"five decimals", "0.00001", "more than four decimals"},
		{"too large", "1000000000.0001", "at most"},
		{"too small", "-1000000000.0001", "at most"},
		{"beyond int64", "99999999999999999999", "at most"},
		{"too many digits", strings.Repeat("0", 25), "not an amount"},
	} {
		got, err := Parse(c.in)
		if err == nil {
			t.Errorf("%s: Parse(%q) = %v, want an error", c.name, c.in, got)
			continue
		}
		if !strings.Contains(err.Error(), c.say) {
			t.Errorf("%s: Parse(%q) says %q, want something with %q", c.name, c.in, err, c.say)
		}
	}
}

func TestString(t *testing.T) {
	for _, c := range []struct {
		a    Amount
		want string
	}{
		{0, "0.00"},
		{One, "1.00"},
		{-One, "-1.00"},
		{845_000, "84.50"},
		{3850, "0.385"},
		{1, "0.0001"},
		{-1, "-0.0001"},
		{-32_500, "-3.25"},
		{10 * One, "10.00"},
		{Max, "1000000000.00"},
		{-Max, "-1000000000.00"},
		{Max - 1, "999999999.9999"},
	} {
		if got := c.a.String(); got != c.want {
			t.Errorf("String of %d = %s, want %s", int64(c.a), got, c.want)
		}
	}
}

// TestExact: sums do not drift, as sums of binary fractions do.
func TestExact(t *testing.T) {
	tenth, err := Parse("0.10")
	if err != nil {
		t.Fatal(err)
	}
	var sum Amount
	float := 0.0
	for range 1000 {
		sum += tenth
		float += 0.1
	}
	if sum != 100*One || sum.String() != "100.00" {
		t.Errorf("a thousand times 0.10 = %v", sum)
	}
	if float == 100 {
		t.Error("the comparison with float64 has lost its point")
	}
	if got := sum.Float(); got != 100 {
		t.Errorf("Float = %v, want 100", got)
	}
}

// TestRoundTrip: every amount prints exactly and reads back as itself.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Amount(rapid.OneOf(rapid.Int64Range(-int64(Max), int64(Max)), rapid.Int64Range(-20_000, 20_000)).Draw(t, "amount"))
		s := a.String()
		if got, err := Parse(s); err != nil || got != a {
			t.Fatalf("Parse(%q) = %d, %v, want %d", s, got, err, a)
		}
		r, ok := new(big.Rat).SetString(s)
		if !ok || r.Cmp(big.NewRat(int64(a), int64(One))) != 0 {
			t.Fatalf("%d prints as %s", int64(a), s)
		}
		if _, decimals, _ := strings.Cut(s, "."); len(decimals) < 2 || len(decimals) > 4 {
			t.Fatalf("%s has %d decimals, want 2 to 4", s, len(decimals))
		}
		if f, _ := strconv.ParseFloat(s, 64); f != a.Float() {
			t.Fatalf("Float of %s = %v", s, a.Float())
		}
	})
}

// FuzzParse: no panic, nothing beyond the bound, and what was read prints and
// reads as the same amount.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"84.50", "0,385", "-3", "1,500", "1e9", ".", "-.5", "5.", "1_0", "0x1", "1/3", " 7\n", "", "００"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a, err := Parse(s)
		if err != nil {
			if a != 0 || err.Error() == "" {
				t.Fatalf("Parse(%q) = %v with error %q", s, a, err)
			}
			return
		}
		if a > Max || a < -Max {
			t.Fatalf("Parse(%q) = %d, beyond the bound", s, a)
		}
		if back, err := Parse(a.String()); err != nil || back != a {
			t.Fatalf("Parse(%q) = %d, %v, want %d", a.String(), back, err, a)
		}
		// The value is the one a decimal point gives.
		r, ok := new(big.Rat).SetString(strings.Replace(strings.TrimSpace(s), ",", ".", 1))
		if !ok || r.Cmp(big.NewRat(int64(a), int64(One))) != 0 {
			t.Fatalf("Parse(%q) = %v", s, a)
		}
	})
}

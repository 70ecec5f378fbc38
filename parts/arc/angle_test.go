package arc

import (
	"testing"

	"pgregory.net/rapid"
)

func TestParseAngle(t *testing.T) {
	for in, want := range map[string]Angle{
		"38": 38 * Degree, " 37.85 ": 37_850_000, "37,85 deg": 37_850_000, "90°": 90 * Degree, "0.0000005": 1, "0.0000004": 0,
		"1 degree": Degree, "-5 degrees": -5 * Degree, "+5": 5 * Degree, ".5": Degree / 2, "37,849": 37_849_000, "720": 720 * Degree,
	} {
		if got, err := ParseAngle(in); err != nil || got != want {
			t.Errorf("ParseAngle(%q) = %d, %v, want %d", in, got, err, want)
		}
	}
	for _, in := range []string{
		"", "-", "x", "1.2.3", "1e3", "0x1", "NaN", "90 rad", "1 2", "12345678901",
		"99999999999999999999999999999999999999999999999999999999999999999999", "1,234.5", "٣",
	} {
		if got, err := ParseAngle(in); err == nil || err.Error() == "" {
			t.Errorf("ParseAngle(%q) = %d, want an error", in, got)
		}
	}
	// What is printed reads back within the ten-thousandth it is rounded to.
	rapid.Check(t, func(t *rapid.T) {
		a := Angle(rapid.Int64Range(-int64(FullCircle), int64(FullCircle)).Draw(t, "angle"))
		got, err := ParseAngle(a.String())
		if err != nil || got-a > 50 || a-got > 50 {
			t.Fatalf("%d prints as %s, reads as %d, %v", a, a, got, err)
		}
		if fromRadians(a.radians()) != a {
			t.Fatalf("%d by radians is %d", a, fromRadians(a.radians()))
		}
	})
}

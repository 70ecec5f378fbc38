package length

import (
	"errors"
	"fmt"
	"math/big"
	"regexp"
	"strconv"
	"strings"
)

// A Unit is a unit of length a user can write.
type Unit struct {
	Name string // "mm", "cm", "m", "in" or "ft"
	Size Length
}

// The units known to [Parse].
var (
	MM = Unit{"mm", Millimetre}
	CM = Unit{"cm", Centimetre}
	M  = Unit{"m", Metre}
	IN = Unit{"in", Inch}
	FT = Unit{"ft", Foot}
)

// ErrTooLong is the error of a length beyond [Max].
var ErrTooLong = errors.New("longer than 33.5 m, the most a job may hold")

// ParseUnit returns the unit of a name: mm, cm, m, in or ft, or the marks " and '.
func ParseUnit(s string) (Unit, error) {
	switch strings.TrimSpace(s) {
	case "mm":
		return MM, nil
	case "cm":
		return CM, nil
	case "m":
		return M, nil
	case "in", `"`, "″", "”", "inch", "inches":
		return IN, nil
	case "ft", "'", "′", "’", "foot", "feet":
		return FT, nil
	}
	return Unit{}, fmt.Errorf("unknown unit %q: use mm, cm, m, in or ft", s)
}

// A length is one or two terms, each a number and perhaps a unit; a number is a
// decimal, a fraction, or a whole number and a fraction.
var term = regexp.MustCompile(
	`^\s*(?:(\d+)[ \t]+(\d+)\s*/\s*(\d+)|(\d+)-(\d+)\s*/\s*(\d+)|(\d+)\s*/\s*(\d+)|(\d+(?:[.,]\d*)?|[.,]\d+))` +
		`\s*(mm|cm|m|inches|inch|in|feet|foot|ft|"|″|”|'|′|’)?`)

// A number that may be one with a decimal comma or one grouped by thousands.
var grouped = regexp.MustCompile(`^[1-9]\d{0,2},\d{3}$`)

// Parse reads a length: `600`, `18.5 mm`, `23 11/16 in`, `4'`, `1' 7 1/2"`,
// `-3`. A number without a unit has the unit def; in `1' 7` the inches may be
// left out. A decimal comma is accepted, except where the comma could as well
// group thousands: `1,220 mm` is an error, `2,440 m` (2440 m is no length of a
// job) and `0,385` are not. The result is rounded to the nearest unit; the error
// says what is wrong with s, without its place.
func Parse(s string, def Unit) (Length, error) {
	rest := strings.TrimSpace(s)
	if rest == "" {
		return 0, errors.New("empty length")
	}
	if len(rest) > 64 {
		return 0, fmt.Errorf("%q… is too long to be a length", rest[:24])
	}
	neg := false
	if r, ok := strings.CutPrefix(rest, "-"); ok {
		neg, rest = true, r
	} else {
		rest = strings.TrimPrefix(rest, "+")
	}
	sum := new(big.Rat)
	feet := false // the first term is in feet and says so
	var doubt error
	for n := 0; n == 0 || rest != ""; n++ {
		m := term.FindStringSubmatch(rest)
		if m == nil || n > 1 {
			return 0, fmt.Errorf("%q is not a length: write a number, perhaps with a fraction, and mm, cm, m, in or ft", s)
		}
		value, err := number(m)
		if err != nil {
			return 0, fmt.Errorf("%q: %w", s, err)
		}
		unit := def
		if m[10] != "" {
			if unit, err = ParseUnit(m[10]); err != nil {
				return 0, err
			}
		} else if n == 1 {
			unit = IN
		}
		if n == 1 && (!feet || unit != IN) {
			return 0, fmt.Errorf("%q is not a length: only feet can be followed by inches", s)
		}
		feet = m[10] != "" && unit == FT
		if grouped.MatchString(m[9]) && groupedLength(m[9], unit) {
			point, whole := strings.Replace(m[9], ",", ".", 1), strings.Replace(m[9], ",", "", 1)
			doubt = fmt.Errorf("%q may mean %s or %s: write one of them, without the comma", s, point, whole)
		}
		sum.Add(sum, value.Mul(value, new(big.Rat).SetInt64(int64(unit.Size))))
		rest = strings.TrimSpace(rest[len(m[0]):])
	}
	if doubt != nil {
		return 0, doubt
	}
	units := round(sum)
	if !units.IsInt64() || units.Int64() > int64(Max) {
		return 0, fmt.Errorf("%q is %w", s, ErrTooLong)
	}
	if neg {
		return Length(-units.Int64()), nil
	}
	return Length(units.Int64()), nil
}

// groupedLength reports whether digits, read as grouped by thousands, is within
// [Max]: only then is a comma in them in doubt.
func groupedLength(digits string, unit Unit) bool {
	n, err := strconv.ParseInt(strings.Replace(digits, ",", "", 1), 10, 64)
	return err == nil && n <= int64(Max/unit.Size)
}

// number evaluates the number of a matched term.
func number(m []string) (*big.Rat, error) {
	whole, num, den := "0", "", ""
	switch {
	case m[3] != "":
		whole, num, den = m[1], m[2], m[3]
	case m[6] != "":
		whole, num, den = m[4], m[5], m[6]
	case m[8] != "":
		num, den = m[7], m[8]
	default:
		r, ok := new(big.Rat).SetString(strings.Replace(m[9], ",", ".", 1))
		if !ok {
			return nil, errors.New("not a number")
		}
		return r, nil
	}
	d, ok := new(big.Rat).SetString(den)
	if !ok || d.Sign() == 0 {
		return nil, errors.New("a fraction cannot be over zero")
	}
	n, _ := new(big.Rat).SetString(num)
	w, _ := new(big.Rat).SetString(whole)
	return w.Add(w, n.Quo(n, d)), nil
}

// round returns the whole number nearest to a non-negative r, halves up.
func round(r *big.Rat) *big.Int {
	n := new(big.Int).Mul(r.Num(), big.NewInt(2))
	n.Add(n, r.Denom())
	return n.Quo(n, new(big.Int).Mul(r.Denom(), big.NewInt(2)))
}

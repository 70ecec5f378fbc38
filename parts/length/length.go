package length

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
)

// Length is a length, or a coordinate, in eighths of a micrometre.
type Length int64

// The units a length can be written in.
const (
	Micrometre Length = 8
	Millimetre        = 1000 * Micrometre
	Centimetre        = 10 * Millimetre
	Metre             = 1000 * Millimetre
	Inch              = 25400 * Micrometre
	Foot              = 12 * Inch

	// Max bounds every length of a job, about 33.5 m. See the package comment
	// for what rests on it.
	Max Length = 1 << 28
)

// MM returns l in millimetres, rounded to a float64; [FromMM] gives l back.
func (l Length) MM() float64 { return float64(l) / float64(Millimetre) }

// Inches returns l in inches, rounded to a float64.
func (l Length) Inches() float64 { return float64(l) / float64(Inch) }

// FromMM returns the length nearest to a number of millimetres. It is for
// computed values (arc points); what a user wrote goes through [Parse]. NaN and
// values beyond [Max] give an error.
func FromMM(mm float64) (Length, error) {
	v := math.Round(mm * float64(Millimetre))
	if math.IsNaN(v) || math.Abs(v) > float64(Max) {
		return 0, fmt.Errorf("%v mm is not a length up to %v", mm, Max)
	}
	return Length(v), nil
}

// Abs returns the absolute value of l.
func (l Length) Abs() Length {
	if l < 0 {
		return -l
	}
	return l
}

// EvenUp returns l, or the next greater length, so that half of it is a whole
// number of units. A kerf is centred on its line, so its half must be exact.
func (l Length) EvenUp() Length { return l + l&1 }

// String returns l in millimetres with its unit, exactly: "18.5 mm".
func (l Length) String() string { return l.Decimal() + " mm" }

// Decimal returns l in millimetres without a unit, exactly, with no more
// decimals than needed (six at most).
func (l Length) Decimal() string {
	sign := ""
	if l < 0 {
		sign, l = "-", -l
	}
	whole, rest := l/Millimetre, l%Millimetre
	if rest == 0 {
		return sign + strconv.FormatInt(int64(whole), 10)
	}
	// 1/8000 mm is 0.000125 mm: six decimals are exact.
	frac := fmt.Sprintf("%06d", int64(rest)*125)
	return sign + strconv.FormatInt(int64(whole), 10) + "." + strings.TrimRight(frac, "0")
}

// Fixed returns l in millimetres rounded to a number of decimals (0 to 6), ties
// away from zero, trailing zeros kept.
func (l Length) Fixed(decimals int) string {
	s := new(big.Rat).SetFrac64(int64(l), int64(Millimetre)).FloatString(decimals)
	if l < 0 && strings.Trim(s, "-0.") == "" {
		return s[1:] // no minus before a zero
	}
	return s
}

// Fraction returns l in inches to the nearest 1/denominator of an inch, as a
// shop writes it: `23 11/16"`. The fraction is reduced; denominator is a power
// of two from 1 to 64.
func (l Length) Fraction(denominator int64) string {
	sign := ""
	if l < 0 {
		sign, l = "-", -l
	}
	n := (int64(l)*denominator*2 + int64(Inch)) / (2 * int64(Inch))
	if n == 0 {
		sign = "" // no minus before a zero
	}
	whole, num, den := n/denominator, n%denominator, denominator
	for num != 0 && num%2 == 0 {
		num, den = num/2, den/2
	}
	switch {
	case num == 0:
		return fmt.Sprintf(`%s%d"`, sign, whole)
	case whole == 0:
		return fmt.Sprintf(`%s%d/%d"`, sign, num, den)
	}
	return fmt.Sprintf(`%s%d %d/%d"`, sign, whole, num, den)
}

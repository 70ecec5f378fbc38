package arc

import (
	"fmt"
	"math"
	"math/big"
	"regexp"
	"strconv"
	"strings"
)

// Angle is an angle in millionths of a degree.
type Angle int64

// Angles.
const (
	Degree     Angle = 1_000_000
	HalfCircle       = 180 * Degree
	FullCircle       = 360 * Degree
)

// degrees matches a decimal number of degrees.
var degrees = regexp.MustCompile(`^([-+]?(?:\d{1,9}(?:[.,]\d*)?|[.,]\d+))\s*(?:°|deg|degrees?)?$`)

// ParseAngle reads an angle in degrees: `38`, `37.85`, `37,85 deg`, `90°`, rounded
// to a millionth of a degree. Whether an arc can have it is for [Solve] to say. The
// error says what is wrong with s.
func ParseAngle(s string) (Angle, error) {
	t := strings.TrimSpace(s)
	if len(t) > 64 {
		return 0, fmt.Errorf("%q… is too long to be an angle", string([]rune(t)[:16]))
	}
	m := degrees.FindStringSubmatch(t)
	if m == nil {
		return 0, fmt.Errorf("%q is not an angle: write degrees, such as 37.5", s)
	}
	r, ok := new(big.Rat).SetString(strings.Replace(m[1], ",", ".", 1))
	if !ok {
		return 0, fmt.Errorf("%q is not an angle: write degrees, such as 37.5", s)
	}
	// FloatString rounds, ties away from zero; nine digits of degrees fit.
	n, err := strconv.ParseInt(r.Mul(r, big.NewRat(int64(Degree), 1)).FloatString(0), 10, 64)
	return Angle(n), err
}

// Degrees returns a in degrees.
func (a Angle) Degrees() float64 { return float64(a) / float64(Degree) }

// String returns a in degrees, rounded to ten-thousandths, without the unit.
func (a Angle) String() string {
	s := strconv.FormatFloat(a.Degrees(), 'f', 4, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// radians returns a in radians.
func (a Angle) radians() float64 { return float64(a) / float64(HalfCircle) * math.Pi }

// fromRadians returns the nearest Angle.
func fromRadians(v float64) Angle { return Angle(math.Round(v / math.Pi * float64(HalfCircle))) }

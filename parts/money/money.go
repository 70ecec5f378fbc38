// Package money holds amounts exactly: an integer count of ten-thousandths of
// the job's currency, so that a price of 0.385 a metre is held as written and
// sums do not drift. The currency itself is a word of the job.
package money

import (
	"errors"
	"fmt"
	"math/big"
	"regexp"
	"strings"
)

// Amount is an amount of money in 1/10,000 of the currency.
type Amount int64

// One is one whole unit of the currency, and Max the largest amount that is
// read: a thousand million.
const (
	One Amount = 10_000
	Max        = 1_000_000_000 * One
)

// A number that may be one with a decimal comma or one grouped by thousands.
var grouped = regexp.MustCompile(`^-?[1-9]\d{0,2},\d{3}$`)

// Parse reads a plain decimal such as `84.50` or `0,385`; more than four
// decimals, signs other than a minus, and amounts beyond Max are errors, and so
// is a comma that may be decimal or group thousands: `1,500`.
func Parse(s string) (Amount, error) {
	t := strings.Replace(strings.TrimSpace(s), ",", ".", 1)
	digits := strings.TrimPrefix(t, "-")
	if digits == "" || strings.Trim(digits, "0123456789.") != "" || strings.Count(digits, ".") > 1 || digits == "." || len(digits) > 24 {
		return 0, fmt.Errorf("%q is not an amount: write it as 84.50", s)
	}
	r, ok := new(big.Rat).SetString(t)
	if !ok {
		return 0, fmt.Errorf("%q is not an amount: write it as 84.50", s)
	}
	if t := strings.TrimSpace(s); grouped.MatchString(t) {
		return 0, fmt.Errorf("%q may mean %s or %s: write one of them, without the comma", s,
			strings.Replace(t, ",", ".", 1), strings.Replace(t, ",", "", 1))
	}
	r.Mul(r, new(big.Rat).SetInt64(int64(One)))
	if !r.IsInt() {
		return 0, fmt.Errorf("%q has more than four decimals", s)
	}
	if !r.Num().IsInt64() || Amount(r.Num().Int64()) > Max || Amount(r.Num().Int64()) < -Max {
		return 0, errors.New("an amount can be at most 1,000,000,000")
	}
	return Amount(r.Num().Int64()), nil
}

// Float returns a in whole units of the currency.
func (a Amount) Float() float64 { return float64(a) / float64(One) }

// String returns a with two decimals, or more when they are not zero.
func (a Amount) String() string {
	sign := ""
	if a < 0 {
		sign, a = "-", -a
	}
	s := fmt.Sprintf("%s%d.%04d", sign, a/One, a%One)
	for range 2 {
		s = strings.TrimSuffix(s, "0")
	}
	return s
}

package parts

import (
	"fmt"
	"slices"
	"strings"

	"panelyard/parts/length"
)

// Figures is how the papers of a job write numbers. The zero value writes lengths in
// the unit of the job, inches as exact fractions or as decimals, a decimal point, and
// nothing between thousands.
type Figures struct {
	Unit      length.Unit // MM or IN; the zero value is the unit of the job
	Fraction  int64       // 16, 32 or 64: inches are rounded to such parts; 0 does not round
	Comma     bool        // a decimal comma, not a point
	Thousands string      // what stands between thousands, one of the values of [Thousands]
}

// Fractions are the parts of an inch that lengths can be rounded to.
var Fractions = []int64{16, 32, 64}

// Thousands has the marks between thousands by name. The space does not break lines.
var Thousands = map[string]string{"none": "", "space": "\u00a0", "point": ".", "comma": ",", "apostrophe": "'"}

// ThousandsNames are the names of [Thousands], as messages list them.
var ThousandsNames = []string{"none", "space", "point", "comma", "apostrophe"}

// Check says what is wrong with the figures of a job that is written in the unit own,
// or returns nil.
func (f Figures) Check(own length.Unit) error {
	mark := "."
	if f.Comma {
		mark = ","
	}
	switch {
	case f.Thousands == mark:
		return fmt.Errorf("%q would stand both between thousands and before decimals", mark)
	case f.Fraction != 0 && !slices.Contains(Fractions, f.Fraction):
		return fmt.Errorf("an inch is divided into 16, 32 or 64, not %d", f.Fraction)
	case f.Fraction != 0 && !f.In(own):
		return fmt.Errorf("fractions are of an inch, and lengths are written in millimetres")
	}
	return nil
}

// In reports whether lengths are written in inches, in papers of a job that is written
// in the unit own.
func (f Figures) In(own length.Unit) bool {
	if f.Unit != (length.Unit{}) {
		own = f.Unit
	}
	return own == length.IN || own == length.FT
}

// Mark writes the marks of f into a number that has a decimal point, or none, and
// nothing between thousands: "-1234.5" becomes "-1'234,5".
func (f Figures) Mark(number string) string {
	whole, decimals, fraction := strings.Cut(number, ".")
	if f.Thousands != "" {
		sign := ""
		if strings.HasPrefix(whole, "-") {
			sign, whole = "-", whole[1:]
		}
		for at := len(whole) - 3; at > 0; at -= 3 {
			whole = whole[:at] + f.Thousands + whole[at:]
		}
		whole = sign + whole
	}
	switch {
	case !fraction:
		return whole
	case f.Comma:
		return whole + "," + decimals
	}
	return whole + "." + decimals
}

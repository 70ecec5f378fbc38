package export

import (
	"strconv"
	"strings"

	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// Lengths writes lengths for people, in the unit of the papers: millimetres, or
// inches when the job file is in inches or feet. The zero value writes
// millimetres.
type Lengths struct{ inches bool }

// Lengths returns how the papers of x write lengths.
func (x *Dossier) Lengths() Lengths { return LengthsOf(x.Job) }

// LengthsOf returns how the papers of a job write lengths.
func LengthsOf(j *parts.Job) Lengths {
	return Lengths{inches: j.Units == length.IN || j.Units == length.FT}
}

// Unit returns the unit for a header: mm or in.
func (w Lengths) Unit() string {
	if w.inches {
		return "in"
	}
	return "mm"
}

// Word returns the unit in words: millimetres or inches.
func (w Lengths) Word() string {
	if w.inches {
		return "inches"
	}
	return "millimetres"
}

// Text writes a length without its unit: in millimetres rounded to a hundredth;
// in inches as a fraction when it is a whole number of sixty-fourths, and
// otherwise rounded to a thousandth.
func (w Lengths) Text(l length.Length) string { return w.rounded(l, 2, 3) }

// Short writes a length without its unit where room is scarce and nothing is cut
// to it: as Text does, but rounded to a tenth of a millimetre or a hundredth of
// an inch.
func (w Lengths) Short(l length.Length) string { return w.rounded(l, 1, 2) }

// Size writes length × width as Text does.
func (w Lengths) Size(p geom.Point) string { return w.Text(p.X) + " × " + w.Text(p.Y) }

func (w Lengths) rounded(l length.Length, mm, in int) string {
	if !w.inches {
		return trimZeros(l.Fixed(mm))
	}
	const sixtyFourth = length.Inch / 64
	if l%sixtyFourth == 0 {
		return strings.TrimSuffix(l.Fraction(64), `"`)
	}
	return trimZeros(strconv.FormatFloat(l.Inches(), 'f', in, 64))
}

// trimZeros takes the zeros off the end of a decimal.
func trimZeros(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

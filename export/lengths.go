package export

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/money"
)

// Lengths writes lengths, and other numbers, for people, as the figures of a job say:
// in millimetres or inches, with its marks. The zero value writes millimetres.
type Lengths struct {
	inches  bool
	figures parts.Figures
}

// Lengths returns how the papers of x write lengths.
func (x *Dossier) Lengths() Lengths { return LengthsOf(x.Job) }

// LengthsOf returns how the papers of a job write lengths.
func LengthsOf(j *parts.Job) Lengths { return Lengths{j.Figures.In(j.Units), j.Figures} }

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

// Rounding says how lengths are rounded where that is worth saying: that of
// fractions. It is empty otherwise.
func (w Lengths) Rounding() string {
	if !w.inches || w.figures.Fraction == 0 {
		return ""
	}
	return fmt.Sprintf("to the nearest 1/%d; + is a little more, - a little less", w.figures.Fraction)
}

// Text writes a length without its unit: in millimetres rounded to a hundredth;
// in inches as a fraction when it is a whole number of sixty-fourths, and
// otherwise rounded to a thousandth. Where the figures ask for fractions it is the
// nearest one, with + or - when the length is more or less by over 0.01 mm.
func (w Lengths) Text(l length.Length) string { return w.rounded(l, true) }

// Short writes a length without its unit where room is scarce and nothing is cut
// to it: as Text does, but rounded to a tenth of a millimetre or a hundredth of
// an inch, and fractions without + or -.
func (w Lengths) Short(l length.Length) string { return w.rounded(l, false) }

// Exact writes a length without its unit where a fraction would be too coarse, such as
// the width of a kerf and how deep it goes: in millimetres rounded to a hundredth, in
// inches as a fraction of 64ths when it is one and otherwise rounded to a thousandth,
// whatever fractions are asked for.
func (w Lengths) Exact(l length.Length) string {
	w.figures.Fraction = 0
	return w.Text(l)
}

// Size writes length × width as Text does.
func (w Lengths) Size(p geom.Point) string { return w.Text(p.X) + " × " + w.Text(p.Y) }

// rounded writes a length, fine as Text does or not as Short does.
func (w Lengths) rounded(l length.Length, fine bool) string {
	mm, in := 1, 2
	if fine {
		mm, in = 2, 3
	}
	if !w.inches {
		return w.figures.Mark(trimZeros(l.Fixed(mm)))
	}
	den := cmp.Or(w.figures.Fraction, 64)
	if w.figures.Fraction == 0 && l%(length.Inch/64) != 0 {
		return w.figures.Mark(trimZeros(strconv.FormatFloat(l.Inches(), 'f', in, 64)))
	}
	text := strings.TrimSuffix(l.Fraction(den), `"`)
	if !fine || w.figures.Fraction == 0 {
		return text
	}
	// Rounded the way [length.Length.Fraction] does, ties away from zero.
	part := length.Inch / length.Length(den)
	near := (l.Abs() + part/2) / part * part
	if l < 0 {
		near = -near
	}
	switch over := l - near; {
	case over > inexact:
		return text + "+"
	case over < -inexact:
		return text + "-"
	}
	return text
}

// inexact is the most by which a fraction may differ from its length without a sign.
const inexact = length.Millimetre / 100

// trimZeros takes the zeros off the end of a decimal.
func trimZeros(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// Decimal writes a number with so many decimals.
func (w Lengths) Decimal(value float64, decimals int) string {
	return w.figures.Mark(strconv.FormatFloat(value, 'f', decimals, 64))
}

// Amount writes an amount without its currency.
func (w Lengths) Amount(a money.Amount) string { return w.figures.Mark(a.String()) }

// Count writes a whole number.
func (w Lengths) Count(n int) string { return w.figures.Mark(strconv.Itoa(n)) }

// Metres writes a long length in metres with so many decimals, without the unit.
func (w Lengths) Metres(l length.Length, decimals int) string {
	return w.Decimal(float64(l)/float64(length.Metre), decimals)
}

package xlsx

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"panelyard/parts/length"
	"panelyard/parts/money"
)

// lengths writes lengths in the unit of the papers.
type lengths struct{ inches bool }

func newLengths(u length.Unit) lengths {
	return lengths{inches: u == length.IN || u == length.FT}
}

// unit returns the unit for a header.
func (u lengths) unit() string {
	if u.inches {
		return "in"
	}
	return "mm"
}

// cell returns a numeric cell for a length.
func (u lengths) cell(l length.Length) cell {
	if !u.inches {
		return millimetres(l)
	}
	const sixtyFourth = length.Inch / 64
	if l%sixtyFourth != 0 {
		return decimal(l.Inches(), 3, 3)
	}
	// The fraction is reduced by the choice of the denominator; a number format
	// for any denominator would show some lengths as a rounded one.
	den := length.Length(64)
	for den > 1 && l%(2*length.Inch/den) == 0 {
		den /= 2
	}
	c := cell{value: l.Inches(), shown: strings.TrimSuffix(l.Fraction(64), `"`)}
	switch {
	case den == 1:
		c.look.format = "0"
	case den < 10:
		c.look.format = fmt.Sprintf("# ?/%d", den)
	default:
		c.look.format = fmt.Sprintf("# ??/%d", den)
	}
	return c
}

// text writes a length with its unit, for cells of text.
func (u lengths) text(l length.Length) string { return u.cell(l).shown + " " + u.unit() }

func millimetres(l length.Length) cell {
	decimals := 1
	if _, frac, ok := strings.Cut(l.Decimal(), "."); ok {
		decimals = min(len(frac), 3)
	}
	return cell{value: l.MM(), shown: l.Fixed(decimals), look: look{format: "0." + strings.Repeat("0", decimals)}}
}

// metres returns a numeric cell for a long length in metres.
func metres(l length.Length) cell {
	return decimal(float64(l)/float64(length.Metre), 2, 3)
}

// decimal returns a numeric cell that shows at least and at most so many
// decimals. A value that is no number, which would be a defect, leaves the cell
// empty.
func decimal(v float64, least, most int) cell {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return cell{}
	}
	format := "0"
	if most > 0 {
		format += "." + strings.Repeat("0", least) + strings.Repeat("#", most-least)
	}
	return cell{value: v, shown: strconv.FormatFloat(v, 'f', most, 64), look: look{format: format}}
}

// amount returns a numeric cell for money: two decimals, or up to four where
// they are needed, so that the sums add up as they are shown.
func amount(a money.Amount) cell {
	return cell{value: a.Float(), shown: a.String(), look: look{format: "0.00##"}}
}

// count returns a numeric cell for a whole number.
func count(n int) cell {
	return cell{value: n, shown: strconv.Itoa(n), look: look{format: "0"}}
}

// squareMetres returns a numeric cell for an area in square millimetres.
func squareMetres(mm2 float64) cell { return decimal(mm2/1e6, 3, 3) }

// kilograms returns a numeric cell for a mass; an unknown one, 0, stays empty.
func kilograms(kg float64) cell {
	if kg == 0 {
		return cell{}
	}
	return decimal(kg, 2, 2)
}

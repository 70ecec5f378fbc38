package xlsx

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"panelyard/export"
	"panelyard/parts/length"
	"panelyard/parts/money"
)

// lengths writes lengths in the unit of the papers: in cells of numbers itself, in
// words as all papers do.
type lengths struct {
	inches bool
	part   length.Length // of an inch that cells are shown to; 0 for exact ones
	export.Lengths
}

func newLengths(d *export.Dossier) lengths {
	u := lengths{Lengths: d.Lengths(), inches: d.Lengths().Unit() == length.IN.Name}
	if f := d.Job.Figures.Fraction; f > 0 {
		u.part = length.Inch / length.Length(f)
	}
	return u
}

// sixtyFourth is the finest fraction of an inch on a rule.
const sixtyFourth = length.Inch / 64

// cell returns a numeric cell for a length. It holds the length itself, and shows the
// nearest fraction where the figures of the job ask for one.
func (u lengths) cell(l length.Length) cell {
	switch {
	case !u.inches:
		return millimetres(l)
	case u.part > 0:
		return fraction(l, (l+u.part/2)/u.part*u.part)
	case l%sixtyFourth != 0:
		return decimal(l.Inches(), 3, 3)
	}
	return fraction(l, l)
}

// otherUnit returns the unit that the papers are not in.
func (u lengths) otherUnit() string {
	if u.inches {
		return "mm"
	}
	return "in"
}

// other returns a numeric cell for a length in the unit that the papers are not in. It
// holds the length itself, and shows the nearest sixty-fourth when that unit is the inch.
func (u lengths) other(l length.Length) cell {
	if u.inches {
		return millimetres(l)
	}
	return fraction(l, (l+sixtyFourth/2)/sixtyFourth*sixtyFourth)
}

// fraction returns a cell that holds a length in inches and shows it as the fraction
// that it is near, a whole number of sixty-fourths.
func fraction(l, near length.Length) cell {
	// The fraction is reduced by the choice of the denominator; a number format
	// for any denominator would show some lengths as a rounded one.
	den := length.Length(64)
	for den > 1 && near%(2*length.Inch/den) == 0 {
		den /= 2
	}
	c := cell{value: l.Inches(), shown: strings.TrimSuffix(near.Fraction(64), `"`)}
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

// words writes a length with its unit, for cells of text.
func (u lengths) words(l length.Length) string { return u.Text(l) + " " + u.Unit() }

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

// round returns a cell for a diameter.
func (c cell) round() cell { return c.marked("⌀ ", "") }

// marked puts words before and behind the number of a cell.
func (c cell) marked(before, behind string) cell {
	c.shown = before + c.shown + behind
	if before != "" {
		before = `"` + before + `"`
	}
	if behind != "" {
		behind = `"` + behind + `"`
	}
	c.look.format = before + c.look.format + behind
	return c
}

// percent returns a numeric cell for a share of 1.
func percent(v float64, decimals int) cell {
	c := decimal(v*100, decimals, decimals).marked("", "%")
	c.value = v
	c.look.format = strings.ReplaceAll(c.look.format, `"`, "")
	return c
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

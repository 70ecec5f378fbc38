package export_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/money"
)

// The papers write lengths in the unit of the job, without idle zeros.
func TestLengths(t *testing.T) {
	const um, in = length.Micrometre, length.Inch
	for _, c := range []struct {
		unit        length.Unit
		l           length.Length
		text, short string
	}{
		{length.MM, 0, "0", "0"},
		{length.MM, 600 * length.Millimetre, "600", "600"},
		{length.CM, 17700 * um, "17.7", "17.7"},
		{length.M, 17750 * um, "17.75", "17.8"},
		{length.MM, in / 64, "0.4", "0.4"}, // 0.396875
		{length.MM, 99999 * um, "100", "100"},
		{length.IN, 0, "0", "0"},
		{length.IN, 20 * in, "20", "20"},
		{length.IN, 23*in + in*11/16, "23 11/16", "23 11/16"},
		{length.FT, in / 64, "1/64", "1/64"},
		{length.IN, 600 * length.Millimetre, "23.622", "23.62"}, // 23.6220…
		{length.FT, 254 * um, "0.01", "0.01"},
	} {
		w := (&export.Dossier{Job: &parts.Job{Units: c.unit}}).Lengths()
		if got := w.Text(c.l); got != c.text {
			t.Errorf("%s: Text(%v) = %q, want %q", c.unit.Name, c.l, got, c.text)
		}
		if got := w.Short(c.l); got != c.short {
			t.Errorf("%s: Short(%v) = %q, want %q", c.unit.Name, c.l, got, c.short)
		}
	}
	w := (&export.Dossier{Job: &parts.Job{Units: length.FT}}).Lengths()
	if got := w.Size(geom.Pt(8*length.Foot, in/2)); got != "96 × 1/2" || w.Unit() != "in" || w.Word() != "inches" {
		t.Errorf("%q %s %s", got, w.Unit(), w.Word())
	}
	if w := (export.Lengths{}); w.Unit() != "mm" || w.Word() != "millimetres" {
		t.Errorf("%s %s", w.Unit(), w.Word())
	}
}

// Figures of the user's choosing: the fractions are those of the table of inch
// fractions and millimetres that handbooks print (1/64 in = 0.396875 mm), from memory.
func TestFiguresOfLengths(t *testing.T) {
	const mm, in = length.Millimetre, length.Inch
	for _, c := range []struct {
		figures     parts.Figures
		l           length.Length
		text, short string
	}{
		{parts.Figures{Unit: length.IN, Fraction: 16}, 600 * mm, "23 5/8-", "23 5/8"}, // 23.622: 0.075 mm less
		{parts.Figures{Unit: length.IN, Fraction: 32}, 601 * mm, "23 21/32+", "23 21/32"},
		{parts.Figures{Unit: length.IN, Fraction: 64}, 18 * mm, "45/64+", "45/64"}, // 17.859
		{parts.Figures{Unit: length.IN, Fraction: 16}, 23*in + in*11/16, "23 11/16", "23 11/16"},
		{parts.Figures{Unit: length.IN, Fraction: 16}, in / 32, "1/16-", "1/16"}, // the tie goes up
		{parts.Figures{Unit: length.IN, Fraction: 16}, in/16 + mm/100, "1/16", "1/16"},
		{parts.Figures{Unit: length.IN, Fraction: 16}, -600 * mm, "-23 5/8+", "-23 5/8"},
		{parts.Figures{Unit: length.IN, Fraction: 64}, 0, "0", "0"},
		{parts.Figures{Unit: length.IN, Comma: true}, 600 * mm, "23,622", "23,62"},
		{parts.Figures{Comma: true, Thousands: "."}, 2440*mm + mm/2, "2.440,5", "2.440,5"},
		{parts.Figures{Thousands: ","}, 999 * mm, "999", "999"},
	} {
		w := export.LengthsOf(&parts.Job{Units: length.MM, Figures: c.figures})
		if got := w.Text(c.l); got != c.text {
			t.Errorf("%+v: Text(%v) = %q, want %q", c.figures, c.l, got, c.text)
		}
		if got := w.Short(c.l); got != c.short {
			t.Errorf("%+v: Short(%v) = %q, want %q", c.figures, c.l, got, c.short)
		}
	}
	x := &export.Dossier{Job: &parts.Job{Currency: "EUR", Units: length.FT, Figures: parts.Figures{Unit: length.MM, Comma: true, Thousands: " "}}}
	w := x.Lengths()
	for got, want := range map[string]string{
		x.Money(1234*money.One + money.One/2): "1 234,50 EUR", w.Unit(): "mm", w.Decimal(0.5, 2): "0,50",
		w.Count(12345): "12 345", w.Metres(1234*length.Metre, 1): "1 234,0", w.Rounding(): "",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Whatever the fraction, what is printed reads back to within half of it, and the sign
// says on which side.
func TestFractionsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := length.Length(rapid.Int64Range(0, int64(length.Max-length.Inch)).Draw(t, "l"))
		den := rapid.SampledFrom(parts.Fractions).Draw(t, "den")
		text := export.LengthsOf(&parts.Job{Units: length.IN, Figures: parts.Figures{Fraction: den}}).Text(l)
		bare := strings.TrimRight(text, "+-")
		back, err := length.Parse(bare, length.IN)
		if err != nil {
			t.Fatal(err)
		}
		over := l - back
		if over.Abs() > length.Inch/length.Length(2*den)+1 {
			t.Fatalf("%v is printed %s, %v away", l, text, over)
		}
		if want := map[bool]string{true: "+"}[over > length.Millimetre/100] + map[bool]string{true: "-"}[over < -length.Millimetre/100]; text != bare+want {
			t.Fatalf("%v is printed %s, which is %v away", l, text, over)
		}
	})
}

// Cautions speak the unit of the papers, and say when there is no sheet to spare.
func TestCautionsInUnit(t *testing.T) {
	for unit, want := range map[length.Unit]string{length.MM: "6 mm larger", length.IN: "0.236 in larger"} {
		j := exporttest.Job()
		j.Figures.Unit = unit
		j.Panels[0].Quantity, j.Spare = 9, 1
		for i := range j.Stock {
			j.Stock[i].Available = 20
		}
		d := exporttest.Dossier(t, j, kerf.Saw)
		all := fmt.Sprint(d.Cautions)
		if !strings.Contains(all, want) || strings.Contains(all, "no spare sheet") || strings.ContainsAny(all, "|") {
			t.Errorf("%s: %s", unit.Name, all)
		}
		for i := range j.Stock {
			j.Stock[i].Available = d.Problem.Count(d.Plan)[i]
		}
		if d = exporttest.Dossier(t, j, kerf.Saw); !strings.Contains(fmt.Sprint(d.Cautions), "no spare sheet") {
			t.Errorf("%s: there is none to spare, and nothing says so: %v", unit.Name, d.Cautions)
		}
	}
}

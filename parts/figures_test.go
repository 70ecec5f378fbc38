package parts_test

import (
	"strconv"
	"strings"
	"testing"

	"golang.org/x/text/language"
	"golang.org/x/text/message"
	textnumber "golang.org/x/text/number"

	"panelyard/parts"
	"panelyard/parts/length"
)

// Marks are those that golang.org/x/text writes for languages that use them (data of
// the Unicode CLDR): a general-purpose library as the outside opinion.
func TestMarkAsInLanguages(t *testing.T) {
	for _, c := range []struct {
		tag     language.Tag
		figures parts.Figures
	}{
		{language.English, parts.Figures{Thousands: parts.Thousands["comma"]}},
		{language.German, parts.Figures{Thousands: parts.Thousands["point"], Comma: true}},
		{language.Swedish, parts.Figures{Thousands: parts.Thousands["space"], Comma: true}},
		{language.MustParse("de-CH"), parts.Figures{Thousands: parts.Thousands["apostrophe"]}},
	} {
		p := message.NewPrinter(c.tag)
		for _, n := range []float64{0, 7, 12.5, 999.75, 1000, 2440, 99999.25, 123456.5, 1234567, 1e9 + 0.25} {
			want := p.Sprint(textnumber.Decimal(n, textnumber.MaxFractionDigits(2)))
			// CLDR has a curved apostrophe; a plain one is on every keyboard.
			want = strings.ReplaceAll(want, "’", "'")
			if got := c.figures.Mark(strconv.FormatFloat(n, 'f', -1, 64)); got != want {
				t.Errorf("%v: %v is %q, want %q", c.tag, n, got, want)
			}
		}
	}
	f := parts.Figures{Thousands: ","}
	for in, want := range map[string]string{"-1234.5": "-1,234.5", "-123": "-123", "-123456": "-123,456", "0.1234567": "0.1234567", "": ""} {
		if got := f.Mark(in); got != want {
			t.Errorf("%q is %q, want %q", in, got, want)
		}
	}
}

func TestFiguresCheck(t *testing.T) {
	for _, c := range []struct {
		name string
		f    parts.Figures
		own  length.Unit
		say  string
	}{
		{"nothing", parts.Figures{}, length.MM, ""},
		{"fractions of an inch job", parts.Figures{Fraction: 16}, length.FT, ""},
		{"fractions in inches", parts.Figures{Fraction: 64, Unit: length.IN}, length.MM, ""},
		{"comma and point", parts.Figures{Comma: true, Thousands: "."}, length.MM, ""},
		{"point twice", parts.Figures{Thousands: "."}, length.MM, "both between"},
		{"comma twice", parts.Figures{Comma: true, Thousands: ","}, length.MM, "both between"},
		{"tenths", parts.Figures{Fraction: 10, Unit: length.IN}, length.MM, "not 10"},
		{"fractions of millimetres", parts.Figures{Fraction: 16}, length.CM, "of an inch"},
		{"inch job in millimetres", parts.Figures{Fraction: 16, Unit: length.MM}, length.IN, "of an inch"},
	} {
		err := c.f.Check(c.own)
		if (err == nil) != (c.say == "") || err != nil && !strings.Contains(err.Error(), c.say) {
			t.Errorf("%s: %v, want %q", c.name, err, c.say)
		}
	}
}

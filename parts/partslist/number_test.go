package partslist

import (
	"math/big"
	"strings"
	"testing"

	"golang.org/x/text/language"
	"golang.org/x/text/message"
	textnumber "golang.org/x/text/number"
	"pgregory.net/rapid"

	"panelyard/parts/length"
)

const (
	mm   = length.Millimetre
	inch = length.Inch
)

func TestSize(t *testing.T) {
	for _, c := range []struct {
		text   string
		unit   length.Unit
		stated Mark
		want   length.Length // 0 is a mistake
		says   string
	}{
		{"600", length.MM, Unstated, 600 * mm, ""},
		{"600 mm", length.IN, Unstated, 600 * mm, ""},
		{"600\u00a0mm", length.IN, Unstated, 600 * mm, ""},
		{"23 11/16 in", length.MM, Unstated, 23*inch + 11*inch/16, ""},
		{"23\u00a011/16 in", length.MM, Unstated, 23*inch + 11*inch/16, ""},
		{"23\u00a0111/128 in", length.MM, Unstated, 23*inch + (111*inch+64)/128, ""}, // no group of thousands
		{`1' 7 1/2"`, length.MM, Unstated, 19*inch + inch/2, ""},
		{"18.5", length.MM, Unstated, 18*mm + mm/2, ""},
		{"18,5", length.MM, Unstated, 18*mm + mm/2, ""},
		{"0,385", length.M, Unstated, 385 * mm, ""},
		{"0.385", length.M, Unstated, 385 * mm, ""},
		{".5", length.MM, Unstated, mm / 2, ""},
		{"18.", length.MM, Unstated, 18 * mm, ""},
		{"1220.500", length.MM, Unstated, 1220*mm + mm/2, ""},
		// Both marks: the last is decimal.
		{"1.200,5", length.MM, Unstated, 1200*mm + mm/2, ""},
		{"1,200.5 mm", length.MM, Unstated, 1200*mm + mm/2, ""},
		// Typographic blanks group by three (ISO 80000-1, 7.3.1).
		{"1\u202f200", length.MM, Unstated, 1200 * mm, ""},
		{"1\u00a0200,5", length.MM, Unstated, 1200*mm + mm/2, ""},
		// Both readings are lengths of a job.
		{"1.200", length.MM, Unstated, 0, `"1.200" may mean 1.2 or 1200`},
		{"1,200 mm", length.MM, Unstated, 0, `may mean 1.2 mm or 1200 mm`},
		{"18.100", length.MM, Unstated, 0, `may mean 18.1 or 18100`},
		{"1.200 in", length.MM, Unstated, 0, "may mean 1.2 in or 1200 in"},
		// 23688 in, or 2440 m, is no length of a job.
		{"23.688 in", length.MM, Unstated, 23*inch + (688*inch+500)/1000, ""},
		{"2,440 m", length.MM, Unstated, 2440 * mm, ""},
		// Stated, the mark settles it.
		{"1.200", length.MM, Point, mm + mm/5, ""},
		{"1.200", length.MM, Comma, 1200 * mm, ""},
		{"1,200", length.MM, Point, 1200 * mm, ""},
		{"18.5", length.MM, Comma, 0, "decimal point"},
		{"18,5", length.MM, Point, 0, "decimal comma"},
		{"1.200,5", length.MM, Point, 0, "marks are in no order"},
		// Feet and inches, or thousands of another country.
		{"1'200", length.MM, Unstated, 0, `may mean 1' 200" or 1200`},
		{"1’200", length.MM, Unstated, 0, `may mean`},
		{"1' 11", length.MM, Unstated, 23 * inch, ""},
		{"1.2.3", length.MM, Unstated, 0, "marks are in no order"},
		{"12,34,5", length.MM, Unstated, 0, "marks are in no order"},
		{"1,23.5", length.MM, Unstated, 0, "marks are in no order"},
		{"1.234.567", length.MM, Unstated, 0, "longer than 33.5 m"},
		{"1 200", length.MM, Unstated, 0, "not a length"},
		{"6e2", length.MM, Unstated, 0, "not a length"},
		{"600", length.Unit{}, Unstated, 0, "no unit"},
		{"600 mm", length.Unit{}, Unstated, 600 * mm, ""},
		{strings.Repeat("6", 65), length.MM, Unstated, 0, "too long"},
	} {
		got, _, _, err := size(c.text, c.unit, c.stated)
		switch {
		case c.want == 0 && err == nil:
			t.Errorf("%q was read as %v", c.text, got)
		case c.want == 0 && !strings.Contains(err.Error(), c.says):
			t.Errorf("%q: %v, want %q", c.text, err, c.says)
		case c.want != 0 && (err != nil || got != c.want):
			t.Errorf("%q: %v, %v, want %v", c.text, got, err, c.want)
		}
	}
}

// Numbers as the locales of the Unicode CLDR write them, by golang.org/x/text, are
// read rightly or are in doubt, never wrongly.
func TestLocales(t *testing.T) {
	for _, tag := range []language.Tag{language.English, language.German, language.French, language.Polish, language.Swedish} {
		p := message.NewPrinter(tag)
		decimal := Comma
		if tag == language.English {
			decimal = Point
		}
		doubts := 0
		for _, tenths := range []int64{5, 12345, 3000, 12000, 99999, 1, 300005} {
			s := p.Sprint(textnumber.Decimal(float64(tenths)/10, textnumber.MaxFractionDigits(1)))
			want := length.Length(tenths) * mm / 10
			got, _, _, err := size(s, length.MM, Unstated)
			if err != nil {
				doubts++
			} else if got != want {
				t.Errorf("%v: %q was read as %v, want %v", tag, s, got, want)
			}
			if got, _, _, err := size(s, length.MM, decimal); err != nil || got != want {
				t.Errorf("%v, decimal %v: %q: %v, %v, want %v", tag, decimal, s, got, err, want)
			}
		}
		if doubts > 1 { // 1200 is the only one without a decimal and with a group
			t.Errorf("%v: %d doubts", tag, doubts)
		}
	}
}

// A number with a mark that can only be decimal is read as it is by package length,
// and the comma changes nothing.
func TestMarksAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.IntRange(0, 9999).Draw(t, "whole")
		fraction := rapid.StringMatching(`[0-9]{1,2}`).Draw(t, "fraction")
		s := new(big.Int).SetInt64(int64(whole)).String() + "." + fraction
		want, err := length.Parse(s, length.MM)
		if err != nil {
			t.Fatal(err)
		}
		for _, text := range []string{s, strings.Replace(s, ".", ",", 1)} {
			got, _, bare, err := size(text, length.MM, Unstated)
			if err != nil || got != want || !bare {
				t.Fatalf("%q: %v, %v, want %v", text, got, err, want)
			}
		}
	})
}

func TestQuantity(t *testing.T) {
	for s, want := range map[string]int{
		"2": 2, "0": 0, "02": 2, "2.0": 2, "2,00": 2, "x2": 2, "2x": 2, "2 X": 2, "3 pcs": 3, "1 pc.": 1, "+4": 4, "4 pieces": 4,
		"100000": MaxCopies, "2.": 2,
		"2.5": -1, "2,5": -1, "-1": -1, "-0": -1, "1.000": -1, "1,000": -1, "100001": -1, "two": -1, "2 of": -1, "1/2": -1, "2 2": -1, "1e3": -1,
		"": -1, "99999999999999999999": -1,
	} {
		n, err := quantity(s, true, Unstated)
		if (err != nil) != (want < 0) || err == nil && n != want {
			t.Errorf("%q: %d, %v, want %d", s, n, err, want)
		}
	}
	if n, err := quantity("1.000", true, Comma); n != 1000 || err != nil {
		t.Error(n, err)
	}
}

// Numbers of XML: 18.1 is stored as the nearest binary64, and some programs write
// 17 digits of it.
func TestDigits15(t *testing.T) {
	for s, want := range map[string]string{
		"18.100000000000001": "18.1", "0.30000000000000004": "0.3", "6E2": "600", "1e-3": "0.001", "600": "600", "-0.5": "-0.5",
		"123456789012345": "123456789012345", "23.6875": "23.6875",
		"NaN": "", "Inf": "", "0x10": "", "1_000": "", "": "", "1e400": "", "6,5": "",
	} {
		if got, ok := digits15(s); got != want || ok != (want != "") {
			t.Errorf("%q: %q, %v, want %q", s, got, ok, want)
		}
	}
}

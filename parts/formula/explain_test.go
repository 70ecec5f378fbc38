package formula

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panelyard/parts/length"
)

// A formula with values put in, as printed in millimetres and as a shop prints inches.
func TestExplain(t *testing.T) {
	s := names("depth", "560", "n", "2", "width", "600 mm", "height", "28 3/8 in", "low", "-3", "third", "1/3", "ratio", "0.25", "area", "width*width", "bad", "1/0", "below", "0 mm - 5 mm", "root", "sqrt(2)")
	inch := func(l length.Length) string { return l.Fraction(64) }
	for _, c := range []struct{ text, mm, in string }{
		{"depth - 2*thickness", "560 - 2*18.2 mm", `560 - 2*(23/32")`},
		{"width", "600 mm", `23 5/8"`},
		{"width - n*(height + 3 in)", "600 mm - 2*(720.725 mm + 3 in)", `23 5/8" - 2*(28 3/8" + 3 in)`},
		{"width/n", "600 mm/2", `23 5/8"/2`},
		{"width/thickness", "600 mm/(18.2 mm)", `23 5/8"/(23/32")`},
		{"low^2 - low", "(-3)^2 - (-3)", "(-3)^2 - (-3)"},
		{"max(low,n,low)", "max(-3, 2, -3)", "max(-3, 2, -3)"},
		{"max(3,n)", "max(3, 2)", "max(3, 2)"},
		{"third*width", "1/3*600 mm", `1/3*(23 5/8")`},
		{"width/third", "600 mm/(1/3)", `23 5/8"/(1/3)`},
		{"n-third", "2 - 1/3", "2 - 1/3"},
		{"width-(-n)*-third+low", "600 mm - (-2)*-(1/3)+(-3)", `23 5/8" - (-2)*-(1/3)+(-3)`},
		{"n/4 in", "(2)/4 in", "(2)/4 in"}, // 2/4 in would be a fraction
		{"ratio*pi*root", "0.25*pi*1.414214", "0.25*pi*1.414214"},
		{"area/width", "area/(600 mm)", `area/(23 5/8")`},
		{"bad + unknown + 3 in", "bad + unknown + 3 in", "bad + unknown + 3 in"},
		{"below > low ? width : n", "-5 mm > -3 ? 600 mm : 2", `-13/64" > -3 ? 23 5/8" : 2`},
		{"hypot(width, height)", "hypot(600 mm, 720.725 mm)", `hypot(23 5/8", 28 3/8")`},
	} {
		f, p := Parse(c.text, length.MM)
		if p != nil {
			t.Fatal(p)
		}
		if got := f.Explain(s, length.Length.String); got != c.mm {
			t.Errorf("%q: %q, want %q", c.text, got, c.mm)
		}
		if got := f.Explain(s, inch); got != c.in {
			t.Errorf("%q: %q, want %q", c.text, got, c.in)
		}
	}
}

// Feet with a minus right after them are kept from looking like feet and inches.
func TestExplainFeet(t *testing.T) {
	feet := func(l length.Length) string { return l.String()[:1] + "'" }
	s := names("k", "4 mm", "b", "2")
	for text, want := range map[string]string{"k-b": "4' - 2", "k - b": "4' - 2", "4'-b": "4' - 2", "-k -b": "-4' -2", "k-3/4 in": "4' - 3/4 in"} {
		f, _ := Parse(text, length.MM)
		if got := f.Explain(s, feet); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// A formula with its values put in comes to the same as the formula, or has a mistake as
// it had. Values are such that their printing is exact.
func TestExplainComesToTheSame(t *testing.T) {
	s := names("a", "560", "b", "2", "c", "600 mm", "d", "28 3/8 in", "e", "-3", "f", "1/3", "g", "0.25", "h", "3/8 in", "i", "0 mm - 5 mm", "j", "0 in - 1/4 in", "k", "4 ft")
	prints := map[string]func(length.Length) string{
		"mm": length.Length.String,
		"in": func(l length.Length) string {
			if text := l.Fraction(64); exactly(text, l) {
				return text
			}
			return l.String()
		},
		"ft": func(l length.Length) string {
			if l%length.Foot == 0 && l > 0 {
				return strings.TrimSuffix(length.Length(l/12).Fraction(1), `"`) + "'"
			}
			return l.String()
		},
	}
	same := 0
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.SampledFrom([]string{
			"a", "b", "c", "d", "e", "f", "g", "h", "i", "j", "k", "3", "4 in", "3/4 in", "2 1/2", "4'", "6\"", "pi",
			"+", "-", "*", "/", "^2", "^", "(", ")", ",", " ", " ", " - ", " + ", "max(", "hypot(", "?", ":", " > ", "2*", "-1*",
		}), 1, 12).Draw(t, "tokens"), "")
		f, p := Parse(text, length.MM)
		if p != nil {
			t.Skip("no formula")
		}
		v, p := f.Eval(s)
		if p != nil {
			t.Skip("no value")
		}
		for unit, print := range prints {
			out := f.Explain(s, print)
			g, p := Parse(out, length.MM)
			if p != nil {
				t.Fatalf("%q in %s is %q: %v", text, unit, out, p)
			}
			w, p := g.Eval(names())
			if p != nil || w.dim != v.dim || w.num.Cmp(v.num) != 0 {
				t.Fatalf("%q = %v in %s is %q = %v %v", text, v, unit, out, w, p)
			}
		}
		same++
	})
	if same < 20 {
		t.Errorf("only %d formulas were compared", same)
	}
}

// exactly reports whether a text reads as a length.
func exactly(text string, l length.Length) bool {
	back, err := length.Parse(text, length.MM)
	return err == nil && back == l
}

// Where printing is not exact, what is printed is near.
func TestPlain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-1e6, 1e6).Draw(t, "number")
		f, p := Parse(plain(rounded(x)), length.MM)
		if p != nil {
			t.Fatal(p)
		}
		v, p := f.Eval(names())
		if p != nil || math.Abs(v.float()-x) > 1e-6 {
			t.Fatalf("%v is printed as %s", x, plain(rounded(x)))
		}
	})
}

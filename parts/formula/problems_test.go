package formula

import (
	"strconv"
	"strings"
	"testing"

	"panelyard/parts/length"
)

// What is wrong with a formula: its place, and what to do.
func TestProblems(t *testing.T) {
	s := names("width", "600 mm", "height", "720 mm", "n", "3", "area", "width*height")
	for _, c := range []struct {
		text         string
		col          int
		fact, remedy string
	}{
		// Names and functions.
		{"width - tickness", 9, `unknown name "tickness"`, `did you mean "thickness"? known names: width, height, n, area, thickness`},
		{"Width - 3", 1, `unknown name "Width"`, `did you mean "width"?`},
		{"q + 3", 1, `unknown name "q"`, "known names: width"},
		{"sqroot(4)", 1, `there is no function "sqroot"`, `functions: abs, acos`},
		{"sqr(4)", 1, `there is no function "sqr"`, `did you mean "sqrt"? functions: abs, acos`},
		{"width(3)", 1, `there is no function "width"`, ""},
		{"len(width)", 1, `there is no function "len"`, ""},
		{"map(width, 3)", 1, `there is no function "map"`, ""},
		{"sqrt(4, 5)", 1, "sqrt has 2 arguments", "write sqrt(a)"},
		{"hypot(4)", 1, "hypot has 1 argument", "write hypot(a, b)"},
		{"max()", 1, "max has 0 arguments", "write max(a, b)"},
		// Numbers that may be meant in two ways.
		{"3,5 + 1", 1, "3,5 may be two numbers or one with a decimal comma", "write 3.5, or a blank after the comma"},
		{"max(18,5 mm, 20 mm)", 5, "decimal comma", "write 18.5"},
		{"1,220 mm - 3", 1, "decimal comma", "write 1.220 or 1220, or"},
		{"23-11/16 in + 3 mm", 1, "23-11/16 in may be a mixed number or a difference", "write 23 11/16 in, or blanks around the minus"},
		{"4'-6\" + 1", 1, `4'-6" may be feet and inches or a difference`, `write 4' 6", or blanks`},
		{"2 ft-3 1/2 in", 1, "feet and inches or a difference", "write 2 ft 3 1/2 in, or blanks"},
		{"width/3/4 in", 7, "/3/4 in may divide by the fraction", "write /(3/4 in), or brackets"},
		{"4' 3/4", 4, `"3" is not expected here`, ""}, // of an inch, or a quotient
		{"3/0 in + 1", 1, "3/0 in is a fraction over zero", ""},
		{"2 1/0", 1, "2 1/0 is a fraction over zero", ""},
		// Units and signs astray.
		{"width mm", 7, "mm has no number before it", "multiply: (3 + 4)*1 mm"},
		{"(3 + 4) in", 9, "in has no number before it", ""},
		{`width" + 1`, 6, `" has no number before it`, ""},
		{"'text'", 1, "' has no number before it", ""},
		{"2width", 1, `"2width" is neither a number nor a name`, "2*width"},
		{"1e3", 1, `"1e3" is neither`, "all their digits"},
		{"0x10 + 1", 1, `"0x10" is neither`, ""},
		{"1_000", 1, `"1_000" is neither`, ""},
		{"5mm2", 1, `"5mm2" is neither`, ""},
		{"width.5", 1, `"width.5" is neither`, ""},
		{"width.x", 6, ". is not known", ""},
		{"width − 3", 7, "− is not known", "write -"},
		{"2 × width", 3, "× is not known", "write *"},
		{"width²", 6, "² is not known", "write ^2"},
		{"width\u00a0- 3", 6, "the character U+00A0 is not known", "write a plain blank"},
		{"width\u202e- 3", 6, "the character U+202E is not known", ""},
		{"[1, 2]", 1, "[ is not known", "write ("},
		{"4 % 3", 3, "% is not known", ""},
		{"width // 2", 7, "// is not known", "write one /"},
		{"width /* two */ / 2", 7, "/* is not known", ""},
		{"width | abs", 7, "| is not known", "||"},
		{"width; 3", 6, "; is not known", ""},
		{"width ; 3", 7, "; is not known", ""},
		{"$env", 1, "$ is not known", ""},
		{"`a`", 1, "` is not known", ""},
		{"width ?? n", 7, "?? is not known", ""},
		{"width matches n", 7, "matches is not known", ""},
		{"let x = 3", 9, "", ""},
		{"nil", 1, "no part of a formula", ""},
		{"if n > 3 {1} else {2}", 10, "{ is not known", ""},
		// Brackets and signs that are missing.
		{"width +", 7, "ends too early", ""},
		{"(width", 1, "the bracket is not closed", ""},
		{"width )", 7, `")" is not expected`, ""},
		{"(width))(", 8, `")" is not expected`, ""},
		{"width thickness", 7, `"thickness" is not expected here`, ""},
		{"600 mm 3", 8, `"3" is not expected here`, ""},
		{"1 000 mm", 3, `"000 mm" is not expected here`, ""},
		{"* 3", 1, `"*" is not expected here`, ""},
		{"", 1, "empty", ""},
		{strings.Repeat("1+", 300) + "1", 1, "601 characters", "500 or fewer"},
		{"width\n- 3", 6, "U+000A cannot stand in a formula", ""},
		{"ꀀ + 1", 1, "cannot stand", ""},
		{"\xff + 1", 1, "cannot stand", ""},
		// Kinds that do not go together.
		{"width*height", 1, "comes to an area, where a length is wanted", ""},
		{"area", 1, "comes to an area", ""},
		{"area*width", 1, "comes to a volume", ""},
		{"area*area", 1, "comes to a length to the power of 4", ""},
		{"3/width", 1, "comes to a number divided by a length", ""},
		{"thickness*thickness + 3 mm", 21, "an area and a length cannot be added", ""},
		{"width/height", 1, "comes to a plain ratio", "1 mm"},
		{"width/2 in", 1, "comes to a plain ratio", "1 mm"}, // divides by two inches
		{"width/height + 3 mm", 14, "a plain ratio and a length cannot be added", "multiply it by a length"},
		{"max(thickness, sin(30)*width/height)", 1, "a length and a plain ratio cannot be compared", ""},
		{"n*width/height > thickness ? 1 : 2", 16, "a plain ratio and a length cannot be compared", ""},
		{"sqrt(thickness)", 1, "the root of a length", ""},
		{"sin(3 mm)", 1, "degrees, not a length", ""},
		{"asin(3 mm)", 1, "plain number, not a length", "divide two lengths"},
		{"radius(3 mm, area)", 1, "both arguments are lengths", ""},
		{"hypot(width, area)", 1, "do not go together", ""},
		{"round(3 mm, area)", 1, "do not go together", ""},
		{"width > 500 ? area : 3 mm", 15, "the choice is between an area and a length", ""},
		{"width > 4", 7, "a condition is no length", "write condition ? this : that"},
		{"not width", 1, "a condition is no length", ""},
		{"true", 1, "a condition is no length", ""},
		{"width ? 1 : 2", 1, "this is no condition", "width > 600"},
		{"1 mm > 2 mm*1 mm ? 1 : 2", 6, "cannot be compared", ""},
		// Values that there are not.
		{"width / (3 - 3)", 7, "divides by zero", ""},
		{"sqrt(0 - 4)", 1, "the root of a negative number", ""},
		{"asin(2)", 1, "there is no such value", ""},
		{"tan(90)", 1, "no tangent of a right angle", ""},
		{"tan(-270)", 1, "no tangent of a right angle", ""},
		{"2^0.5", 2, "a power is a whole number", "sqrt"},
		{"10^9^9", 3, "a power is a whole number", ""},
		{"2^-1", 2, "a power is a whole number", ""},
		{"((((10^9)^9)^9)^9)^9", 13, "too large", ""},
		{"(((width^9)^9)^9)^9", 15, "too large", ""},
		{"sqrt(10^9^0*((10^9)^9)^9)", 23, "too large", ""},
		{"round(3, 0)", 1, "the step must be greater than zero", ""},
		{"rise(100, 20)", 1, "less than half the chord", ""},
		{"radius(0, 20)", 1, "more than zero", ""},
		{"60 m", 1, "is beyond 33554.432 mm", ""},
		{"0 - 60 m", 1, "is beyond 33554.432 mm", ""},
	} {
		_, p := work(t, c.text, length.MM, s)
		switch {
		case len(p) == 0:
			t.Errorf("%q is accepted", c.text)
		case !strings.Contains(p[0].Fact, c.fact) || !strings.Contains(p[0].Remedy, c.remedy) || p[0].Col != c.col || p[0].Remedy == "":
			t.Errorf("%q: %+v, want %q, %q at %d", c.text, p[0], c.fact, c.remedy, c.col)
		}
	}
	if _, p := work(t, "a + 1", length.MM, names("b", "2")); len(p) != 1 {
		t.Error(p)
	}
}

// All mistakes of a formula are told at once, in their order, each once.
func TestAllAtOnce(t *testing.T) {
	s := names("width", "600 mm")
	for text, want := range map[string]string{
		"a + b*width + sqrt(0-1)":                           "1 5 15",
		"sqroot(tickness) + 3,5 + width mm":                 "1 8 20 32",
		"width > 3 ? a : b":                                 "13 17",
		"a > 3 ? b : width*width + 1 mm":                    "1 9 25",
		"width > 700 ? a/0 : b":                             "15 21", // the 0 guards are quiet, names are not
		"width > 700 and a > 3 ? 1 : 2":                     "17",
		"max(width, 1 mm*1 mm) + hypot(c)":                  "1 25 31",
		"(width − 3) × 2":                                   "8 13",
		"2width + 3/0 in + \u00bd":                          "1 10 19",
		"width > 1 mm*1 mm ? sin(2 mm) : tan(90) + asin(7)": "7 21",
	} {
		_, p := work(t, text, length.MM, s)
		var cols []string
		for _, q := range p {
			cols = append(cols, strconv.Itoa(q.Col))
		}
		if got := strings.Join(cols, " "); got != want {
			t.Errorf("%q: problems at %s, want %s: %+v", text, got, want, p)
		}
	}
}

// A name that has a mistake is not told of again where it is used.
func TestMistakenNames(t *testing.T) {
	s := names("bad", "1/0", "worse", "bad + 1", "fine", "3")
	for _, text := range []string{"bad", "worse + 1", "bad > 3 ? 1 : 2", "max(fine, bad)", "-bad", "fine > bad and fine > 2 ? 1 : 2"} {
		f, p := Parse(text, length.MM)
		if len(p) > 0 {
			t.Fatal(p)
		}
		if v, p := f.Eval(s); !v.none() || p != nil {
			t.Errorf("%q: %v %v, want neither a value nor a problem", text, v, p)
		}
		if _, p := f.Length(s); len(p) != 1 || p[0].Fact != "uses a name that has a mistake" {
			t.Errorf("%q: %v", text, p)
		}
	}
}

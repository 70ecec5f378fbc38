package formula

import (
	"slices"
	"testing"
	"unicode/utf8"

	"panelyard/parts/length"
)

// Whatever the text: no panic, and a value or problems that each have a place in the text,
// in order; the same again for the same text. The formula with its values put in has the
// same mistakes or comes to nearly the same length.
func FuzzFormula(f *testing.F) {
	for _, s := range []string{
		"depth - 2*thickness", "23 11/16 in - 3 mm", "4' 6\"", "max(a, b)", "a > b ? c : d", "3,5", "((((", "10^9^9", "ꀀ + 1", "'", "\"",
		"1/0", "1e9", "0x10", "a.b", "[1]", "{a: 1}", "#", "a ?? b", "let x = 1; x", "if a {b} else {c}", "1..2", "not a", "in", "1 in 2",
		"4'-6\"", "23-11/16", "a//b", "a|b", "|é", "/", "//", "a ?.5 : 3", "max(a,b)", "a-a", "tan(90)", "sqrt(depth^2 - a^2)", "rise(a, depth)",
		"floor(depth/b, 3 mm)", "a == b or c and !d", "−3", "½", "2a", "3 mm mm", "1 < a < 3 ? a : b", "depth/3/4 in", "(a^9)^9",
	} {
		f.Add(s)
	}
	s := names("depth", "560", "a", "3", "b", "depth/2", "e", "0 mm - 5 mm", "g", "1/3")
	f.Fuzz(func(t *testing.T, text string) {
		p, problems := Parse(text, length.MM)
		if (p == nil) != (len(problems) > 0) {
			t.Fatal("no formula and no problem, or both")
		}
		if p != nil {
			p.Names()
			out := p.Explain(s, length.Length.String)
			var l length.Length
			l, problems = p.Length(s)
			if again, same := p.Length(s); again != l || !slices.Equal(same, problems) {
				t.Fatalf("another result: %v %v and %v %v", l, problems, again, same)
			}
			if back, q := work(t, out, length.MM, s); len(problems) == 0 && utf8.RuneCountInString(out) <= MaxText {
				// A third is printed exactly, half of the depth and the rest as well.
				if q != nil || back != l {
					t.Fatalf("%q = %v is written %q = %v %v", text, l, out, back, q)
				}
			}
		}
		for i, q := range problems {
			if q.Col < 1 || q.Col > utf8.RuneCountInString(text)+1 || q.Fact == "" || q.Remedy == "" {
				t.Fatalf("%+v", q)
			}
			if i > 0 && p != nil && q.Col < problems[i-1].Col {
				t.Fatalf("not in order: %+v", problems)
			}
		}
	})
}

package dxf

import (
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"
	"unicode/utf8"

	"pgregory.net/rapid"

	"panelyard/export/exporttest"
)

func TestEscaped(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"side-left", "side-left"},
		{"", ""},
		{"Rückwand", `R\U+00FCckwand`},
		{"🪵", `\U+D83E\U+DEB5`},
		{"a\tb\r\nc", "a^Ib^M^Jc"},
		{"a^b", "a^ b"},
		{" a b ", `\U+0020a b\U+0020`},
		{`C:\x\y`, `C:\x\y`},
		{`\U+0041`, `\U+005CU+0041`},
		{`\M+1B0A1`, `\U+005CM+1B0A1`},
		{"50 %", "50 %"},
		{"%%d", "%%%%%%d"},
		{"a\xffb", `a\U+FFFDb`},
		{"\x00\x7f\u2028", `^@\U+007F\U+2028`},
	} {
		if got := escaped(c.in); got != c.want {
			t.Errorf("%q is written %q, want %q", c.in, got, c.want)
		}
	}
}

var unicodeCode = regexp.MustCompile(`\\U\+[0-9A-F]{4}`)

// resolved is what the rules of the format make of a text: \U+XXXX, then ^ and %%%.
func resolved(s string) string {
	var units []uint16
	for {
		at := unicodeCode.FindStringIndex(s)
		if at == nil {
			units = append(units, utf16.Encode([]rune(s))...)
			break
		}
		units = append(units, utf16.Encode([]rune(s[:at[0]]))...)
		n, _ := strconv.ParseUint(s[at[0]+3:at[1]], 16, 16)
		units = append(units, uint16(n))
		s = s[at[1]:]
	}
	s = string(utf16.Decode(units))
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		switch {
		case s[i] == '^' && i+1 < len(s):
			i++
			if s[i] == ' ' {
				b.WriteByte('^')
			} else {
				b.WriteByte(s[i] - '@')
			}
		case strings.HasPrefix(s[i:], "%%%"):
			i += 2
			b.WriteByte('%')
		default:
			b.WriteByte(s[i])
		}
	}
	return b.String()
}

// Any text is printable ASCII on one line, without a blank at an end, and is
// resolved to itself.
func TestEscapedAnyText(t *testing.T) {
	check := func(t rapid.TB, s string) {
		e := escaped(s)
		for _, c := range []byte(e) {
			if c < ' ' || c > '~' {
				t.Fatalf("%q is written %q", s, e)
			}
		}
		if strings.HasPrefix(e, " ") || strings.HasSuffix(s, " ") && strings.HasSuffix(e, " ") {
			t.Fatalf("%q is written %q, with a blank at an end", s, e)
		}
		if got, want := resolved(e), strings.ToValidUTF8(s, string(utf8.RuneError)); got != want {
			t.Fatalf("%q is written %q and read %q", s, e, got)
		}
	}
	for _, s := range exporttest.Nasty {
		check(t, s)
	}
	rapid.Check(t, func(t *rapid.T) {
		if rapid.Bool().Draw(t, "letters") {
			check(t, rapid.String().Draw(t, "text"))
			return
		}
		check(t, rapid.StringMatching(`([%^ \\UuM+@A0-9D\t\n]|🪵|é){0,20}`).Draw(t, "text"))
	})
}

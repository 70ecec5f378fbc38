package dxf

import (
	"fmt"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// escaped returns a text as the value of a TEXT: printable ASCII on one line, which
// a reader resolves to the same text.
//
//	control character   ^ and a letter     a caret itself   ^ and a blank
//	beyond ASCII        \U+XXXX of UTF-16  %% of the text   each % as %%%
//	\U+ of the text     its \ as \U+005C   blank at an end  \U+0020
//
// The rules are those of the DXF reference and of its control codes for texts, from
// memory; a reader takes \U+ before ^ and %%.
func escaped(s string) string {
	s = strings.ToValidUTF8(s, string(utf8.RuneError))
	percent := "%"
	if strings.Contains(s, "%%") {
		percent = "%%%"
	}
	var b strings.Builder
	for i, c := range s {
		rest := s[i+utf8.RuneLen(c):]
		switch {
		case c == '%':
			b.WriteString(percent)
		case c == '^':
			b.WriteString("^ ")
		case c < ' ':
			b.WriteByte('^')
			b.WriteRune('@' + c)
		case c == '\\' && coded(rest), c == ' ' && (i == 0 || rest == ""), c == 0x7f, c > 0x7f && c <= 0xffff:
			fmt.Fprintf(&b, `\U+%04X`, c)
		case c > 0xffff:
			high, low := utf16.EncodeRune(c)
			fmt.Fprintf(&b, `\U+%04X\U+%04X`, high, low)
		default:
			b.WriteRune(c)
		}
	}
	return b.String()
}

// coded reports whether a backslash before rest would begin a code: \U+ for a
// character, \M+ for one of a code page.
func coded(rest string) bool {
	return len(rest) > 1 && strings.ContainsRune("UuMm", rune(rest[0])) && rest[1] == '+'
}

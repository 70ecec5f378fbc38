package dxf

import (
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
	"golang.org/x/text/encoding/simplifiedchinese"
	"golang.org/x/text/encoding/traditionalchinese"
)

// codePage returns the character set of a $DWGCODEPAGE, nil when it is not known.
func codePage(name string) encoding.Encoding {
	name = strings.ToUpper(strings.TrimSpace(name))
	for _, prefix := range []string{"ANSI_", "DOS"} {
		name = strings.TrimPrefix(name, prefix)
	}
	switch name {
	case "437":
		return charmap.CodePage437
	case "850":
		return charmap.CodePage850
	case "852":
		return charmap.CodePage852
	case "855":
		return charmap.CodePage855
	case "866":
		return charmap.CodePage866
	case "874":
		return charmap.Windows874
	case "932":
		return japanese.ShiftJIS
	case "936":
		return simplifiedchinese.GBK
	case "949":
		return korean.EUCKR
	case "950":
		return traditionalchinese.Big5
	case "1250":
		return charmap.Windows1250
	case "1251":
		return charmap.Windows1251
	case "1252":
		return charmap.Windows1252
	case "1253":
		return charmap.Windows1253
	case "1254":
		return charmap.Windows1254
	case "1255":
		return charmap.Windows1255
	case "1256":
		return charmap.Windows1256
	case "1257":
		return charmap.Windows1257
	case "1258":
		return charmap.Windows1258
	}
	return nil
}

// decoded returns a string of the file as UTF-8, \U+0041 and the like resolved.
func (r *reader) decoded(s string) string {
	if r.page != nil {
		if t, err := r.page.NewDecoder().String(s); err == nil {
			s = t
		}
	}
	s = strings.ToValidUTF8(s, string(utf8.RuneError))
	var b strings.Builder
	for {
		before, after, ok := strings.Cut(s, `\U+`)
		b.WriteString(before)
		if !ok {
			return b.String()
		}
		if c, ok := unit16(after); ok {
			s = after[4:]
			// What lies beyond U+FFFF is written as the two halves of UTF-16.
			if rest, ok := strings.CutPrefix(s, `\U+`); ok && utf16.IsSurrogate(c) {
				if d, ok := unit16(rest); ok && utf16.DecodeRune(c, d) != utf8.RuneError {
					c, s = utf16.DecodeRune(c, d), rest[4:]
				}
			}
			b.WriteRune(c)
		} else {
			b.WriteString(`\U+`)
			s = after
		}
	}
}

// unit16 reads four hexadecimal digits.
func unit16(s string) (rune, bool) {
	if len(s) < 4 {
		return 0, false
	}
	c, err := strconv.ParseUint(s[:4], 16, 16)
	return rune(c), err == nil
}

// plain returns the content of a TEXT: %%c and the like are signs, %%u and the
// like turn lines on and off.
func plain(s string) string {
	var b strings.Builder
	for {
		before, after, ok := strings.Cut(s, "%%")
		b.WriteString(before)
		if !ok || after == "" {
			return b.String()
		}
		s = after[1:]
		switch after[0] {
		case 'c', 'C':
			b.WriteString("⌀")
		case 'd', 'D':
			b.WriteString("°")
		case 'p', 'P':
			b.WriteString("±")
		case 'u', 'U', 'o', 'O', 'k', 'K':
		case '%':
			b.WriteString("%")
		default:
			if n, err := strconv.ParseUint(after[:min(3, len(after))], 10, 8); err == nil && len(after) >= 3 {
				b.WriteRune(rune(n))
				s = after[3:]
			} else {
				s = after
			}
		}
	}
}

// unformatted returns the content of an MTEXT without its formatting: \P begins a
// line, \S stacks a fraction, other codes run up to a semicolon or stand alone,
// braces group.
func unformatted(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c == '{' || c == '}':
		case c == '^' && i+1 < len(s): // a control character: ^I is a tab
			i++
			switch s[i] {
			case ' ':
				b.WriteByte('^')
			case 'J':
				b.WriteByte('\n')
			default:
				b.WriteByte(' ')
			}
		case c != '\\' || i+1 == len(s):
			b.WriteByte(c)
		default:
			i++
			switch s[i] {
			case 'P', 'N', 'X':
				b.WriteByte('\n')
			case '~':
				b.WriteByte(' ')
			case '\\', '{', '}':
				b.WriteByte(s[i])
			case 'L', 'l', 'O', 'o', 'K', 'k':
			case 'A', 'C', 'c', 'F', 'f', 'H', 'Q', 'T', 'W', 'p':
				i += upTo(s[i:])
			case 'S':
				n := upTo(s[i:])
				stack := strings.NewReplacer("^", "/", "#", "/").Replace(strings.TrimSuffix(s[i+1:i+n+1], ";"))
				b.WriteString(stack)
				i += n
			default:
				b.WriteByte('\\')
				b.WriteByte(s[i])
			}
		}
	}
	return plain(b.String())
}

// upTo returns how far the next semicolon is, or the last byte when there is none.
func upTo(s string) int {
	if i := strings.IndexByte(s, ';'); i >= 0 {
		return i
	}
	return len(s) - 1
}

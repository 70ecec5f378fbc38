package svgmap

import (
	"strings"
	"unicode"
)

// textWidth returns the width of a line of text in mm at a size in mm: an upper
// estimate for common sans-serif faces.
func textWidth(s string, size float64) float64 {
	w := 0.0
	for _, r := range s {
		switch {
		case strings.ContainsRune("iljI.,:;'|!()[]/\\ ft", r):
			w += 0.36
		case strings.ContainsRune("mwMW@%—…", r):
			w += 0.95
		case unicode.IsUpper(r):
			w += 0.75
		case r < 0x250 || unicode.Is(unicode.Greek, r) || unicode.Is(unicode.Cyrillic, r):
			w += 0.62
		default:
			w += 1.1 // wide scripts and signs
		}
	}
	return w * size
}

// shorten cuts a text so that it fits a width, with a sign that it was cut.
func shorten(s string, size, width float64) string {
	if textWidth(s, size) <= width {
		return s
	}
	r := []rune(s)
	for len(r) > 0 && textWidth(string(r)+"…", size) > width {
		r = r[:len(r)-1]
	}
	return strings.TrimSpace(string(r)) + "…"
}

// plain replaces what cannot be printed, or would turn the direction of a line,
// by a sign that something is there.
func plain(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r >= 0x202A && r <= 0x202E || r >= 0x2066 && r <= 0x2069 || r == 0xFFFE || r == 0xFFFF {
			return '�'
		}
		return r
	}, s)
}

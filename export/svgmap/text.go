package svgmap

import (
	"strings"
	"unicode"
)

// The widths of the characters from space to tilde, in hundredths of the size of
// the text, as wide as the wider of DejaVu Sans and Arial (the at sign), rounded
// up: upright and bold.
var (
	widths = [...]uint8{
		32, 41, 46, 84, 64, 96, 78, 28, 40, 40, 50, 84, 32, 37, 32, 34, 64, 64, 64, 64, 64, 64, 64, 64, 64, 64, 34, 34, 84, 84, 84, 54,
		102, 69, 69, 70, 78, 64, 58, 78, 76, 30, 30, 67, 56, 87, 75, 79, 67, 79, 73, 67, 62, 74, 69, 99, 69, 67, 69, 40, 34, 40, 84, 56,
		50, 62, 64, 55, 64, 62, 36, 64, 64, 28, 28, 58, 28, 98, 64, 62, 64, 64, 42, 53, 40, 64, 60, 82, 60, 60, 53, 64, 34, 64, 84,
	}
	boldWidths = [...]uint8{
		35, 46, 53, 84, 70, 101, 88, 31, 46, 46, 53, 84, 38, 42, 38, 37, 70, 70, 70, 70, 70, 70, 70, 70, 70, 70, 40, 40, 84, 84, 84, 61,
		102, 78, 77, 74, 84, 69, 69, 83, 84, 38, 56, 78, 64, 100, 84, 86, 74, 86, 78, 73, 69, 82, 78, 111, 78, 73, 73, 46, 37, 46, 84, 56,
		50, 68, 72, 60, 72, 68, 44, 72, 72, 35, 35, 67, 35, 105, 72, 69, 72, 72, 50, 60, 48, 72, 66, 93, 65, 66, 59, 72, 37, 72, 84,
	}
)

// textWidth returns the width of a line of text in mm at a size in mm: an upper
// estimate for common sans-serif faces, upright or slanted.
func textWidth(s string, size float64) float64 { return wide(s, false) * size }

// boldWidth returns the width of a line of bold text as textWidth does.
func boldWidth(s string, size float64) float64 { return wide(s, true) * size }

// wide returns the width of a line of text of size 1.
func wide(s string, bold bool) float64 {
	table, factor := widths, 1.0
	if bold {
		table, factor = boldWidths, 1.14
	}
	w := 0.0
	for _, r := range s {
		switch {
		case r >= ' ' && r <= '~':
			w += float64(table[r-' ']) / 100
		case r == leftToRight:
		case r == '×':
			w += 0.84
		case r >= 0xA0 && r < 0x180: // Latin with marks
			if unicode.IsLower(r) && !strings.ContainsRune("æœŉ", r) {
				w += 0.82 * factor
			} else {
				w += 1.1 * factor
			}
		case r < 0x1F000:
			w += 1.25 * factor
		default: // pictures
			w += 1.4 * factor
		}
	}
	return w
}

// shorten cuts a text so that it fits a width, with a sign that it was cut.
func shorten(s string, size, width float64) string { return cutShort(s, size, width, textWidth) }

// cutShort cuts a text as shorten does, measured as given.
func cutShort(s string, size, width float64, measure func(string, float64) float64) string {
	if measure(s, size) <= width {
		return s
	}
	r := []rune(s)
	for len(r) > 0 && measure(string(r)+"…", size) > width {
		r = r[:len(r)-1]
	}
	return plain(strings.TrimSpace(string(r)) + "…")
}

// leftToRight is the invisible mark after which a line runs to the right again.
const leftToRight = '\u200e'

// plain makes a user's text fit to stand in a line with figures: what cannot be
// printed, or would turn the direction of the line, is replaced by a sign that
// something is there, and a text written to the left ends with a mark, so that
// a size behind it is not read the wrong way round.
func plain(s string) string {
	left := false
	s = strings.Map(func(r rune) rune {
		switch {
		case r == leftToRight:
			return -1
		case unicode.IsControl(r) || r >= 0x2028 && r <= 0x202E || r >= 0x2060 && r <= 0x206F || r == 0x200F || r == 0x061C || r == 0xFFFE || r == 0xFFFF:
			return '�'
		case unicode.In(r, unicode.Arabic, unicode.Hebrew, unicode.Syriac, unicode.Thaana, unicode.Nko):
			left = true
		}
		return r
	}, s)
	if left {
		s += string(leftToRight)
	}
	return s
}

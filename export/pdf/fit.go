package pdf

import (
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"
)

// ellipsis shows that a text was cut.
const ellipsis = "…"

// Fit returns a line of text and its size so that it is no wider than width: as it is
// where it fits, else smaller, but not below least, and else cut with an ellipsis. It
// is empty where not even that has room.
func Fit(s string, size, least, width float64, f Face) (string, float64) {
	w := Width(s, size, f)
	if w <= width {
		return s, size
	}
	// A hair smaller, so that rounding cannot make it wider again.
	if fits := size * width / w * (1 - 1e-9); fits >= least {
		return s, fits
	}
	size = min(size, least)
	return Cut(s, size, width, f), size
}

// Cut returns the longest beginning of a text that fits a width with an ellipsis.
func Cut(s string, size, width float64, f Face) string {
	var ends []int
	for i := range s {
		ends = append(ends, i)
	}
	at := func(n int) string { return strings.TrimSpace(s[:ends[n]]) + ellipsis }
	// Widths grow with length but for letters that join, which the step back heeds.
	n, _ := slices.BinarySearchFunc(ends, width, func(end int, width float64) int {
		if Width(strings.TrimSpace(s[:end])+ellipsis, size, f) <= width {
			return -1
		}
		return 1
	})
	for n--; n >= 0; n-- {
		if Width(at(n), size, f) <= width {
			return at(n)
		}
	}
	return ""
}

// words returns the words of a text. A whole number and the fraction after it are one.
func words(s string) []string {
	var list []string
	for _, w := range strings.Fields(s) {
		if n := len(list); n > 0 && fraction.MatchString(w) && whole.MatchString(list[n-1]) {
			list[n-1] += " " + w
			continue
		}
		list = append(list, w)
	}
	return list
}

var (
	whole    = regexp.MustCompile(`^\d+$`)
	fraction = regexp.MustCompile(`^\d+/\d+`)
)

// Wrap breaks a text into lines no wider than width: between words, but not within a
// measure such as 23 11/16, and within a word
// that is wider by itself. A character wider than width has a line of its own. Line
// breaks of the text are kept.
func Wrap(s string, size, width float64, f Face) []string {
	var lines []string
	for _, part := range strings.Split(s, "\n") {
		line := ""
		for _, word := range words(part) {
			longer := word
			if line != "" {
				longer = line + " " + word
			}
			if Width(longer, size, f) <= width {
				line = longer
				continue
			}
			if line != "" {
				lines = append(lines, line)
			}
			for line = word; Width(line, size, f) > width; {
				n := head(line, size, width, f)
				if n == len(line) {
					break
				}
				lines, line = append(lines, line[:n]), line[n:]
			}
		}
		lines = append(lines, line)
	}
	return lines
}

// head returns how many bytes of a word fit a width, one character at least.
func head(s string, size, width float64, f Face) int {
	_, n := utf8.DecodeRuneInString(s)
	for i, r := range s {
		end := i + utf8.RuneLen(r)
		if r == utf8.RuneError {
			_, w := utf8.DecodeRuneInString(s[i:])
			end = i + w
		}
		if Width(s[:end], size, f) > width {
			break
		}
		n = max(n, end)
	}
	return n
}

package pdf

import (
	"regexp"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/bidi"

	"panelyard/parts/diag"
)

// missing is shown for a character that the face lacks or that is not one.
const missing = '\uFFFD'

// visual returns a text as it is set, from left to right: characters that cannot be
// shown are replaced, Arabic letters take the form their neighbours ask for, and what
// runs to the left is turned round (Unicode Standard Annex 9, by golang.org/x/text), in a
// line that runs to the right.
func (f Face) visual(s string) string {
	left := false
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r':
			return ' '
		case unicode.In(r, unicode.Cf) && !diag.Unprintable(r): // such as a soft hyphen: takes no room
			return -1
		case diag.Unprintable(r) || !f.has(r):
			return missing
		case unicode.In(r, unicode.Arabic, unicode.Hebrew):
			left = true
		}
		return r
	}, s)
	if !left {
		return s
	}
	var p bidi.Paragraph
	if _, err := p.SetString(leftToRight + joined(s, f.has)); err != nil {
		return s
	}
	order, err := p.Order()
	if err != nil {
		return s
	}
	// The library gives the runs in the order in which they are read, and takes figures
	// for text that runs to the right. Figures behind what runs to the left belong to it
	// and come to stand on its left.
	var line, group string
	for i := range order.NumRuns() {
		run := order.Run(i)
		switch s := run.String(); {
		case run.Direction() == bidi.RightToLeft:
			group = bidi.ReverseString(s) + group
		default:
			if group != "" {
				n := len(figures.FindString(s))
				group, s = s[:n]+group, s[n:]
			}
			if s != "" {
				line, group = line+group+s, ""
			}
		}
	}
	return strings.TrimPrefix(line+group, leftToRight)
}

// leftToRight is the invisible mark that makes the line behind it run to the right.
const leftToRight = "\u200e"

// figures are a number at the beginning of a text.
var figures = regexp.MustCompile(`^[0-9]+([.,][0-9]+)*`)

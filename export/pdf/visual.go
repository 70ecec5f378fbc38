package pdf

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/bidi"
	"golang.org/x/text/unicode/runenames"

	"panelyard/parts/diag"
)

// missing is shown for what is no character, or must not be obeyed.
const missing = '\uFFFD'

// visual returns a text as it is set, from left to right: characters that cannot be
// shown are replaced, Arabic letters take the form their neighbours ask for, and what
// runs to the left is turned round (Unicode Standard Annex 9, by golang.org/x/text), in a
// line that runs to the right.
func (f Face) visual(s string) string {
	left := false
	var shown strings.Builder
	for _, r := range s {
		switch {
		case r == '\t' || r == '\n' || r == '\r':
			shown.WriteByte(' ')
		case unicode.In(r, unicode.Variation_Selector) || unicode.In(r, unicode.Cf) && !diag.Unprintable(r): // such as a soft hyphen: takes no room
		case diag.Unprintable(r) || r == missing:
			shown.WriteRune(missing)
		case !f.has(r):
			shown.WriteString(named(r))
		default:
			left = left || unicode.In(r, unicode.Arabic, unicode.Hebrew)
			shown.WriteRune(r)
		}
	}
	s = shown.String()
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

// longestName is how long a name may be to be shown.
const longestName = 16

// named returns the name of a character in brackets, as the Unicode Standard has it, or
// its number where it has none of its own or a long one: [wood], [U+65E5].
func named(r rune) string {
	name := runenames.Name(r)
	if name == "" || len(name) > longestName || strings.HasPrefix(name, "<") {
		name = fmt.Sprintf("U+%04X", r)
	} else {
		name = strings.ToLower(name)
	}
	return "[" + name + "]"
}

// leftToRight is the invisible mark that makes the line behind it run to the right.
const leftToRight = "\u200e"

// figures are a number at the beginning of a text.
var figures = regexp.MustCompile(`^[0-9]+([.,][0-9]+)*`)

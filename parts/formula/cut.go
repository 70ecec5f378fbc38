package formula

import (
	"fmt"
	"math/big"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"panelyard/parts/diag"
	"panelyard/parts/length"
)

var word = regexp.MustCompile(`^[\p{L}_][\p{L}\p{Nd}_]*`)

// lookalikes are signs of other keyboards and texts, with what formulas have for them.
var lookalikes = map[rune]string{
	'−': "-", '–': "-", '—': "-", '×': "*", '·': "*", '∙': "*", '÷': "/", '∶': ":", '²': "^2", '³': "^3",
	'√': "sqrt( )", '½': "1/2", '¼': "1/4", '¾': "3/4", '≤': "<=", '≥': ">=", '≠': "!=",
	'\u00a0': "a plain blank", '\u202f': "a plain blank",
	'[': "(", ']': ")", '{': "(", '}': ")", '%': "/100",
}

// signs are the characters of formulas beside letters, digits and blanks.
const signs = "+-*/^(),?:<>=!&|"

// scanner cuts the numbers out of a formula and finds what no formula has.
type scanner struct {
	text, rest string
	out        strings.Builder
	at         int // in characters
	literals   []literal
	problems   []Problem
	open       []int // places of brackets that are not closed
}

// cut replaces the numbers of a text by stand-ins.
func cut(text string) (string, []literal, []Problem) {
	s := &scanner{text: text, rest: text}
	for s.rest != "" {
		s.step()
	}
	for _, at := range s.open {
		s.problem(at, "the bracket is not closed", "write a ) where it ends")
	}
	return s.out.String(), s.literals, s.problems
}

func (s *scanner) problem(at int, fact, remedy string) {
	s.problems = append(s.problems, Problem{at + 1, fact, remedy})
}

// before is the text that was scanned.
func (s *scanner) before() string { return s.text[:len(s.text)-len(s.rest)] }

// take passes over n bytes of the text and writes what stands for them, with blanks up to
// its width.
func (s *scanner) take(n int, standIn string) {
	width := utf8.RuneCountInString(s.rest[:n])
	s.out.WriteString(standIn)
	s.out.WriteString(strings.Repeat(" ", width-utf8.RuneCountInString(standIn)))
	s.at += width
	s.rest = s.rest[n:]
}

// number passes over n bytes that are a number.
func (s *scanner) number(n int, v Value) {
	s.literals = append(s.literals, literal{v, s.rest[:n], s.at})
	s.take(n, string(rune(firstStandIn+len(s.literals)-1)))
}

func (s *scanner) step() {
	if w := word.FindString(s.rest); w != "" {
		s.word(w)
		return
	}
	if m, ok := measured(s.rest); ok {
		s.measure(m)
		return
	}
	c, size := utf8.DecodeRuneInString(s.rest)
	_, mark := length.ParseUnit(string(c))
	switch next := s.rest[size:]; {
	case mark == nil:
		s.stray(string(c))
	case c == '/' && (strings.HasPrefix(next, "/") || strings.HasPrefix(next, "*")): // a comment, for the library
		s.problem(s.at, s.rest[:2]+" is not known in formulas", "write one / to divide")
		s.take(2, "/")
	case c == '|' && !strings.HasPrefix(next, "|"): // a pipe, for the library
		s.problem(s.at, "| is not known in formulas", "write || or the word or between conditions")
		s.take(1, "")
	case c == '|':
		s.take(2, "||")
	case c == ' ' || c == '\t':
		s.take(size, "")
	case strings.ContainsRune(signs, c):
		s.bracket(c)
		s.take(size, string(c))
	default:
		remedy := "use names, numbers, + - * / ^, comparisons, brackets and functions"
		if like := lookalikes[c]; like != "" {
			remedy = "write " + like
		}
		s.problem(s.at, fmt.Sprintf("%s is not known in formulas", shown(c)), remedy)
		s.take(size, "")
	}
}

// shown is a character as a finding shows it.
func shown(c rune) string {
	if diag.Unprintable(c) || !unicode.IsPrint(c) {
		return fmt.Sprintf("the character %U", c)
	}
	return string(c)
}

// bracket keeps account of brackets.
func (s *scanner) bracket(c rune) {
	switch {
	case c == '(':
		s.open = append(s.open, s.at)
	case c == ')' && len(s.open) == 0:
		s.problem(s.at, `")" is not expected here`, "write a ( where it begins, or leave it out")
	case c == ')':
		s.open = s.open[:len(s.open)-1]
	}
}

// word passes over a name, or a unit that has no number before it.
func (s *scanner) word(w string) {
	if _, err := length.ParseUnit(w); err == nil {
		s.stray(w)
		return
	}
	// width.5 would be a name and a number.
	if m, ok := measured(s.rest[len(w):]); ok {
		s.runIn(w + m.text)
		return
	}
	s.take(len(w), w)
}

// stray passes over a unit that has no number before it.
func (s *scanner) stray(unit string) {
	s.problem(s.at, fmt.Sprintf("%s has no number before it", unit), "write a number and its unit, such as 1 mm, or multiply: (3 + 4)*1 mm")
	s.take(len(unit), "")
}

// runIn passes over a number and a name that run into each other.
func (s *scanner) runIn(both string) {
	s.problem(s.at, fmt.Sprintf("%q is neither a number nor a name", clip(both)), "write a sign between a number and a name: 2*width; write large numbers with all their digits")
	s.number(len(both), Value{})
}

// measure passes over a number.
func (s *scanner) measure(m measure) {
	n := len(m.text)
	if more, fact, remedy := m.doubt(s.before(), s.rest[n:]); fact != "" {
		s.problem(s.at, fact, remedy)
		s.number(n+more, Value{})
		return
	}
	v := m.quantity()
	if m.unit == length.FT {
		if in, ok := inches(s.rest[n:]); ok && !in.zero {
			v = v.with(new(big.Rat).Add(v.num, in.quantity().num))
			n += len(in.text)
		}
	}
	if w := word.FindString(s.rest[n:]); w != "" {
		s.runIn(s.rest[:n+len(w)])
		return
	}
	s.number(n, v)
}

// literal returns the number that a name stands in for.
func (f *Formula) literal(name string) (literal, bool) {
	c, size := utf8.DecodeRuneInString(name)
	if i := int(c - firstStandIn); size == len(name) && i >= 0 && i < len(f.literals) {
		return f.literals[i], true
	}
	return literal{}, false
}

package formula

import (
	"fmt"
	"math/big"
	"regexp"
	"strings"
	"unicode/utf8"

	"panelyard/parts/length"
)

// literal is a number as it stands in a formula, cut out for a stand-in: one letter
// that no name has, with blanks after it, so that places stay what they were.
type literal struct {
	value Value
	text  string
	from  int // place in the text, in characters
}

// firstStandIn begins a block of letters (Yi syllables) that stand for literals.
const firstStandIn = 'ꀀ'

// maxLiterals is how many numbers a formula may have; a text of [MaxText] has no more.
const maxLiterals = MaxText

const (
	digits = `(?:\d+[ \t]+\d+\s*/\s*\d+|\d+(?:\.\d+)?|\.\d+)`
	feet   = `(?:feet|foot|ft\b|['′’])`
	inches = `(?:inches|inch|in\b|["″”])`
)

// A number with its unit; feet and inches are one.
var number = regexp.MustCompile(`(?:` +
	digits + `\s*` + feet + `\s*(?:` + digits + `|\d+\s*/\s*\d+)\s*` + inches + `|` +
	`(?:` + digits + `|\d+\s*/\s*\d+)\s*(?:mm\b|cm\b|m\b|` + inches + `|` + feet + `)|` +
	digits + `)`)

var (
	wholeNumber = regexp.MustCompile(`^\d+$`)
	unitless    = regexp.MustCompile(`^[\d\s./]+$`)
)

var word = regexp.MustCompile(`[\p{L}_][\p{L}\p{N}_]*`)

// cut replaces the numbers of a text by stand-ins.
func cut(text string) (string, []literal, []Problem) {
	var out strings.Builder
	var list []literal
	var problems []Problem
	at := 0 // in characters
	write := func(s string) {
		out.WriteString(s)
		at += utf8.RuneCountInString(s)
	}
	for rest := text; rest != ""; {
		if w := word.FindStringIndex(rest); w != nil && w[0] == 0 {
			write(rest[:w[1]])
			rest = rest[w[1]:]
			continue
		}
		n := number.FindStringIndex(rest)
		if n == nil || n[0] != 0 {
			_, size := utf8.DecodeRuneInString(rest)
			write(rest[:size])
			rest = rest[size:]
			continue
		}
		s := strings.TrimRight(rest[:n[1]], " \t")
		rest = rest[len(s):]
		if strings.HasPrefix(rest, ",") && len(rest) > 1 && rest[1] >= '0' && rest[1] <= '9' && wholeNumber.MatchString(s) && decimalComma(text, at) {
			problems = append(problems, Problem{at + 1, fmt.Sprintf("%s%s may be two numbers or one with a decimal comma", s, rest[:2]), "write a decimal point, or a blank after the comma between two numbers"})
		}
		v, err := valueOf(s)
		if err != nil {
			problems = append(problems, Problem{at + 1, fmt.Sprintf("%q: %v", s, err), "write a number, perhaps with mm, cm, m, in or ft"})
			v = Number(new(big.Rat))
		}
		if len(list) < maxLiterals {
			list = append(list, literal{v, s, at})
			write(string(rune(firstStandIn + len(list) - 1)))
			write(strings.Repeat(" ", utf8.RuneCountInString(s)-1))
		}
	}
	return out.String(), list, problems
}

// decimalComma reports whether a comma after a number is not inside the brackets of a
// function: there it parts two arguments.
func decimalComma(text string, at int) bool {
	depth := 0
	for i, c := range []rune(text) {
		if i == at {
			break
		}
		switch c {
		case '(':
			depth++
		case ')':
			depth--
		}
	}
	return depth <= 0
}

// valueOf reads a number, with its unit when it has one.
func valueOf(s string) (Value, error) {
	if unitless.MatchString(s) {
		r, ok := new(big.Rat), true
		whole, frac, mixed := strings.Cut(strings.Join(strings.Fields(s), " "), " ")
		if mixed {
			var f *big.Rat
			if f, ok = new(big.Rat).SetString(strings.ReplaceAll(frac, " ", "")); ok {
				r, ok = r.SetString(whole)
				if ok {
					r.Add(r, f)
				}
			}
		} else {
			r, ok = r.SetString(s)
		}
		if !ok {
			return Value{}, fmt.Errorf("is no number")
		}
		return Number(r), nil
	}
	l, err := length.Parse(s, length.MM)
	if err != nil {
		return Value{}, err
	}
	return OfLength(l), nil
}

package formula

import (
	"math/big"
	"regexp"
	"strings"
	"unicode/utf8"

	"panelyard/parts/length"
)

// Explain writes a formula with its names' values put in: depth - 2*thickness becomes
// 560 - 2*18.2, lengths as the caller prints them. Negative values and fractions get
// brackets where the signs beside them would take them apart, so that the text comes to
// the same as the formula, as far as what is printed is exact. A name that stands for an
// area, or for nothing, stays.
func (f *Formula) Explain(s Scope, print func(length.Length) string) string {
	var out strings.Builder
	r := []rune(f.text)
	at := 0
	for _, n := range f.identifiers() {
		from, upto := n.Location().From, n.Location().From+utf8.RuneCountInString(n.Value)
		v, ok := s.Value(n.Value)
		if !ok || v.none() || from < at || upto > len(r) {
			continue
		}
		text := ""
		if v.dim == 0 {
			text = plain(v.num)
		} else if l, ok := v.Length(f.unit); ok {
			text = print(l)
		} else {
			continue
		}
		if loose(text, string(r[:from]), string(r[upto:])) {
			text = "(" + text + ")"
		}
		out.WriteString(spaced(string(r[at:from]), at > 0, true) + text)
		at = upto
	}
	return out.String() + spaced(string(r[at:]), at > 0, false)
}

// spaced returns what stands between values, with blanks at a comma and a minus beside
// them: 3,5 might be one number, and 4'-6" feet and inches.
func spaced(s string, after, before bool) string {
	switch {
	case after && strings.HasPrefix(s, ",") && !strings.HasPrefix(s, ", "):
		s = ", " + s[1:]
	case after && strings.HasPrefix(s, "-"):
		s = " - " + strings.TrimLeft(s[1:], " \t")
	}
	switch left := strings.TrimSuffix(s, "-"); {
	case before && strings.HasSuffix(s, ","):
		s += " "
	case before && left != s && left != "" && !strings.ContainsRune(opening+" \t", rune(left[len(left)-1])):
		s = left + " - "
	}
	return s
}

// opening are the signs after which a minus is that of a number.
const opening = "(,?:<>=!&|+-*/^"

var (
	unitEnd  = regexp.MustCompile(units + `$`)
	overUnit = regexp.MustCompile(`^` + slash + `\d+[ \t]*` + units)
)

// loose reports whether a value needs brackets between what stands before and after it.
func loose(value, before, after string) bool {
	left, right := strings.TrimRight(before, " \t"), strings.TrimLeft(after, " \t")
	apart := left == "" || strings.ContainsRune("(,?:<>=", rune(left[len(left)-1]))
	power := strings.HasPrefix(right, "^") || strings.HasPrefix(right, "**")
	switch {
	case overUnit.MatchString(after):
		return true // 3/4 in is a fraction
	case strings.HasPrefix(value, "-"):
		return !apart || power
	case strings.Contains(value, "/"):
		unsigned := strings.TrimRight(left, "+- \t")
		sum := unsigned != left && (unsigned == "" || !strings.ContainsRune("*/^", rune(unsigned[len(unsigned)-1])))
		return !apart && !sum || power
	}
	return strings.HasSuffix(left, "/") && unitEnd.MatchString(value) // as well
}

// plain prints a number: with up to six decimals when that is exact, as a fraction when
// that is short, else to six decimals.
func plain(v *big.Rat) string {
	s := v.FloatString(6)
	if r, ok := new(big.Rat).SetString(s); (!ok || r.Cmp(v) != 0) && v.Denom().Cmp(big.NewInt(1000)) <= 0 {
		return v.RatString()
	}
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

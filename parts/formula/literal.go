package formula

import (
	"fmt"
	"math/big"
	"regexp"
	"strings"

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
	units = `((?:mm|cm|m|inches|inch|in|feet|foot|ft)\b|['′’"″”])`
	slash = `[ \t]*/[ \t]*`
)

// A number: a fraction with its unit (3/4 alone is a quotient), or a mixed number or a
// decimal with or without one.
var number = regexp.MustCompile(`^(?:(\d+)` + slash + `(\d+)[ \t]*` + units +
	`|(?:(\d+)[ \t]+(\d+)` + slash + `(\d+)|(\d+(?:\.\d+)?|\.\d+))(?:[ \t]*` + units + `)?)`)

// measure is a number that was read.
type measure struct {
	text     string
	value    *big.Rat    // without the unit
	unit     length.Unit // its size is 0 when there is none
	fraction bool        // 3/4 in, without a whole number before it
	whole    bool        // digits only, without a unit
	zero     bool        // a fraction over zero
}

// measured reads the number that a text begins with.
func measured(s string) (measure, bool) {
	g := number.FindStringSubmatch(s)
	if g == nil {
		return measure{}, false
	}
	m := measure{text: g[0], value: new(big.Rat), fraction: g[1] != ""}
	m.whole = g[0] == g[7] && !strings.Contains(g[7], ".")
	if u := g[3] + g[8]; u != "" {
		m.unit, _ = length.ParseUnit(u)
	}
	whole, num, den := g[4]+g[7], g[1]+g[5], g[2]+g[6]
	if whole != "" {
		m.value.SetString(whole)
	}
	if num != "" {
		f, ok := new(big.Rat).SetString(num + "/" + den)
		if m.zero = !ok; ok {
			m.value.Add(m.value, f)
		}
	}
	return m, true
}

// quantity returns the value of a number: a length when it has a unit. It is exact, also
// where the length is off the grid.
func (m measure) quantity() Value {
	if m.unit.Size == 0 {
		return Number(m.value)
	}
	return Value{num: new(big.Rat).Mul(m.value, new(big.Rat).SetInt64(int64(m.unit.Size))), dim: 1}
}

// inches reads what follows feet in 4' 6": inches, whose mark may be left out where no
// fraction goes on.
func inches(s string) (measure, bool) {
	rest := strings.TrimLeft(s, " \t")
	m, ok := measured(rest)
	bare := m.unit.Size == 0
	if !ok || !bare && m.unit != length.IN || bare && over.MatchString(rest[len(m.text):]) {
		return measure{}, false
	}
	m.text = s[:len(s)-len(rest)+len(m.text)]
	m.unit = length.IN
	return m, true
}

var (
	over     = regexp.MustCompile(`^[ \t]*/`)
	comma    = regexp.MustCompile(`^,\d+(?:[ \t]*` + units + `)?`)
	grouped  = regexp.MustCompile(`^,\d{3}$`)
	hyphened = regexp.MustCompile(`^-\d+` + slash + `\d+(?:[ \t]*` + units + `)?`)
)

// doubt says what a maker may mean in two ways by a number: how many bytes after it
// belong to it, the fact and the remedy. The text before and after it decide.
func (m measure) doubt(before, rest string) (n int, fact, remedy string) {
	if m.zero {
		return 0, fmt.Sprintf("%s is a fraction over zero", m.text), "write another number below the line"
	}
	if g := comma.FindStringSubmatch(rest); m.whole && g != nil {
		more := strings.TrimSpace(strings.TrimSuffix(g[0], g[1]))
		remedy = fmt.Sprintf("write %s.%s, or a blank after the comma between two numbers", m.text, more[1:])
		if grouped.MatchString(more) {
			remedy = fmt.Sprintf("write %s.%s or %s%s, or a blank after the comma between two numbers", m.text, more[1:], m.text, more[1:])
		}
		return len(g[0]), fmt.Sprintf("%s%s may be two numbers or one with a decimal comma", m.text, more), remedy
	}
	blanks := func(more, means string) (int, string, string) {
		return len(more), fmt.Sprintf("%s%s may be %s or a difference", m.text, more, means),
			fmt.Sprintf("write %s %s, or blanks around the minus", m.text, more[1:])
	}
	if more := hyphened.FindString(rest); m.whole && more != "" {
		return blanks(more, "a mixed number")
	}
	if m.unit == length.FT && strings.HasPrefix(rest, "-") {
		if in, ok := inches(rest[1:]); ok && in.text == strings.TrimLeft(in.text, " \t") {
			return blanks("-"+in.text, "feet and inches")
		}
	}
	if m.fraction && strings.HasSuffix(strings.TrimRight(before, " \t"), "/") {
		return 0, fmt.Sprintf("/%s may divide by the fraction or by one number after the other", m.text),
			fmt.Sprintf("write /(%s), or brackets around what comes before", m.text)
	}
	return 0, "", ""
}

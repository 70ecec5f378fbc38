package partslist

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"panelyard/parts/length"
)

// marks counts which decimal marks the numbers of a file have.
type marks struct {
	point, comma       int
	firstPoint, firstC string // cells
}

// A number as written: digits, and what may stand between them.
var (
	digits = regexp.MustCompile(`[0-9][0-9.,]*[0-9]|[.,]?[0-9]+[.,]?`)
	spaced = regexp.MustCompile(`[0-9]{1,3}(?:[\x{a0}\x{2007}\x{2009}\x{202f}][0-9]{3})+(?:[^0-9/]|$)`)
	thrice = regexp.MustCompile(`^[1-9][0-9]{0,2}[.,][0-9]{3}$`)
	feet   = regexp.MustCompile(`^[+-]?[0-9]{1,3}['’′][0-9]{3}$`)
	groups = map[byte]*regexp.Regexp{
		'.': regexp.MustCompile(`^[0-9]{1,3}(?:\.[0-9]{3})+$`),
		',': regexp.MustCompile(`^[0-9]{1,3}(?:,[0-9]{3})+$`),
	}
)

// errNumber is the error of digits that are no number.
var errNumber = errors.New("is not a number: its marks are in no order")

// doubtError is the error of a number that can be read in two ways.
type doubtError struct{ text, one, two string }

func (e *doubtError) Error() string {
	return fmt.Sprintf("%q may mean %s or %s", e.text, e.one, e.two)
}

func (e *doubtError) remedy() string {
	return fmt.Sprintf("write %s or %s; or say which decimal mark the list has", e.one, e.two)
}

// plain is a number in its possible readings.
type plain struct {
	value   string // digits and a point
	other   string // the other reading, when there are two
	decimal Mark   // its decimal mark, Unstated when it shows none
}

// readNumber settles which mark of a number is the decimal one. The rules, m being
// the only mark:
//
//  1. two kinds of mark: the last is decimal, the other groups by three;
//  2. m more than once: it groups by three;
//  3. one to three digits, m, three digits: either, unless the mark is stated;
//  4. anything else: m is decimal.
//
// Where the decimal mark is stated, the other never is one.
func readNumber(s string, stated Mark) (plain, error) {
	last := strings.LastIndexAny(s, ".,")
	if last < 0 {
		return plain{value: s}, nil
	}
	m := s[last]
	decimal := markOf(s)
	number := strings.ReplaceAll(s[:last], otherMark(m), "") + "." + s[last+1:]
	switch {
	case strings.Contains(s[:last], otherMark(m)): // 1
		if !groups[otherMark(m)[0]].MatchString(s[:last]) || stated != Unstated && stated != decimal {
			return plain{}, fmt.Errorf("%q %w", s, errNumber)
		}
		return plain{value: number, decimal: decimal}, nil
	case strings.Count(s, string(m)) > 1: // 2
		if !groups[m].MatchString(s) || stated == decimal {
			return plain{}, fmt.Errorf("%q %w", s, errNumber)
		}
		return plain{value: strings.ReplaceAll(s, string(m), "")}, nil
	case thrice.MatchString(s): // 3
		whole := s[:last] + s[last+1:]
		number = strings.TrimSuffix(strings.TrimRight(number, "0"), ".")
		switch stated {
		case Unstated:
			return plain{value: number, other: whole, decimal: decimal}, nil
		case decimal:
			return plain{value: number, decimal: decimal}, nil
		}
		return plain{value: whole}, nil
	case stated != Unstated && stated != decimal:
		return plain{}, fmt.Errorf("%q has a decimal %v, and the list was said to have decimal %vs", s, decimal, stated)
	}
	return plain{value: number, decimal: decimal}, nil
}

// blanks are the blanks that typesetters put between groups of three digits.
var blanks = strings.NewReplacer("\u00a0", "", "\u2007", "", "\u2009", "", "\u202f", "")

// unspaced removes typographic blanks between groups of three digits: 1 200 is no
// mixed number. Others are made plain.
func unspaced(s string) string {
	s = spaced.ReplaceAllStringFunc(s, func(s string) string {
		last := strings.LastIndexAny(s, "0123456789") + 1
		return blanks.Replace(s[:last]) + s[last:]
	})
	return strings.Map(func(c rune) rune {
		if unicode.IsSpace(c) {
			return ' '
		}
		return c
	}, s)
}

// markOf returns the last mark of a number.
func markOf(s string) Mark {
	switch i := strings.LastIndexAny(s, ".,"); {
	case i < 0:
		return Unstated
	case s[i] == ',':
		return Comma
	}
	return Point
}

func otherMark(m byte) string {
	if m == ',' {
		return "."
	}
	return ","
}

// String returns the name of a mark.
func (m Mark) String() string {
	switch m {
	case Point:
		return "point"
	case Comma:
		return "comma"
	}
	return "unstated"
}

// see counts a decimal mark at a cell.
func (m *marks) see(mark Mark, cell string) {
	switch mark {
	case Point:
		if m.point++; m.point == 1 {
			m.firstPoint = cell
		}
	case Comma:
		if m.comma++; m.comma == 1 {
			m.firstC = cell
		}
	}
}

// errNoUnit is the error of a bare number that nothing gives a unit.
var errNoUnit = errors.New("has no unit")

// size reads a length written as text. A bare number has the unit def, which may be
// the zero Unit; bare reports that it was needed.
func size(s string, def length.Unit, stated Mark) (l length.Length, decimal Mark, bare bool, err error) {
	if len(s) > 64 {
		return 0, Unstated, false, fmt.Errorf("%q is too long to be a length", clip(s))
	}
	if feet.MatchString(s) {
		i := strings.IndexAny(s, "'’′")
		_, n := utf8.DecodeRuneInString(s[i:])
		return 0, Unstated, false, &doubtError{s, s[:i] + "' " + s[i+n:] + `"`, s[:i] + s[i+n:]}
	}
	s = unspaced(s)
	var rewritten, other string
	from := 0
	for _, at := range digits.FindAllStringIndex(s, -1) {
		p, err := readNumber(s[at[0]:at[1]], stated)
		if err != nil {
			return 0, Unstated, false, err
		}
		if p.other == "" {
			p.other = p.value
		}
		rewritten += s[from:at[0]] + p.value
		other += s[from:at[0]] + p.other
		from = at[1]
		if p.decimal != Unstated {
			decimal = p.decimal
		}
	}
	rewritten, other = rewritten+s[from:], other+s[from:]
	unit := def
	if unit.Size == 0 {
		unit = length.MM
	}
	l, err = length.Parse(rewritten, unit)
	if err != nil {
		return 0, Unstated, false, err
	}
	if other != rewritten {
		// In doubt only if it could be a length of a job the other way too.
		if _, err := length.Parse(other, unit); err == nil {
			return 0, Unstated, false, &doubtError{s, rewritten, other}
		}
	}
	if !strings.ContainsAny(s, `mcift"'″”′’`) {
		bare = true
		if def.Size == 0 {
			return 0, decimal, true, fmt.Errorf("%q %w", s, errNoUnit)
		}
	}
	return l, decimal, bare, nil
}

// quantities are the ways to write a number of panels.
var quantities = regexp.MustCompile(`^(?:[x×]\s*)?([+-]?[0-9][0-9.,]*)\s*(?:[x×]|pcs?\.?|pieces?)?$`)

// errWhole is the error of a quantity.
var errWhole = fmt.Errorf("is not a whole number from 0 to %d", MaxCopies)

// quantity reads a number of panels: 2, 2.0, x2, 2 pcs.
func quantity(s string, written bool, stated Mark) (int, error) {
	bad := fmt.Errorf("%q %w", clip(s), errWhole)
	m := quantities.FindStringSubmatch(strings.ToLower(unspaced(s)))
	if m == nil || len(s) > 40 {
		return 0, bad
	}
	value := m[1]
	if written {
		sign := strings.TrimLeft(value, "+-")
		p, err := readNumber(strings.TrimRight(sign, ".,"), stated)
		if err != nil {
			return 0, err
		}
		if p.other != "" {
			return 0, &doubtError{s, p.value, p.other}
		}
		value = value[:len(value)-len(sign)] + p.value
	}
	whole, fraction, _ := strings.Cut(value, ".")
	n, err := strconv.Atoi(whole)
	if err != nil || n < 0 || n > MaxCopies || strings.Trim(fraction, "0") != "" || strings.HasPrefix(whole, "-") {
		return 0, bad
	}
	return n, nil
}

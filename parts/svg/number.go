package svg

import (
	"math"
	"strconv"
	"strings"
)

// faulty is an error in an element with what to do about it.
type faulty struct{ fact, remedy string }

func (f *faulty) Error() string { return f.fact }

// The remedies that several faults share.
const (
	repairRemedy  = "repair the number or save the drawing again"
	againRemedy   = "take it out of the drawing, or draw it again"
	simplerRemedy = "export the panels only, without what surrounds them"
)

// scanner reads a list of numbers and words from an attribute.
type scanner struct {
	s string
	i int
}

// isBlank reports whether c is white space of SVG.
func isBlank(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f' }

// blanks skips white space.
func (c *scanner) blanks() {
	for c.i < len(c.s) && isBlank(c.s[c.i]) {
		c.i++
	}
}

// comma skips white space with at most one comma in it, and reports whether there
// was one.
func (c *scanner) comma() bool {
	c.blanks()
	if c.i < len(c.s) && c.s[c.i] == ',' {
		c.i++
		c.blanks()
		return true
	}
	return false
}

// end reports whether everything was read.
func (c *scanner) end() bool { return c.i >= len(c.s) }

// peek returns the next byte, 0 at the end.
func (c *scanner) peek() byte {
	if c.end() {
		return 0
	}
	return c.s[c.i]
}

// digits skips digits and returns how many there were.
func (c *scanner) digits() int {
	from := c.i
	for c.i < len(c.s) && c.s[c.i] >= '0' && c.s[c.i] <= '9' {
		c.i++
	}
	return c.i - from
}

// maxDigits is how many characters a number may have.
const maxDigits = 100

// number reads a number: a sign, digits with a point, an exponent. SVG 1.1 has a
// point without digits behind it, SVG 2 has not; it is read.
func (c *scanner) number() (float64, error) {
	from := c.i
	if b := c.peek(); b == '+' || b == '-' {
		c.i++
	}
	n := c.digits()
	if c.peek() == '.' {
		c.i++
		n += c.digits()
	}
	if n == 0 {
		c.i = from
		return 0, &faulty{"there is " + c.next() + " where a number belongs", repairRemedy}
	}
	if b := c.peek(); b == 'e' || b == 'E' {
		mark := c.i
		c.i++
		if b := c.peek(); b == '+' || b == '-' {
			c.i++
		}
		if c.digits() == 0 {
			c.i = mark // the unit em or ex
		}
	}
	text := c.s[from:c.i]
	if len(text) > maxDigits {
		return 0, fault(repairRemedy, "there is a number of %d characters, %d at most", len(text), maxDigits)
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, fault(repairRemedy, "the number %s is too large", text)
	}
	return v, nil
}

// next describes what comes next.
func (c *scanner) next() string {
	if c.end() {
		return "nothing"
	}
	const most = 12
	s := c.s[c.i:]
	s = s[:min(len(s), 4*most)]
	if n := strings.IndexAny(s[1:], " \t\r\n\f,"); n >= 0 {
		s = s[:n+1]
	}
	return quoted(cut(s, most))
}

// numbers reads a list of numbers, separated by blanks and commas, to its end, at
// most most.
func numbers(s string, most int) ([]float64, error) {
	c := scanner{s: s}
	var out []float64
	c.blanks()
	for comma := false; !c.end() || comma; comma = c.comma() {
		v, err := c.number()
		if err != nil {
			return out, err
		}
		if out = append(out, v); len(out) > most {
			return out, fault(simplerRemedy, "there are more than %d numbers", most)
		}
	}
	return out, nil
}

// measure is a number with its unit.
type measure struct {
	value float64
	unit  string // in small letters; empty when there is none
}

// maxValue is how many characters an attribute may have that holds a few numbers.
const maxValue = 1000

// readMeasure reads a number with a unit or without.
func readMeasure(s string) (measure, error) {
	if len(s) > maxValue {
		return measure{}, fault(repairRemedy, "it has %d characters, %d at most", len(s), maxValue)
	}
	c := scanner{s: strings.TrimSpace(s)}
	v, err := c.number()
	if err != nil {
		return measure{}, err
	}
	c.blanks()
	unit := strings.ToLower(c.s[c.i:])
	if b := c.peek() | 0x20; b != 0x20 && b != '%' && (b < 'a' || b > 'z') {
		return measure{}, fault(repairRemedy, "there is %s behind the number", c.next())
	}
	return measure{v, unit}, nil
}

// inches returns how many inches a unit is (CSS Values and Units Level 3, section
// 6.2: 1in = 2.54cm = 96px, 1pt = 1/72in, 1pc = 12pt, 1Q = 1/40cm).
func inches(unit string) (float64, bool) {
	switch unit {
	case "in":
		return 1, true
	case "cm":
		return 1 / 2.54, true
	case "mm":
		return 1 / 25.4, true
	case "pt":
		return 1.0 / 72, true
	case "pc":
		return 1.0 / 6, true
	case "q":
		return 1 / 101.6, true
	}
	return 0, false
}

// user returns a measure in user units, of which an inch has a number; of is what a
// percentage is of, NaN when it is not known.
func (m measure) user(inch, of float64) (float64, error) {
	switch m.unit {
	case "", "px":
		return m.value, nil
	case "%":
		if math.IsNaN(of) {
			return 0, fault("write it with a unit", "is %v %% of a size that the drawing does not tell", m.value)
		}
		return m.value / 100 * of, nil
	}
	if per, ok := inches(m.unit); ok {
		return m.value * per * inch, nil
	}
	return 0, m.unknown()
}

// unknown is the fault of a unit that is not read.
func (m measure) unknown() error {
	return fault("write it in mm, cm, in, pt, pc, px or without a unit", "has the unit %s, which is not read", quoted(m.unit))
}

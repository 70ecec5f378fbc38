package formula

import (
	"fmt"
	"regexp"
	"slices"

	"panelyard/parts/length"
)

// Definitions are names with formulas, which may use each other.
type Definitions struct {
	names []string
	list  map[string]*definition
}

type definition struct {
	formula *Formula // nil when it could not be parsed
	circle  bool     // it needs itself
}

var plainName = regexp.MustCompile(`^[\p{L}_][\p{L}\p{Nd}_]*$`)

// keywords are words of the formula language.
var keywords = []string{"true", "false", "nil", "not", "and", "or", "in", "let", "if", "else", "matches", "contains", "startsWith", "endsWith"}

// Add defines a name. Problems of the name have the column 0; the name is then not
// defined, and its formula is not looked at.
func (d *Definitions) Add(name, text string, unit length.Unit) []Problem {
	if d.list == nil {
		d.list = map[string]*definition{}
	}
	_, notUnit := length.ParseUnit(name)
	switch {
	case !plainName.MatchString(name):
		return []Problem{{0, fmt.Sprintf("%q is no name for a formula: a hyphen would be a minus", clip(name)), "use letters, digits and _, a letter first"}}
	case Reserved(name):
		return []Problem{{0, fmt.Sprintf("%q is a function of formulas", name), "choose another name"}}
	case notUnit == nil, slices.Contains(keywords, name), firstStandIn <= []rune(name)[0] && []rune(name)[0] < firstStandIn+maxLiterals:
		return []Problem{{0, fmt.Sprintf("%q means something else in formulas", name), "choose another name"}}
	case d.list[name] != nil:
		return []Problem{{0, fmt.Sprintf("%q is defined twice", clip(name)), "remove one of the two, or choose another name"}}
	}
	f, problems := Parse(text, unit)
	d.names = append(d.names, name)
	d.list[name] = &definition{formula: f}
	return problems
}

// Any reports whether a name is defined.
func (d *Definitions) Any() bool { return len(d.names) > 0 }

// Circles returns for each name that needs itself the way around, beginning with it:
// a, b, a.
func (d *Definitions) Circles() map[string][]string {
	out := map[string][]string{}
	const (
		open = iota + 1
		done
	)
	state := map[string]int{}
	var path []string
	var visit func(name string)
	visit = func(name string) {
		def := d.list[name]
		if def == nil || def.formula == nil || state[name] == done {
			return
		}
		if state[name] == open {
			around := slices.Clone(path[slices.Index(path, name):])
			for i, n := range around {
				d.list[n].circle = true
				if out[n] == nil {
					out[n] = slices.Concat(around[i:], around[:i], []string{n})
				}
			}
			return
		}
		state[name] = open
		path = append(path, name)
		for _, n := range def.formula.Names() {
			visit(n)
		}
		path = path[:len(path)-1]
		state[name] = done
	}
	for _, n := range d.names {
		visit(n)
	}
	return out
}

// Formula returns the formula of a name; nil when it has none that can be used.
func (d *Definitions) Formula(name string) *Formula {
	if def := d.list[name]; def != nil && !def.circle {
		return def.formula
	}
	return nil
}

// Needs reports whether a formula uses a name, itself or by names that it uses. Each
// definition is looked at once.
func (d *Definitions) Needs(f *Formula, name string) bool {
	seen := map[string]bool{}
	var needs func(f *Formula) bool
	needs = func(f *Formula) bool {
		for _, n := range f.Names() {
			if n == name {
				return true
			}
			if seen[n] {
				continue
			}
			seen[n] = true
			if def := d.list[n]; def != nil && def.formula != nil && needs(def.formula) {
				return true
			}
		}
		return false
	}
	return needs(f)
}

// At returns the names with what they stand for where others are given, such as the
// thickness of a panel's board. A name given hides a definition.
func (d *Definitions) At(given map[string]Value) Scope {
	return &scope{d: d, given: given, known: map[string]Value{}}
}

// scope works names out when they are first asked for.
type scope struct {
	d     *Definitions
	given map[string]Value
	known map[string]Value
}

// Value returns what a name stands for; no value when its formula has a problem.
func (s *scope) Value(name string) (Value, bool) {
	if v, ok := s.given[name]; ok {
		return v, true
	}
	if v, ok := s.known[name]; ok {
		return v, true
	}
	if s.d.list[name] == nil {
		return Value{}, false
	}
	s.known[name] = Value{} // meanwhile: a name that needs itself has no value
	if f := s.d.Formula(name); f != nil {
		s.known[name], _ = f.Eval(s)
	}
	return s.known[name], true
}

// Names returns the names in their order, those given last.
func (s *scope) Names() []string {
	names := slices.Clone(s.d.names)
	for n := range s.given {
		if s.d.list[n] == nil {
			names = append(names, n)
		}
	}
	slices.Sort(names[len(s.d.names):])
	return names
}

// Uses reports whether a formula, or a name that it uses and that is a single number,
// has a length among its numbers, plain ones counted in the unit of the job.
func (f *Formula) Uses(l length.Length, d *Definitions) bool {
	for _, n := range f.literals {
		if got, ok := n.value.Length(f.unit); ok && got == l {
			return true
		}
	}
	for _, n := range f.Names() {
		if g := d.Formula(n); g != nil && g.IsNumber() && g.Uses(l, d) {
			return true
		}
	}
	return false
}

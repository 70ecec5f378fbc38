package formula

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

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

var plainName = regexp.MustCompile(`^[\p{L}_][\p{L}\p{N}_]*$`)

// Add defines a name. Problems of the name have the column 0.
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
	case notUnit == nil, slices.Contains(keywords, name):
		return []Problem{{0, fmt.Sprintf("%q means something else in formulas", name), "choose another name"}}
	}
	f, problems := Parse(text, unit)
	d.names = append(d.names, name)
	d.list[name] = &definition{formula: f}
	return problems
}

// Any reports whether a name is defined.
func (d *Definitions) Any() bool { return len(d.names) > 0 }

// keywords are words of the formula language.
var keywords = []string{"true", "false", "nil", "not", "and", "or", "in", "let", "if", "else", "matches", "contains", "startsWith", "endsWith"}

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

// At returns the names with what they stand for where others are given, such as the
// thickness of a panel's board. Call Circles first.
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
	var v Value
	if f := s.d.Formula(name); f != nil {
		v, _ = f.Eval(s)
	}
	s.known[name] = v
	return v, true
}

// Names returns the names in their order, those given last.
func (s *scope) Names() []string {
	names := slices.Clone(s.d.names)
	for n := range s.given {
		names = append(names, n)
	}
	slices.Sort(names[len(s.d.names):])
	return names
}

// Explain writes a formula with its names' values put in: depth - 2*thickness becomes
// 560 - 2*18.2, lengths as the caller prints them.
func (f *Formula) Explain(s Scope, print func(length.Length) string) string {
	return word.ReplaceAllStringFunc(f.text, func(name string) string {
		v, ok := s.Value(name)
		if !ok || v.none() {
			return name
		}
		if v.dim == 1 {
			if l, ok := v.Length(f.unit); ok {
				return print(l)
			}
		}
		if v.dim != 0 {
			return name
		}
		return strings.TrimSuffix(strings.TrimRight(v.num.FloatString(3), "0"), ".")
	})
}

// Text returns the formula as written.
func (f *Formula) Text() string { return f.text }

// IsNumber reports whether the formula is a single number, with a unit or without.
func (f *Formula) IsNumber() bool {
	return len(f.literals) == 1 && strings.TrimSpace(f.text) == f.literals[0].text
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

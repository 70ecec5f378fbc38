// Package diag gathers what is wrong with a user's input: each finding says
// file, line, column, panel, fact and remedy, and a whole file's findings are
// shown at once, sorted by place.
package diag

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Pos is a place in an input file; the zero Pos is "no place". Lines and
// columns count from 1.
type Pos struct {
	File      string
	Line, Col int
}

// String returns file:line:col, leaving out what is not known; without a file
// it is "line 3:1".
func (p Pos) String() string {
	switch {
	case p.Line == 0:
		return p.File
	case p.File == "" && p.Col == 0:
		return fmt.Sprintf("line %d", p.Line)
	case p.File == "":
		return fmt.Sprintf("line %d:%d", p.Line, p.Col)
	case p.Col == 0:
		return fmt.Sprintf("%s:%d", p.File, p.Line)
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Col)
}

// Severity says whether a finding stops the work.
type Severity int

// The severities. A Warning is shown and the work goes on.
const (
	Mistake Severity = iota
	Warning
)

// Finding is one thing wrong, or doubtful, in a file.
type Finding struct {
	Pos      Pos
	Severity Severity
	Part     string // the panel, material or sheet concerned, as `panel "shelf"`; may be empty
	Fact     string // what is the matter, lower case, no full stop
	Remedy   string // what to do about it; may be empty
	Err      error  // the cause, when there is one
}

// Error returns place, part and fact on one line, without the remedy.
func (f Finding) Error() string {
	var b strings.Builder
	if s := f.Pos.String(); s != "" {
		b.WriteString(s + ": ")
	}
	if f.Severity == Warning {
		b.WriteString("warning: ")
	}
	if f.Part != "" {
		b.WriteString(f.Part + ": ")
	}
	b.WriteString(f.Fact)
	return b.String()
}

// Unwrap returns the cause.
func (f Finding) Unwrap() error { return f.Err }

// List is the findings of an input. A nil List is clean.
type List []Finding

// Add appends a mistake.
func (l *List) Add(pos Pos, part, fact, remedy string) {
	*l = append(*l, Finding{Pos: pos, Part: part, Fact: fact, Remedy: remedy})
}

// Warn appends a warning.
func (l *List) Warn(pos Pos, part, fact, remedy string) {
	*l = append(*l, Finding{Pos: pos, Severity: Warning, Part: part, Fact: fact, Remedy: remedy})
}

// Sort orders the list by file, line and column; findings at one place keep
// their order.
func (l List) Sort() {
	slices.SortStableFunc(l, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(a.Pos.File, b.Pos.File), cmp.Compare(a.Pos.Line, b.Pos.Line),
			cmp.Compare(a.Pos.Col, b.Pos.Col))
	})
}

// Split returns the mistakes and the warnings of l, each in order.
func (l List) Split() (mistakes, warnings List) {
	for _, f := range l {
		if f.Severity == Warning {
			warnings = append(warnings, f)
		} else {
			mistakes = append(mistakes, f)
		}
	}
	return mistakes, warnings
}

// Err returns the mistakes of l as an error, or nil when there is none.
func (l List) Err() error {
	m, _ := l.Split()
	if len(m) == 0 {
		return nil
	}
	m.Sort()
	return m
}

// Error returns every finding on its own line, its remedy indented below.
func (l List) Error() string {
	var b strings.Builder
	for i, f := range l {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(f.Error())
		if f.Remedy != "" {
			b.WriteString("\n    remedy: " + f.Remedy)
		}
	}
	return b.String()
}

// Unwrap returns the findings, so that errors.As reaches each of them.
func (l List) Unwrap() []error {
	errs := make([]error, len(l))
	for i, f := range l {
		errs[i] = f
	}
	return errs
}

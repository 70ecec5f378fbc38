package formula

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser"

	"panelyard/parts/length"
)

// MaxText is how many characters a formula may have.
const MaxText = 500

// Problem is one thing wrong with a formula. The column counts characters from 1.
type Problem struct {
	Col          int
	Fact, Remedy string
}

// Formula is a formula that was parsed.
type Formula struct {
	text     string
	literals []literal
	problems []Problem // of words and numbers, which do not keep it from being parsed
	tree     ast.Node
	unit     length.Unit
}

// Parse parses a formula of a job with a unit. There is either a formula or problems:
// what keeps a formula from being read. What else is wrong with it [Formula.Eval] tells,
// all at once.
func Parse(text string, unit length.Unit) (*Formula, []Problem) {
	switch {
	case utf8.RuneCountInString(text) > MaxText:
		return nil, []Problem{{1, fmt.Sprintf("a formula of %d characters is too long", utf8.RuneCountInString(text)), fmt.Sprintf("use %d or fewer, and variables for its parts", MaxText)}}
	case strings.TrimSpace(text) == "":
		return nil, []Problem{{1, "the formula is empty", "write a length or a formula"}}
	}
	for i, c := range []rune(text) {
		if c >= firstStandIn && c < firstStandIn+maxLiterals || unicode.IsControl(c) && c != '\t' || c == utf8.RuneError {
			return nil, []Problem{{i + 1, fmt.Sprintf("%s cannot stand in a formula", shown(c)), "use plain letters"}}
		}
	}
	f := &Formula{text: text, unit: unit}
	var src string
	src, f.literals, f.problems = cut(text)
	var err error
	if f.tree, err = parse(src); err == nil {
		return f, nil
	}
	if len(f.problems) > 0 {
		return nil, f.problems // which the library would stumble over
	}
	return nil, []Problem{f.syntax(err)}
}

// parse asks the library; a panic of it is an error.
func parse(src string) (n ast.Node, err error) {
	defer func() {
		if p := recover(); p != nil {
			n, err = nil, errors.New("cannot be understood")
		}
	}()
	t, err := parser.Parse(src)
	if err != nil {
		return nil, err
	}
	return t.Node, nil
}

// syntax makes the library's error a problem.
func (f *Formula) syntax(err error) Problem {
	p := Problem{1, "the formula cannot be understood", "check brackets and signs; lengths are written as 600, 18.2 mm, 23 11/16 in"}
	var e *file.Error
	if errors.As(err, &e) {
		p.Col = e.From + 1
		switch m := e.Message; {
		case strings.Contains(m, "unexpected token EOF"):
			p.Fact = "the formula ends too early"
		case strings.Contains(m, "unexpected token"), strings.Contains(m, "unrecognized character"):
			p.Fact = fmt.Sprintf("%s is not expected here", f.near(e.From))
		}
	}
	return p
}

// near returns what stands at a place of the text.
func (f *Formula) near(from int) string {
	for _, l := range f.literals {
		if l.from == from {
			return fmt.Sprintf("%q", l.text)
		}
	}
	r := []rune(f.text)
	if from < 0 || from >= len(r) {
		return "the end"
	}
	if w := word.FindString(string(r[from:])); w != "" {
		return fmt.Sprintf("%q", clip(w))
	}
	return fmt.Sprintf("%q", string(r[from]))
}

// Text returns the formula as written.
func (f *Formula) Text() string { return f.text }

// IsNumber reports whether the formula is a single number, with a unit or without.
func (f *Formula) IsNumber() bool {
	return len(f.literals) == 1 && strings.TrimSpace(f.text) == f.literals[0].text
}

// Names returns the names a formula uses, each once, in their order.
func (f *Formula) Names() []string {
	var list []string
	for _, n := range f.identifiers() {
		if !slices.Contains(list, n.Value) && n.Value != "pi" {
			list = append(list, n.Value)
		}
	}
	return list
}

// identifiers returns where names stand, pi included, in their order.
func (f *Formula) identifiers() []*ast.IdentifierNode {
	v := &namer{f: f}
	ast.Walk(&f.tree, v)
	slices.SortFunc(v.list, func(a, b *ast.IdentifierNode) int { return a.Location().From - b.Location().From })
	return v.list
}

type namer struct {
	f    *Formula
	list []*ast.IdentifierNode
}

// Visit notes a name.
func (v *namer) Visit(n *ast.Node) {
	id, ok := (*n).(*ast.IdentifierNode)
	if !ok || functions[id.Value] != nil {
		return
	}
	if _, ok := v.f.literal(id.Value); !ok {
		v.list = append(v.list, id)
	}
}

func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

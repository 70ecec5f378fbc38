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
	tree     ast.Node
	unit     length.Unit
}

// Parse parses a formula of a job with a unit.
func Parse(text string, unit length.Unit) (*Formula, []Problem) {
	switch {
	case utf8.RuneCountInString(text) > MaxText:
		return nil, []Problem{{1, fmt.Sprintf("a formula of %d characters is too long", utf8.RuneCountInString(text)), fmt.Sprintf("use %d or fewer, and variables for its parts", MaxText)}}
	case strings.TrimSpace(text) == "":
		return nil, []Problem{{1, "the formula is empty", "write a length or a formula"}}
	}
	for i, c := range []rune(text) {
		if c >= firstStandIn && c < firstStandIn+maxLiterals || unicode.IsControl(c) && c != '\t' {
			return nil, []Problem{{i + 1, fmt.Sprintf("%q cannot stand in a formula", c), "use plain letters"}}
		}
	}
	f := &Formula{text: text, unit: unit}
	src, literals, problems := cut(text)
	f.literals = literals
	if len(problems) > 0 {
		return nil, problems
	}
	tree, err := parse(src)
	if err != nil {
		return nil, []Problem{f.syntax(err)}
	}
	f.tree = tree
	if problems = f.vet(tree, nil); len(problems) > 0 {
		return nil, problems
	}
	return f, nil
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
	upto := from + 1
	for unicode.IsLetter(r[from]) && upto < len(r) && (unicode.IsLetter(r[upto]) || unicode.IsDigit(r[upto]) || r[upto] == '_') {
		upto++
	}
	return fmt.Sprintf("%q", string(r[from:upto]))
}

// literal returns the number that a name stands in for.
func (f *Formula) literal(name string) (literal, bool) {
	c, size := utf8.DecodeRuneInString(name)
	if i := int(c - firstStandIn); size == len(name) && i >= 0 && i < len(f.literals) {
		return f.literals[i], true
	}
	return literal{}, false
}

// vet returns what in a tree is none of a formula's business, and functions that are
// unknown or have too few or too many arguments.
func (f *Formula) vet(n ast.Node, list []Problem) []Problem {
	add := func(fact, remedy string) {
		list = append(list, Problem{n.Location().From + 1, fact, remedy})
	}
	switch n := n.(type) {
	case *ast.IdentifierNode, *ast.BoolNode:
	case *ast.UnaryNode:
		if !slices.Contains([]string{"-", "+", "!", "not"}, n.Operator) {
			add(n.Operator+" is not known", "use + - * / ^ and brackets")
		}
		list = f.vet(n.Node, list)
	case *ast.BinaryNode:
		if !slices.Contains(operators, n.Operator) {
			add(n.Operator+" is not known", "use + - * / ^, comparisons and brackets")
		}
		list = f.vet(n.Right, f.vet(n.Left, list))
	case *ast.ConditionalNode:
		list = f.vet(n.Exp2, f.vet(n.Exp1, f.vet(n.Cond, list)))
	case *ast.BuiltinNode:
		list = f.vetCall(n, n.Name, n.Arguments, list)
	case *ast.CallNode:
		name := "this"
		if id, ok := n.Callee.(*ast.IdentifierNode); ok {
			name = id.Value
		}
		list = f.vetCall(n, name, n.Arguments, list)
	default:
		add("this is no part of a formula of lengths", "use names, numbers, + - * / ^, brackets and functions")
	}
	return list
}

func (f *Formula) vetCall(n ast.Node, name string, args []ast.Node, list []Problem) []Problem {
	at := n.Location().From + 1
	switch fn, ok := functions[name]; {
	case !ok:
		list = append(list, Problem{at, fmt.Sprintf("there is no function %q", clip(name)), "functions: " + strings.Join(functionNames(), ", ")})
	case len(args) < fn.least || fn.most > 0 && len(args) > fn.most:
		list = append(list, Problem{at, fmt.Sprintf("%s has %d arguments", name, len(args)), "write " + fn.usage})
	}
	for _, a := range args {
		list = f.vet(a, list)
	}
	return list
}

var operators = []string{"+", "-", "*", "/", "^", "**", "<", "<=", ">", ">=", "==", "!=", "and", "or", "&&", "||"}

// Names returns the names a formula uses, each once, in their order.
func (f *Formula) Names() []string {
	var list []string
	v := &namer{f: f, list: &list}
	ast.Walk(&f.tree, v)
	return list
}

type namer struct {
	f    *Formula
	list *[]string
}

// Visit notes a name.
func (v *namer) Visit(n *ast.Node) {
	id, ok := (*n).(*ast.IdentifierNode)
	if !ok || slices.Contains(*v.list, id.Value) || id.Value == "pi" {
		return
	}
	if _, ok := v.f.literal(id.Value); !ok && functions[id.Value] == nil {
		*v.list = append(*v.list, id.Value)
	}
}

func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

package formula

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"
	"strings"

	"github.com/expr-lang/expr/ast"

	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// Scope gives the value of a name. The names are those that a finding may list.
type Scope interface {
	Value(name string) (Value, bool)
	Names() []string
}

// run is one evaluation.
type run struct {
	f        *Formula
	scope    Scope
	problems []Problem
	unchosen int // more than 0 in what a condition does not choose
}

// Eval works a formula out. The value is none when there are problems, and also when a
// name that is used has some.
func (f *Formula) Eval(scope Scope) (Value, []Problem) {
	r := &run{f: f, scope: scope, problems: slices.Clone(f.problems)}
	v := r.value(f.tree)
	if len(r.problems) > 0 {
		slices.SortStableFunc(r.problems, func(a, b Problem) int { return cmp.Compare(a.Col, b.Col) })
		return Value{}, r.problems
	}
	return v, nil
}

// Length works a formula out where a length is wanted: a plain number counts in the unit
// of the job. It tells when the formula comes to something else.
func (f *Formula) Length(scope Scope) (length.Length, []Problem) {
	v, problems := f.Eval(scope)
	if len(problems) > 0 {
		return 0, problems
	}
	if l, ok := v.Length(f.unit); ok {
		return l, nil
	}
	p := Problem{Col: 1}
	switch w := v.as(f.unit, 1); {
	case v.none():
		p.Fact, p.Remedy = "uses a name that has a mistake", "see there"
	case w.ratio:
		p.Fact, p.Remedy = "comes to a plain ratio: the units of two lengths cancel", "multiply by a length, such as 1 "+f.unit.Name
	case w.dim != 1:
		p.Fact, p.Remedy = fmt.Sprintf("comes to %s, where a length is wanted", v.kind()), "check the formula: a length times a length is an area"
	default:
		p.Fact, p.Remedy = fmt.Sprintf("is beyond %v, the longest that a job may hold", length.Max), "check the formula and its units"
	}
	return 0, []Problem{p}
}

// problem adds a problem at a node. A value that is none tells that there was one.
func (r *run) problem(n ast.Node, fact, remedy string) Value {
	r.problems = append(r.problems, Problem{n.Location().From + 1, fact, remedy})
	return Value{}
}

// failure adds a problem that rests on what values happen to be. What a condition does
// not choose may have them: conditions are there to guard.
func (r *run) failure(n ast.Node, fact, remedy string) Value {
	if r.unchosen > 0 {
		return Value{}
	}
	return r.problem(n, fact, remedy)
}

// aside looks at what a condition does not choose.
func (r *run) aside(look func()) {
	r.unchosen++
	look()
	r.unchosen--
}

// value works a node out.
func (r *run) value(n ast.Node) Value {
	switch n := n.(type) {
	case *ast.IdentifierNode:
		return r.name(n)
	case *ast.UnaryNode:
		return r.signed(n)
	case *ast.BinaryNode:
		return r.binary(n)
	case *ast.ConditionalNode:
		return r.choice(n)
	case *ast.BuiltinNode:
		return r.call(n, n.Name, n.Arguments)
	case *ast.CallNode:
		if id, ok := n.Callee.(*ast.IdentifierNode); ok {
			return r.call(n, id.Value, n.Arguments)
		}
	case *ast.BoolNode:
		return r.problem(n, "a condition is no length", "write condition ? this : that")
	}
	return r.problem(n, "this is no part of a formula of lengths", "use names, numbers, + - * / ^, brackets and functions")
}

func (r *run) signed(n *ast.UnaryNode) Value {
	switch n.Operator {
	case "-":
		v := r.value(n.Node)
		if v.none() {
			return v
		}
		return v.with(new(big.Rat).Neg(v.num))
	case "+":
		return r.value(n.Node)
	case "!", "not":
		r.condition(n)
		return r.problem(n, "a condition is no length", "write condition ? this : that")
	}
	return r.problem(n, n.Operator+" is not known in formulas", "use + - * / ^, comparisons and brackets")
}

// choice works condition ? this : that out.
func (r *run) choice(n *ast.ConditionalNode) Value {
	yes, ok := r.condition(n.Cond)
	var a, b Value
	// Both are looked at, so that a mistake does not wait for the other case.
	look := func(v *Value, n ast.Node, chosen bool) {
		if ok && chosen {
			*v = r.value(n)
			return
		}
		r.aside(func() { *v = r.value(n) })
	}
	look(&a, n.Exp1, yes)
	look(&b, n.Exp2, !yes)
	if !a.none() && !b.none() && a.as(r.f.unit, b.dim).dim != b.as(r.f.unit, a.dim).dim {
		return r.problem(n.Exp1, fmt.Sprintf("the choice is between %s and %s", a.kind(), b.kind()), "let both come to the same kind")
	}
	switch {
	case !ok:
		return Value{}
	case yes:
		return a
	}
	return b
}

// name returns what a name or a literal stands for.
func (r *run) name(n *ast.IdentifierNode) Value {
	if l, ok := r.f.literal(n.Value); ok {
		return l.value // none, when the number itself has a problem
	}
	if v, ok := r.scope.Value(n.Value); ok {
		return v // none, when the name itself has a problem
	}
	if n.Value == "pi" {
		return Number(pi)
	}
	names := r.scope.Names()
	remedy := "no names are known here"
	if len(names) > 0 {
		remedy = "known names: " + strings.Join(names[:min(len(names), 20)], ", ")
		if len(names) > 20 {
			remedy += ", …"
		}
	}
	return r.problem(n, fmt.Sprintf("unknown name %q", clip(n.Value)), didYouMean(n.Value, names)+remedy)
}

// didYouMean begins a remedy with the nearest word, when there is a near one.
func didYouMean(s string, words []string) string {
	if near := diag.Nearest(s, words); near != "" {
		return fmt.Sprintf("did you mean %q? ", near)
	}
	return ""
}

// binary works a sum, a product, a quotient or a power out.
func (r *run) binary(n *ast.BinaryNode) Value {
	switch n.Operator {
	case "<", "<=", ">", ">=", "==", "!=", "and", "or", "&&", "||":
		r.condition(n)
		return r.problem(n, "a condition is no length", "write condition ? this : that")
	}
	a, b := r.value(n.Left), r.value(n.Right)
	if a.none() || b.none() {
		return Value{}
	}
	z := new(big.Rat)
	switch n.Operator {
	case "+", "-":
		a, b, ok := r.alike(n, "cannot be added or subtracted", a, b)
		if !ok {
			return Value{}
		}
		if z.Add(a.num, b.num); n.Operator == "-" {
			z.Sub(a.num, b.num)
		}
		return r.small(n, Value{z, a.dim, a.ratio || b.ratio})
	case "*":
		return r.small(n, product(z.Mul(a.num, b.num), a, b, a.dim+b.dim))
	case "/":
		if b.num.Sign() == 0 {
			return r.failure(n, "divides by zero", "check what stands after the /")
		}
		return r.small(n, product(z.Quo(a.num, b.num), a, b, a.dim-b.dim))
	case "^", "**":
		return r.power(n, a, b)
	}
	return r.problem(n, n.Operator+" is not known in formulas", "use + - * / ^, comparisons and brackets")
}

// product is a product or quotient of a and b. It is a ratio when units cancel, or when
// one of the two is a ratio already.
func product(num *big.Rat, a, b Value, dim int) Value {
	return Value{num, dim, dim == 0 && (a.dim != 0 || a.ratio || b.ratio)}
}

// power works a power out. The numbers stay bounded: 9 times [maxBits] at most before
// they are looked at.
func (r *run) power(n ast.Node, a, b Value) Value {
	if b.dim != 0 || !b.num.IsInt() || !b.num.Num().IsInt64() || b.num.Num().Int64() < 0 || b.num.Num().Int64() > 9 {
		return r.failure(n, "a power is a whole number from 0 to 9", "use sqrt for roots, and / for powers below 0")
	}
	k := int(b.num.Num().Int64())
	z := big.NewRat(1, 1)
	for range k {
		z.Mul(z, a.num)
	}
	return r.small(n, Value{z, a.dim * k, a.ratio || k == 0 && a.dim != 0})
}

// alike makes a plain number a length, or an area, when the other is one. Without success
// it adds a problem; what tells what cannot be done with the two.
func (r *run) alike(n ast.Node, what string, a, b Value) (Value, Value, bool) {
	x, y := a.as(r.f.unit, b.dim), b.as(r.f.unit, a.dim)
	if x.dim == y.dim {
		return x, y, true
	}
	remedy := "check the formula"
	if a.ratio || b.ratio {
		remedy = "the units of two lengths cancel in a ratio: multiply it by a length, such as 1 " + r.f.unit.Name
	}
	r.problem(n, fmt.Sprintf("%s and %s %s", a.kind(), b.kind(), what), remedy)
	return Value{}, Value{}, false
}

// maxBits bounds the numbers of a fraction, which products make longer, and maxDim the
// dimension, which powers of powers make higher.
const (
	maxBits = 2000
	maxDim  = 100
)

// small wants a value to stay of a size that can be computed with.
func (r *run) small(n ast.Node, v Value) Value {
	if v.num.Num().BitLen() > maxBits || v.num.Denom().BitLen() > maxBits || v.dim > maxDim || v.dim < -maxDim {
		return r.failure(n, "the numbers become too large", "check the formula")
	}
	return v
}

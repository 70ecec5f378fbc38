package formula

import (
	"fmt"
	"math"
	"math/big"
	"strings"

	"github.com/expr-lang/expr/ast"
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
}

// Eval works a formula out. The value is none when there are problems.
func (f *Formula) Eval(scope Scope) (Value, []Problem) {
	r := &run{f: f, scope: scope}
	v := r.value(f.tree)
	if len(r.problems) > 0 {
		return Value{}, r.problems
	}
	return v, nil
}

// problem adds a problem at a node. A value that is none tells that there was one.
func (r *run) problem(n ast.Node, fact, remedy string) Value {
	r.problems = append(r.problems, Problem{n.Location().From + 1, fact, remedy})
	return Value{}
}

// none reports whether a value is missing.
func (v Value) none() bool { return v.num == nil }

// value works a node out.
func (r *run) value(n ast.Node) Value {
	switch n := n.(type) {
	case *ast.IdentifierNode:
		return r.name(n)
	case *ast.UnaryNode:
		v := r.value(n.Node)
		if v.none() || n.Operator == "+" {
			return v
		}
		if n.Operator != "-" {
			return r.problem(n, "not belongs to a condition", "write condition ? this : that")
		}
		return Value{new(big.Rat).Neg(v.num), v.dim}
	case *ast.BinaryNode:
		return r.binary(n)
	case *ast.ConditionalNode:
		yes, ok := r.condition(n.Cond)
		if !ok {
			return Value{}
		}
		// Both are looked at, so that a mistake does not wait for the other case.
		a, b := r.value(n.Exp1), r.value(n.Exp2)
		if yes {
			return a
		}
		return b
	case *ast.BuiltinNode:
		return r.call(n, n.Name, n.Arguments)
	case *ast.CallNode:
		return r.call(n, n.Callee.(*ast.IdentifierNode).Value, n.Arguments)
	}
	return r.problem(n, "a condition is no length", "write condition ? this : that")
}

// name returns what a name or a literal stands for.
func (r *run) name(n *ast.IdentifierNode) Value {
	if l, ok := r.f.literal(n.Value); ok {
		return l.value
	}
	if v, ok := r.scope.Value(n.Value); ok {
		return v // none, when the name itself has a problem
	}
	if n.Value == "pi" {
		return ofFloat(math.Pi, 0)
	}
	remedy := "no names are known here"
	if names := r.scope.Names(); len(names) > 0 {
		if len(names) > 20 {
			names = append(names[:20:20], "…")
		}
		remedy = "known names: " + strings.Join(names, ", ")
	}
	return r.problem(n, fmt.Sprintf("unknown name %q", clip(n.Value)), remedy)
}

// binary works a sum, a product, a quotient or a power out.
func (r *run) binary(n *ast.BinaryNode) Value {
	a, b := r.value(n.Left), r.value(n.Right)
	if a.none() || b.none() {
		return Value{}
	}
	z := new(big.Rat)
	switch n.Operator {
	case "+", "-":
		a, b = r.alike(a, b)
		if a.dim != b.dim {
			return r.problem(n, fmt.Sprintf("%s and %s cannot be added or subtracted", dimension(a.dim), dimension(b.dim)), "check the formula")
		}
		if n.Operator == "+" {
			return r.small(n, Value{z.Add(a.num, b.num), a.dim})
		}
		return r.small(n, Value{z.Sub(a.num, b.num), a.dim})
	case "*":
		return r.small(n, Value{z.Mul(a.num, b.num), a.dim + b.dim})
	case "/":
		if b.num.Sign() == 0 {
			return r.problem(n, "divides by zero", "check what stands after the /")
		}
		return r.small(n, Value{z.Quo(a.num, b.num), a.dim - b.dim})
	case "^", "**":
		if b.dim != 0 || !b.num.IsInt() || !b.num.Num().IsInt64() || b.num.Num().Int64() < 0 || b.num.Num().Int64() > 9 {
			return r.problem(n, "a power is a whole number from 0 to 9", "use sqrt for roots")
		}
		k := int(b.num.Num().Int64())
		z.SetInt64(1)
		for range k {
			z.Mul(z, a.num)
		}
		return r.small(n, Value{z, a.dim * k})
	}
	return r.problem(n, "a condition is no length", "write condition ? this : that")
}

// alike makes a plain number a length, or an area, when the other is one.
func (r *run) alike(a, b Value) (Value, Value) {
	return a.as(r.f.unit, b.dim), b.as(r.f.unit, a.dim)
}

// maxBits bounds the numbers of a fraction, which products make longer.
const maxBits = 2000

// small wants a value to stay of a size that can be computed with.
func (r *run) small(n ast.Node, v Value) Value {
	if v.num.Num().BitLen() > maxBits || v.num.Denom().BitLen() > maxBits {
		return r.problem(n, "the numbers become too large", "check the formula")
	}
	return v
}

// condition works a comparison out; ok is false after a problem.
func (r *run) condition(n ast.Node) (yes, ok bool) {
	switch n := n.(type) {
	case *ast.BoolNode:
		return n.Value, true
	case *ast.UnaryNode:
		if n.Operator == "!" || n.Operator == "not" {
			yes, ok = r.condition(n.Node)
			return !yes, ok
		}
	case *ast.BinaryNode:
		switch n.Operator {
		case "and", "&&", "or", "||":
			a, ok1 := r.condition(n.Left)
			b, ok2 := r.condition(n.Right)
			if n.Operator == "and" || n.Operator == "&&" {
				return a && b, ok1 && ok2
			}
			return a || b, ok1 && ok2
		case "<", "<=", ">", ">=", "==", "!=":
			return r.compare(n)
		}
	}
	r.problem(n, "this is no condition", "compare two values: width > 600 ? this : that")
	return false, false
}

func (r *run) compare(n *ast.BinaryNode) (yes, ok bool) {
	a, b := r.value(n.Left), r.value(n.Right)
	if a.none() || b.none() {
		return false, false
	}
	if a, b = r.alike(a, b); a.dim != b.dim {
		r.problem(n, fmt.Sprintf("%s and %s cannot be compared", dimension(a.dim), dimension(b.dim)), "check the formula")
		return false, false
	}
	c := a.num.Cmp(b.num)
	switch n.Operator {
	case "<":
		return c < 0, true
	case "<=":
		return c <= 0, true
	case ">":
		return c > 0, true
	case ">=":
		return c >= 0, true
	case "==":
		return c == 0, true
	}
	return c != 0, true
}

package formula

import "github.com/expr-lang/expr/ast"

// condition works a comparison out; ok is false after a problem, or when a name that it
// uses has one.
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
		case "and", "&&":
			return r.both(n, true)
		case "or", "||":
			return r.both(n, false)
		case "<", "<=", ">", ">=", "==", "!=":
			return r.compare(n)
		}
	}
	// A mistake further in is not hidden by this one.
	r.aside(func() { r.value(n) })
	r.problem(n, "this is no condition", "compare two values: width > 600 ? this : that")
	return false, false
}

// both works and, or out; the second counts only when the first comes to what leaves the
// question open: true for and.
func (r *run) both(n *ast.BinaryNode, open bool) (yes, ok bool) {
	a, known := r.condition(n.Left)
	if known && a == open {
		return r.condition(n.Right)
	}
	r.aside(func() { r.condition(n.Right) })
	return a, known
}

// compare works a comparison out, exactly.
func (r *run) compare(n *ast.BinaryNode) (yes, ok bool) {
	a, b := r.value(n.Left), r.value(n.Right)
	if a.none() || b.none() {
		return false, false
	}
	if a, b, ok = r.alike(n, "cannot be compared", a, b); !ok {
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

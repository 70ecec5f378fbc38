package formula

import (
	"fmt"
	"maps"
	"math"
	"math/big"
	"slices"
	"strings"

	"github.com/expr-lang/expr/ast"
)

// function is a function of formulas. Without a most it takes any number of arguments.
type function struct {
	least, most int
	usage       string
	do          func(r *run, n ast.Node, args []Value) Value
}

// functions are looked up while formulas are worked out.
var functions = map[string]*function{
	"min":       {1, 0, "min(a, b)", func(r *run, n ast.Node, v []Value) Value { return r.extreme(n, v, -1) }},
	"max":       {1, 0, "max(a, b)", func(r *run, n ast.Node, v []Value) Value { return r.extreme(n, v, 1) }},
	"abs":       {1, 1, "abs(a)", func(_ *run, _ ast.Node, v []Value) Value { return v[0].with(new(big.Rat).Abs(v[0].num)) }},
	"sqrt":      {1, 1, "sqrt(a)", (*run).root},
	"hypot":     {2, 2, "hypot(a, b)", (*run).hypot},
	"round":     {1, 2, "round(a, step)", func(r *run, n ast.Node, v []Value) Value { return r.step(n, v, nearest) }},
	"floor":     {1, 2, "floor(a, step)", func(r *run, n ast.Node, v []Value) Value { return r.step(n, v, below) }},
	"ceil":      {1, 2, "ceil(a, step)", func(r *run, n ast.Node, v []Value) Value { return r.step(n, v, above) }},
	"sin":       {1, 1, "sin(degrees)", (*run).sine},
	"cos":       {1, 1, "cos(degrees)", (*run).cosine},
	"tan":       {1, 1, "tan(degrees)", (*run).tangent},
	"asin":      {1, 1, "asin(a)", func(r *run, n ast.Node, v []Value) Value { return r.angle(n, v[0], math.Asin) }},
	"acos":      {1, 1, "acos(a)", func(r *run, n ast.Node, v []Value) Value { return r.angle(n, v[0], math.Acos) }},
	"atan":      {1, 1, "atan(a)", func(r *run, n ast.Node, v []Value) Value { return r.angle(n, v[0], math.Atan) }},
	"radius":    {2, 2, "radius(chord, rise)", (*run).radius},
	"rise":      {2, 2, "rise(chord, radius)", (*run).rise},
	"developed": {2, 2, "developed(chord, rise)", (*run).developed},
}

func functionNames() []string { return slices.Sorted(maps.Keys(functions)) }

// Reserved reports whether a name is that of a function or a constant.
func Reserved(name string) bool { return functions[name] != nil || name == "pi" }

// call works a function out.
func (r *run) call(n ast.Node, name string, nodes []ast.Node) Value {
	args := make([]Value, len(nodes))
	whole := true
	for i, a := range nodes {
		args[i] = r.value(a)
		whole = whole && !args[i].none()
	}
	fn := functions[name]
	switch {
	case fn == nil:
		names := functionNames()
		return r.problem(n, fmt.Sprintf("there is no function %q", clip(name)), didYouMean(name, names)+"functions: "+strings.Join(names, ", "))
	case len(args) < fn.least || fn.most > 0 && len(args) > fn.most:
		s := "s"
		if len(args) == 1 {
			s = ""
		}
		return r.problem(n, fmt.Sprintf("%s has %d argument%s", name, len(args), s), "write "+fn.usage)
	case !whole:
		return Value{}
	}
	return fn.do(r, n, args)
}

// result wants a number that is one.
func (r *run) result(n ast.Node, num *big.Rat, like Value) Value {
	if num == nil {
		return r.failure(n, "there is no such value", "check the arguments of the function")
	}
	return r.small(n, like.with(num))
}

// extreme returns the least or the most.
func (r *run) extreme(n ast.Node, args []Value, sign int) Value {
	best := args[0]
	for _, v := range args[1:] {
		ok := false
		if best, v, ok = r.alike(n, "cannot be compared", best, v); !ok {
			return Value{}
		}
		if v.num.Cmp(best.num) == sign {
			v, best = best, v
		}
		best.ratio = best.ratio || v.ratio
	}
	return best
}

func (r *run) root(n ast.Node, v []Value) Value {
	a := v[0]
	switch {
	case a.dim%2 != 0:
		return r.problem(n, "the root of "+a.kind()+" is no length", "multiply two lengths first")
	case a.num.Sign() < 0:
		return r.failure(n, "the root of a negative number", "check the argument")
	}
	return r.result(n, squareRoot(a.num), Value{dim: a.dim / 2, ratio: a.ratio})
}

func (r *run) hypot(n ast.Node, v []Value) Value {
	a, b, ok := r.alike(n, "do not go together", v[0], v[1])
	if !ok {
		return Value{}
	}
	x, y := new(big.Rat).Mul(a.num, a.num), new(big.Rat).Mul(b.num, b.num)
	return r.result(n, squareRoot(x.Add(x, y)), Value{dim: a.dim, ratio: a.ratio || b.ratio})
}

// step rounds to a multiple of a step. What is within 1e-12 of a multiple is that
// multiple: a root that went through floating point would else lose or gain a step.
func (r *run) step(n ast.Node, v []Value, way func(*big.Rat) *big.Int) Value {
	step := Number(big.NewRat(1, 1))
	if len(v) == 2 {
		step = v[1]
	}
	a, step, ok := r.alike(n, "do not go together: the step is a length for a length", v[0], step)
	if !ok {
		return Value{}
	}
	if step.num.Sign() <= 0 {
		return r.failure(n, "the step must be greater than zero", "write a step such as 1 "+r.f.unit.Name)
	}
	q := new(big.Rat).Quo(a.num, step.num)
	k := nearest(q)
	off := new(big.Rat).Sub(q, new(big.Rat).SetInt(k))
	most := new(big.Rat).Abs(q)
	if one := big.NewRat(1, 1); most.Cmp(one) < 0 {
		most = one
	}
	if off.Abs(off).Cmp(most.Mul(most, tiny)) > 0 {
		k = way(q)
	}
	m := new(big.Rat).SetInt(k)
	return r.small(n, Value{m.Mul(m, step.num), a.dim, a.ratio || step.ratio})
}

var tiny = big.NewRat(1, 1e12)

func below(r *big.Rat) *big.Int { return new(big.Int).Div(r.Num(), r.Denom()) }

func above(r *big.Rat) *big.Int {
	return new(big.Int).Neg(new(big.Int).Div(new(big.Int).Neg(r.Num()), r.Denom()))
}

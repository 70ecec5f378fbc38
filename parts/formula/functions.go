package formula

import (
	"fmt"
	"maps"
	"math"
	"math/big"
	"slices"

	"github.com/expr-lang/expr/ast"
)

// function is a function of formulas. Without a most it takes any number of arguments.
type function struct {
	least, most int
	usage       string
	do          func(r *run, n ast.Node, args []Value) Value
}

// functions are looked up while formulas are parsed and worked out.
var functions = map[string]*function{
	"min":       {1, 0, "min(a, b)", func(r *run, n ast.Node, v []Value) Value { return r.extreme(n, v, -1) }},
	"max":       {1, 0, "max(a, b)", func(r *run, n ast.Node, v []Value) Value { return r.extreme(n, v, 1) }},
	"abs":       {1, 1, "abs(a)", func(_ *run, _ ast.Node, v []Value) Value { return Value{new(big.Rat).Abs(v[0].num), v[0].dim} }},
	"sqrt":      {1, 1, "sqrt(a)", (*run).root},
	"hypot":     {2, 2, "hypot(a, b)", (*run).hypot},
	"round":     {1, 2, "round(a, step)", func(r *run, n ast.Node, v []Value) Value { return r.step(n, v, nearest) }},
	"floor":     {1, 2, "floor(a, step)", func(r *run, n ast.Node, v []Value) Value { return r.step(n, v, below) }},
	"ceil":      {1, 2, "ceil(a, step)", func(r *run, n ast.Node, v []Value) Value { return r.step(n, v, above) }},
	"sin":       {1, 1, "sin(degrees)", func(r *run, n ast.Node, v []Value) Value { return r.trig(n, v[0], math.Sin) }},
	"cos":       {1, 1, "cos(degrees)", func(r *run, n ast.Node, v []Value) Value { return r.trig(n, v[0], math.Cos) }},
	"tan":       {1, 1, "tan(degrees)", func(r *run, n ast.Node, v []Value) Value { return r.trig(n, v[0], math.Tan) }},
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
	if !whole {
		return Value{}
	}
	return functions[name].do(r, n, args)
}

// result wants a number that is one.
func (r *run) result(n ast.Node, f float64, dim int) Value {
	if v := ofFloat(f, dim); !v.none() {
		return v
	}
	return r.problem(n, "there is no such value", "check the arguments of the function")
}

// extreme returns the least or the most.
func (r *run) extreme(n ast.Node, args []Value, sign int) Value {
	best := args[0]
	for _, v := range args[1:] {
		if best, v = r.alike(best, v); best.dim != v.dim {
			return r.problem(n, fmt.Sprintf("%s and %s cannot be compared", dimension(best.dim), dimension(v.dim)), "check the arguments")
		}
		if v.num.Cmp(best.num) == sign {
			best = v
		}
	}
	return best
}

func (r *run) root(n ast.Node, v []Value) Value {
	switch {
	case v[0].num.Sign() < 0:
		return r.problem(n, "the root of a negative number", "check the argument")
	case v[0].dim%2 != 0:
		return r.problem(n, "the root of "+dimension(v[0].dim)+" is no length", "multiply two lengths first")
	}
	return r.result(n, math.Sqrt(v[0].float()), v[0].dim/2)
}

func (r *run) hypot(n ast.Node, v []Value) Value {
	a, b := r.alike(v[0], v[1])
	if a.dim != b.dim {
		return r.problem(n, fmt.Sprintf("%s and %s do not go together", dimension(a.dim), dimension(b.dim)), "check the arguments")
	}
	return r.result(n, math.Hypot(a.float(), b.float()), a.dim)
}

// step rounds to a multiple of a step.
func (r *run) step(n ast.Node, v []Value, way func(*big.Rat) *big.Int) Value {
	a, step := v[0], Number(big.NewRat(1, 1))
	if len(v) == 2 {
		step = v[1]
	}
	if a, step = r.alike(a, step); a.dim != step.dim || step.num.Sign() <= 0 {
		return r.problem(n, "the step is more than zero, and a length for a length", "write round(a, 1 mm)")
	}
	k := new(big.Rat).SetInt(way(new(big.Rat).Quo(a.num, step.num)))
	return r.small(n, Value{k.Mul(k, step.num), a.dim})
}

func below(r *big.Rat) *big.Int { return new(big.Int).Div(r.Num(), r.Denom()) }

func above(r *big.Rat) *big.Int {
	return new(big.Int).Neg(new(big.Int).Div(new(big.Int).Neg(r.Num()), r.Denom()))
}

// trig returns a function of an angle in degrees.
func (r *run) trig(n ast.Node, v Value, f func(float64) float64) Value {
	if v.dim != 0 {
		return r.problem(n, "an angle is a plain number of degrees", "write a number")
	}
	return r.result(n, f(v.float()*math.Pi/180), 0)
}

// angle returns an angle in degrees.
func (r *run) angle(n ast.Node, v Value, f func(float64) float64) Value {
	if v.dim != 0 {
		return r.problem(n, "the argument is a plain number", "divide two lengths")
	}
	return r.result(n, f(v.float())*180/math.Pi, 0)
}

// two returns two lengths, the first more than zero and the second not less.
func (r *run) two(n ast.Node, v []Value) (a, b float64, ok bool) {
	x, y := v[0].as(r.f.unit, 1), v[1].as(r.f.unit, 1)
	if x.dim != 1 || y.dim != 1 || x.num.Sign() <= 0 || y.num.Sign() <= 0 {
		r.problem(n, "both arguments are lengths more than zero", "check the arguments")
		return 0, 0, false
	}
	return x.float(), y.float(), true
}

// radius of an arc over a chord: c^2/8h + h/2.
func (r *run) radius(n ast.Node, v []Value) Value {
	c, h, ok := r.two(n, v)
	if !ok {
		return Value{}
	}
	return r.result(n, c*c/(8*h)+h/2, 1)
}

// rise of an arc of up to a half circle over a chord.
func (r *run) rise(n ast.Node, v []Value) Value {
	c, radius, ok := r.two(n, v)
	if !ok {
		return Value{}
	}
	if c > 2*radius {
		return r.problem(n, "the radius is less than half the chord", "use a larger radius")
	}
	return r.result(n, radius-math.Sqrt(radius*radius-c*c/4), 1)
}

// developed length of an arc over a chord.
func (r *run) developed(n ast.Node, v []Value) Value {
	c, h, ok := r.two(n, v)
	if !ok {
		return Value{}
	}
	radius := c*c/(8*h) + h/2
	return r.result(n, 2*math.Atan2(c/2, radius-h)*radius, 1)
}

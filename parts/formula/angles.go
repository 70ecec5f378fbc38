package formula

import (
	"math"
	"math/big"

	"github.com/expr-lang/expr/ast"
)

var pi = rounded(math.Pi)

// degrees returns an angle within a full turn; ok is false when it is no plain number.
func (r *run) degrees(n ast.Node, v Value) (d *big.Rat, ok bool) {
	if v.dim != 0 {
		r.problem(n, "an angle is a plain number of degrees, not "+v.kind(), "write a number")
		return nil, false
	}
	turn := big.NewRat(360, 1)
	d = new(big.Rat).Quo(v.num, turn)
	d.SetInt(below(d))
	return d.Sub(v.num, d.Mul(d, turn)), true
}

// sin returns the sine of degrees from 0, exactly where it is 0, 1 or -1.
func sin(d *big.Rat) *big.Rat {
	if q := new(big.Rat).Quo(d, big.NewRat(90, 1)); q.IsInt() {
		return new(big.Rat).SetInt64([]int64{0, 1, 0, -1}[q.Num().Int64()%4])
	}
	f, _ := d.Float64()
	return rounded(math.Sin(f * math.Pi / 180))
}

// cos returns the cosine of degrees from 0.
func cos(d *big.Rat) *big.Rat { return sin(new(big.Rat).Add(d, big.NewRat(90, 1))) }

func (r *run) sine(n ast.Node, v []Value) Value {
	d, ok := r.degrees(n, v[0])
	if !ok {
		return Value{}
	}
	return r.result(n, sin(d), v[0])
}

func (r *run) cosine(n ast.Node, v []Value) Value {
	d, ok := r.degrees(n, v[0])
	if !ok {
		return Value{}
	}
	return r.result(n, cos(d), v[0])
}

func (r *run) tangent(n ast.Node, v []Value) Value {
	d, ok := r.degrees(n, v[0])
	if !ok {
		return Value{}
	}
	c := cos(d)
	if c.Sign() == 0 {
		return r.failure(n, "there is no tangent of a right angle", "check the angle")
	}
	// The quotient of two rounded numbers is rounded again: tan(45) is 1.
	f, _ := new(big.Rat).Quo(sin(d), c).Float64()
	return r.result(n, rounded(f), v[0])
}

// angle returns an angle in degrees.
func (r *run) angle(n ast.Node, v Value, f func(float64) float64) Value {
	if v.dim != 0 {
		return r.problem(n, "the argument is a plain number, not "+v.kind(), "divide two lengths")
	}
	return r.result(n, rounded(f(v.float())*180/math.Pi), v)
}

// two returns two lengths, both more than zero.
func (r *run) two(n ast.Node, v []Value) (a, b *big.Rat, ok bool) {
	x, y := v[0].as(r.f.unit, 1), v[1].as(r.f.unit, 1)
	switch {
	case x.dim != 1 || y.dim != 1:
		r.problem(n, "both arguments are lengths", "check the arguments")
	case x.num.Sign() <= 0 || y.num.Sign() <= 0:
		r.failure(n, "both arguments are lengths more than zero", "check the arguments")
	default:
		return x.num, y.num, true
	}
	return nil, nil, false
}

// arcRadius is c^2/8h + h/2, of a chord and a rise.
func arcRadius(c, h *big.Rat) *big.Rat {
	z := new(big.Rat).Mul(c, c)
	z.Quo(z, new(big.Rat).Mul(h, big.NewRat(8, 1)))
	return z.Add(z, new(big.Rat).Quo(h, big.NewRat(2, 1)))
}

// radius of an arc over a chord.
func (r *run) radius(n ast.Node, v []Value) Value {
	c, h, ok := r.two(n, v)
	if !ok {
		return Value{}
	}
	return r.result(n, arcRadius(c, h), Value{dim: 1})
}

// rise of an arc of up to a half circle over a chord: R - sqrt(R^2 - c^2/4), the second
// root of arcRadius.
func (r *run) rise(n ast.Node, v []Value) Value {
	c, radius, ok := r.two(n, v)
	if !ok {
		return Value{}
	}
	half := new(big.Rat).Quo(c, big.NewRat(2, 1))
	if half.Cmp(radius) > 0 {
		return r.failure(n, "the radius is less than half the chord", "use a larger radius")
	}
	z := new(big.Rat).Mul(radius, radius)
	z = squareRoot(z.Sub(z, half.Mul(half, half)))
	if z == nil {
		return r.result(n, nil, Value{})
	}
	return r.result(n, z.Sub(radius, z), Value{dim: 1})
}

// developed length of an arc over a chord.
func (r *run) developed(n ast.Node, v []Value) Value {
	c, h, ok := r.two(n, v)
	if !ok {
		return Value{}
	}
	chord, _ := c.Float64()
	rise, _ := h.Float64()
	radius, _ := arcRadius(c, h).Float64()
	return r.result(n, rounded(2*math.Atan2(chord/2, radius-rise)*radius), Value{dim: 1})
}

package formula

import (
	"math"
	"math/big"

	"panelyard/parts/length"
)

// Value is an exact number with a dimension: 0 is a plain number, 1 a length in grid
// units, 2 an area, and so on. The zero Value is no value.
type Value struct {
	num *big.Rat
	dim int
}

// Number returns a plain number.
func Number(v *big.Rat) Value { return Value{num: v} }

// OfLength returns a length.
func OfLength(l length.Length) Value { return Value{new(big.Rat).SetInt64(int64(l)), 1} }

// Plain reports whether v is a plain number.
func (v Value) Plain() bool { return v.dim == 0 }

// as returns a plain number in a unit to the power of a dimension, or the value as it
// is.
func (v Value) as(u length.Unit, dim int) Value {
	if v.dim != 0 || v.none() {
		return v
	}
	z := new(big.Rat).Set(v.num)
	for range dim {
		z.Mul(z, new(big.Rat).SetInt64(int64(u.Size)))
	}
	return Value{z, max(0, dim)}
}

// float returns the value as a floating-point number.
func (v Value) float() float64 {
	f, _ := v.num.Float64()
	return f
}

// Length returns the value as a length, a plain number counted in a unit. It reports
// false when it is none or is beyond the longest.
func (v Value) Length(u length.Unit) (length.Length, bool) {
	v = v.as(u, 1)
	if v.dim != 1 || v.none() {
		return 0, false
	}
	r := nearest(v.num)
	if !r.IsInt64() || length.Length(r.Int64()).Abs() > length.Max {
		return 0, false
	}
	return length.Length(r.Int64()), true
}

// nearest returns the whole number nearest to a fraction, halves away from zero.
func nearest(r *big.Rat) *big.Int {
	n, d := new(big.Int).Abs(r.Num()), r.Denom()
	n.Mul(n, big.NewInt(2)).Add(n, d)
	n.Quo(n, new(big.Int).Mul(d, big.NewInt(2)))
	if r.Sign() < 0 {
		n.Neg(n)
	}
	return n
}

// ofFloat returns a value of a floating-point number; it is none for infinite ones.
func ofFloat(f float64, dim int) Value {
	if math.IsInf(f, 0) || math.IsNaN(f) {
		return Value{}
	}
	return Value{new(big.Rat).SetFloat64(f), dim}
}

// name returns what a dimension is called.
func dimension(dim int) string {
	switch dim {
	case 0:
		return "a plain number"
	case 1:
		return "a length"
	case 2:
		return "an area"
	case 3:
		return "a volume"
	}
	return "neither a number nor a length"
}

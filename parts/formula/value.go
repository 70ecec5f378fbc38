package formula

import (
	"fmt"
	"math"
	"math/big"
	"strconv"

	"panelyard/parts/length"
)

// Value is an exact number with a dimension: 0 is a plain number, 1 a length in grid
// units, 2 an area, and so on. The zero Value is no value.
type Value struct {
	num *big.Rat
	dim int
	// ratio marks a plain number that came of lengths: width/height. It does not count
	// in the unit of the job.
	ratio bool
}

// Number returns a plain number.
func Number(v *big.Rat) Value { return Value{num: v} }

// OfLength returns a length.
func OfLength(l length.Length) Value { return Value{num: new(big.Rat).SetInt64(int64(l)), dim: 1} }

// Plain reports whether v is a plain number.
func (v Value) Plain() bool { return v.dim == 0 }

// none reports whether a value is missing.
func (v Value) none() bool { return v.num == nil }

// with returns another number of the same kind.
func (v Value) with(num *big.Rat) Value { return Value{num, v.dim, v.ratio} }

// as returns a plain number in a unit to the power of a dimension, or the value as it
// is.
func (v Value) as(u length.Unit, dim int) Value {
	if v.dim != 0 || dim <= 0 || v.ratio || v.none() {
		return v
	}
	z := new(big.Rat).Set(v.num)
	for range dim {
		z.Mul(z, new(big.Rat).SetInt64(int64(u.Size)))
	}
	return Value{num: z, dim: dim}
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
	if !r.IsInt64() || r.CmpAbs(big.NewInt(int64(length.Max))) > 0 {
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

// rounded returns a floating-point number to 14 digits, so that a sine of 30 degrees is
// 1/2 and the last bits, in which machines differ, do not matter; nil for what is not
// finite.
func rounded(f float64) *big.Rat {
	if math.IsInf(f, 0) || math.IsNaN(f) {
		return nil
	}
	r, _ := new(big.Rat).SetString(strconv.FormatFloat(f, 'e', 13, 64))
	return r
}

// squareRoot returns the root of a number that is not negative: exact for the square of
// a fraction; nil when floating point cannot hold it.
func squareRoot(r *big.Rat) *big.Rat {
	n, d := new(big.Int).Sqrt(r.Num()), new(big.Int).Sqrt(r.Denom())
	root := new(big.Rat).SetFrac(n, d)
	if new(big.Rat).Mul(root, root).Cmp(r) == 0 {
		return root
	}
	f, _ := r.Float64()
	return rounded(math.Sqrt(f))
}

// kind returns what a value is called.
func (v Value) kind() string {
	switch {
	case v.ratio:
		return "a plain ratio"
	case v.dim == 0:
		return "a plain number"
	case v.dim == 1:
		return "a length"
	case v.dim == 2:
		return "an area"
	case v.dim == 3:
		return "a volume"
	case v.dim < 0:
		return "a number divided by a length"
	}
	return fmt.Sprintf("a length to the power of %d", v.dim)
}

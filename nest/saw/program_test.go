package saw

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// Against gonum's simplex method on random programs, and by duality: no column has a
// reduced cost below zero, and wants times dual values is the cost. Columns come while
// the program is being solved, as they do in a dive.
func TestProgramAgainstGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	for n := range 300 {
		rows, columns := 1+rng.IntN(15), 1+rng.IntN(60)
		wants, costs := make([]float64, rows), make([]float64, rows)
		a := mat.NewDense(rows, 2*rows+columns, nil)
		for i := range rows {
			wants[i], costs[i] = 1+rng.Float64()*9, float64(20+rng.IntN(30))
			a.Set(i, i, 1)
		}
		p := newProgram(wants, costs)
		for i := range rows {
			p.add(0, []entry{{int32(i), -1}})
			a.Set(i, rows+i, -1)
		}
		all := append(append([]float64{}, costs...), make([]float64, rows)...)
		for j := range columns {
			var gives []entry
			one := rng.IntN(rows)
			for i := range rows {
				if v := 1 + rng.IntN(4); i == one || rng.IntN(4) == 0 {
					gives = append(gives, entry{int32(i), float64(v)})
					a.Set(i, 2*rows+j, float64(v))
				}
			}
			all = append(all, float64(1+rng.IntN(60)))
			p.add(all[2*rows+j], gives)
			if rng.IntN(8) == 0 {
				p.solve(context.Background(), math.MaxInt)
			}
		}
		p.solve(context.Background(), math.MaxInt)
		want, _, err := lp.Simplex(all, a, wants, 1e-10, nil)
		if err != nil {
			t.Fatalf("gonum: %v", err)
		}
		value, dual := 0.0, 0.0
		for j, x := range p.values(0) {
			if x < -1e-9 {
				t.Errorf("program %d: %v of column %d", n, x, j)
			}
			value += all[j] * x
		}
		for i, y := range p.duals {
			dual += y * wants[i]
		}
		if math.Abs(value-want) > 1e-7*(1+want) || math.Abs(dual-want) > 1e-7*(1+want) {
			t.Errorf("program %d: %v, by the dual values %v, gonum finds %v", n, value, dual, want)
		}
		for j := range p.columns {
			r := p.columns[j].cost
			for _, e := range p.columns[j].gives {
				r -= p.duals[e.row] * e.value
			}
			if r < -1e-6 {
				t.Errorf("program %d: column %d has a reduced cost of %v", n, j, r)
			}
		}
	}
}

// Solved by hand: 10 long and 20 short pieces; a sheet holds two long ones, or a long one
// and three short ones, or five short ones, for 1 each. Of the second kind 20/3 sheets
// would hold the short ones, and with them 20/3 long ones; 10/3 long ones are left, for
// 5/3 sheets: 25/3 together. The dual values are 1/2 and 1/6, with which no sheet is worth
// more than 1, and 10/2 + 20/6 = 25/3.
func TestProgramByHand(t *testing.T) {
	p := newProgram([]float64{10, 20}, []float64{3, 3})
	p.add(1, []entry{{0, 2}})
	p.add(1, []entry{{0, 1}, {1, 3}})
	p.add(1, []entry{{1, 5}})
	p.solve(context.Background(), math.MaxInt)
	for i, want := range []float64{5. / 3, 20. / 3, 0} {
		if got := p.values(2)[i]; math.Abs(got-want) > 1e-9 {
			t.Errorf("%v of pattern %d, want %v", got, i, want)
		}
	}
	for i, want := range []float64{1. / 2, 1. / 6} {
		if math.Abs(p.duals[i]-want) > 1e-9 {
			t.Errorf("dual value %d is %v, want %v", i, p.duals[i], want)
		}
	}
}

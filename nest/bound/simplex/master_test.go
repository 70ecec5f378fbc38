package simplex

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// Against gonum's simplex method on random programs, and by duality: no column has a
// reduced cost below zero, and rows times dual values is the cost.
func TestAgainstGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 1))
	for n := range 300 {
		rows, columns := 1+rng.IntN(12), 1+rng.IntN(40)
		b, unit := make([]float64, rows), make([]float64, rows)
		a := mat.NewDense(rows, rows+columns, nil)
		costs := make([]float64, 0, rows+columns)
		for i := range rows {
			b[i], unit[i] = 1+rng.Float64()*9, float64(20+rng.IntN(30))
			a.Set(i, i, 1)
		}
		costs = append(costs, unit...)
		m, err := New(b, unit)
		if err != nil {
			t.Fatal(err)
		}
		for j := range columns {
			column := make([]float64, rows)
			for i := range column {
				if rng.IntN(3) == 0 {
					column[i] = float64(rng.IntN(5))
				}
			}
			column[rng.IntN(rows)]++
			a.SetCol(rows+j, column)
			costs = append(costs, float64(1+rng.IntN(60)))
			m.Add(costs[rows+j], NewColumn(column))
			if rng.IntN(4) == 0 { // columns come while it is being solved
				if err := m.Solve(context.Background()); err != nil {
					t.Fatal(err)
				}
			}
		}
		if err := m.Solve(context.Background()); err != nil {
			t.Fatal(err)
		}
		want, _, err := lp.Simplex(costs, a, b, 1e-10, nil)
		if err != nil {
			t.Fatalf("gonum: %v", err)
		}
		if got := m.Value(); math.Abs(got-want) > 1e-7*(1+want) {
			t.Errorf("program %d: %v, gonum finds %v", n, got, want)
		}
		dual := 0.0
		for i, y := range m.Duals() {
			dual += y * b[i]
		}
		if math.Abs(dual-want) > 1e-7*(1+want) {
			t.Errorf("program %d: the dual values make %v, not %v", n, dual, want)
		}
		for j := range m.Columns() {
			if r := m.Reduced(costs[j], m.Column(j)); r < -1e-6 {
				t.Errorf("program %d: column %d has a reduced cost of %v", n, j, r)
			}
		}
	}
}

// Beale's example cycles under the plain rule (1955, from memory): the least cost of
// -3/4 x1 + 20 x2 - 1/2 x3 + 6 x4 is -5/4.
func TestBeale(t *testing.T) {
	m, err := New([]float64{0, 0, 1}, []float64{0, 0, 0})
	if err != nil {
		t.Fatal(err)
	}
	m.Add(-0.75, NewColumn([]float64{0.25, 0.5, 0}))
	m.Add(20, NewColumn([]float64{-8, -12, 0}))
	m.Add(-0.5, NewColumn([]float64{-1, -0.5, 1}))
	m.Add(6, NewColumn([]float64{9, 3, 0}))
	if err := m.Solve(context.Background()); err != nil || math.Abs(m.Value()+1.25) > 1e-9 {
		t.Errorf("%v, %v; want -1.25", m.Value(), err)
	}
}

func TestRefused(t *testing.T) {
	m, err := New([]float64{1}, []float64{0})
	if err != nil {
		t.Fatal(err)
	}
	m.Add(-1, NewColumn([]float64{-1}))
	if err := m.Solve(context.Background()); !errors.Is(err, ErrUnbounded) {
		t.Errorf("a cost without an end: %v", err)
	}
	if _, err := New([]float64{-1}, []float64{0}); err == nil {
		t.Error("a row below zero was taken")
	}
	if _, err := New([]float64{1, 2}, []float64{0}); err == nil {
		t.Error("two rows with one unit column were taken")
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if err := m.Solve(ctx); !errors.Is(err, context.Canceled) {
		t.Errorf("an ended context: %v", err)
	}
}

// A column holds what it was made of, and nothing that is 0.
func TestColumn(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 1))
	for n := range 100 {
		want := make([]float64, n)
		some := 0
		for i := range want {
			if rng.IntN(4) == 0 {
				want[i] = float64(1 + rng.IntN(9))
				some++
			}
		}
		c := NewColumn(want)
		if len(c.Rows) != some || len(c.Values) != some || !slices.Equal(c.dense(n), want) {
			t.Fatalf("%v is held as %+v", want, c)
		}
		c.Put(n, 5)
		if !slices.Equal(c.dense(n+1), append(want, 5)) {
			t.Fatalf("%v and 5 is held as %+v", want, c)
		}
	}
}

// Rows that come while a program is being solved make the same program as rows that were
// there from the start.
func TestAddRows(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 1))
	for n := range 200 {
		rows, late := 1+rng.IntN(6), 1+rng.IntN(6)
		b, unit := make([]float64, rows+late), make([]float64, rows+late)
		for i := range b {
			b[i], unit[i] = rng.Float64()*9, float64(20+rng.IntN(30))
		}
		whole, err := New(b, unit)
		if err != nil {
			t.Fatal(err)
		}
		grown, err := New(slices.Clone(b[:rows]), unit[:rows])
		if err != nil {
			t.Fatal(err)
		}
		add := func(most int) {
			for range 1 + rng.IntN(10) {
				column := make([]float64, most)
				for range 3 {
					column[rng.IntN(most)] = float64(1 + rng.IntN(4))
				}
				cost := float64(1 + rng.IntN(60))
				whole.Add(cost, NewColumn(column))
				grown.Add(cost, NewColumn(column))
			}
		}
		add(rows)
		if err := grown.Solve(context.Background()); err != nil {
			t.Fatal(err)
		}
		before := grown.Value()
		if err := grown.AddRows(b[rows:], unit[rows:]); err != nil {
			t.Fatal(err)
		}
		for i := rows; i < rows+late; i++ {
			before += b[i] * unit[i]
		}
		if got := grown.Value(); math.Abs(got-before) > 1e-7*(1+before) {
			t.Fatalf("program %d: the solution did not stand: %v, want %v", n, got, before)
		}
		add(rows + late)
		if err := errors.Join(whole.Solve(context.Background()), grown.Solve(context.Background())); err != nil {
			t.Fatal(err)
		}
		if got, want := grown.Value(), whole.Value(); math.Abs(got-want) > 1e-7*(1+want) {
			t.Errorf("program %d: %v, and %v with all rows from the start", n, got, want)
		}
	}
	m, err := New([]float64{1}, []float64{0})
	if err != nil {
		t.Fatal(err)
	}
	if m.AddRows([]float64{-1}, []float64{0}) == nil || len(m.Duals()) != 1 {
		t.Error("a row below zero was taken")
	}
}

// A solution gives every row what it wants, and after a column's cost was changed it is that
// of a program which had that cost from the start.
func TestPrice(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	changed, moved := 0, 0
	for n := range 200 {
		rows, columns := 2+rng.IntN(8), 3+rng.IntN(20)
		b, unit := make([]float64, rows), make([]float64, rows)
		for i := range rows {
			b[i], unit[i] = 1+rng.Float64()*9, 50
		}
		var list []Column
		var costs []float64
		for range columns {
			column := make([]float64, rows)
			for i := range column {
				column[i] = float64(rng.IntN(4))
			}
			column[rng.IntN(rows)]++
			list, costs = append(list, NewColumn(column)), append(costs, float64(1+rng.IntN(60)))
		}
		solved := func(m *Master) float64 {
			t.Helper()
			for range 2 {
				if err := m.Solve(context.Background()); err != nil {
					t.Fatal(err)
				}
			}
			got := make([]float64, rows)
			x := m.X(rows)
			for i := range rows {
				got[i] = m.X(i)[0] // of the row's own column
			}
			for j, v := range x {
				if v < -1e-9 {
					t.Fatalf("program %d: column %d is %v", n, j, v)
				}
				for k, i := range list[j].Rows {
					got[i] += v * list[j].Values[k]
				}
			}
			for i := range rows {
				if math.Abs(got[i]-b[i]) > 1e-6 {
					t.Fatalf("program %d: row %d has %v of %v", n, i, got[i], b[i])
				}
			}
			return m.Value()
		}
		m, _ := New(b, unit)
		for j := range list {
			m.Add(costs[j], list[j])
		}
		before := solved(m)
		pivots := m.Pivots()
		j := rng.IntN(columns)
		costs[j] = 70
		if err := m.Price(rows+j, 70); err != nil {
			t.Fatal(err)
		}
		after := solved(m)
		fresh, _ := New(b, unit)
		for j := range list {
			fresh.Add(costs[j], list[j])
		}
		if want := solved(fresh); math.Abs(after-want) > 1e-6*(1+want) {
			t.Fatalf("program %d: %v after a cost changed, %v from the start", n, after, want)
		}
		if after > before+1e-9 {
			changed++
			moved += m.Pivots() - pivots
		}
	}
	if changed < 20 || moved < changed/2 {
		t.Errorf("only %d programs became dearer, with %d pivots", changed, moved)
	}
}

package simplex

import (
	"context"
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Master is the linear program: minimise the cost of x, so that A x = b and x >= 0.
// Each row begins with a column of its own that is 1 there and 0 elsewhere: the slack of
// a row that means "at most", or what a miss costs. So there is always a basis.
type Master struct {
	b       []float64
	costs   []float64
	columns []Column
	basis   []int // column of each row
	in      []bool
	x       []float64 // of the basis
	duals   []float64
	inverse *mat.Dense
	updates int
	pivots  int
}

const (
	// refactor is how many updates the inverse of a basis takes.
	refactor = 30
	// tolerance is how far below zero a reduced cost must be, as a share of the cost
	// of its column and of 1, for the column to enter.
	tolerance = 1e-9
	// least is the smallest pivot.
	least = 1e-9
	// patience is how many pivots without gain are made before the first column
	// enters instead of the best.
	patience = 100
)

// ErrUnbounded is the error of a program whose cost has no least value.
var ErrUnbounded = errors.New("the cost has no least value")

// ErrStuck is the error of a program that was given up after too many pivots, or
// because its basis is singular to the precision of float64.
var ErrStuck = errors.New("the basis cannot be improved any more")

// New returns a program with rows b, none below zero, and unit[i] as the cost of the
// column of row i.
func New(b, unit []float64) (*Master, error) {
	if len(b) != len(unit) || len(b) == 0 {
		return nil, fmt.Errorf("%d rows with %d unit columns", len(b), len(unit))
	}
	m := &Master{}
	return m, m.AddRows(b, unit)
}

// AddRows adds rows and the columns of their own, as [New] has them. No column that there
// is has anything in them, so the solution stands for the other rows. Cost: the square
// of the rows.
func (m *Master) AddRows(b, unit []float64) error {
	from := len(m.b)
	for i, v := range b {
		if v < 0 || math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("row %d is %v: want 0 or more", from+i, v)
		}
	}
	for i, v := range b {
		j := m.Add(unit[i], Column{[]int{from + i}, []float64{1}})
		m.b, m.basis, m.in[j] = append(m.b, v), append(m.basis, j), true
	}
	n := len(m.b)
	m.x, m.duals = make([]float64, n), make([]float64, n)
	inverse := mat.NewDense(n, n, nil)
	if m.inverse != nil {
		inverse.Copy(m.inverse)
	}
	for i := from; i < n; i++ {
		inverse.Set(i, i, 1)
	}
	m.inverse = inverse
	return m.values()
}

// Column is what a column has in its rows, in ascending order; it is 0 in all others.
type Column struct {
	Rows   []int
	Values []float64
}

// NewColumn returns the column of values row by row.
func NewColumn(values []float64) Column {
	n := 0
	for _, v := range values {
		if v != 0 {
			n++
		}
	}
	c := Column{make([]int, 0, n), make([]float64, 0, n)}
	for i, v := range values {
		if v != 0 {
			c.Rows, c.Values = append(c.Rows, i), append(c.Values, v)
		}
	}
	return c
}

// Put adds a row below the others.
func (c *Column) Put(row int, v float64) {
	c.Rows, c.Values = append(c.Rows, row), append(c.Values, v)
}

// dense returns a column with all n rows.
func (c Column) dense(n int) []float64 {
	d := make([]float64, n)
	for k, i := range c.Rows {
		d[i] = c.Values[k]
	}
	return d
}

// Add adds a column and returns its index. The column is kept, not copied.
func (m *Master) Add(cost float64, column Column) int {
	m.costs = append(m.costs, cost)
	m.columns = append(m.columns, column)
	m.in = append(m.in, false)
	return len(m.columns) - 1
}

// Price changes the cost of a column.
func (m *Master) Price(i int, cost float64) error {
	m.costs[i] = cost
	if m.in[i] {
		return m.values()
	}
	return nil
}

// Columns returns how many columns there are, those of the rows included.
func (m *Master) Columns() int { return len(m.columns) }

// Column returns a column.
func (m *Master) Column(i int) Column { return m.columns[i] }

// Value returns the cost of the present solution.
func (m *Master) Value() float64 {
	sum := 0.0
	for i, j := range m.basis {
		sum += m.costs[j] * m.x[i]
	}
	return sum
}

// Duals returns what one more unit of each row costs. The slice is overwritten by Solve.
func (m *Master) Duals() []float64 { return m.duals }

// Rows returns how many rows there are.
func (m *Master) Rows() int { return len(m.b) }

// Pivots returns how many pivots were made so far.
func (m *Master) Pivots() int { return m.pivots }

// X returns the present solution, of the columns from one on.
func (m *Master) X(from int) []float64 {
	x := make([]float64, len(m.columns)-from)
	for i, j := range m.basis {
		if j >= from {
			x[j-from] = m.x[i]
		}
	}
	return x
}

// Solve brings the program to its least cost over the columns there are. When ctx ends,
// the solution so far and its dual values stand, and the error is that of ctx.
func (m *Master) Solve(ctx context.Context) error {
	idle, value := 0, m.Value()
	for range 50*len(m.b) + 10*len(m.columns) {
		if err := ctx.Err(); err != nil {
			return err
		}
		j := m.entering(idle > patience)
		if j < 0 {
			return nil
		}
		if err := m.pivot(j); err != nil {
			return err
		}
		if v := m.Value(); v < value-1e-12*(1+math.Abs(value)) {
			idle, value = 0, v
		} else {
			idle++
		}
	}
	return ErrStuck
}

// entering returns the column of the least reduced cost, or the first that has one
// below zero; -1 when there is none.
func (m *Master) entering(first bool) int {
	best, at := 0.0, -1
	for j, a := range m.columns {
		if m.in[j] {
			continue
		}
		reduced := m.Reduced(m.costs[j], a)
		if reduced < -tolerance*(1+math.Abs(m.costs[j])) && reduced < best {
			best, at = reduced, j
			if first {
				break
			}
		}
	}
	return at
}

// Reduced returns the reduced cost of a column that may be added: below zero when it
// would better the solution.
func (m *Master) Reduced(cost float64, column Column) float64 {
	for k, i := range column.Rows {
		cost -= column.Values[k] * m.duals[i]
	}
	return cost
}

// pivot takes column j into the basis.
func (m *Master) pivot(j int) error {
	n := len(m.b)
	var d mat.VecDense
	d.MulVec(m.inverse, mat.NewVecDense(n, m.columns[j].dense(n)))
	step, row := math.Inf(1), -1
	for i := range n {
		if d.AtVec(i) <= least {
			continue
		}
		// Of equal ratios the larger pivot: it keeps the basis well conditioned. Then
		// the lesser column, as Bland's rule wants it.
		t := max(0, m.x[i]) / d.AtVec(i)
		if t < step-1e-12 || row >= 0 && t <= step+1e-12 && (d.AtVec(i) > d.AtVec(row) || d.AtVec(i) == d.AtVec(row) && m.basis[i] < m.basis[row]) {
			step, row = min(t, step), i
		}
	}
	if row < 0 {
		return ErrUnbounded
	}
	m.in[m.basis[row]], m.in[j], m.basis[row] = false, true, j
	m.pivots++
	if m.updates++; m.updates >= refactor {
		return m.factor()
	}
	// Gauss & Jordan on the row: the new basis has a unit column there.
	p := d.AtVec(row)
	pivotal := mat.NewVecDense(n, nil)
	pivotal.CopyVec(m.inverse.RowView(row))
	pivotal.ScaleVec(1/p, pivotal)
	d.SetVec(row, p-1)
	m.inverse.RankOne(m.inverse, -1, &d, pivotal)
	return m.values()
}

// factor inverts the basis anew.
func (m *Master) factor() error {
	n := len(m.b)
	basis := mat.NewDense(n, n, nil)
	for i, j := range m.basis {
		basis.SetCol(i, m.columns[j].dense(n))
	}
	m.updates = 0
	m.inverse = mat.NewDense(n, n, nil)
	// An inverse of poor condition comes with an error and is used all the same.
	var c mat.Condition
	if err := m.inverse.Inverse(basis); err != nil && (!errors.As(err, &c) || math.IsInf(float64(c), 1)) {
		return ErrStuck
	}
	return m.values()
}

// values works out primal and dual values of the basis.
func (m *Master) values() error {
	n := len(m.b)
	costs := mat.NewVecDense(n, nil)
	for i, j := range m.basis {
		costs.SetVec(i, m.costs[j])
	}
	x, y := mat.NewVecDense(n, m.x), mat.NewVecDense(n, m.duals)
	x.MulVec(m.inverse, mat.NewVecDense(n, m.b))
	y.MulVec(m.inverse.T(), costs)
	for i := range n {
		if v := m.x[i] + m.duals[i]; math.IsNaN(v) || math.IsInf(v, 0) {
			return ErrStuck
		}
	}
	return nil
}

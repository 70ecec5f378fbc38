package saw

import (
	"context"
	"slices"
)

// program is a linear program: the least cost of x >= 0 such that every row gets what it
// wants. It is solved by the revised simplex method (from memory) with the inverse of the
// basis at hand; columns are sparse. All products are rounded before they are added, so
// that every machine makes the same pivots; what comes out is a proposal and no proof.
// nest/bound/simplex is the one whose duals bound something.
type program struct {
	rows    int
	columns []column
	in      []bool
	basis   []int     // column of each row
	x       []float64 // of the basis
	duals   []float64 // what one more of each row's want costs
	inverse []float64 // of the basis, row by row
	along   []float64 // change of x for one of the entering column
	short   []int     // columns that were worth having
	work    int       // multiplications so far, about
}

// column is a variable: what one of it costs, and what it gives to rows.
type column struct {
	cost  float64
	gives []entry
}

type entry struct {
	row   int32
	value float64
}

const (
	// leastGain is how far below zero a reduced cost must be for its column to enter.
	leastGain = 1e-9
	// shortList is how many columns are taken over from a look at all, besides the best.
	shortList = 40
	// leastPivot is the smallest pivot.
	leastPivot = 1e-7
)

// newProgram returns a program with wants of at least 0. Each row has a column of its own
// that gives 1 to it, at a cost.
func newProgram(wants, costs []float64) *program {
	n := len(wants)
	p := &program{rows: n, x: slices.Clone(wants), duals: slices.Clone(costs), inverse: make([]float64, n*n), along: make([]float64, n)}
	for i := range n {
		p.add(costs[i], []entry{{int32(i), 1}})
		p.basis, p.in[i] = append(p.basis, i), true
		p.inverse[i*n+i] = 1
	}
	return p
}

func (p *program) add(cost float64, gives []entry) {
	p.columns = append(p.columns, column{cost, gives})
	p.in = append(p.in, false)
}

// solve makes pivots until there is nothing to gain, so much work was done, or ctx ends.
func (p *program) solve(ctx context.Context, most int) {
	for p.work < most && ctx.Err() == nil {
		enters, gain := p.entering()
		if enters < 0 {
			return
		}
		p.work += p.rows * len(p.columns[enters].gives)
		leaves, ratio := p.leaving(enters)
		if leaves < 0 {
			return // the cost has no least value, which the caller's programs have
		}
		p.pivot(enters, leaves, gain, ratio)
	}
}

// entering returns a column of a reduced cost below zero, and that; -1 when there is none.
// It is the least of a short list, which is made anew of all columns when it is used up.
func (p *program) entering() (at int, best float64) {
	best, at = -leastGain, -1
	for _, j := range p.short {
		if r := p.reduced(j); r < best {
			best, at = r, j
		}
	}
	if at >= 0 {
		return at, best
	}
	p.short = p.short[:0]
	for j := range p.columns {
		r := p.reduced(j)
		if r < -leastGain && (len(p.short) < shortList || r < best/2) {
			p.short = append(p.short, j)
		}
		if r < best {
			best, at = r, j
		}
	}
	return at, best
}

// reduced returns what one of a column would cost more than what it replaces.
func (p *program) reduced(j int) float64 {
	if p.in[j] {
		return 0
	}
	r := p.columns[j].cost
	for _, e := range p.columns[j].gives {
		r -= float64(p.duals[e.row] * e.value)
	}
	p.work += len(p.columns[j].gives)
	return r
}

// leaving returns the row whose column makes room for another, and how much of that
// there will be. Of equal ratios the larger pivot keeps the basis well conditioned.
func (p *program) leaving(enters int) (at int, ratio float64) {
	at = -1
	for i := range p.rows {
		d := 0.0
		row := p.inverse[i*p.rows : (i+1)*p.rows]
		for _, e := range p.columns[enters].gives {
			d += float64(row[e.row] * e.value)
		}
		p.along[i] = d
		if d <= leastPivot {
			continue
		}
		if t := max(0, p.x[i]) / d; at < 0 || t < ratio-1e-12 || t < ratio+1e-12 && d > p.along[at] {
			at, ratio = i, t
		}
	}
	return at, ratio
}

func (p *program) pivot(enters, leaves int, gain, ratio float64) {
	p.in[p.basis[leaves]], p.in[enters], p.basis[leaves] = false, true, enters
	pivotal := p.inverse[leaves*p.rows : (leaves+1)*p.rows]
	for k := range pivotal {
		pivotal[k] /= p.along[leaves]
		p.duals[k] += float64(gain * pivotal[k])
	}
	for i, f := range p.along {
		if i == leaves || f == 0 {
			continue
		}
		p.x[i] -= float64(f * ratio)
		row := p.inverse[i*p.rows : (i+1)*p.rows]
		for k, v := range pivotal {
			row[k] -= float64(f * v)
		}
		p.work += p.rows
	}
	p.x[leaves] = ratio
}

// values returns x from a column on.
func (p *program) values(from int) []float64 {
	v := make([]float64, len(p.columns)-from)
	for i, j := range p.basis {
		if j >= from {
			v[j-from] = p.x[i]
		}
	}
	return v
}

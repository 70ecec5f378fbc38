package bound

import (
	"slices"

	"panelyard/nest/bound/simplex"
	"panelyard/parts"
)

// master is the linear program of a pricing: a row for each kind of blank, and one for
// each kind of sheet of which there are so many only.
type master struct {
	p       *pricing
	lp      *simplex.Master
	price   measure
	limited []int // row of each kind of sheet, or -1
}

func newMaster(p *pricing, price measure) (*master, error) {
	m := &master{p: p, price: price}
	var rows, unit []float64
	dearest := 1.0
	for j := range p.sheets {
		dearest = max(dearest, float64(price.of(&p.sheets[j])))
	}
	for i := range p.kinds {
		// A little more of each kind, different for each, keeps the method from
		// idling. It makes the dual values no worse as weights.
		rows = append(rows, p.kinds[i].copies*(1+1e-7*float64(1+i*7%13)))
		unit = append(unit, 2*dearest)
	}
	for j := range p.sheets {
		row := -1
		if a := p.sheets[j].available; a != parts.Unlimited {
			row = len(rows)
			rows, unit = append(rows, float64(a)), append(unit, 0)
		}
		m.limited = append(m.limited, row)
	}
	lp, err := simplex.New(rows, unit)
	if err != nil {
		return nil, err
	}
	m.lp = lp
	for i := range p.kinds {
		surplus := make([]float64, len(rows))
		surplus[i] = -1
		lp.Add(0, surplus)
	}
	return m, nil
}

// weights returns the dual values of the kinds of blanks, none below 0.
func (m *master) weights() []float64 {
	w := slices.Clone(m.lp.Duals()[:len(m.p.kinds)])
	for i := range w {
		w[i] = max(w[i], 0)
	}
	return w
}

// extend adds patterns of the tables that better the solution, and returns how many.
func (m *master) extend() int {
	added := 0
	for j := range m.p.sheets {
		cost := float64(m.price.of(&m.p.sheets[j]))
		for _, counts := range m.p.patterns(j) {
			column := make([]float64, len(m.lp.Duals()))
			copy(column, counts)
			if r := m.limited[j]; r >= 0 {
				column[r] = 1
			}
			if m.lp.Reduced(cost, column) < -1e-7*(1+cost) {
				m.lp.Add(cost, column)
				added++
			}
		}
	}
	return added
}

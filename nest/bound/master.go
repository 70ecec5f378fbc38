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
	costs   []float64 // of a sheet of each kind
	limited []int     // row of each kind of sheet, or -1
}

// newMaster returns the program for costs of sheets, so many of which there are. It
// begins with the patterns that were found before.
func newMaster(p *pricing, costs []float64, have []int) (*master, error) {
	m := &master{p: p, costs: costs}
	var rows, unit []float64
	dearest := max(1, slices.Max(costs))
	for i := range p.kinds {
		// A little more of each kind, different for each, keeps the method from
		// idling. It makes the dual values no worse as weights.
		rows = append(rows, p.kinds[i].copies*(1+1e-7*float64(1+i*7%13)))
		unit = append(unit, 2*dearest)
	}
	for j := range p.sheets {
		row := -1
		if a := have[j]; a != parts.Unlimited {
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
		lp.Add(0, simplex.Column{Rows: []int{i}, Values: []float64{-1}})
	}
	for _, q := range p.found {
		m.add(q)
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
		for _, counts := range m.p.patterns(j) {
			q := layout{j, counts}
			if cost := m.costs[j]; m.lp.Reduced(cost, m.column(q)) < -1e-7*(1+cost) {
				m.add(q)
				m.p.found = append(m.p.found, q)
				added++
			}
		}
	}
	return added
}

// layout is a pattern of a kind of sheet: how many blanks of each kind it has.
type layout struct {
	sheet  int
	counts []float64
}

// column returns the column of a pattern.
func (m *master) column(q layout) simplex.Column {
	column := simplex.NewColumn(q.counts)
	if r := m.limited[q.sheet]; r >= 0 {
		column.Put(r, 1) // below all kinds of blanks
	}
	return column
}

func (m *master) add(q layout) { m.lp.Add(m.costs[q.sheet], m.column(q)) }

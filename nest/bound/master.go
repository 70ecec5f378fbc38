package bound

import (
	"cmp"
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
	have    []int     // how many sheets of each kind there are
	limited []int     // row of each kind of sheet, or -1
	columns []int     // of the program, by pattern found
	sparing bool      // rows come with the first pattern, and patterns in small numbers
}

const (
	// spareRows is how many kinds of sheets that are limited have rows from the start. A
	// rack may have thousands, of which a job takes a few.
	spareRows = 250
	// perRound is how many patterns a round adds where there are more kinds: those that
	// better the solution most for their cost.
	perRound = 250
)

// newMaster returns the program for costs of sheets, so many of which there are. It
// begins with the patterns that were found before.
func newMaster(p *pricing, costs []float64, have []int) (*master, error) {
	m := &master{p: p, costs: costs, have: have}
	limited := 0
	for _, a := range have {
		if a != parts.Unlimited {
			limited++
		}
	}
	m.sparing = limited > spareRows
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
		if a := have[j]; a != parts.Unlimited && !m.sparing {
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
	return m, m.add(p.found)
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
	var list []layout
	var gains []float64
	for j := range m.p.sheets {
		for _, counts := range m.p.patterns(j) {
			q := layout{sheet: j, counts: counts}
			cost := m.costs[j]
			if r := m.lp.Reduced(cost, m.column(q)); r < -1e-7*(1+cost) {
				list, gains = append(list, q), append(gains, -r/(1+cost))
			}
		}
	}
	if m.sparing {
		list = foremost(list, gains, perRound)
	}
	if m.add(list) != nil {
		return 0
	}
	m.p.found = append(m.p.found, list...)
	return len(list)
}

// foremost returns the n patterns of the greatest gains, those of equal gains as they
// come.
func foremost(list []layout, gains []float64, n int) []layout {
	order := make([]int, len(list))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(gains[b], gains[a]) })
	var best []layout
	for _, i := range order[:min(n, len(order))] {
		best = append(best, list[i])
	}
	return best
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

// add adds patterns, and the rows that they are the first to have.
func (m *master) add(list []layout) error {
	var rows []float64
	for _, q := range list {
		if a := m.have[q.sheet]; a != parts.Unlimited && m.limited[q.sheet] < 0 {
			m.limited[q.sheet] = len(m.lp.Duals()) + len(rows)
			rows = append(rows, float64(a))
		}
	}
	if len(rows) > 0 {
		if err := m.lp.AddRows(rows, make([]float64, len(rows))); err != nil {
			return err
		}
	}
	for _, q := range list {
		m.columns = append(m.columns, m.lp.Add(m.costs[q.sheet], m.column(q)))
	}
	return nil
}

// drop takes patterns out that were found with coarser rasters: those that weigh more than
// a sheet can hold, or all. It returns how many. They bring the program near its end, and
// then some of them, that no sheet can have, stand in its way.
func (m *master) drop(t *trial, all bool) int {
	dear := 100 * max(1, slices.Max(m.costs))
	dropped := 0
	keep := 0
	for i, q := range m.p.found {
		weight := 0.0
		for k, n := range q.counts {
			weight += n * float64(t.weight[k])
		}
		if i < m.p.coarse && (all || weight > t.most[q.sheet]) && m.lp.Price(m.columns[i], dear) == nil {
			dropped++
			continue
		}
		m.p.found[keep], m.columns[keep] = q, m.columns[i]
		keep++
	}
	m.p.found, m.columns = m.p.found[:keep], m.columns[:keep]
	m.p.coarse -= dropped
	return dropped
}

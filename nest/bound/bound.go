package bound

import (
	"context"
	"math"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
)

// Of returns what no plan for p can beat that places every panel that fits a sheet
// by itself. When the limited stock of a material cannot hold its panels, nothing
// is certain of that material, and it counts as nothing. When ctx ends, the best
// bound so far is returned.
func Of(ctx context.Context, p *nest.Problem) nest.Bound {
	b, _ := study(ctx, p, 0, columnWork)
	return b
}

// Limits is what a bound says of the sheets of one material.
type Limits struct {
	Cost int64 // no plan of all its panels costs less
	// Mixes are the mixes of sheets that are not ruled out: the cheapest ones, each the
	// number of sheets of every stock of the problem. A plan of all panels that costs less
	// than the last of them takes one of them; there are none where nothing is known.
	Mixes [][]int
}

// Study returns the bound of [Of] and, by material, what it says of the sheets. Above says
// up to how many per cent of its bound mixes of a material are listed, most how many, and
// there are never more than some thousand.
func Study(ctx context.Context, p *nest.Problem, above int64, most int) (nest.Bound, map[string]Limits) {
	b, limits := study(ctx, p, above, columnWork)
	for m, known := range limits {
		known.Mixes = known.Mixes[:min(len(known.Mixes), most)]
		limits[m] = known
	}
	return b, limits
}

// study is Study with so much work for the column generation of a material.
func study(ctx context.Context, p *nest.Problem, above int64, work int) (nest.Bound, map[string]Limits) {
	var b nest.Bound
	limits := map[string]Limits{}
	method := area
	for _, m := range p.Materials() {
		one := ofMaterial(ctx, p, m, work)
		b.Sheets += one.sheets
		b.Cost += one.cost
		method = max(method, one.method)
		known := Limits{Cost: one.cost}
		if above > 0 {
			known.Mixes = one.mixes(len(p.Stocks), above)
		}
		limits[m] = known
	}
	b.Method = method.String()
	return b, limits
}

// method says which weights gave a bound; a later one is stronger.
type method int

const (
	area method = iota
	areaWithKerf
	dualFeasible
	columnGeneration
)

func (m method) String() string {
	switch m {
	case areaWithKerf:
		return "area with kerf"
	case dualFeasible:
		return "dual feasible functions"
	case columnGeneration:
		return "column generation"
	}
	return "area"
}

// single is the bound of one material.
type single struct {
	sheets int
	cost   int64
	method method
	kinds  []sheet
	index  []int // stock of each kind
	// What all plans keep, and the cheapest mix of sheets that does, by each measure;
	// nil when it is not known.
	covers covers
	mix    [2][]int
}

// raise takes a better bound over.
func (s *single) raise(sheets int, cost int64, m method) {
	if sheets > s.sheets || cost > s.cost {
		s.method = m
	}
	s.sheets, s.cost = max(s.sheets, sheets), max(s.cost, cost)
}

// ofMaterial bounds the sheets and the cost of one material.
func ofMaterial(ctx context.Context, p *nest.Problem, material string, work int) single {
	sheets, index := sheetsOf(p, material)
	panels := panelsOf(p, material, sheets, index, sharers(ctx, p, material))
	b := single{kinds: sheets, index: index}
	if len(panels) == 0 {
		return b
	}
	for _, list := range views(p, panels) {
		if !b.weigh(ctx, p.Cut, list, sheets, work) {
			return single{} // the stock cannot hold everything: nothing is certain
		}
	}
	return b
}

// weigh raises b by the weights of panels. It reports false when the stock cannot
// hold them.
func (b *single) weigh(ctx context.Context, cut kerf.Cut, panels []panel, sheets []sheet, work int) bool {
	var squares []panel
	demand, spread, grown := 0.0, 0.0, 0.0
	for i := range panels {
		q := &panels[i]
		demand += q.copies * q.area
		spread += q.copies * q.spread
		if q.square {
			grown += q.copies * float64(q.w) * float64(q.h)
			squares = append(squares, *q)
		} else {
			grown += q.copies * q.spread
		}
	}
	capacity := make([]float64, len(sheets))
	fill := func(demand float64, m method, of func(*sheet) float64) bool {
		for j := range sheets {
			capacity[j] = of(&sheets[j])
		}
		return b.cover(demand, capacity, m)
	}
	whole := cut == kerf.Saw || len(squares) == len(panels)
	return fill(demand, area, func(s *sheet) float64 { return s.area }) &&
		fill(spread, areaWithKerf, func(s *sheet) float64 { return s.spread }) &&
		(!whole || fill(grown, areaWithKerf, func(s *sheet) float64 { return float64(s.w) * float64(s.h) })) &&
		b.functions(ctx, squares, sheets) &&
		(cut != kerf.Saw || b.columns(ctx, squares, sheets, work))
}

// cover raises b by a total of weights and what a sheet of each kind holds of it. It
// reports false when all there are do not hold it.
func (b *single) cover(demand float64, capacity []float64, m method) bool {
	n, c, ok := cover(demand, capacity, b.kinds)
	if !ok {
		return false
	}
	b.raise(n, c, m)
	if demand <= 0 || len(b.kinds) < 2 || len(b.kinds) > maxMix {
		return true
	}
	share := make([]float64, len(capacity))
	for j, v := range capacity {
		share[j] = v / demand
	}
	if !b.covers.add(share) {
		return true
	}
	for _, price := range []measure{bySheets, byCost} {
		if b.mix[price] != nil && !broken(share, b.mix[price]) {
			continue
		}
		mix, total, ok := leastMix(b.covers, b.prices(price), b.available())
		b.mix[price] = nil
		if !ok {
			continue
		}
		b.mix[price] = mix
		if price == bySheets {
			b.raise(int(total), 0, m)
		} else {
			b.raise(0, total, m)
		}
	}
	return true
}

// prices returns what a sheet of each kind counts.
func (b *single) prices(price measure) []int64 {
	var list []int64
	for j := range b.kinds {
		list = append(list, price.of(&b.kinds[j]))
	}
	return list
}

// available returns how many sheets of each kind there are.
func (b *single) available() []int {
	var list []int
	for j := range b.kinds {
		list = append(list, b.kinds[j].available)
	}
	return list
}

// mixes lists the mixes that are not ruled out, as numbers of sheets of all stocks.
func (b *single) mixes(stocks int, above int64) [][]int {
	if b.mix[byCost] == nil {
		return nil
	}
	var list [][]int
	for _, mix := range mixesWithin(b.covers, b.prices(byCost), b.available(), b.cost+b.cost*above/100) {
		n := make([]int, stocks)
		for j, k := range mix {
			n[b.index[j]] = k
		}
		list = append(list, n)
	}
	return list
}

// cover returns the fewest sheets and the least cost, each by itself, whose
// capacities reach a demand. It reports false when all there are do not.
func cover(demand float64, capacity []float64, sheets []sheet) (int, int64, bool) {
	total := 0.0
	for j := range sheets {
		if capacity[j] <= 0 {
			continue
		}
		if sheets[j].available == parts.Unlimited {
			total = math.Inf(1)
			break
		}
		total += capacity[j] * float64(sheets[j].available)
	}
	demand *= 1 - 1e-9
	if total < demand {
		return 0, 0, false
	}
	count := make([]kind, 0, len(sheets))
	money := make([]kind, 0, len(sheets))
	for j := range sheets {
		if capacity[j] > 0 {
			count = append(count, kind{capacity[j], 1, sheets[j].available})
			money = append(money, kind{capacity[j], sheets[j].cost, sheets[j].available})
		}
	}
	return int(leastCost(demand, count)), leastCost(demand, money), true
}

package bound

import (
	"cmp"
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
	return Study(ctx, p, Wishes{Effort: Usual}).Bound()
}

// Effort says how hard a bound is sought.
type Effort int

const (
	// Quick looks at fractions of patterns only.
	Quick Effort = iota
	// Usual looks at whole patterns, too, and takes no longer than some seconds.
	Usual
	// Patient takes longer.
	Patient
)

const (
	// patience is how much more work a patient bound takes.
	patience = 5
	// wholePerPanel is how many additions the usual one spends on whole patterns, by panel.
	wholePerPanel = 4_000_000
)

// Wishes are for a study.
type Wishes struct {
	Effort Effort
	Above  int64 // up to how many per cent above its bound mixes of a material are listed
	Most   int   // how many, and there are never more than some thousand
	// Told, when set, is called whenever the bound of a material has become better, or a plan
	// of it was found.
	Told func(material string, l Limits)

	patterns int // how many whole ones are listed of a kind of sheet; 0 is the usual number
}

// Limits is what a bound says of the sheets of one material.
type Limits struct {
	Sheets int   // no plan of all its panels has fewer
	Cost   int64 // none costs less
	// Mixes are the mixes of sheets that are not ruled out: the cheapest ones, each the
	// number of sheets of every stock of the problem. A plan of all panels that costs less
	// than the last of them takes one of them; there are none where nothing is known.
	Mixes [][]int
	// Plan is a plan of all its panels that was found on the way; nil where none was. It says
	// where panels lie, but has no cuts yet.
	Plan   *nest.Plan
	method method
}

// Known is what is known of the materials of a problem, by their names.
type Known map[string]Limits

// Bound returns the bound of all materials together.
func (k Known) Bound() nest.Bound {
	var b nest.Bound
	top := area
	for _, l := range k {
		b.Sheets += l.Sheets
		b.Cost += l.Cost
		top = max(top, l.method)
	}
	b.Method = top.String()
	return b
}

// And returns what two studies of a problem know together.
func (k Known) And(o Known) Known {
	all := Known{}
	for m, a := range k {
		b := o[m]
		if b.Cost > a.Cost || b.Cost == a.Cost && b.Sheets > a.Sheets {
			a, b = b, a
		}
		a.Sheets = max(a.Sheets, b.Sheets)
		if a.Plan == nil {
			a.Plan = b.Plan
		}
		all[m] = a
	}
	return all
}

// Study returns the bound of [Of], so hard sought, and what it says of the sheets by
// material.
func Study(ctx context.Context, p *nest.Problem, w Wishes) Known {
	work := columnWork
	if w.Effort == Patient {
		work = patience * columnWork
	}
	return study(ctx, p, w, work)
}

// study is Study with so much work for the patterns of a material.
func study(ctx context.Context, p *nest.Problem, w Wishes, work int) Known {
	all := Known{}
	for _, m := range p.EasiestFirst() {
		one := ofMaterial(ctx, p, m, w, work)
		all[m] = one.limits(p, w)
	}
	return all
}

// limits returns what is known of a material, with the mixes that are wished for.
func (s *single) limits(p *nest.Problem, w Wishes) Limits {
	l := Limits{Sheets: s.sheets, Cost: s.cost, Plan: s.plan, method: s.method}
	if w.Above > 0 {
		l.Mixes = s.mixes(len(p.Stocks))
		l.Mixes = l.Mixes[:min(len(l.Mixes), w.Most)]
	}
	return l
}

// method says which weights gave a bound; a later one is stronger.
type method int

const (
	area method = iota
	areaWithKerf
	dualFeasible
	columnGeneration
	wholePatterns
)

func (m method) String() string {
	switch m {
	case areaWithKerf:
		return "area with kerf"
	case dualFeasible:
		return "dual feasible functions"
	case columnGeneration:
		return "column generation"
	case wholePatterns:
		return "whole patterns"
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
	// Mixes of which whole patterns are known not to hold the panels, and a plan of the
	// cheapest that hold them.
	barred [][]int
	plan   *nest.Plan
	above  int64 // up to how many per cent above the bound mixes are wanted
	// The problem, where whole patterns may be asked about.
	whole     *nest.Problem
	patterns  int    // that are listed of a kind of sheet
	tell      func() // tells what is known
	told      int64  // the cost that was told last
	fine      *pricing
	wholeWork int // additions that may be spent on them
	until     int // when they end, once they began
}

// raise takes a better bound over.
func (s *single) raise(sheets int, cost int64, m method) {
	if sheets > s.sheets || cost > s.cost {
		s.method = m
	}
	s.sheets, s.cost = max(s.sheets, sheets), max(s.cost, cost)
}

// ofMaterial bounds the sheets and the cost of one material.
func ofMaterial(ctx context.Context, p *nest.Problem, material string, w Wishes, work int) single {
	sheets, index := sheetsOf(p, material)
	panels := panelsOf(p, material, sheets, index, sharers(ctx, p, material))
	b := single{kinds: sheets, index: index, above: w.Above, patterns: cmp.Or(w.patterns, mostListed)}
	if w.Told != nil {
		b.tell = func() { w.Told(material, b.limits(p, w)) }
	}
	if len(panels) == 0 {
		return b
	}
	lists := views(p, panels)
	if len(lists) == 1 && p.Cut == kerf.Saw && w.Effort != Quick {
		b.whole, b.wholeWork = p, work
		if w.Effort == Usual {
			// A small job is planned in no time, and is to be bounded in no time.
			copies := 0.0
			for i := range panels {
				copies += panels[i].copies
			}
			b.wholeWork = min(work/8, int(copies)*wholePerPanel)
		}
	}
	for _, list := range lists {
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
	if demand <= 0 || len(b.kinds) > maxMix {
		return true
	}
	share := make([]float64, len(capacity))
	for j, v := range capacity {
		share[j] = v / demand
	}
	if !b.covers.add(share) {
		return true
	}
	b.remix(m, func(mix []int) bool { return broken(share, mix) })
	return true
}

// remix seeks the cheapest mixes anew of which something says that they are out.
func (b *single) remix(m method, out func(mix []int) bool) {
	for _, price := range []measure{bySheets, byCost} {
		if b.mix[price] != nil && !out(b.mix[price]) {
			continue
		}
		mix, total, ok := leastMix(b.covers, b.barred, b.prices(price), b.available())
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

// open returns the mixes that are wanted and not ruled out, the cheapest first; none where
// there is one kind of sheet.
func (b *single) open() [][]int {
	if b.mix[byCost] == nil || len(b.kinds) < 2 {
		return nil
	}
	return mixesWithin(b.covers, b.barred, b.prices(byCost), b.available(), b.cost+b.cost*b.above/100)
}

// mixes lists these mixes as numbers of sheets of all stocks.
func (b *single) mixes(stocks int) [][]int {
	var list [][]int
	for _, mix := range b.open() {
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

package bound

import (
	"cmp"
	"math"
	"slices"

	"panelyard/parts"
)

const (
	// maxMix is how many kinds of sheet a mix may have: more are bounded by one set of
	// weights at a time.
	maxMix = 8
	// maxCovers is how many covers are kept.
	maxCovers = 240
	// mixNodes bounds the branching for a mix.
	mixNodes = 200_000
)

// covers are conditions that all plans keep: with n[j] sheets of each kind, the sum of
// c[j]*n[j] is 1 or more. Each set of weights of panels gives one; c[j] is the share of
// all weight that a sheet holds.
type covers [][]float64

// slack is given away before a condition is called broken.
const slack = 1e-9

// add adds a condition, unless it follows from one there is.
func (l *covers) add(c []float64) bool {
	implies := func(a, b []float64) bool {
		for j := range a {
			if a[j] > b[j] {
				return false
			}
		}
		return true
	}
	if slices.ContainsFunc(*l, func(o []float64) bool { return implies(o, c) }) {
		return false
	}
	*l = slices.DeleteFunc(*l, func(o []float64) bool { return implies(c, o) })
	if len(*l) == maxCovers {
		// The oldest go: those of column generation come last and say most.
		*l = slices.Delete(*l, 0, 1)
	}
	*l = append(*l, slices.Clone(c))
	return true
}

// broken reports whether sheets do not keep a condition.
func broken(c []float64, n []int) bool { return holds(n, c) < 1-slack }

// holds returns what the sheets of a mix hold together, of so much by kind.
func holds(mix []int, each []float64) float64 {
	sum := 0.0
	for j, v := range each {
		sum += v * float64(mix[j])
	}
	return sum
}

// mixer seeks the mix of sheets of least cost that keeps all conditions, depth first,
// the cheapest kind for what it holds first.
type mixer struct {
	covers covers
	barred [][]int
	order  []int // of kinds
	cost   []int64
	have   []int
	// least is, for each depth and condition, the least cost that one share of a
	// condition takes of the kinds from that depth on.
	least [][]float64
	n     []int
	best  int64
	found []int
	nodes int
}

// leastMix returns the cheapest mix of sheets that keeps all conditions and is within none
// that is barred, and its cost. It reports false when there is none, or branching takes too
// long. Costs are whole numbers of at least 0. Cost: at most mixNodes nodes, each times the
// conditions.
func leastMix(list covers, barred [][]int, cost []int64, available []int) ([]int, int64, bool) {
	m := newMixer(list, barred, cost, available)
	m.branch(0, 0, m.whole())
	return m.found, m.best, m.found != nil && m.nodes <= mixNodes
}

func newMixer(list covers, barred [][]int, cost []int64, available []int) *mixer {
	m := &mixer{covers: list, barred: barred, cost: cost, have: available, n: make([]int, len(cost)), best: math.MaxInt64}
	holds := make([]float64, len(cost)) // the sum of the shares that a sheet has of the conditions
	for j := range cost {
		m.order = append(m.order, j)
		for _, c := range list {
			holds[j] += c[j]
		}
	}
	slices.SortStableFunc(m.order, func(a, b int) int {
		return cmp.Compare(float64(cost[a])*holds[b], float64(cost[b])*holds[a])
	})
	m.least = make([][]float64, len(cost)+1)
	for d := len(cost); d >= 0; d-- {
		m.least[d] = make([]float64, len(list))
		for k, c := range list {
			m.least[d][k] = math.Inf(1)
			if d == len(cost) {
				continue
			}
			m.least[d][k] = m.least[d+1][k]
			if j := m.order[d]; c[j] > 0 {
				m.least[d][k] = min(m.least[d][k], float64(cost[j])/c[j])
			}
		}
	}
	return m
}

// whole returns what all conditions ask for before there is a sheet.
func (m *mixer) whole() []float64 {
	left := make([]float64, len(m.covers))
	for k := range left {
		left[k] = 1 - slack
	}
	return left
}

// without returns what conditions ask for after n sheets of a kind.
func (m *mixer) without(left []float64, j, n int) []float64 {
	rest := make([]float64, len(left))
	for k, c := range m.covers {
		rest[k] = left[k] - c[j]*float64(n)
	}
	return rest
}

// more returns what the kinds from a depth on cost at least, a whole number.
func (m *mixer) more(d int, left []float64) int64 {
	more := 0.0
	for k, l := range left {
		if l > 0 {
			more = max(more, l*m.least[d][k])
		}
	}
	if more > math.MaxInt64/4 {
		return math.MaxInt64 / 4
	}
	return int64(math.Ceil(more*(1-1e-9) - 1e-9))
}

// branch chooses how many sheets of the kind at a depth there are.
func (m *mixer) branch(d int, spent int64, left []float64) {
	if m.nodes++; m.nodes > mixNodes {
		return
	}
	out := m.within(d)
	if out == nil && !slices.ContainsFunc(left, func(l float64) bool { return l > 0 }) {
		if m.found == nil || spent < m.best {
			m.best, m.found = spent, slices.Clone(m.n)
		}
		return
	}
	if d == len(m.order) || m.found != nil && spent+m.more(d, left) >= m.best {
		return
	}
	j := m.order[d]
	need := 0
	for k, c := range m.covers {
		if left[k] > 0 && c[j] > 0 {
			need = max(need, int(math.Ceil(left[k]/c[j]-slack)))
		}
	}
	for _, b := range out {
		need = max(need, b[j]+1)
	}
	if m.have[j] != parts.Unlimited {
		need = min(need, m.have[j])
	}
	for n := need; n >= 0; n-- {
		m.n[j] = n
		m.branch(d+1, spent+int64(n)*m.cost[j], m.without(left, j, n))
		if m.nodes > mixNodes {
			break
		}
	}
	m.n[j] = 0
}

// within returns the barred mixes that the kinds before a depth do not exceed.
func (m *mixer) within(d int) [][]int {
	var out [][]int
	for _, b := range m.barred {
		if !slices.ContainsFunc(m.order[:d], func(j int) bool { return m.n[j] > b[j] }) {
			out = append(out, b)
		}
	}
	return out
}

// mostMixes is how many mixes are listed.
const mostMixes = 3000

// mixesWithin returns the mixes of sheets that keep all conditions, are within none that is
// barred, and cost no more than a limit, the cheapest first, and at most mostMixes of them.
// It gives up after mixNodes nodes and returns none.
func mixesWithin(list covers, barred [][]int, cost []int64, available []int, limit int64) [][]int {
	m := newMixer(list, barred, cost, available)
	var found [][]int
	m.all(0, 0, m.whole(), limit, func() { found = append(found, slices.Clone(m.n)) })
	if m.nodes > mixNodes {
		return nil
	}
	total := func(n []int) int64 {
		var sum int64
		for j, k := range n {
			sum += int64(k) * cost[j]
		}
		return sum
	}
	slices.SortStableFunc(found, func(a, b []int) int { return cmp.Compare(total(a), total(b)) })
	return found[:min(len(found), mostMixes)]
}

// all calls f for each mix from a depth on.
func (m *mixer) all(d int, spent int64, left []float64, limit int64, f func()) {
	if m.nodes++; m.nodes > mixNodes || spent+m.more(d, left) > limit {
		return
	}
	if d == len(m.order) {
		if m.within(d) == nil {
			f()
		}
		return
	}
	j := m.order[d]
	for n := 0; spent+int64(n)*m.cost[j] <= limit && (m.have[j] == parts.Unlimited || n <= m.have[j]) && n <= mostMixes; n++ {
		m.n[j] = n
		m.all(d+1, spent+int64(n)*m.cost[j], m.without(left, j, n), limit, f)
	}
	m.n[j] = 0
}

package bound

import (
	"cmp"
	"math"
	"slices"

	"panelyard/parts"
)

// kind is a kind of sheet in a covering problem.
type kind struct {
	capacity  float64
	cost      int64
	available int
}

// maxNodes bounds the branching; beyond it the relaxation, rounded up, is used.
const maxNodes = 20_000

// leastCost returns the least cost of sheets whose capacities sum to at least
// demand, or a lower bound of it when branching takes too long. The caller has
// seen that there are enough. Depth-first over the kinds, cheapest capacity
// first, pruned by the fractional relaxation.
func leastCost(demand float64, kinds []kind) int64 {
	kinds = united(sorted(kinds))
	c := coverer{kinds: kinds, best: math.MaxInt64}
	c.branch(0, demand, 0)
	if c.nodes > maxNodes {
		return relaxed(demand, kinds)
	}
	if c.best == math.MaxInt64 {
		return 0
	}
	return c.best
}

// sorted returns the kinds, the cheapest capacity first.
func sorted(kinds []kind) []kind {
	kinds = slices.Clone(kinds)
	slices.SortFunc(kinds, func(a, b kind) int {
		return cmp.Or(cmp.Compare(float64(a.cost)/a.capacity, float64(b.cost)/b.capacity), -cmp.Compare(a.capacity, b.capacity))
	})
	return kinds
}

// united returns sorted kinds with those of one capacity and cost as one: branching over
// equal boards of a rack takes each order of them for another choice.
func united(kinds []kind) []kind {
	list := kinds[:0]
	for _, k := range kinds {
		n := len(list) - 1
		switch {
		case n < 0 || list[n].capacity != k.capacity || list[n].cost != k.cost:
			list = append(list, k)
		case k.available == parts.Unlimited || list[n].available == parts.Unlimited:
			list[n].available = parts.Unlimited
		default:
			list[n].available += k.available
		}
	}
	return list
}

type coverer struct {
	kinds []kind
	best  int64
	nodes int
}

func (c *coverer) branch(j int, demand float64, cost int64) {
	c.nodes++
	if c.nodes > maxNodes {
		return
	}
	if demand <= 0 {
		c.best = min(c.best, cost)
		return
	}
	if j == len(c.kinds) || c.best != math.MaxInt64 && cost+relaxed(demand, c.kinds[j:]) >= c.best {
		return
	}
	k := c.kinds[j]
	need := int(math.Ceil(demand / k.capacity))
	if k.available != parts.Unlimited {
		need = min(need, k.available)
	}
	for n := need; n >= 0; n-- {
		c.branch(j+1, demand-float64(n)*k.capacity, cost+int64(n)*k.cost)
		if c.nodes > maxNodes {
			return
		}
	}
}

// relaxed returns the least cost when sheets may be bought in fractions, rounded
// up: costs are whole numbers. Kinds are sorted by cost for capacity.
func relaxed(demand float64, kinds []kind) int64 {
	cost := 0.0
	noise := demand * 1e-12
	for _, k := range kinds {
		if demand <= noise {
			break
		}
		n := demand / k.capacity
		if k.available != parts.Unlimited {
			n = min(n, float64(k.available))
		}
		cost += n * float64(k.cost)
		demand -= n * k.capacity
	}
	if demand > noise {
		return math.MaxInt64 / 4 // these kinds alone are not enough
	}
	return int64(math.Ceil(cost*(1-1e-9) - 1e-9))
}

package saw

import (
	"cmp"
	"context"
	"math/rand/v2"
	"slices"
)

// chain is one independent search.
type chain struct {
	packer
	cur, next, best layout
	curW, bestW     worth
	rounds          int
	late            []worth
	order           []int32
}

func newChain(s *shop, seed, number uint64) *chain {
	return &chain{packer: packer{shop: s, rng: rand.New(rand.NewPCG(seed, 0x5eed<<32|number))}}
}

// orders is the number of ways sorted sorts.
const orders = 6

// sorted returns the items in one of the usual orders, large ones first.
func (c *chain) sorted(by int) []int32 {
	list := make([]int32, len(c.items))
	for i := range list {
		list[i] = int32(i)
	}
	key := func(it *item) float64 {
		w, h := float64(it.w), float64(it.h)
		switch by {
		case 0:
			return it.area
		case 1:
			return max(w, h)
		case 2:
			return min(w, h)
		case 3:
			return w
		case 4:
			return h
		}
		return w + h
	}
	slices.SortStableFunc(list, func(a, b int32) int {
		return -cmp.Compare(key(&c.items[a]), key(&c.items[b]))
	})
	return list
}

// greedy packs all items in an order under rules.
func (c *chain) greedy(l *layout, order []int32, r rules) {
	c.clear(l)
	for _, i := range order {
		c.add(l, i, r)
	}
}

// start tries orders and rules, the chain's own share of them first; at least
// one, and no more than budget.
func (c *chain) start(ctx context.Context, number, budget int) {
	first := true
	tries := 0
	for n := number; tries < budget && n < 4*orders*fitKinds*splitKinds; n += 4 {
		r := rules{fit: uint8(n / orders % fitKinds), split: uint8(n / orders / fitKinds % splitKinds)}
		if c.rng.IntN(3) == 0 {
			r.stock = uint8(c.rng.IntN(stockKinds))
		}
		c.greedy(&c.next, c.sorted(n%orders), r)
		tries++
		if w := c.worth(&c.next); first || w.less(c.bestW) {
			c.bestW = w
			c.copyInto(&c.best, &c.next)
			first = false
		}
		if ctx.Err() != nil {
			break
		}
	}
	c.copyInto(&c.cur, &c.best)
	c.curW = c.bestW
	c.late = make([]worth, 40)
	for i := range c.late {
		c.late[i] = c.curW
	}
}

// round ruins a few sheets of the current layout, repacks their items in a new
// order, and keeps the result when it is no worse than the layout of 40 rounds
// ago. It reports whether a better layout than any before was found.
func (c *chain) round() bool {
	c.rounds++
	c.copyInto(&c.next, &c.cur)
	list := append(c.order[:0], c.next.unplaced...)
	c.next.unplaced = c.next.unplaced[:0]
	k := 1 + c.rng.IntN(3)
	for n := 0; n < k && len(c.next.trees) > 0; n++ {
		list = c.remove(&c.next, c.victim(n), list)
	}
	c.shake(list)
	c.order = list
	r := rules{fit: uint8(c.rng.IntN(fitKinds)), split: uint8(c.rng.IntN(splitKinds))}
	if c.rng.IntN(4) == 0 {
		r.stock = uint8(c.rng.IntN(stockKinds))
	}
	for _, i := range list {
		c.add(&c.next, i, r)
	}
	w := c.worth(&c.next)
	slot := c.rounds % len(c.late)
	better := false
	if !c.late[slot].less(w) || !c.curW.less(w) {
		c.cur, c.next = c.next, c.cur
		c.curW = w
		if w.less(c.bestW) {
			c.bestW = w
			c.copyInto(&c.best, &c.cur)
			better = true
		}
	}
	c.late[slot] = c.curW
	return better
}

// victim returns the sheet to ruin: the first by chance, mostly one of the
// emptier, the others any.
func (c *chain) victim(n int) int {
	trees := c.next.trees
	i := c.rng.IntN(len(trees))
	if n > 0 || c.rng.IntN(3) == 0 {
		return i
	}
	for range 2 {
		if j := c.rng.IntN(len(trees)); trees[j].area < trees[i].area {
			i = j
		}
	}
	return i
}

// shake brings items into a new order: sorted by one of the usual keys, each key
// blurred by chance, so that equal items mostly stay together.
func (c *chain) shake(list []int32) {
	by := c.rng.IntN(orders)
	blur := 0.0
	if c.rng.IntN(4) > 0 {
		blur = c.rng.Float64() * 0.7
	}
	type keyed struct {
		key  float64
		part int32
		i    int32
	}
	keys := make([]keyed, len(list))
	perPart := map[int32]float64{}
	for n, i := range list {
		it := &c.items[i]
		w, h := float64(it.w), float64(it.h)
		var k float64
		switch by {
		case 0:
			k = it.area
		case 1:
			k = max(w, h)
		case 2:
			k = min(w, h)
		case 3:
			k = w
		case 4:
			k = h
		default:
			k = w + h
		}
		f, ok := perPart[it.part]
		if !ok || c.rng.IntN(6) == 0 {
			f = 1 + blur*(2*c.rng.Float64()-1)
			perPart[it.part] = f
		}
		keys[n] = keyed{k * f, it.part, i}
	}
	slices.SortFunc(keys, func(a, b keyed) int {
		return cmp.Or(-cmp.Compare(a.key, b.key), cmp.Compare(a.part, b.part), cmp.Compare(a.i, b.i))
	})
	for n := range keys {
		list[n] = keys[n].i
	}
}

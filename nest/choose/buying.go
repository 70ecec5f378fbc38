package choose

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"math/bits"
	"slices"
	"time"

	"panelyard/nest"
	"panelyard/nest/check"
)

const (
	// mostOffers is how many offers of a material are looked at.
	mostOffers = 48
	// quick is the rounds of a first look at an offer.
	quick = 4
	// mostCombined is how many combinations of offers are billed.
	mostCombined = 100_000
	// mostWishes is how many of the cheapest numbers of sheets are tried to be kept to.
	mostWishes = 12
)

// offer is a way to buy the sheets of a material: the yards that may bring them, at
// prices of their own.
type offer struct {
	p    *nest.Problem // of the material
	plan *nest.Plan    // for it, a first one
	full bool          // planned with the whole budget
}

// buyer plans where sheets cost together other than their sum.
type buyer struct {
	p       *nest.Problem
	s       nest.Settings
	every   []string // materials
	parts   [][]int  // of each, index in p
	stocks  [][]int
	offers  [][]offer
	rounds  int
	solver  string
	studies map[string]study
	wishes  []wish
}

// wish is numbers of sheets, of each material, that a bound does not rule out.
type wish struct {
	bill  int64
	needs [][]int
}

// buying plans where sheets cost together other than their sum. Materials do not share
// sheets, but drops:
//
//  1. Each material is planned with a few rounds for each choice of yards, with sheets at
//     their lowest prices, at those of one, and with one kind at its lowest only.
//  2. All combinations of these plans are billed. Numbers of sheets that would be
//     cheaper, and that no bound rules out, are tried to be kept to, so that a drop is
//     filled or a price reached by a mix.
//  3. Of the cheapest combination every plan is made again with the whole budget, and
//     they are billed again.
//
// The plan of the least bill is kept. Cost: at most 60 quick plans a material, and two
// whole ones.
func buying(ctx context.Context, p *nest.Problem, s nest.Settings) (*nest.Result, error) {
	start := time.Now()
	b := &buyer{p: p, s: s, every: p.Materials(), studies: map[string]study{}}
	bctx, cancel := share(ctx, 1, 4)
	least, sheets, method := b.least(bctx)
	cancel()
	looks := s
	looks.Watch = nil
	if looks.Budget <= 0 || looks.Budget > quick {
		looks.Budget = quick
	}
	half, cancel := share(ctx, 1, 2)
	defer cancel()
	for i, m := range b.every {
		sub, parts, stocks := p.Subset(m)
		b.parts, b.stocks = append(b.parts, parts), append(b.stocks, stocks)
		list := offersOf(sub)
		for k := range list {
			octx, cancel := share(half, 1, (len(b.every)-i)*len(list)-k)
			err := b.make(octx, &list[k], looks)
			cancel()
			if err != nil {
				return nil, err
			}
		}
		b.offers = append(b.offers, list)
	}
	best := b.combine()
	if err := b.wish(half, looks, b.bill(best)); err != nil {
		return nil, err
	}
	best = b.combine()
	for range 2 {
		if ctx.Err() != nil || b.unplaced(best) == 0 && b.bill(best) <= least {
			break
		}
		for i, k := range best {
			if o := &b.offers[i][k]; !o.full {
				octx, cancel := share(ctx, 1, len(best)-i)
				err := b.make(octx, o, s)
				cancel()
				if err != nil {
					return nil, err
				}
				o.full = true
			}
		}
		best = b.combine()
	}
	res := &nest.Result{Plan: &nest.Plan{}, Bound: nest.Bound{Sheets: sheets, Cost: least, Method: method}, Solver: b.solver}
	for i, k := range best {
		plan := &nest.Plan{}
		join(plan, b.offers[i][k].plan, b.parts[i], b.stocks[i])
		res.Plan.Sheets = append(res.Plan.Sheets, plan.Sheets...)
		res.Plan.Unplaced = append(res.Plan.Unplaced, plan.Unplaced...)
	}
	if err := check.Plan(p, res.Plan); err != nil {
		return nil, fmt.Errorf("the joined plan was refused by the judge, a defect of panelyard: %w", err)
	}
	res.Stats = nest.Stats{Rounds: b.rounds, Elapsed: time.Since(start)}
	res.Status = status(p, res.Plan, res.Bound)
	return res, nil
}

// make plans an offer, and keeps the better plan when it has one.
func (b *buyer) make(ctx context.Context, o *offer, s nest.Settings) error {
	r, err := single(ctx, o.p, s)
	if err != nil {
		return err
	}
	b.rounds += r.Stats.Rounds
	b.solver = r.Solver
	if o.plan == nil || better(o.p, r.Plan, o.plan) {
		o.plan = r.Plan
	}
	return nil
}

// combine returns an offer of each material, such that as little as possible is without
// a place and the bill is least. Beyond mostCombined it changes one material at a time
// until nothing is gained.
func (b *buyer) combine() []int {
	at, best := make([]int, len(b.offers)), make([]int, len(b.offers))
	if len(at) == 0 {
		return best
	}
	left, least := math.Inf(1), int64(0)
	try := func() bool {
		u, c := b.unplaced(at), b.bill(at)
		if u < left || u == left && c < least {
			left, least = u, c
			copy(best, at)
			return true
		}
		return false
	}
	combinations := 1
	for _, list := range b.offers {
		combinations = min(combinations*len(list), mostCombined+1)
	}
	if combinations <= mostCombined {
		for n := range combinations {
			for i, list := range b.offers {
				at[i] = n % len(list)
				n /= len(list)
			}
			try()
		}
		return best
	}
	for gained := true; gained; {
		gained = false
		for i, list := range b.offers {
			copy(at, best)
			for k := range list {
				at[i] = k
				gained = try() || gained
			}
		}
	}
	return best
}

// wish plans with no more sheets than those of the wishes that cost less than a bill,
// and adds the plans of all panels to the offers.
func (b *buyer) wish(ctx context.Context, s nest.Settings, bill int64) error {
	tried := map[string]bool{}
	s.Budget = min(s.Budget*4, max(b.s.Budget, 4*quick))
	for n, w := range b.wishes {
		if w.bill >= bill || ctx.Err() != nil {
			return nil
		}
		for i, m := range b.every {
			key := fmt.Sprint(i, w.needs[i])
			if tried[key] {
				continue
			}
			tried[key] = true
			sub, _, _ := b.p.Subset(m)
			sub.Stocks = slices.Clone(sub.Stocks)
			for k, c := range w.needs[i] {
				sub.Stocks[k].Available = c
			}
			o := offer{p: sub}
			octx, cancel := share(ctx, 1, len(b.wishes)-n)
			err := b.make(octx, &o, s)
			cancel()
			if err != nil {
				return err
			}
			if len(o.plan.Unplaced) == 0 {
				b.offers[i] = append(b.offers[i], o)
			}
		}
	}
	return nil
}

// count returns how many sheets of each stock a choice of offers takes.
func (b *buyer) count(at []int) []int {
	count := make([]int, len(b.p.Stocks))
	for i, k := range at {
		o := &b.offers[i][k]
		for j, n := range o.p.Count(o.plan) {
			count[b.stocks[i][j]] += n
		}
	}
	return count
}

func (b *buyer) bill(at []int) int64 { return b.p.Bill(b.count(at)) }

// unplaced returns the area that a choice of offers leaves without a place.
func (b *buyer) unplaced(at []int) float64 {
	sum := 0.0
	for i, k := range at {
		sum += unplacedArea(b.offers[i][k].p, b.offers[i][k].plan)
	}
	return sum
}

// offersOf returns the ways to buy the sheets of one material, those of few yards first.
func offersOf(p *nest.Problem) []offer {
	var list []offer
	had := map[string]bool{}
	for _, set := range yardsOf(p) {
		q, ok := from(p, set)
		if !ok {
			continue
		}
		add := func(price func(i int) int64) {
			c := *q
			c.Stocks = slices.Clone(q.Stocks)
			for i := range c.Stocks {
				if st := &c.Stocks[i]; len(st.Prices) > 0 {
					st.Cost = price(i)
				}
			}
			if key := offerKey(&c); !had[key] && len(list) < mostOffers {
				had[key] = true
				list = append(list, offer{p: &c})
			}
		}
		add(func(i int) int64 { return p.Stocks[i].Cost })
		kinds := 0
		for i := range q.Stocks {
			if st := &q.Stocks[i]; st.Available != 0 && !st.Offcut {
				kinds++
			}
		}
		if kinds < 2 {
			continue // whatever its price, it is what is bought
		}
		add(func(i int) int64 { return p.Stocks[i].Prices[0] })
		for k := range p.Stocks {
			add(func(i int) int64 {
				if i == k {
					return p.Stocks[i].Cost
				}
				return p.Stocks[i].Prices[0]
			})
		}
	}
	return list
}

// yardsOf returns the choices of yards of a problem as bits by number, few yards first.
func yardsOf(p *nest.Problem) []uint {
	all := uint(0)
	for i := range p.Stocks {
		if st := &p.Stocks[i]; st.Yard > 0 && st.Available != 0 {
			all |= 1 << st.Yard
		}
	}
	sets := []uint{0}
	for set := all; set > 0; set = (set - 1) & all {
		sets = append(sets, set)
	}
	slices.SortStableFunc(sets, func(a, b uint) int {
		return cmp.Or(cmp.Compare(bits.OnesCount(a), bits.OnesCount(b)), cmp.Compare(a, b))
	})
	return sets
}

// from returns a problem of one material with the sheets of some yards only. It reports
// false when there would be no sheet though there is one.
func from(p *nest.Problem, set uint) (*nest.Problem, bool) {
	q := *p
	q.Bill = nil
	q.Stocks = slices.Clone(p.Stocks)
	some, left := false, false
	for i := range q.Stocks {
		st := &q.Stocks[i]
		some = some || st.Available != 0
		if st.Yard > 0 && set>>st.Yard&1 == 0 {
			st.Available = 0
		}
		left = left || st.Available != 0
	}
	return &q, left || !some
}

// offerKey tells offers apart that give other plans.
func offerKey(p *nest.Problem) string {
	key := ""
	for i := range p.Stocks {
		key += fmt.Sprint(p.Stocks[i].Cost, p.Stocks[i].Available != 0, ";")
	}
	return key
}

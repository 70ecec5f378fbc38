package choose

import (
	"cmp"
	"context"
	"math"
	"slices"

	"panelyard/nest"
	"panelyard/nest/bound"
)

// least returns what no bill is under: of the choices of yards the least sum of the
// bounds at the lowest prices, with a drop of each yard; and the fewest sheets.
func (b *buyer) least(ctx context.Context) (cost int64, sheets int, method string) {
	cost = -1
	for _, set := range yardsOf(b.p) {
		c, ok := b.under(ctx, set)
		if ok && (cost < 0 || c < cost) {
			cost = c
		}
	}
	all := bound.Of(ctx, b.p)
	return max(cost, 0), all.Sheets, all.Method
}

// study is what is known of a material and a choice of yards.
type study struct {
	bound nest.Bound
	// needs are numbers of sheets of each stock of the material: every plan takes as
	// many of one of them, or more, or its sheets cost beyond or more by themselves.
	needs  [][]int
	beyond int64
}

// look studies a problem of one material.
func look(ctx context.Context, q *nest.Problem, material string) study {
	// Drops, spare sheets and lost rebates may come to as much as the board.
	known := bound.Study(ctx, q, bound.Wishes{Above: 400, Most: 200})
	b := known.Bound()
	st := study{bound: b, needs: known[material].Mixes, beyond: math.MaxInt64}
	if n := len(st.needs); n > 0 {
		st.beyond = 0
		for k, count := range st.needs[n-1] {
			st.beyond += int64(count) * q.Stocks[k].Cost
		}
		return st
	}
	// Not so well known: so many sheets at least, of whatever kind. What is kept does
	// not count, so that all of it may be used.
	var kinds []int
	for k := range q.Stocks {
		switch sk := &q.Stocks[k]; {
		case sk.Available == 0:
		case sk.Offcut:
			return study{bound: b, needs: [][]int{make([]int, len(q.Stocks))}, beyond: math.MaxInt64}
		default:
			kinds = append(kinds, k)
		}
	}
	count := make([]int, len(q.Stocks))
	var split func(d, left int)
	split = func(d, left int) {
		if len(st.needs) > mostCombined {
			return
		}
		if d == len(kinds)-1 {
			count[kinds[d]] = left
			st.needs = append(st.needs, slices.Clone(count))
			return
		}
		for n := range left + 1 {
			count[kinds[d]] = n
			split(d+1, left-n)
		}
	}
	if len(kinds) == 0 {
		st.needs = [][]int{count}
	} else {
		split(0, b.Sheets)
	}
	return st
}

// under returns what no bill of a plan is under that takes sheets of every one of some
// yards and of no other, or false when there is no such plan.
func (b *buyer) under(ctx context.Context, set uint) (int64, bool) {
	var sum int64
	var list []study
	var stocks [][]int
	combinations := 1
	for _, m := range b.every {
		sub, _, stockOf := b.p.Subset(m)
		q, ok := from(sub, set)
		if !ok {
			return 0, false
		}
		key := m + "\x00" + offerKey(q)
		st, known := b.studies[key]
		if !known {
			st = look(ctx, q, m)
			b.studies[key] = st
		}
		sum += st.bound.Cost
		list, stocks = append(list, st), append(stocks, stockOf)
		combinations = min(combinations*len(st.needs), mostCombined+1)
	}
	for y, drop := range b.p.Drops {
		if set>>(y+1)&1 == 1 {
			sum += drop
		}
	}
	if combinations > mostCombined {
		return sum, true
	}
	// What no bill is under grows with the sheets, so the least of all needs is a bound.
	least := int64(math.MaxInt64)
	count := make([]int, len(b.p.Stocks))
	// each calls f for each combination, with count as its sheets but those of a material.
	each := func(without int, f func(n int)) {
		for n := range combinations {
			rest := n
			for i, st := range list {
				need := st.needs[rest%len(st.needs)]
				rest /= len(st.needs)
				for k, c := range need {
					if i == without {
						c = 0
					}
					count[stocks[i][k]] = c
				}
			}
			f(n)
		}
	}
	each(-1, func(n int) {
		least = min(least, b.p.BillAtLeast(count))
		b.note(b.p.Bill(count), n, list)
	})
	for i, st := range list {
		if st.beyond < math.MaxInt64 {
			// The others have their bill, and these sheets cost at least that on top.
			each(i, func(int) { least = min(least, b.p.BillAtLeast(count)+st.beyond) })
		}
	}
	return max(sum, least), true
}

// note keeps a combination of needs, by its number, among the cheapest.
func (b *buyer) note(bill int64, n int, list []study) {
	if len(b.wishes) == mostWishes && bill >= b.wishes[mostWishes-1].bill {
		return
	}
	w := wish{bill: bill}
	for _, st := range list {
		w.needs = append(w.needs, st.needs[n%len(st.needs)])
		n /= len(st.needs)
	}
	at, _ := slices.BinarySearchFunc(b.wishes, bill+1, func(o wish, c int64) int { return cmp.Compare(o.bill, c) })
	b.wishes = slices.Insert(b.wishes, at, w)
	b.wishes = b.wishes[:min(len(b.wishes), mostWishes)]
}

package nest

import (
	"cmp"
	"maps"
	"slices"

	"panelyard/kerf"
	"panelyard/parts"
)

// FromDemand returns the problem of a demand: parts and stocks keep its order.
//
// A sheet costs its price when every stock of its material that can be bought
// has one, and otherwise its area in square millimetres, so that the least board
// is used. A kept offcut without a price costs nothing. With prices by quantity it is
// the lowest; Bill then says what sheets cost together.
func FromDemand(d *kerf.Demand) *Problem {
	p := &Problem{Cut: d.Cut, Kerf: d.Kerf, Gap: d.Gap, Keep: d.Job.Keep, Saw: d.Job.Saw}
	if saw := &d.Job.Saw; d.Cut == kerf.Saw && !saw.OwnBlanks {
		p.Apart = max(2*saw.Allowance, d.Kerf) // each panel keeps its allowance towards the other
	}
	for i := range d.Items {
		it := &d.Items[i]
		turns, oneWay := turnsOf(d, it)
		p.Parts = append(p.Parts, Part{
			Name: it.Panel.Name, Material: it.Panel.Material, Copies: it.Copies,
			Shape: it.Shape, Blank: it.Blank, Inset: it.Inset,
			Grain: it.Panel.Grain, CanFlip: it.Panel.EitherFace, Turns: turns, OneWay: oneWay,
		})
	}
	priced := pricedMaterials(d)
	for _, s := range d.Sheets {
		st := Stock{
			Name: s.Stock.Name, Material: s.Stock.Material, Usable: s.Usable,
			Grain: s.Stock.Grain, Available: s.Stock.Available, Offcut: s.Stock.Offcut,
		}
		st.Size.X, st.Size.Y = s.Stock.Length, s.Stock.Width
		if m := d.Job.Material(s.Stock.Material); m != nil {
			st.KGPerM2 = m.Density * m.Measured.MM() / 1e3
		}
		switch {
		case s.Stock.InHand:
			st.Cost = 1 // pieces first, and nothing is bought for it
		case priced[s.Stock.Material]:
			st.offer(d.Job, s.Stock)
		case !s.Stock.Offcut:
			st.Cost = int64(st.Size.X.MM() * st.Size.Y.MM())
		}
		p.Stocks = append(p.Stocks, st)
	}
	if all := slices.Collect(maps.Values(priced)); !d.Job.PlainlyPriced() && !slices.Contains(all, false) {
		p.Bill = func(count []int) int64 {
			bill := BillOf(d, count)
			return int64(bill.Total())
		}
		p.BillAtLeast = func(count []int) int64 { return int64(d.Job.BillAtLeast(wanted(d, count))) }
		for i := range d.Job.Yards {
			p.Drops = append(p.Drops, int64(d.Job.Yards[i].Drop))
		}
	}
	return p
}

// BillOf returns the bill of so many sheets of each stock of a demand.
func BillOf(d *kerf.Demand, count []int) parts.Bill { return d.Job.Bill(wanted(d, count)) }

// wanted returns so many sheets of each stock of a demand.
func wanted(d *kerf.Demand, count []int) []parts.Wanted {
	list := make([]parts.Wanted, len(count))
	for i, n := range count {
		list[i] = parts.Wanted{Stock: d.Sheets[i].Stock, Count: n}
	}
	return list
}

// offer sets what a stock costs, and who brings it.
func (s *Stock) offer(j *parts.Job, of *parts.Stock) {
	s.Cost = int64(of.Price)
	if len(of.Breaks) > 0 {
		s.Prices = []int64{s.Cost}
		for _, b := range of.Breaks {
			s.Prices = append(s.Prices, int64(b.Price))
			s.Cost = min(s.Cost, int64(b.Price))
		}
	}
	s.Yard = 1 + slices.IndexFunc(j.Yards, func(y parts.Yard) bool { return y.Name == of.Yard })
}

// Count returns how many sheets of each stock a plan takes.
func (p *Problem) Count(plan *Plan) []int {
	count := make([]int, len(p.Stocks))
	for i := range plan.Sheets {
		count[plan.Sheets[i].Stock]++
	}
	return count
}

// turnsOf returns the turns of an item when its material says more than its grain.
// A saw has no others than quarter turns.
func turnsOf(d *kerf.Demand, it *kerf.Item) (turns []int, oneWay bool) {
	m := d.Job.Material(it.Panel.Material)
	switch {
	case m.Turn == parts.OneWay:
		return nil, true
	case m.Turn == parts.ByGrain || m.Grained:
		return nil, false
	}
	for _, t := range m.TurnsOf(parts.NoAxis, parts.NoAxis) {
		if d.Cut == kerf.Router || t%90 == 0 {
			turns = append(turns, t)
		}
	}
	return turns, false
}

// pricedMaterials returns the materials whose every stock that can be bought has
// a price.
func pricedMaterials(d *kerf.Demand) map[string]bool {
	priced := map[string]bool{}
	for _, s := range d.Sheets {
		if _, seen := priced[s.Stock.Material]; !seen {
			priced[s.Stock.Material] = true
		}
		if !s.Stock.Priced && !s.Stock.Offcut {
			priced[s.Stock.Material] = false
		}
	}
	return priced
}

// Subset returns the problem of one material, and which part and stock of p each
// of its parts and stocks is.
func (p *Problem) Subset(material string) (q *Problem, partOf, stockOf []int) {
	c := *p
	q = &c
	q.Parts, q.Stocks, q.Bill, q.BillAtLeast = nil, nil, nil, nil
	for i := range p.Parts {
		if p.Parts[i].Material == material {
			q.Parts = append(q.Parts, p.Parts[i])
			partOf = append(partOf, i)
		}
	}
	for i := range p.Stocks {
		if p.Stocks[i].Material == material {
			q.Stocks = append(q.Stocks, p.Stocks[i])
			stockOf = append(stockOf, i)
		}
	}
	return q, partOf, stockOf
}

// Within returns a plan in the numbers of a subset of its problem, which are the indices of
// parts and stocks in the lists of [Problem.Subset]: where panels lie, without cuts.
func (plan *Plan) Within(partOf, stockOf []int) *Plan {
	own := &Plan{}
	for _, sh := range plan.Sheets {
		q := Sheet{Stock: slices.Index(stockOf, sh.Stock)}
		for _, pl := range sh.Placements {
			pl.Part = slices.Index(partOf, pl.Part)
			q.Placements = append(q.Placements, pl)
		}
		own.Sheets = append(own.Sheets, q)
	}
	return own
}

// Materials returns the materials of the parts, in the order in which they occur.
func (p *Problem) Materials() []string {
	var list []string
	seen := map[string]bool{}
	for i := range p.Parts {
		if m := p.Parts[i].Material; !seen[m] {
			seen[m] = true
			list = append(list, m)
		}
	}
	return list
}

// EasiestFirst returns the materials, those of fewest kinds of sheet first, then those of
// fewest panels: what one does not need of a deadline is left to the next.
func (p *Problem) EasiestFirst() []string {
	list := p.Materials()
	size := func(m string) (stocks, panels int) {
		sub, _, _ := p.Subset(m)
		return len(sub.Stocks), sub.Copies()
	}
	slices.SortStableFunc(list, func(a, b string) int {
		as, ap := size(a)
		bs, bp := size(b)
		return cmp.Or(cmp.Compare(as, bs), cmp.Compare(ap, bp))
	})
	return list
}

// Times returns the problem with n times as many copies of every part, and the stocks
// that there are.
func (p *Problem) Times(n int) *Problem {
	q := *p
	q.Parts = slices.Clone(p.Parts)
	for i := range q.Parts {
		q.Parts[i].Copies *= n
	}
	return &q
}

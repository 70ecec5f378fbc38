package parts

import (
	"cmp"
	"math"
	"slices"

	"panelyard/parts/diag"
	"panelyard/parts/money"
)

// Break is a price by quantity: so many sheets of a kind, and more, cost Price each, all
// of them.
type Break struct {
	From  int // sheets, 2 or more
	Price money.Amount
}

// Yard is where sheets are bought and what it takes to bring them. What there is no
// limit for is 0.
type Yard struct {
	Name   string
	Drop   money.Amount // a delivery
	Sheets int          // most sheets of a drop
	KG     float64      // most mass of a drop
	Pos    diag.Pos
}

// PriceOf returns what a sheet costs when n of them are bought.
func (s *Stock) PriceOf(n int) money.Amount {
	price := s.Price
	for _, b := range s.Breaks {
		if n >= b.From {
			price = b.Price
		}
	}
	return price
}

// fewest returns the number of sheets, n or more, that costs least: where a break makes
// more of them cheaper than n, it is that many.
func (s *Stock) fewest(n int) int {
	best := n
	for _, b := range s.Breaks {
		enough := s.Available == Unlimited || b.From <= s.Available
		if b.From > n && enough && money.Amount(b.From)*s.PriceOf(b.From) < money.Amount(best)*s.PriceOf(best) {
			best = b.From
		}
	}
	return best
}

// Bill is what sheets cost, with what brings them.
type Bill struct {
	Lines []BillLine // one for each of the wanted, in their order
	Drops []Drop     // of the yards that bring something, in the order of the job
}

// BillLine is sheets of a kind.
type BillLine struct {
	Stock *Stock
	Count int          // wanted
	Spare int          // bought beyond: asked for, or cheaper than not to
	Price money.Amount // of each
	Cost  money.Amount
}

// Drop is the deliveries of a yard.
type Drop struct {
	Yard   *Yard
	Sheets int
	KG     float64 // 0 when a density is unknown
	Count  int     // deliveries
	Cost   money.Amount
}

// Total returns what a bill comes to.
func (b *Bill) Total() money.Amount {
	var sum money.Amount
	for i := range b.Lines {
		sum += b.Lines[i].Cost
	}
	for i := range b.Drops {
		sum += b.Drops[i].Cost
	}
	return sum
}

// Wanted is sheets of a kind that a plan takes.
type Wanted struct {
	Stock *Stock
	Count int
}

// Bill returns the bill of the sheets of a plan. Of every material of which something is
// bought, Spare sheets more are: of the largest kind, which can take the place of any.
// More sheets than that are bought where breaks make the whole cheaper by it. Cost: the
// sheets wanted times the yards.
func (j *Job) Bill(list []Wanted) Bill {
	with := j.bill(list, (*Stock).fewest)
	without := j.bill(list, func(_ *Stock, n int) int { return n })
	// Sheets for less each may take a delivery more.
	if with.Total() > without.Total() {
		return without
	}
	return with
}

func (j *Job) bill(list []Wanted, buy func(*Stock, int) int) Bill {
	spare := j.spares(list)
	b := Bill{Lines: make([]BillLine, len(list))}
	for i, w := range list {
		l := &b.Lines[i]
		l.Stock, l.Count = w.Stock, w.Count
		n := w.Count
		if n > 0 && !w.Stock.Offcut {
			n = buy(w.Stock, n+spare[i])
		}
		l.Spare, l.Price = n-w.Count, w.Stock.PriceOf(n)
		l.Cost = money.Amount(n) * l.Price
	}
	for y := range j.Yards {
		if d := j.drop(&j.Yards[y], b.Lines); d.Sheets > 0 {
			b.Drops = append(b.Drops, d)
		}
	}
	return b
}

// spares returns how many sheets of each of the wanted are to spare.
func (j *Job) spares(list []Wanted) []int {
	spare := make([]int, len(list))
	if j.Spare <= 0 {
		return spare
	}
	largest := map[string]int{}
	for i, w := range list {
		if w.Count == 0 || w.Stock.Offcut || w.Stock.Available != Unlimited && w.Count+j.Spare > w.Stock.Available {
			continue
		}
		if k, ok := largest[w.Stock.Material]; !ok || compareArea(w.Stock, list[k].Stock) > 0 {
			largest[w.Stock.Material] = i
		}
	}
	for _, i := range largest {
		spare[i] = j.Spare
	}
	return spare
}

// compareArea compares stock by the area of a sheet.
func compareArea(a, b *Stock) int {
	return cmp.Compare(float64(a.Length)*float64(a.Width), float64(b.Length)*float64(b.Width))
}

// drop returns the deliveries of a yard.
func (j *Job) drop(y *Yard, lines []BillLine) Drop {
	d := Drop{Yard: y}
	weighed := true
	for i := range lines {
		l := &lines[i]
		n := l.Count + l.Spare
		if n == 0 || l.Stock.Offcut || l.Stock.Yard != y.Name {
			continue
		}
		d.Sheets += n
		m := j.Material(l.Stock.Material)
		weighed = weighed && m != nil && m.Density > 0
		if weighed {
			d.KG += float64(n) * l.Stock.Length.MM() * l.Stock.Width.MM() * m.Measured.MM() * m.Density / 1e9
		}
	}
	if !weighed {
		d.KG = 0
	}
	if d.Sheets == 0 {
		return d
	}
	d.Count = 1
	if y.Sheets > 0 {
		d.Count = max(d.Count, (d.Sheets+y.Sheets-1)/y.Sheets)
	}
	if y.KG > 0 {
		d.Count = max(d.Count, int(math.Ceil(d.KG/y.KG-1e-9)))
	}
	d.Cost = money.Amount(d.Count) * y.Drop
	return d
}

// PlainlyPriced reports whether sheets cost a price each and nothing else.
func (j *Job) PlainlyPriced() bool {
	return len(j.Yards) == 0 && j.Spare == 0 && !slices.ContainsFunc(j.Stock, func(s Stock) bool { return len(s.Breaks) > 0 })
}

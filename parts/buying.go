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

// quantities returns the numbers of sheets that may be bought where n are wanted: n, and
// what costs less than that because a break makes it so.
func (s *Stock) quantities(n int) []int {
	list := []int{n}
	for _, b := range s.Breaks {
		enough := s.Available == Unlimited || b.From <= s.Available
		if b.From > n && enough && money.Amount(b.From)*s.PriceOf(b.From) < money.Amount(n)*s.PriceOf(n) {
			list = append(list, b.From)
		}
	}
	return list
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

// mostQuantities is how many ways to buy more than is wanted are billed.
const mostQuantities = 4096

// Bill returns the bill of the sheets of a plan. Of every material of which something is
// bought, Spare sheets more are: of the largest kind that the plan takes. More sheets
// than that are bought where breaks make the whole cheaper by it, drops included. Cost:
// the sheets wanted times the yards, for each way to buy more.
func (j *Job) Bill(list []Wanted) Bill {
	spare := j.spares(list)
	for i := range spare {
		spare[i] += list[i].Count
	}
	return j.least(list, spare, (*Yard).drops)
}

// BillAtLeast returns what no bill is under of a plan that takes as many sheets or more of
// each kind: those to spare are of whatever kind is cheapest, of those listed, and none
// where every kind may run out. It grows with the sheets, which Bill need not, as a larger
// kind may be a cheaper one to spare.
func (j *Job) BillAtLeast(list []Wanted) money.Amount {
	count := make([]int, len(list))
	var materials []string
	for i, w := range list {
		count[i] = w.Count
		if w.Count > 0 && !w.Stock.Offcut && !slices.Contains(materials, w.Stock.Material) {
			materials = append(materials, w.Stock.Material)
		}
	}
	if j.Spare == 0 {
		materials = nil
	}
	best := money.Amount(math.MaxInt64)
	var choose func(d int)
	choose = func(d int) {
		if d == len(materials) {
			b := j.least(list, count, (*Yard).leastDrops)
			best = min(best, b.Total())
			return
		}
		endless := false
		for i, w := range list {
			if w.Stock.Material != materials[d] || w.Stock.Offcut || w.Stock.Available == 0 {
				continue
			}
			endless = endless || w.Stock.Available == Unlimited
			if w.Stock.Available != Unlimited && count[i]+j.Spare > w.Stock.Available {
				continue
			}
			count[i] += j.Spare
			choose(d + 1)
			count[i] -= j.Spare
		}
		if !endless {
			choose(d + 1)
		}
	}
	choose(0)
	return best
}

// least returns the cheapest bill of at least so many sheets.
func (j *Job) least(list []Wanted, count []int, drops func(*Yard, []load) int) Bill {
	options := make([][]int, len(list))
	ways := 1
	for i, w := range list {
		options[i] = []int{count[i]}
		if count[i] > 0 && !w.Stock.Offcut {
			options[i] = w.Stock.quantities(count[i])
		}
		ways = min(ways*len(options[i]), mostQuantities+1)
	}
	if ways > mostQuantities {
		ways = 1 // as many as are wanted
	}
	var best Bill
	bought := make([]int, len(list))
	for n := range ways {
		rest := n
		for i, o := range options {
			bought[i] = o[rest%len(o)]
			rest /= len(o)
		}
		if b := j.bill(list, bought, drops); n == 0 || b.Total() < best.Total() {
			best = b
		}
	}
	return best
}

// bill returns the bill of so many sheets bought.
func (j *Job) bill(list []Wanted, bought []int, drops func(*Yard, []load) int) Bill {
	b := Bill{Lines: make([]BillLine, len(list))}
	for i, w := range list {
		price := w.Stock.PriceOf(bought[i])
		b.Lines[i] = BillLine{w.Stock, w.Count, bought[i] - w.Count, price, money.Amount(bought[i]) * price}
	}
	for y := range j.Yards {
		if d := j.drop(&j.Yards[y], b.Lines, drops); d.Sheets > 0 {
			b.Drops = append(b.Drops, d)
		}
	}
	return b
}

// spares returns how many sheets of each of the wanted are to spare: of every material of
// which something is bought, of the largest kind that the plan takes and of which there
// are as many more; where there is none, of the largest of those it does not take.
func (j *Job) spares(list []Wanted) []int {
	spare := make([]int, len(list))
	if j.Spare <= 0 {
		return spare
	}
	bought := map[string]bool{}
	for _, w := range list {
		bought[w.Stock.Material] = bought[w.Stock.Material] || w.Count > 0 && !w.Stock.Offcut
	}
	best := map[string]int{}
	for i, w := range list {
		if !bought[w.Stock.Material] || w.Stock.Offcut || w.Stock.Available != Unlimited && w.Count+j.Spare > w.Stock.Available {
			continue
		}
		k, ok := best[w.Stock.Material]
		if taken := w.Count > 0; !ok || taken && list[k].Count == 0 || taken == (list[k].Count > 0) && compareArea(w.Stock, list[k].Stock) > 0 {
			best[w.Stock.Material] = i
		}
	}
	for _, i := range best {
		spare[i] = j.Spare
	}
	return spare
}

// compareArea compares stock by the area of a sheet.
func compareArea(a, b *Stock) int {
	return cmp.Compare(float64(a.Length)*float64(a.Width), float64(b.Length)*float64(b.Width))
}

// drop returns the deliveries of a yard, as many as count says.
func (j *Job) drop(y *Yard, lines []BillLine, count func(*Yard, []load) int) Drop {
	d := Drop{Yard: y}
	weighed := true
	var loads []load
	for i := range lines {
		l := &lines[i]
		n := l.Count + l.Spare
		if n == 0 || l.Stock.Offcut || l.Stock.Yard != y.Name {
			continue
		}
		d.Sheets += n
		kg := l.Stock.MassKG(j.Material(l.Stock.Material))
		weighed = weighed && kg > 0
		d.KG += float64(n) * kg
		loads = append(loads, load{n, kg})
	}
	if !weighed {
		d.KG = 0
	}
	d.Count = count(y, loads)
	d.Cost = money.Amount(d.Count) * y.Drop
	return d
}

// MassKG returns the mass of a sheet of a material, 0 when its density is unknown.
func (s *Stock) MassKG(m *Material) float64 {
	if m == nil {
		return 0
	}
	return m.MassKG(s.Length.MM() * s.Width.MM())
}

// PlainlyPriced reports whether sheets cost a price each and nothing else.
func (j *Job) PlainlyPriced() bool {
	return len(j.Yards) == 0 && j.Spare == 0 && !slices.ContainsFunc(j.Stock, func(s Stock) bool { return len(s.Breaks) > 0 })
}

package parts_test

import (
	"testing"

	"pgregory.net/rapid"

	"panelyard/parts"
	"panelyard/parts/length"
	"panelyard/parts/money"
)

// buying returns a job whose sheets cost 92, from 5 on 86, from 10 on 81.50, and come in
// drops of 60 for 12 sheets or 400 kg. A sheet of 2500 x 1250 x 18 at 685 kg/m3 weighs
// 38.5 kg, so that ten are a drop by mass.
func buying(kg float64, spare int) *parts.Job {
	const mm = length.Millimetre
	return &parts.Job{
		Spare:     spare,
		Yards:     []parts.Yard{{Name: "near"}, {Name: "mill", Drop: 60 * money.One, Sheets: 12, KG: kg}},
		Materials: []parts.Material{{Name: "birch 18", Measured: 18 * mm, Density: 685}},
		Stock: []parts.Stock{
			{
				Name: "mill", Material: "birch 18", Length: 2500 * mm, Width: 1250 * mm, Price: 92 * money.One, Priced: true, Yard: "mill", Available: parts.Unlimited,
				Breaks: []parts.Break{{From: 5, Price: 86 * money.One}, {From: 10, Price: 815_000}},
			},
			{Name: "near", Material: "birch 18", Length: 2440 * mm, Width: 1220 * mm, Price: 98 * money.One, Priced: true, Yard: "near", Available: 3},
			{Name: "rest", Material: "birch 18", Length: 900 * mm, Width: 400 * mm, Available: 1, Offcut: true, Price: 2 * money.One, Priced: true},
		},
	}
}

// Worked out by hand.
func TestBill(t *testing.T) {
	for _, c := range []struct {
		name        string
		kg          float64
		spare       int
		mill, near  int
		offcuts     int
		total       float64
		millSpare   int
		nearSpare   int
		drops       int
		priceOfMill float64
	}{
		{name: "nothing", total: 0, priceOfMill: 92},
		{name: "one", mill: 1, total: 92 + 60, drops: 1, priceOfMill: 92},
		{name: "five for less than five times one", mill: 5, total: 5*86 + 60, drops: 1, priceOfMill: 86},
		{name: "nine cost 774, ten at 81.50 are 815", mill: 9, total: 774 + 60, drops: 1, priceOfMill: 86},
		{name: "two drops", mill: 13, total: 13*81.5 + 120, drops: 2, priceOfMill: 81.5},
		{name: "two drops by mass", kg: 400, mill: 11, total: 11*81.5 + 120, drops: 2, priceOfMill: 81.5},
		{name: "one to spare", spare: 1, mill: 2, total: 3*92 + 60, millSpare: 1, drops: 1, priceOfMill: 92},
		{name: "the larger kind is to spare", spare: 1, mill: 2, near: 2, total: 3*92 + 60 + 2*98, millSpare: 1, drops: 1, priceOfMill: 92},
		{name: "to spare of what there is", spare: 1, near: 2, total: 3 * 98, nearSpare: 1, priceOfMill: 92},
		{name: "none left to spare", spare: 1, near: 3, total: 3 * 98, priceOfMill: 92},
		{name: "from the rack", spare: 2, offcuts: 1, total: 2, priceOfMill: 92},
	} {
		j := buying(c.kg, c.spare)
		b := j.Bill([]parts.Wanted{{Stock: &j.Stock[0], Count: c.mill}, {Stock: &j.Stock[1], Count: c.near}, {Stock: &j.Stock[2], Count: c.offcuts}})
		drops := 0
		for _, d := range b.Drops {
			if d.Yard.Name == "mill" {
				drops = d.Count
			}
		}
		if got := b.Total().Float(); got != c.total || b.Lines[0].Spare != c.millSpare || b.Lines[1].Spare != c.nearSpare || drops != c.drops || b.Lines[0].Price.Float() != c.priceOfMill {
			t.Errorf("%s: %v, %d and %d to spare, %d drops at %v; want %v, %d, %d, %d, %v", c.name, got, b.Lines[0].Spare, b.Lines[1].Spare, drops,
				b.Lines[0].Price, c.total, c.millSpare, c.nearSpare, c.drops, c.priceOfMill)
		}
	}
}

// A break that makes more sheets cheaper than fewer is taken, unless it costs a drop.
func TestBillBuysUp(t *testing.T) {
	j := buying(0, 0)
	j.Stock[0].Breaks = []parts.Break{{From: 10, Price: 70 * money.One}}
	bill := func(n int) parts.Bill { return j.Bill([]parts.Wanted{{Stock: &j.Stock[0], Count: n}}) }
	if b := bill(8); b.Lines[0].Spare != 2 || b.Total() != 760*money.One {
		t.Errorf("8 cost 736, 10 cost 700 and a drop of 60: %+v", b)
	}
	if b := bill(7); b.Lines[0].Spare != 0 || b.Total() != 704*money.One {
		t.Errorf("7 cost 644, less than 10: %+v", b)
	}
	j.Yards[1].Sheets = 8
	if b := bill(8); b.Lines[0].Spare != 0 || b.Total() != 796*money.One {
		t.Errorf("10 would take two drops: %+v", b)
	}
	j.Yards[1].Sheets, j.Stock[0].Available = 12, 9
	if b := bill(8); b.Lines[0].Spare != 0 {
		t.Errorf("there are only 9: %+v", b)
	}
}

// Whatever the breaks and drops: what is wanted is bought, no more than there is, and it
// never costs more than the same sheets at their own break.
func TestBillProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := buying(float64(rapid.IntRange(0, 1000).Draw(t, "kg")), rapid.IntRange(0, 2).Draw(t, "spare"))
		s := &j.Stock[0]
		s.Breaks = nil
		from := 1
		for range rapid.IntRange(0, 3).Draw(t, "breaks") {
			from += rapid.IntRange(1, 6).Draw(t, "from")
			s.Breaks = append(s.Breaks, parts.Break{From: from, Price: money.Amount(rapid.IntRange(0, 100).Draw(t, "price")) * money.One})
		}
		if rapid.Bool().Draw(t, "limited") {
			s.Available = rapid.IntRange(1, 20).Draw(t, "available")
		}
		n := rapid.IntRange(0, 20).Draw(t, "n")
		if s.Available != parts.Unlimited {
			n = min(n, s.Available)
		}
		b := j.Bill([]parts.Wanted{{Stock: s, Count: n}})
		bought := b.Lines[0].Count + b.Lines[0].Spare
		if b.Lines[0].Count != n || bought < n || n == 0 && bought > 0 || s.Available != parts.Unlimited && bought > s.Available {
			t.Fatalf("%d wanted, %d bought, %d available", n, bought, s.Available)
		}
		if b.Lines[0].Cost != money.Amount(bought)*s.PriceOf(bought) {
			t.Fatalf("%d sheets at %v cost %v", bought, s.PriceOf(bought), b.Lines[0].Cost)
		}
		if j.Spare == 0 && n > 0 {
			plain := money.Amount(n)*s.PriceOf(n) + 60*money.One*money.Amount((n+11)/12)
			if j.Yards[1].KG == 0 && b.Total() > plain {
				t.Fatalf("%d sheets cost %v, plainly %v", n, b.Total(), plain)
			}
		}
	})
}

// A bound on bills is under the bill of the same sheets, and of more of them, whatever the
// prices: what proofs rest on.
func TestBillAtLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := buying(float64(rapid.IntRange(0, 2).Draw(t, "kg")*200), rapid.IntRange(0, 2).Draw(t, "spare"))
		var list, more []parts.Wanted
		for i := range j.Stock {
			s := &j.Stock[i]
			s.Price = money.Amount(rapid.IntRange(0, 100).Draw(t, "price")) * money.One
			if !s.Offcut {
				s.Yard = j.Yards[rapid.IntRange(0, 1).Draw(t, "yard")].Name
				s.Breaks, s.Available = nil, parts.Unlimited
				from := 1
				for range rapid.IntRange(0, 3).Draw(t, "breaks") {
					from += rapid.IntRange(1, 4).Draw(t, "from")
					s.Breaks = append(s.Breaks, parts.Break{From: from, Price: money.Amount(rapid.IntRange(0, 100).Draw(t, "price")) * money.One})
				}
				if rapid.Bool().Draw(t, "limited") {
					s.Available = rapid.IntRange(0, 12).Draw(t, "available")
				}
			}
			n, m := rapid.IntRange(0, 10).Draw(t, "n"), rapid.IntRange(0, 4).Draw(t, "more")
			if s.Available != parts.Unlimited {
				n = min(n, s.Available)
				m = min(m, s.Available-n)
			}
			list, more = append(list, parts.Wanted{Stock: s, Count: n}), append(more, parts.Wanted{Stock: s, Count: n + m})
		}
		j.Yards[1].Sheets = rapid.IntRange(0, 6).Draw(t, "sheets")
		own, larger := j.Bill(list), j.Bill(more)
		if least := j.BillAtLeast(list); least > own.Total() || least > larger.Total() {
			t.Fatalf("%v at least, but %v, and %v with more sheets", least, own.Total(), larger.Total())
		}
	})
}

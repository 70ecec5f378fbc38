package jobfile

import (
	"fmt"
	"strings"

	"panelyard/parts"
)

const (
	// maxBreaks is how many prices by quantity a kind of sheet may have.
	maxBreaks = 8
	// maxYards is how many yards a job may have: every choice of them is planned.
	maxYards = 4
	// mostSheets is the most sheets of a break or a drop.
	mostSheets = 10_000
	// heaviestDrop is the most mass of a drop in kg.
	heaviestDrop = 100_000
	// maxSpare is the most sheets to spare.
	maxSpare = 100
)

// yards reads where sheets come from, and how many are to spare.
func (r *reader) yards(top *group) {
	r.out.Spare = top.whole("spare", 0, 0, maxSpare)
	list := top.list("yards", maxYards)
	if len(list) > 0 {
		r.out.Yards = []parts.Yard{}
	}
	for _, v := range list {
		g := r.group(v, "", called("yard", v), "write name: and delivery:")
		if g == nil {
			continue
		}
		y := parts.Yard{Pos: v.pos}
		var at *value
		y.Name, at = g.name("name")
		drop, given := g.price("delivery")
		if y.Drop = drop; !given && !g.has("delivery") {
			g.add(v, "has no delivery", "add delivery: and what a drop costs, 0 if nothing")
		}
		y.Sheets = g.whole("sheets", 0, 1, mostSheets)
		if g.has("kg") {
			y.KG = g.number("kg", heaviestDrop)
		}
		g.done("name", "delivery", "sheets", "kg")
		if at == nil || y.Name == "" {
			continue
		}
		if other := r.yard(y.Name); other != nil {
			r.list.Add(v.pos, g.what, fmt.Sprintf("the name is taken, first in line %d", other.Pos.Line), "give each a name of its own")
			continue
		}
		r.out.Yards = append(r.out.Yards, y)
	}
}

// yard returns the yard of a name, or nil.
func (r *reader) yard(name string) *parts.Yard {
	for i := range r.out.Yards {
		if r.out.Yards[i].Name == name {
			return &r.out.Yards[i]
		}
	}
	return nil
}

// offer reads prices by quantity of a kind of sheet, and the yard that has it.
func (r *reader) offer(g *group, s *parts.Stock) {
	if name, v := g.word("yard"); v != nil {
		switch {
		case s.Offcut:
			g.add(v, "yard: a kept offcut is not bought", "remove it")
		case r.yard(name) == nil && len(r.out.Yards) == 0:
			if r.out.Yards != nil {
				return // they have mistakes of their own
			}
			g.add(v, fmt.Sprintf("unknown yard %q: the job has no yards", clip(name)), "add yards: with {name, delivery}")
		case r.yard(name) == nil:
			var known []string
			for i := range r.out.Yards {
				known = append(known, clip(r.out.Yards[i].Name))
			}
			g.add(v, fmt.Sprintf("unknown yard %q", clip(name)), "known yards: "+strings.Join(known, ", "))
		default:
			s.Yard = name
		}
	}
	list := g.list("breaks", maxBreaks)
	if len(list) > 0 && (s.Offcut || !s.Priced) {
		g.add(g.get("breaks"), "breaks: only sheets with a price have prices by quantity", "add price:, or remove them")
		return
	}
	for _, v := range list {
		b := r.group(v, "breaks", g.what, "write {from: 5, price: 88.00}")
		if b == nil {
			continue
		}
		from := b.whole("from", 0, 2, mostSheets)
		price, given := b.price("price")
		switch n := len(s.Breaks); {
		case !b.has("from") || !b.has("price"):
			b.add(v, "breaks: from or price is missing", "write {from: 5, price: 88.00}")
		case from == 0 || !given: // said
		case n > 0 && from <= s.Breaks[n-1].From:
			b.add(v, fmt.Sprintf("breaks: from %d comes after from %d", from, s.Breaks[n-1].From), "write them with more sheets from one to the next")
		default:
			s.Breaks = append(s.Breaks, parts.Break{From: from, Price: price})
		}
		b.done("from", "price")
	}
}

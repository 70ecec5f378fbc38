package jobfile

import (
	"fmt"
	"math/big"
	"regexp"
	"strings"

	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/length"
	"panelyard/parts/money"
	"panelyard/parts/rack"
)

// offThickness is how far the thickness of a kept offcut may be from that of its
// material without a warning: common practice, no source.
const offThickness = length.Millimetre / 2

// rack makes stock of the kept offcuts that a job may use, those of its materials.
func (r *reader) rack(top *group) {
	v := top.get("rack")
	if v == nil || v.shape == null {
		return
	}
	g := r.group(v, "rack", "rack", "write {file: rack.csv}, and perhaps price: and trim:")
	if g == nil {
		return
	}
	file, at := g.word("file")
	if at == nil && !g.has("file") {
		g.add(v, "has no file", "add file: and the name of a CSV file with kept offcuts")
	}
	rate := r.rackRate(g)
	var usual parts.Stock
	r.trim(g, &usual, 0)
	g.done("file", "price", "trim")
	if at == nil {
		return
	}
	src, ok := r.load(at, file, rack.MaxBytes)
	if !ok {
		r.unsure = true
		return
	}
	kept, found := rack.Read(r.beside(file), src)
	r.list = append(r.list, found...)
	if kept == nil {
		r.unsure = true
		return
	}
	taken := map[string]int{}
	for i := range r.out.Stock {
		taken[r.out.Stock[i].Name] = r.out.Stock[i].Pos.Line
	}
	var other []string
	n := 0
	pieces := kept.Pieces()
	for i := range pieces {
		p := &pieces[i]
		m := r.out.Material(p.Material)
		if m == nil {
			other = append(other, fmt.Sprintf("%s (%s)", p.Label, clip(p.Material)))
			continue
		}
		if line, ok := taken[p.Label]; ok {
			r.list.Add(p.Pos, fmt.Sprintf("offcut %q", p.Label), fmt.Sprintf("the job has stock of that name, in line %d", line), "give the stock of the job another name")
			continue
		}
		s := usual
		if r.offcut(p, m, &s) {
			s.Price, s.Priced = rate.of(p)
			r.out.Stock = append(r.out.Stock, s)
			n++
		}
	}
	text := fmt.Sprintf("%s: %d of %d kept offcuts can be used\n", r.beside(file), n, len(pieces))
	if len(other) > 0 {
		text += "  of materials that the job does not have: " + strings.Join(clipped(other), ", ") + "\n"
	}
	r.out.Readings = append(r.out.Readings, parts.Reading{File: r.beside(file), Text: text})
}

// offcut makes stock of a kept offcut of a material, with the trim that s has. It
// reports false when the piece cannot be used, which is a warning: others share the
// rack.
func (r *reader) offcut(p *rack.Piece, m *parts.Material, s *parts.Stock) bool {
	what := fmt.Sprintf("offcut %q", p.Label)
	s.Name, s.Material, s.Length, s.Width, s.Pos = p.Label, m.Name, p.Length, p.Width, p.Pos
	s.Offcut, s.Available = true, 1
	if m.Grained {
		axis, known := p.Grain.Axis()
		switch {
		case !known:
			r.list.Warn(p.Pos, what, fmt.Sprintf("is left out: %q has grain, and the rack does not say how it runs", clip(m.Name)), "write length or width under grain: the side of the piece along which it runs")
			return false
		case axis == parts.NoAxis:
			r.list.Warn(p.Pos, what, fmt.Sprintf("is left out: %q has grain, and the rack says that the piece has none", clip(m.Name)), "check which board it is")
			return false
		}
		s.Grain = axis
	}
	if t := s.Trim; t.Left+t.Right >= s.Length || t.Bottom+t.Top >= s.Width {
		r.list.Warn(p.Pos, what, "is left out: the trim of the job leaves nothing of it", "trim less")
		return false
	}
	if p.Thickness != 0 && min((p.Thickness-m.Measured).Abs(), (p.Thickness-m.Nominal).Abs()) > offThickness {
		r.list.Warn(p.Pos, what, fmt.Sprintf("it is %s thick, and %q %s", r.size(p.Thickness), clip(m.Name), r.size(m.Measured)), "measure again, or take the piece out of the rack")
	}
	return true
}

// rackRate is how a job values its kept offcuts.
type rackRate struct {
	own   bool                // each at its own price
	piece money.Amount        // all at this one
	area  map[string]*big.Rat // ten-thousandths of the currency for a square unit of length, by material
	given bool
	r     *reader
	g     *group
	at    *value
	said  map[string]bool
}

// The ways to write a price of kept offcuts.
var (
	percentOf = regexp.MustCompile(`^(\d{1,3}(?:[.,]\d{1,4})?)\s*%$`)
	perUnit   = regexp.MustCompile(`^(\S+)\s+per\s+(\S+)$`)
)

const rateRemedy = "write a share of the price of a new board such as 30%, an amount such as 2.50 per piece or 6 per m2, or own for the price in the rack"

// rackRate reads the price of kept offcuts. Nothing given is no price.
func (r *reader) rackRate(g *group) *rackRate {
	rate := &rackRate{r: r, g: g, said: map[string]bool{}}
	s, v := g.word("price")
	if v == nil {
		return rate
	}
	rate.at = v
	if s == "own" {
		rate.own = true
		return rate
	}
	if m := percentOf.FindStringSubmatch(s); m != nil {
		share, ok := new(big.Rat).SetString(strings.Replace(m[1], ",", ".", 1))
		if !ok || share.Cmp(big.NewRat(100, 1)) > 0 {
			g.add(v, fmt.Sprintf("price: %s is more than 100%%", clip(s)), rateRemedy)
			return rate
		}
		rate.given = true
		rate.area = r.newBoard(share.Quo(share, big.NewRat(100, 1)))
		return rate
	}
	amount, unit := s, "piece"
	if m := perUnit.FindStringSubmatch(s); m != nil {
		amount, unit = m[1], m[2]
	}
	a, err := money.Parse(amount)
	square := map[string]length.Length{"m2": length.Metre, "m²": length.Metre, "ft2": length.Foot, "ft²": length.Foot}[unit]
	switch {
	case square == 0 && unit != "piece":
		g.add(v, fmt.Sprintf("price: %q is neither piece nor m2 nor ft2", clip(unit)), rateRemedy)
	case err != nil:
		g.add(v, "price: "+diag.Brief(err), rateRemedy)
	case a < 0:
		g.add(v, fmt.Sprintf("price: %s is negative", clip(s)), "a price is zero or more")
	default:
		rate.given, rate.piece = true, a
		if square > 0 {
			rate.area = map[string]*big.Rat{}
			for i := range r.out.Materials {
				rate.area[r.out.Materials[i].Name] = perArea(a, square, square)
			}
		}
	}
	return rate
}

// perArea returns what a square unit of length of a sheet costs.
func perArea(a money.Amount, l, w length.Length) *big.Rat {
	return new(big.Rat).SetFrac(big.NewInt(int64(a)), new(big.Int).Mul(big.NewInt(int64(l)), big.NewInt(int64(w))))
}

// newBoard returns a share of what a square unit of length costs of the cheapest whole
// sheet with a price, by material.
func (r *reader) newBoard(share *big.Rat) map[string]*big.Rat {
	list := map[string]*big.Rat{}
	for i := range r.out.Stock {
		s := &r.out.Stock[i]
		if s.Offcut || !s.Priced || s.Length <= 0 || s.Width <= 0 {
			continue
		}
		a := perArea(s.Price, s.Length, s.Width)
		a.Mul(a, share)
		if best := list[s.Material]; best == nil || a.Cmp(best) < 0 {
			list[s.Material] = a
		}
	}
	return list
}

// of returns the price of a piece, rounded to a hundredth of the currency, halves up,
// and whether it has one.
func (t *rackRate) of(p *rack.Piece) (money.Amount, bool) {
	switch {
	case t.own:
		return p.Price, p.Priced
	case !t.given:
		return 0, false
	case t.area == nil:
		return t.piece, true
	}
	a := t.area[p.Material]
	if a == nil {
		if !t.said[p.Material] {
			t.said[p.Material] = true
			t.r.list.Warn(t.at.pos, "rack", fmt.Sprintf("price: no sheet of %q has a price: its kept offcuts have none", clip(p.Material)), "give a sheet of it a price, or write the price as an amount")
		}
		return 0, false
	}
	const cent = money.One / 100
	cents := new(big.Rat).Mul(a, new(big.Rat).SetInt(new(big.Int).Mul(big.NewInt(int64(p.Length)), big.NewInt(int64(p.Width)))))
	cents.Quo(cents, big.NewRat(int64(cent), 1))
	n := new(big.Int).Mul(cents.Num(), big.NewInt(2))
	n.Add(n, cents.Denom())
	n.Quo(n, new(big.Int).Mul(cents.Denom(), big.NewInt(2)))
	if n.Cmp(big.NewInt(int64(money.Max/cent))) > 0 {
		t.g.add(t.at, fmt.Sprintf("price: that of offcut %q is more than %v", p.Label, money.Max), "check the amount")
		return 0, false
	}
	return money.Amount(n.Int64()) * cent, true
}

package parts

import (
	"cmp"
	"math"
	"slices"
)

// load is sheets of a kind for a yard to bring.
type load struct {
	sheets int
	kg     float64 // of each; 0 when it is unknown
}

// mostFitted is how many sheets are loaded one by one.
const mostFitted = 2000

// hair is what floating point may add to a mass, in kg.
const hair = 1e-9

// capacity returns how many sheets of a load a drop takes: at least one.
func (y *Yard) capacity(l load) int {
	n := math.MaxInt
	if y.Sheets > 0 {
		n = y.Sheets
	}
	if y.KG > 0 && l.kg > 0 {
		n = min(n, int((y.KG+hair)/l.kg))
	}
	return max(1, n)
}

// drops returns how many deliveries bring some loads: the heaviest sheets first, each in
// the first drop that has room, which is as few as there can be for one kind.
func (y *Yard) drops(loads []load) int {
	type drop struct {
		sheets int
		kg     float64
	}
	loads = slices.Clone(loads)
	slices.SortStableFunc(loads, func(a, b load) int { return cmp.Compare(b.kg, a.kg) })
	n := 0
	for _, l := range loads {
		n += l.sheets
	}
	if len(loads) == 1 || n > mostFitted {
		n = 0
		for _, l := range loads {
			n += ceil(l.sheets, y.capacity(l))
		}
		return n
	}
	var list []drop
	for _, l := range loads {
	next:
		for range l.sheets {
			for i := range list {
				d := &list[i]
				if (y.Sheets == 0 || d.sheets < y.Sheets) && (y.KG == 0 || d.kg+l.kg <= y.KG+hair) {
					d.sheets++
					d.kg += l.kg
					continue next
				}
			}
			list = append(list, drop{1, l.kg})
		}
	}
	return len(list)
}

// leastDrops returns what no way to load is under. It grows with the loads, which drops
// need not.
func (y *Yard) leastDrops(loads []load) int {
	n, kg, least := 0, 0.0, 0
	for _, l := range loads {
		n += l.sheets
		kg += float64(l.sheets) * l.kg
		least = max(least, ceil(l.sheets, y.capacity(l)))
	}
	if y.Sheets > 0 {
		least = max(least, ceil(n, y.Sheets))
	}
	if y.KG > 0 {
		least = max(least, int(math.Ceil(kg/(y.KG+hair)-hair)))
	}
	return least
}

func ceil(n, of int) int {
	if of == math.MaxInt {
		return min(n, 1)
	}
	return (n + of - 1) / of
}

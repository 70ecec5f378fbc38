package export

import (
	"fmt"
	"strings"

	"panelyard/parts"
)

// Kind is the sheets of a kind that a plan takes, and those to spare.
type Kind struct {
	Name, Material string
	Count          int  // that the plan takes
	Spare          int  // bought beyond
	Offcut         bool // from the rack
	Last           bool // there are no more of them
}

// Kinds returns the sheets of a plan by kind, in the order of what to buy.
func (x *Dossier) Kinds() []Kind {
	var list []Kind
	for i := range x.Buy {
		b := &x.Buy[i]
		list = append(list, Kind{
			Name: b.Stock.Name, Material: b.Stock.Material, Count: b.Count, Spare: b.Spare, Offcut: b.Stock.Offcut,
			Last: b.Stock.Available != parts.Unlimited && b.Count+b.Spare >= b.Stock.Available,
		})
	}
	return list
}

// ListKinds writes sheets in a line: "2 x birch 2440 x 1220 and 1 to spare, 1 x MDF 6".
func ListKinds(kinds []Kind) string {
	var list []string
	for _, k := range kinds {
		s := fmt.Sprintf("%d x %s", k.Count, k.Name)
		if k.Offcut {
			s += " (kept offcut)"
		}
		if k.Spare > 0 {
			s += fmt.Sprintf(" and %d to spare", k.Spare)
		}
		list = append(list, s)
	}
	return strings.Join(list, ", ")
}

// Missing is copies of a panel without a place, by name.
type Missing struct {
	Panel  string
	Copies int
	Reason string
}

// Missing returns the panels without a place.
func (x *Dossier) Missing() []Missing {
	var list []Missing
	for i := range x.Unplaced {
		u := &x.Unplaced[i]
		list = append(list, Missing{u.Row.Name, u.Copies, u.Reason})
	}
	return list
}

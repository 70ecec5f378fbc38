package rest

import (
	"fmt"
	"slices"

	"panelyard/kerf"
	"panelyard/nest"
)

// InHand returns the name that the sheets of a stock have when they are there
// already and were bought for the plan before.
func InHand(d *kerf.Demand, stock int) string {
	s := d.Sheets[stock].Stock
	if s.Offcut {
		return s.Name
	}
	return s.Name + inHand
}

// Carried is a sheet of a plan, with the name of its stock in another demand.
type Carried struct {
	nest.Sheet
	On string
}

// Carry returns sheets of a plan of one demand as sheets of another one's: panels by
// name and number, stocks by name. The error is for what the other demand does not
// have.
func Carry(sheets []Carried, from, to *kerf.Demand) ([]nest.Sheet, error) {
	parts, stocks := map[string]int{}, map[string]int{}
	for i := range to.Items {
		parts[to.Items[i].Panel.Name] = i
	}
	for i := range to.Sheets {
		stocks[to.Sheets[i].Stock.Name] = i
	}
	list := make([]nest.Sheet, len(sheets))
	for i := range list {
		list[i] = sheets[i].Sheet
		s := &list[i]
		n, ok := stocks[sheets[i].On]
		if !ok {
			return nil, fmt.Errorf("there is no stock %q to go on with", sheets[i].On)
		}
		s.Stock = n
		s.Placements = slices.Clone(s.Placements)
		for k := range s.Placements {
			pl := &s.Placements[k]
			p := from.Items[pl.Part].Panel
			number := p.Number(pl.Copy)
			part, ok := parts[p.Name]
			if !ok {
				return nil, fmt.Errorf("there is no panel %q to go on with", p.Name)
			}
			pl.Part, pl.Copy = part, number
			if q := to.Items[part].Panel; q.Numbers != nil {
				pl.Copy = slices.Index(q.Numbers, number) + 1
			}
		}
	}
	return list, nil
}

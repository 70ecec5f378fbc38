package export

import (
	"cmp"
	"slices"

	"panelyard/nest"
	"panelyard/parts/geom"
)

// mate tells the panels of a sheet that share a blank of each other.
func mate(list []PlacedPanel, placements []nest.Placement) {
	on := map[geom.Box]*PlacedPanel{}
	for i := range list {
		if !placements[i].IsShared() {
			continue
		}
		p := &list[i]
		if q := on[p.Blank]; q != nil {
			p.With, q.With, p.Second = q, p, true
		}
		on[p.Blank] = p
	}
}

// shared lists the shared blanks: those of the same panels and size in one row, in the
// order of the cut list.
func (x *Dossier) shared() {
	order := map[*PanelRow]int{}
	for i := range x.Panels {
		order[&x.Panels[i]] = i
	}
	for i := range x.Sheets {
		m := &x.Sheets[i]
		for k := range m.Placements {
			p := &m.Placements[k]
			if p.With == nil || !p.first(order) {
				continue
			}
			row := SharedRow{Panels: [2]*PanelRow{p.Row, p.With.Row}, Blank: [2]geom.Point{p.BlankSize(), p.With.BlankSize()}, Count: 1, Sheets: []string{m.ID}}
			same := func(r SharedRow) bool { return r.Panels == row.Panels && r.Blank == row.Blank }
			if n := slices.IndexFunc(x.Shared, same); n >= 0 {
				x.Shared[n].Count++
				x.Shared[n].Sheets = append(x.Shared[n].Sheets, m.ID)
				continue
			}
			x.Shared = append(x.Shared, row)
		}
	}
	slices.SortStableFunc(x.Shared, func(a, b SharedRow) int {
		return cmp.Or(cmp.Compare(order[a.Panels[0]], order[b.Panels[0]]), cmp.Compare(order[a.Panels[1]], order[b.Panels[1]]))
	})
}

// first reports whether a panel is named before the one that shares its blank: it comes
// first in the cut list, or, of two copies, the other one is turned counter-clockwise
// against it, so that equal blanks are described alike.
func (p *PlacedPanel) first(order map[*PanelRow]int) bool {
	q := p.With
	if p.Row != q.Row {
		return order[p.Row] < order[q.Row]
	}
	switch (q.Turn - p.Turn + 360) % 360 {
	case 90:
		return true
	case 270:
		return false
	}
	return p.Copy < q.Copy
}

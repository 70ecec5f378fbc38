package xlsx

import (
	"panelyard/export"
	"panelyard/kerf"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// sizeKind is one of the sizes that a panel has.
type sizeKind struct {
	name string
	of   func(*export.PanelRow) geom.Point
	sawn bool // the size of what is sawn, which a panel lacks that shares all its blanks
}

// sizeKinds returns the sizes that panels of a dossier have: a router frees no blanks.
func sizeKinds(d *export.Dossier) []sizeKind {
	list := []sizeKind{
		{"Finished", func(p *export.PanelRow) geom.Point { return p.Finished }, false},
		{"Cut", func(p *export.PanelRow) geom.Point { return p.Cut }, false},
	}
	if d.Demand.Cut == kerf.Saw {
		list = append(list, sizeKind{"Blank", func(p *export.PanelRow) geom.Point { return p.Blank }, true})
	}
	return list
}

// cells returns length and width of a panel.
func (k *sizeKind) cells(p *export.PanelRow, in func(length.Length) cell) []cell {
	x, y := in(k.of(p).X), in(k.of(p).Y)
	switch {
	case !k.sawn:
		return []cell{x, y}
	case p.Sharing > 0 && p.Sharing == p.Copies:
		return []cell{text("shared"), {}}
	}
	return []cell{x.bold(), y.bold()}
}

// sizes is the sizes of the panels in millimetres and in inches, side by side.
func sizes(d *export.Dossier, u lengths) *table {
	t := &table{name: "Sizes", titled: true, fixed: 2, columns: []column{
		{title: "No. on map", most: 6}, {title: "Panel", most: 30}, {title: "Hand", most: 8}, {title: "Qty"},
	}}
	kinds := sizeKinds(d)
	units := []struct {
		name string
		cell func(length.Length) cell
	}{{u.Unit(), u.cell}, {u.otherUnit(), u.other}}
	for _, kind := range kinds {
		for _, unit := range units {
			t.columns = append(t.columns, column{title: kind.name + " length (" + unit.name + ")"}, column{title: kind.name + " width (" + unit.name + ")"})
		}
	}
	for i := range d.Panels {
		p := &d.Panels[i]
		cells := []cell{text(p.Key), text(p.Name), text(hand(p)), count(p.Copies)}
		for _, kind := range kinds {
			for _, unit := range units {
				cells = append(cells, kind.cells(p, unit.cell)...)
			}
		}
		t.add(cells...)
	}
	t.filtered = len(t.rows)
	if u.inches {
		t.note("Millimetres are shown to the thousandth.")
	} else {
		t.note("Inches are shown to the nearest 1/64 and held exactly: cut to the millimetres where they differ.")
	}
	return t
}

package dxf

import (
	"fmt"
	"slices"

	"panelyard/export"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// Sheet draws sheet i of d in the coordinates of the sheet map: the raw sheet, what
// may be used of it, each panel as it lies with its openings before it and its name
// on it, the paths of the bit, and the offcuts that are kept. Lines over the sheet say
// which it is and what its lines are. The cost is that of the vertices, times some
// hundred for the places of the labels.
func Sheet(d *export.Dossier, i int) Drawing {
	m := &d.Sheets[i]
	dr := Drawing{Units: unitOf(d)}
	bit := bitOf(d)
	raw := geom.BoxFromSize(geom.Point{}, geom.Pt(m.Stock.Length, m.Stock.Width))
	dr.Add(Board, Rectangle(raw))
	if m.Usable != raw {
		dr.Add(Trim, Rectangle(m.Usable))
	}
	var kerfs []kerf.KerfLine
	for k := range m.Placements {
		pl := &m.Placements[k]
		kerfs = append(kerfs, pl.Row.Item.KerfLines...)
		dr.panel(pl.Outline, pl.Openings, labelled(title(pl), pl.Shape), bit)
		for _, line := range pl.Kerfs {
			dr.Add(Kerf, Line{line[0].At, line[1].At})
		}
	}
	dr.route(m.Paths, bit)
	for _, o := range m.Offcuts {
		if o.Keep {
			dr.Add(Offcut, Rectangle(o.Box))
		}
	}
	dr.above(raw, m.ID+", "+m.Stock.Name+", "+board(d, m.Material.Name, m.Material.Measured)+", "+d.Title(), legend(d, bit, kerfs))
	return dr
}

// title returns the name of a panel on a sheet, and which of its copies it is.
func title(pl *export.PlacedPanel) string {
	s := pl.Row.Name
	if pl.Row.Of > 1 {
		s += fmt.Sprintf(", copy %d of %d", pl.Copy, pl.Row.Of)
	}
	if pl.Flip {
		s += ", face down"
	}
	return s
}

// Panel draws panel i of d at its cut size with its openings and the paths of the bit,
// the lower left corner of its box at the origin, and its name on it. Lines over it say
// how many there are and of what, and what its lines are.
func Panel(d *export.Dossier, i int) Drawing {
	r := &d.Panels[i]
	dr := Drawing{Units: unitOf(d)}
	bit := bitOf(d)
	dr.panel(r.Item.CutOutline, r.Item.CutOpenings, labelled(r.Name, r.Item.Shape), bit)
	for _, line := range r.Item.KerfLines {
		dr.Add(Kerf, Line{line.From, line.To})
	}
	dr.route(r.Paths, bit)
	copies := "1 copy"
	if r.Copies != 1 {
		copies = fmt.Sprintf("%d copies", r.Copies)
	}
	note := copies + ", " + board(d, r.Material, r.Thickness)
	if r.Grain != parts.NoAxis {
		note += ", grain along its " + r.Grain.String()
	}
	dr.above(r.Item.CutOutline.Box(), note, legend(d, bit, r.Item.KerfLines))
	return dr
}

// unitOf returns the unit that the papers of d have.
func unitOf(d *export.Dossier) length.Unit {
	if d.Lengths().Unit() == length.IN.Name {
		return length.IN
	}
	return length.MM
}

// board names a material and its measured thickness.
func board(d *export.Dossier, name string, thickness length.Length) string {
	w := d.Lengths()
	return name + ", " + w.Text(thickness) + " " + w.Unit() + " thick"
}

// panel adds a panel: openings first, as they are cut first, while the panel still
// holds to the sheet (common practice, no source).
func (d *Drawing) panel(edge outline.Outline, openings []outline.Outline, label Text, bit length.Length) {
	for _, o := range openings {
		d.Add(edgeOf(o, bit), Loop(o))
	}
	d.Add(Outline, Loop(edge))
	d.Add(Label, label)
}

// above adds a line of text over a box, and smaller ones between them. They are not
// under it, so that no text is beyond the lower left corner, which programs may take
// for the origin.
func (d *Drawing) above(b geom.Box, content string, small []string) {
	h := textHeights[0]
	at := geom.Pt(b.Min.X, b.Max.Y+h)
	for _, line := range slices.Backward(small) {
		d.Add(Label, Text{At: at, Height: h / 2, Content: line})
		at.Y += h
	}
	d.Add(Label, Text{At: at, Height: h, Content: content})
}

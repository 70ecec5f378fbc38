package xlsx

import (
	"strings"

	"panelyard/export"
	"panelyard/parts"
	"panelyard/parts/length"
)

// bends is the list of kerfed panels: how deep and where the kerfs are.
func bends(d *export.Dossier, u lengths) *table {
	mm := " (" + u.Unit() + ")"
	t := &table{name: "Bends", titled: true, fixed: 1, columns: []column{
		{title: "Panel", most: 30},
		{title: "Hand", most: 8},
		{title: "Qty"},
		{title: "Kerfs"},
		{title: "Kerf" + mm},
		{title: "Deep" + mm},
		{title: "Web left" + mm},
		{title: "Pitch" + mm},
		{title: "Bent along", most: 10},
		{title: "Kerfs close or gape", most: 10},
		{title: "Middles of the kerfs from the left or bottom end" + mm, most: 70},
	}}
	for i := range d.Panels {
		p := &d.Panels[i]
		b, wanted := p.Item.Bend, p.Item.Panel.Bend
		if b == nil || wanted == nil {
			continue
		}
		state := "close"
		if wanted.Open {
			state = "gape"
		}
		var at []string
		for _, l := range p.KerfsAt() {
			at = append(at, u.Exact(l))
		}
		t.add(
			text(title(p)), text(hand(p)), count(p.Copies), count(b.Count), u.exact(d.Demand.Kerf), u.exact(b.Depth), u.exact(wanted.Web),
			u.exact(b.Pitch), text(wanted.Along.String()), text(state), text(strings.Join(at, "; ")),
		)
	}
	t.filtered = len(t.rows)
	t.note("The kerfs are cut from the back; the good face is the uncut one. Try depth and pitch on scrap of the same board first.")
	return t
}

// exact returns a numeric cell for a length that is shown finer than the fractions of the
// papers, as [export.Lengths.Exact] writes it.
func (u lengths) exact(l length.Length) cell {
	u.part = 0
	return u.cell(l)
}

// bent reports whether a panel of the dossier is bent.
func bent(d *export.Dossier) bool {
	for i := range d.Panels {
		if d.Panels[i].Item.Bend != nil {
			return true
		}
	}
	return false
}

// hand says which hand a panel is, and of a single one that it is mirrored.
func hand(p *export.PanelRow) string {
	if p.Hand == parts.NoHand && p.Item.Panel.Mirrored {
		return "mirrored"
	}
	return p.Hand.String()
}

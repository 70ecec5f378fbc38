package book

import (
	"fmt"
	"slices"
	"strings"

	"panelyard/export"
	"panelyard/kerf"
	"panelyard/parts/geom"
)

// cover writes the first page: what the plan is, what to buy, and what to mind.
func (b *book) cover() {
	d := b.d
	b.open(d.Title(), false)
	tool := fmt.Sprintf("Plan for the %s, kerf %s %s", d.Demand.Cut, b.w.Text(d.Demand.Kerf), b.w.Unit())
	if d.Demand.Cut == kerf.Router {
		tool = fmt.Sprintf("Plan for the router, bit %s %s", b.w.Text(d.Demand.Kerf), b.w.Unit())
	}
	b.text(fmt.Sprintf("%s. Sizes in %s, length × width. Seed %d.", tool, b.w.Word(), d.Seed), body, 0)
	if d.Job.Note != "" {
		b.text(d.Job.Note, body, 0)
	}
	for _, u := range d.Unplaced {
		b.text(fmt.Sprintf("WITHOUT A PLACE: %d × %s: %s", u.Copies, u.Row.Name, u.Reason), 3.4, 1)
	}
	t := &d.Totals
	b.text(fmt.Sprintf("%d sheets, %d panels, yield %.1f %%, %.2f m to cut", t.Sheets, t.Panels, t.Yield*100, t.CutLength.MM()/1000), 3.4, 1)
	if d.Demand.Cut == kerf.Router {
		b.text("Time of the router about "+export.Minutes(t.Effort.Time())+", without clamping", body, 0)
	}
	cost := fmt.Sprintf("Board %s, edge band %s, together %s", d.Money(t.Board), d.Money(t.Edging), d.Money(t.Cost))
	if !t.Priced {
		cost += ", and what has no price"
	}
	b.text(cost+".", body, 0)
	b.text("How good is it? "+d.Bound.Text+".", body, 0)
	var rows [][]string
	for _, r := range d.Buy {
		from := "buy"
		if r.Stock.Offcut {
			from = "take from the rack"
		}
		price := "none given"
		if r.Stock.Priced {
			price = d.Money(r.Cost)
		}
		rows = append(rows, []string{tick, from, r.Stock.Name, r.Stock.Material, b.w.Size(geom.Pt(r.Stock.Length, r.Stock.Width)), fmt.Sprint(r.Count), price, strings.Join(r.Sheets, " ")})
	}
	b.table("Sheets to buy and to take", []column{{"", 1}, {"", 3}, {"Stock", 5}, {"Material", 4}, {"Size", 4}, {"Count", 2}, {"Cost", 3}, {"Sheets", 5}}, rows)
	rows = nil
	for _, r := range d.Bands {
		price := "none given"
		if r.Band.Priced {
			price = d.Money(r.Cost)
		}
		rows = append(rows, []string{tick, r.Band.Name, fmt.Sprintf("%.2f", r.Length.MM()/1000), price})
	}
	b.table("Edge band, without waste", []column{{"", 1}, {"Band", 12}, {"Metres", 4}, {"Cost", 4}}, rows)
	rows = nil
	for _, c := range d.Cautions {
		rows = append(rows, []string{c.Topic, c.Text, c.Source, strings.Join(c.Sheets, " ")})
	}
	for _, f := range d.Warnings {
		rows = append(rows, []string{"path of the bit", f.Error(), "", ""})
	}
	b.table("Cautions", []column{{"Topic", 3}, {"What to mind", 11}, {"Source", 8}, {"Sheets", 3}}, rows)
}

// lists writes what is not of one sheet.
func (b *book) lists() {
	d := b.d
	var cuts, edges, bends, kept, done [][]string
	var materials []string
	for i := range d.Panels {
		r := &d.Panels[i]
		if !slices.Contains(materials, r.Material) {
			materials = append(materials, r.Material)
		}
		for _, e := range r.Edging {
			edges = append(edges, []string{tick, r.Key, r.Name, fmt.Sprint(r.Copies), e.Edge, e.Band, b.w.Text(e.Length)})
		}
		if bend := r.Item.Bend; bend != nil {
			var at []string
			for _, l := range r.KerfsAt() {
				at = append(at, b.w.Short(l))
			}
			bends = append(bends, []string{tick, r.Key + " " + r.Name, fmt.Sprint(bend.Count), b.w.Text(bend.Depth), b.w.Short(bend.Pitch), strings.Join(at, ", ")})
		}
	}
	b.open("Cut list", false)
	for _, m := range materials {
		cuts = nil
		for i := range d.Panels {
			if r := &d.Panels[i]; r.Material == m {
				size := ""
				if r.Shaped && d.Demand.Cut == kerf.Saw {
					if r.Sharing < r.Copies {
						size = b.w.Size(r.Blank)
					}
					if r.Sharing > 0 {
						size = strings.TrimSpace(fmt.Sprintf("%s\n%d shared", size, r.Sharing))
					}
				}
				cuts = append(cuts, []string{tick, r.Key, r.Name, fmt.Sprint(r.Copies), b.w.Size(r.Finished), b.w.Size(r.Cut), size, r.Grain.String(), strings.Join(export.Once(r.Sheets), " "), r.Note})
			}
		}
		b.table(m, []column{{"", 1}, {"No.", 1.6}, {"Panel", 6}, {"Qty", 1.4}, {"Finished", 4}, {"Cut", 4}, {"Blank", 4}, {"Grain", 2}, {"Sheets", 3}, {"Note", 5}}, cuts)
	}
	for i := range d.Sheets {
		for _, o := range d.Sheets[i].Offcuts {
			if o.Keep {
				kept = append(kept, []string{tick, d.Sheets[i].ID, d.Sheets[i].Material.Name, b.w.Size(o.Box.Size()), blank})
			}
		}
	}
	for _, x := range d.Done {
		done = append(done, []string{x.Name, fmt.Sprint(x.Copy), x.Sheet})
	}
	b.section("Edging list", "Lengths are those of the finished edge", []column{{"", 1}, {"No.", 2}, {"Panel", 8}, {"Qty", 2}, {"Edge", 4}, {"Band", 5}, {"Length of one", 3}}, edges)
	b.section("Bends", "Kerfs in the back, their middle from the left or the bottom end of the panel; try them on scrap first", []column{{"", 1}, {"Panel", 6}, {"Kerfs", 2}, {"Deep", 2}, {"Pitch", 2}, {"Kerfs at", 14}}, bends)
	b.section("Offcuts to keep", "Write size and material on them", []column{{"", 1}, {"Sheet", 2}, {"Material", 6}, {"Size", 5}, {"Label", 8}}, kept)
	b.section("Cut before", "Panels cut already, on sheets of the plan before", []column{{"Panel", 8}, {"Copy", 2}, {"Sheet", 3}}, done)
}

// section writes a table on pages of its own.
func (b *book) section(name, title string, columns []column, rows [][]string) {
	if len(rows) > 0 {
		b.open(name, false)
		b.table(title, columns, rows)
	}
}

// steps writes the cuts of a sheet in order.
func (b *book) steps(m *export.SheetMap) {
	var rows [][]string
	for i := range m.Steps {
		s := &m.Steps[i]
		var free, mind []string
		for _, p := range s.Panels {
			name := p.Row.Key + " " + p.Row.Name
			if p.Row.Of > 1 {
				name += fmt.Sprintf(" (%d of %d)", p.Copy, p.Row.Of)
			}
			if p.Second {
				name += " in the same blank"
			}
			free = append(free, name)
		}
		for _, o := range s.Offcuts {
			size := "offcut " + b.w.Size(o.Box.Size())
			if o.Keep {
				size += ", keep"
			}
			free = append(free, size)
		}
		for _, w := range s.Warnings {
			mind = append(mind, w.String())
		}
		rows = append(rows, []string{tick, fmt.Sprint(s.N), s.Kind.String(), b.w.Size(s.Piece.Size()), b.w.Measure(s), s.At(), s.Kerf, strings.Join(free, "; "), strings.Join(mind, "; ")})
	}
	title := "Cuts in order; measures are those of the piece between fence and blade"
	if b.d.FaceDown() {
		title += "; left and right as seen from the back"
	}
	b.section("Sheet "+m.ID+": cuts", title, []column{{"", 1}, {"No.", 1.5}, {"Cut", 3}, {"Piece in hand", 5}, {"Set to", 3.5}, {"From", 2}, {"Kerf", 2}, {"What comes free", 10}, {"Mind", 6}}, rows)
}

// paths writes the paths of the bit of a sheet in order.
func (b *book) paths(m *export.SheetMap) {
	var rows [][]string
	for i := range m.Paths {
		p := &m.Paths[i]
		rows = append(rows, []string{tick, fmt.Sprint(i + 1), export.What(p), strings.TrimSuffix(fmt.Sprintf("%s %d", p.Panel, p.Copy), " 0"), b.w.Short(p.CutLength()), fmt.Sprint(len(p.Depths)), b.w.Text(export.Deepest(p)), export.Held(p)})
	}
	b.section("Sheet "+m.ID+": paths", fmt.Sprintf("Paths in order: %d passes, about %s; corners and clamping take longer", m.Effort.Passes, export.Minutes(m.Effort.Time())), []column{{"", 1}, {"No.", 1.5}, {"Path", 6}, {"Panel", 8}, {"Long", 3}, {"Passes", 2}, {"Deep", 2.5}, {"Held by", 5}}, rows)
}

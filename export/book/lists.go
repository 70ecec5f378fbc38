package book

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"panelyard/export"
	"panelyard/export/pdf"
	"panelyard/kerf"
	"panelyard/parts"
)

// lists writes what is not of one sheet.
func (b *book) lists() {
	b.cutList()
	b.openings()
	b.shared()
	b.edging()
	if b.d.Demand.Cut == kerf.Router {
		b.router()
	}
	b.bends()
	b.offcuts()
	b.done()
}

// done writes the panels that were cut before, the copies of one on a sheet together.
func (b *book) done() {
	type on struct{ name, sheet string }
	copies := map[on][]string{}
	var order []on
	for _, x := range b.d.Done {
		k := on{x.Name, x.Sheet}
		if copies[k] == nil {
			order = append(order, k)
		}
		copies[k] = append(copies[k], strconv.Itoa(x.Copy))
	}
	var rows [][]cell
	for _, k := range order {
		rows = append(rows, row(k.name, strings.Join(shortened(copies[k], whole), ", "), k.sheet))
	}
	b.section("Cut before", "Panels that are cut already, on sheets of the plan before", []column{{"Panel", 8, left}, {"Copies", 5, left}, {"Sheet", 3, left}}, rows)
}

// cutList writes the panels, material by material.
func (b *book) cutList() {
	d := b.d
	var materials []string
	shaped, noted := false, false
	for i := range d.Panels {
		r := &d.Panels[i]
		if !slices.Contains(materials, r.Material) {
			materials = append(materials, r.Material)
		}
		shaped = shaped || r.Shaped && d.Demand.Cut == kerf.Saw
		noted = noted || r.Note != ""
	}
	columns := []column{{"", 0.8, left}, {"No.", 1.4, right}, {"Panel", 7, left}, {"Qty", 1.4, right}, {"Finished", 4, unbroken}, {"Cut", 4, unbroken}}
	if shaped {
		columns = append(columns, column{"Blank", 4, unbroken})
	}
	columns = append(columns, column{"Grain", 1.8, left}, column{"Sheets", 3, left})
	if noted {
		columns = append(columns, column{"Note", 5, left})
	}
	if len(materials) > 0 {
		b.open("Cut list", false)
		b.text("Sizes are length × width in "+b.w.Word()+". Finished is with edge bands, cut without them.", body, pdf.Regular)
	}
	for _, m := range materials {
		var rows [][]cell
		thick := ""
		for i := range d.Panels {
			r := &d.Panels[i]
			if r.Material != m {
				continue
			}
			thick = b.w.Text(r.Thickness)
			cells := row(tick, r.Key, r.Name, b.w.Count(r.Copies), b.w.Size(r.Finished), b.w.Size(r.Cut))
			if shaped {
				cells = append(cells, cell{text: b.blank(r)})
			}
			grain, on := "free", runs(r.Sheets)
			if r.Grain != parts.NoAxis {
				grain = r.Grain.String()
			}
			if on == "" {
				on = "no place"
			}
			cells = append(cells, row(grain, on)...)
			if noted {
				cells = append(cells, cell{text: r.Note})
			}
			rows = append(rows, cells)
		}
		b.table(fmt.Sprintf("%s, %s thick", m, thick), columns, rows)
	}
}

// blank says what the copies of a panel that is shaped are sawn as.
func (b *book) blank(r *export.PanelRow) string {
	if !r.Shaped {
		return ""
	}
	var list []string
	if r.Sharing < r.Copies {
		list = append(list, b.w.Size(r.Blank))
	}
	if r.Sharing > 0 {
		list = append(list, b.w.Count(r.Sharing)+" shared")
	}
	return strings.Join(list, "\n")
}

// shared writes the blanks of which two panels come.
func (b *book) shared() {
	var rows [][]cell
	for _, r := range b.d.Shared {
		name := func(p *export.PanelRow) string { return p.Key + " " + p.Name }
		rows = append(rows, row(tick, b.w.Count(r.Count), b.w.Size(r.Blank[0]), r.Panels[0].Material, name(r.Panels[0]), name(r.Panels[1]), runs(r.Sheets)))
	}
	b.section("Shared blanks", "Two panels come out of each: part them before they are shaped. Length × width in "+b.w.Word()+", as those of the first panel run",
		[]column{{"", 0.8, left}, {"Qty", 1.4, right}, {"Blank", 4, unbroken}, {"Material", 4, left}, {"First panel", 6, left}, {"Second panel", 6, left}, {"Sheets", 3, left}}, rows)
}

// edging writes the edges that are banded.
func (b *book) edging() {
	var rows [][]cell
	for i := range b.d.Panels {
		r := &b.d.Panels[i]
		for _, e := range r.Edging {
			rows = append(rows, row(tick, r.Key, r.Name, b.w.Count(r.Copies), e.Edge, e.Band, b.w.Text(e.Length)))
		}
	}
	b.section("Edging list", "Lengths in "+b.w.Word()+" are those of the finished edge: cut the band longer and trim it",
		[]column{{"", 0.8, left}, {"No.", 1.4, right}, {"Panel", 8, left}, {"Qty", 2, right}, {"Edge", 4, left}, {"Band", 5, left}, {"Length of one", 3, right}}, rows)
}

// bends writes the kerfs of the panels that are bent.
func (b *book) bends() {
	var rows [][]cell
	for i := range b.d.Panels {
		r := &b.d.Panels[i]
		bend := r.Item.Bend
		if bend == nil {
			continue
		}
		var at []string
		for _, l := range r.KerfsAt() {
			at = append(at, b.w.Exact(l))
		}
		rows = append(rows, row(tick, r.Key, r.Name, bend.Count, b.w.Exact(bend.Depth), b.w.Exact(bend.Pitch), b.w.Exact(bend.Gap), strings.Join(at, "; ")))
	}
	b.section("Bends", "Kerfs in the back, in "+b.w.Word()+"; their middle is measured from the left or the bottom end of the panel. Try them on scrap of the same board first",
		[]column{{"", 0.8, left}, {"No.", 1.4, right}, {"Panel", 6, left}, {"Kerfs", 1.8, right}, {"Deep", 2, right}, {"Pitch", 2, right}, {"Gap left", 2.4, right}, {"Kerfs at", 14, left}}, rows)
}

// offcuts writes what is kept, with a place for the label of the rack.
func (b *book) offcuts() {
	var rows [][]cell
	for i := range b.d.Sheets {
		m := &b.d.Sheets[i]
		for _, o := range m.Offcuts {
			if o.Keep {
				rows = append(rows, row(tick, m.ID, m.Material.Name, b.w.Text(m.Material.Measured), b.w.Size(o.Box.Size()), blank))
			}
		}
	}
	b.section("Offcuts to keep", "In "+b.w.Word()+", as they lie on the sheet: write size, material and grain on them",
		[]column{{"", 0.8, left}, {"Sheet", 2, left}, {"Material", 6, left}, {"Thick", 2, right}, {"Length × width", 5, unbroken}, {"Label", 8, left}}, rows)
}

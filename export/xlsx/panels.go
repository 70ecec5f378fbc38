package xlsx

import (
	"fmt"
	"slices"
	"strings"

	"panelyard/export"
	"panelyard/parts"
)

// panels is the cut list: a row a panel. What is printed comes first; areas and
// masses stand to the right of it. Sizes are in the unit of the papers; [sizes] has
// them in both.
func panels(d *export.Dossier, u lengths) *table {
	mm := " (" + u.Unit() + ")"
	t := &table{name: "Panels", titled: true, fixed: 2}
	add := func(title string, most float64) int {
		t.columns = append(t.columns, column{title: title, most: most})
		return len(t.columns)
	}
	add("No. on map", 6)
	name := add("Panel", 22)
	add("Hand", 8)
	qty := add("Qty", 0)
	add("Material", 16)
	add("Thick"+mm, 0)
	kinds := sizeKinds(d)
	for _, kind := range kinds {
		add(kind.name+" length"+mm, 0)
		add(kind.name+" width"+mm, 0)
	}
	add("Shape", 12)
	add("Grain along", 8)
	add("Face", 7)
	add("Edging", 16)
	add("On sheets", 15)
	t.printed = add("Note", 22)
	add("Openings", 0)
	areaEach := add("Area each (m²)", 0)
	massEach := add("Mass each (kg)", 0)
	areaAll := add("Area all (m²)", 0)
	massAll := add("Mass all (kg)", 0)

	order := newOrder(d.Sheets)
	copies, area, mass := 0, 0.0, 0.0
	first := t.next()
	for i := range d.Panels {
		p := &d.Panels[i]
		n := t.next()
		cells := []cell{text(p.Key), text(p.Name), text(hand(p)), count(p.Copies), text(p.Material), u.cell(p.Thickness)}
		for _, kind := range kinds {
			cells = append(cells, kind.cells(p, u.cell)...)
		}
		all := squareMetres(p.AreaMM2*float64(p.Copies)).by("%s*%s", at(qty, n), at(areaEach, n))
		kg := kilograms(p.MassKG * float64(p.Copies))
		if p.MassKG != 0 {
			kg = kg.by("%s*%s", at(qty, n), at(massEach, n))
		}
		cells = append(cells, text(shape(p)), text(grain(p.Grain)), text(face(p)), text(edging(p)), text(onSheets(p.Sheets, order)), text(p.Note))
		cells = append(cells, some(p.Openings), squareMetres(p.AreaMM2), kilograms(p.MassKG), all, kg)
		if slices.Contains(p.Sheets, "") {
			for k := range cells {
				cells[k].look.alarm = true
			}
		}
		t.add(cells...)
		copies += p.Copies
		area += p.AreaMM2 * float64(p.Copies)
		mass += p.MassKG * float64(p.Copies)
	}
	t.filtered = len(t.rows)
	if last := t.next() - 1; last >= first {
		// SUBTOTAL 109 sums the rows that a filter leaves.
		sum := func(c cell, column int) cell { return c.by("SUBTOTAL(109,%s)", over(column, first, last)) }
		total := make([]cell, len(t.columns))
		total[name-1] = text("Total (rows shown)")
		total[qty-1] = sum(count(copies), qty)
		total[areaAll-1] = sum(squareMetres(area), areaAll)
		total[massAll-1] = sum(decimal(mass, 2, 2), massAll)
		t.rows = append(t.rows, row{cells: total, first: true, total: true})
	}
	if len(d.Shared) > 0 {
		t.note("A blank is that of a panel which has one of its own; two panels come out of each of the shared blanks, which have a worksheet.")
	}
	if len(d.Unplaced) > 0 {
		t.note("Rows on grey have copies that are NOT PLACED: see the worksheet Summary.")
	}
	return t
}

// shape says what is done to a panel beyond straight cuts, and how many copies come
// out of shared blanks.
func shape(p *export.PanelRow) string {
	var list []string
	if p.Shaped {
		list = append(list, "shaped")
	}
	if b := p.Item.Bend; b != nil {
		list = append(list, fmt.Sprintf("bent by %d kerfs", b.Count))
	}
	if p.Sharing > 0 && p.Sharing < p.Copies {
		list = append(list, fmt.Sprintf("%d of %d in shared blanks", p.Sharing, p.Copies))
	}
	return strings.Join(list, "; ")
}

// face says which face of a panel shows.
func face(p *export.PanelRow) string {
	if p.Item.Panel.EitherFace {
		return "either"
	}
	return "good"
}

// some writes a number that is mostly zero, and then is left out.
func some(n int) cell {
	if n == 0 {
		return cell{}
	}
	return count(n)
}

// grain says along what the grain of a panel runs.
func grain(a parts.Axis) string {
	if a == parts.NoAxis {
		return "either"
	}
	return a.String()
}

// edging lists the banded edges: "front: oak 1; left: oak 1".
func edging(p *export.PanelRow) string {
	list := make([]string, len(p.Edging))
	for i, e := range p.Edging {
		list[i] = e.Edge + ": " + e.Band
	}
	return strings.Join(list, "; ")
}

package jobfile

import (
	"fmt"
	"strconv"
	"strings"

	"panelyard/parts"
	"panelyard/parts/length"
	"panelyard/parts/partslist"
)

// lists reads the parts lists that a job names and returns a panel for each of
// their rows, as if it were written in the job file.
func (r *reader) lists(list []*value) []*value {
	var panels []*value
	for _, v := range list {
		g := r.group(v, "", "parts list", "write file: and what else there is")
		if g == nil {
			continue
		}
		file, at := g.word("file")
		if at == nil && !g.has("file") {
			g.add(v, "has no file", "add file: and the name of a CSV or XLSX file")
		}
		var opt partslist.Options
		opt.Sheet, _ = g.word("sheet")
		unit, ok := r.unitOf(g, "unit")
		opt.Units = r.out.Units
		if ok {
			opt.Units = unit
		}
		switch g.choice("decimal", "", "point", "comma") {
		case "point":
			opt.Decimal = partslist.Point
		case "comma":
			opt.Decimal = partslist.Comma
		}
		var def *parts.Material
		if g.has("material") {
			def = r.materialOf(g)
		}
		g.used["material"] = true
		g.done("file", "sheet", "unit", "decimal", "material")
		if at == nil {
			continue
		}
		src, ok := r.load(at, file, partslist.MaxBytes)
		if !ok {
			continue
		}
		l, found := partslist.Read(r.beside(file), src, opt)
		r.list = append(r.list, found...)
		r.out.Readings = append(r.out.Readings, parts.Reading{File: r.beside(file), Text: l.Reading.Table()})
		for i := range l.Rows {
			panels = append(panels, r.row(&l.Rows[i], def))
		}
	}
	return panels
}

// row returns a row of a parts list as a panel of the job file. A row without a
// material has that of its list, or the only one of its thickness.
func (r *reader) row(row *partslist.Row, def *parts.Material) *value {
	text := func(s string) *value { return &value{pos: row.Pos, shape: scalar, text: s} }
	v := &value{pos: row.Pos, shape: mapping}
	add := func(key string, val *value) { v.keys = append(v.keys, entry{key, row.Pos, val}) }
	what := fmt.Sprintf("panel %q", clip(row.Name))
	add("name", text(row.Name))
	add("quantity", text(strconv.Itoa(row.Quantity)))
	switch {
	case row.Material != "":
		add("material", text(row.Material))
	case def != nil && (row.Thickness == 0 || thick(def, row.Thickness)):
		add("material", text(def.Name))
	case row.Thickness > 0:
		name, ok := r.ofThickness(row, what)
		if !ok {
			v.partial = true
			break
		}
		add("material", text(name))
	}
	if m := r.out.Material(row.Material); m != nil && row.Thickness > 0 && !thick(m, row.Thickness) {
		r.list.Warn(row.Pos, what, fmt.Sprintf("its thickness is %s, that of %q %s", r.size(row.Thickness), clip(m.Name), r.size(m.Nominal)), "check which board is meant")
	}
	if row.Drawing != "" {
		// A drawing of several panels: that of the row's name.
		shape := &value{pos: row.Pos, shape: mapping, keys: []entry{{"drawing", row.Pos, text(row.Drawing)}}}
		if s := r.source(row.Drawing, text(row.Drawing)); len(s.panels) > 1 {
			shape.keys = append(shape.keys, entry{"panel", row.Pos, text(row.Name)})
		}
		add("outline", shape)
	} else {
		add("length", text(row.Length.String()))
		add("width", text(row.Width.String()))
	}
	if row.Grain != "" {
		add("grain", text(row.Grain))
	}
	if row.Note != "" {
		add("note", text(row.Note))
	}
	if len(row.Edging) > 0 {
		edges := &value{pos: row.Pos, shape: mapping}
		for _, e := range row.Edging {
			band := e.Band
			if band == "" {
				if len(r.out.Bands) != 1 {
					r.list.Add(row.Pos, what, fmt.Sprintf("edge %q is to be banded, and the list does not say with which of %d bands", clip(e.Edge), len(r.out.Bands)), "name the band in the list, or list a single one under edging")
					continue
				}
				band = r.out.Bands[0].Name
			}
			edges.keys = append(edges.keys, entry{e.Edge, row.Pos, text(band)})
		}
		add("edges", edges)
	}
	return v
}

// thick reports whether a thickness is the nominal one of a material, or the
// measured.
func thick(m *parts.Material, t length.Length) bool { return t == m.Nominal || t == m.Measured }

// ofThickness returns the only material of a row's thickness.
func (r *reader) ofThickness(row *partslist.Row, what string) (string, bool) {
	var names []string
	for i := range r.out.Materials {
		if m := &r.out.Materials[i]; thick(m, row.Thickness) {
			names = append(names, m.Name)
		}
	}
	switch len(names) {
	case 1:
		return names[0], true
	case 0:
		r.list.Add(row.Pos, what, fmt.Sprintf("there is no material %s thick", r.size(row.Thickness)), "known materials: "+r.materialNames())
	default:
		r.list.Add(row.Pos, what, fmt.Sprintf("%d materials are %s thick: %s", len(names), r.size(row.Thickness), clip(strings.Join(names, ", "))), "name the material in the list")
	}
	return "", false
}

// Package html writes the report: one self-contained HTML page with what to buy,
// cost, yield, cautions, panel list, sheet maps and cuts. It needs no network and
// no scripts, prints cleanly, and can be read with a keyboard or by ear.
//
//	*export.Dossier -> HTML
package html

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"

	"panelyard/export"
	"panelyard/export/svgmap"
	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

//go:embed report.tmpl
var source string

// share is a part of the yield bar.
type share struct {
	Name    string
	Percent float64
	X, W    float64 // on a bar of 100
	Class   string
}

// sheet is a sheet map with its cuts.
type sheet struct {
	*export.SheetMap
	SVG   template.HTML
	Freed []export.Freed
}

// report is what the page is made from.
type report struct {
	*export.Dossier
	Tool   string
	Shares []share
	Maps   []sheet
}

// Write writes the report of d. The error is the writer's, or a defect of the
// page. Cost: that of all maps.
func Write(w io.Writer, d *export.Dossier) error {
	r := report{Dossier: d, Shares: shares(d)}
	r.Tool = fmt.Sprintf("saw, kerf %s mm", d.Demand.Kerf.Decimal())
	if d.Demand.Cut == kerf.Router {
		r.Tool = fmt.Sprintf("router, bit %s mm, panels %s mm apart", d.Demand.Kerf.Decimal(), d.Demand.Gap.Decimal())
	}
	for i := range d.Sheets {
		var b bytes.Buffer
		if err := svgmap.Write(&b, d, i); err != nil {
			return err
		}
		s := sheet{SheetMap: &d.Sheets[i], SVG: inline(b.String())}
		if d.Demand.Cut == kerf.Saw {
			s.Freed = d.Sheets[i].Freed(d.Demand.Kerf)
		}
		r.Maps = append(r.Maps, s)
	}
	t, err := template.New("report").Funcs(funcs(d)).Parse(source)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := t.Execute(&b, r); err != nil {
		return err
	}
	_, err = w.Write(b.Bytes())
	return err
}

// inline makes an SVG document of our own an element of a page: the declaration
// goes, and the size, so that it fills its column.
func inline(doc string) template.HTML {
	at := strings.Index(doc, "<svg")
	doc = doc[max(at, 0):]
	doc = strings.Replace(doc, `width="297.000mm" height="210.000mm"`, `role="img"`, 1)
	return template.HTML(doc) // the map escapes all text itself
}

// shares divides the yield bar.
func shares(d *export.Dossier) []share {
	a := d.Totals.Areas
	if a.Sheet <= 0 {
		return nil
	}
	list := []share{
		{Name: "panels", Percent: a.Panels, Class: "panels"},
		{Name: "kerf and trim", Percent: a.KerfTrim, Class: "kerf"},
		{Name: "kept offcuts", Percent: a.Kept, Class: "kept"},
		{Name: "waste", Percent: a.Waste, Class: "waste"},
	}
	x := 0.0
	for i := range list {
		list[i].Percent *= 100 / a.Sheet
		list[i].X, list[i].W = x, list[i].Percent
		x += list[i].W
	}
	return list
}

// edging says which edges have which band: all of them in one line when it is the
// same for all.
func edging(r *export.PanelRow) []string {
	var list []string
	bands := map[string]int{}
	for _, e := range r.Edging {
		list = append(list, e.Edge+": "+e.Band)
		bands[e.Band]++
	}
	edges := map[string]bool{}
	for i, v := range r.Item.Panel.Outline {
		if v.Edge == "" {
			edges[fmt.Sprint(i)] = true
		}
		edges[v.Edge] = true
	}
	if len(bands) == 1 && len(r.Edging) > 1 && len(r.Edging) == len(edges) {
		return []string{"all: " + r.Edging[0].Band}
	}
	return list
}

func funcs(d *export.Dossier) template.FuncMap {
	return template.FuncMap{
		"mm": func(l length.Length) string {
			return strings.TrimSuffix(strings.TrimRight(l.Fixed(2), "0"), ".")
		},
		"size": func(p geom.Point) string {
			short := func(l length.Length) string { return strings.TrimSuffix(strings.TrimRight(l.Fixed(2), "0"), ".") }
			return short(p.X) + " × " + short(p.Y)
		},
		"money": func(a fmt.Stringer) string { return strings.TrimSpace(a.String() + " " + d.Job.Currency) },
		"m2":    func(mm2 float64) string { return fmt.Sprintf("%.3f", mm2/1e6) },
		"f1":    func(v float64) string { return fmt.Sprintf("%.1f", v) },
		"metre": func(l length.Length) string { return fmt.Sprintf("%.2f", l.MM()/1000) },
		"inc":   func(i int) int { return i + 1 },
		"grain": func(a parts.Axis) string {
			if a == parts.NoAxis {
				return "free"
			}
			return a.String()
		},
		"edging": edging,
		"rows": func() []*export.PanelRow {
			list := make([]*export.PanelRow, len(d.Panels))
			for i := range d.Panels {
				list[i] = &d.Panels[i]
			}
			return list
		},
		"boxsize": func(o nest.Offcut) geom.Point { return o.Box.Size() },
		"across": func(c nest.Cut) string {
			if c.From.X == c.To.X {
				return "upright at x " + strings.TrimSuffix(c.From.X.Fixed(1), ".0")
			}
			return "level at y " + strings.TrimSuffix(c.From.Y.Fixed(1), ".0")
		},
		"cutlength": func(c nest.Cut) length.Length { return (c.To.X - c.From.X).Abs() + (c.To.Y - c.From.Y).Abs() },
		"sheets": func(ids []string) []string {
			var out []string
			for _, id := range ids {
				if id != "" && (len(out) == 0 || out[len(out)-1] != id) {
					out = append(out, id)
				}
			}
			return out
		},
		"saw": func() bool { return d.Demand.Cut == kerf.Saw },
	}
}

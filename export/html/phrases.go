package html

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"panelyard/export"
	"panelyard/export/svgmap"
	"panelyard/kerf"
	"panelyard/kerf/toolpath"
	"panelyard/nest"
	"panelyard/parts"
	bending "panelyard/parts/bend"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// share is a part of the yield bar.
type share struct {
	Name    string
	Percent float64
	Area    float64 // in square millimetres
	X, W    float64 // on a bar of 100
	Class   string
}

// shares divides the yield bar; there is none without sheets.
func shares(a export.Areas) []share {
	if a.Sheet <= 0 {
		return nil
	}
	list := []share{
		{Name: "panels", Area: a.Panels, Class: "panels"},
		{Name: "kerf and trim", Area: a.KerfTrim, Class: "kerf"},
		{Name: "kept offcuts", Area: a.Kept, Class: "kept"},
		{Name: "waste", Area: a.Waste, Class: "waste"},
	}
	x := 0.0
	for i := range list {
		list[i].Percent = 100 * list[i].Area / a.Sheet
		list[i].X, list[i].W = x, list[i].Percent
		x += list[i].W
	}
	return list
}

// panelRow is a line of the table of panels.
type panelRow struct {
	*export.PanelRow
	HandWord string   // empty where the name says it
	Edges    []string // "left: oak 1"
	On       []place
}

// place is a sheet that holds copies of a panel.
type place struct {
	Sheet  string
	Copies int
}

// places counts the copies of a row on each sheet, in the order of the row.
func places(r *export.PanelRow) []place {
	copies := map[string]int{}
	for _, id := range r.Sheets {
		copies[id]++
	}
	var list []place
	for _, id := range export.Once(r.Sheets) {
		list = append(list, place{id, copies[id]})
	}
	return list
}

// kind is the panels of a row on one sheet.
type kind struct {
	Row    *export.PanelRow
	Copies int
}

// kinds counts the panels on a sheet, in the order of the list of panels.
func (p phrases) kinds(m *export.SheetMap) []kind {
	copies := map[*export.PanelRow]int{}
	for i := range m.Placements {
		copies[m.Placements[i].Row]++
	}
	var list []kind
	for i := range p.d.Panels {
		if r := &p.d.Panels[i]; copies[r] > 0 {
			list = append(list, kind{r, copies[r]})
		}
	}
	return list
}

// keptRow is a line of the table of offcuts to keep.
type keptRow struct {
	nest.Offcut
	Material string
	Sheet    string
}

// phrases writes the words and figures of the page.
type phrases struct {
	d *export.Dossier
	w export.Lengths
}

func (p phrases) saw() bool { return p.d.Demand.Cut == kerf.Saw }

// tool says what cuts.
func (p phrases) tool() string {
	k := p.w.Exact(p.d.Demand.Kerf) + " " + p.w.Unit()
	if p.saw() {
		return "saw, kerf " + k
	}
	return fmt.Sprintf("router, bit %s, panels %s apart", k, p.w.Exact(p.d.Demand.Gap)+" "+p.w.Unit())
}

// panelRows returns the table of panels.
func (p phrases) panelRows() []panelRow {
	rows := make([]panelRow, len(p.d.Panels))
	for i := range rows {
		r := &p.d.Panels[i]
		rows[i] = panelRow{PanelRow: r, HandWord: r.Hand.String(), Edges: edging(r)}
		if strings.Contains(strings.ToLower(r.Name), rows[i].HandWord) {
			rows[i].HandWord = ""
		}
		rows[i].On = places(r)
	}
	return rows
}

// edging says which edges have which band: all of them in one line when it is the
// same for all.
func edging(r *export.PanelRow) []string {
	var list []string
	for _, e := range r.Edging {
		list = append(list, e.Edge+": "+e.Band)
	}
	// The list has a line for each edge and band: as many lines as edges, all of
	// one band, are all edges.
	edges := map[string]bool{}
	for i, v := range r.Item.Panel.Outline {
		if v.Edge == "" {
			v.Edge = fmt.Sprintf("edge %d", i+1)
		}
		edges[v.Edge] = true
	}
	same := func(e export.EdgeLine) bool { return e.Band == r.Edging[0].Band }
	bare := slices.Contains(r.Item.Panel.Edging, "")
	if len(list) > 1 && len(list) == len(edges) && !bare && !slices.ContainsFunc(r.Edging, func(e export.EdgeLine) bool { return !same(e) }) {
		return []string{"all: " + r.Edging[0].Band}
	}
	return list
}

// kept returns the offcuts to keep in the order of the sheets.
func (p phrases) kept() []keptRow {
	var rows []keptRow
	for i := range p.d.Sheets {
		m := &p.d.Sheets[i]
		for _, o := range m.Offcuts {
			if o.Keep {
				rows = append(rows, keptRow{o, m.Material.Name, m.ID})
			}
		}
	}
	return rows
}

// bend is a line of the table of bends.
type bend struct {
	*bending.Cuts
	Row *export.PanelRow
	At  []length.Length
}

// bends returns the kerfs of the panels that are bent.
func (p phrases) bends() []bend {
	var list []bend
	for i := range p.d.Panels {
		r := &p.d.Panels[i]
		if r.Item.Bend == nil {
			continue
		}
		list = append(list, bend{Cuts: r.Item.Bend, Row: r, At: r.KerfsAt()})
	}
	return list
}

// size writes length × width, which may be broken before the width and nowhere else: not
// within a fraction.
func (p phrases) size(at geom.Point) string {
	const still = "\u00a0" // a space that does not break
	whole := func(l length.Length) string { return strings.ReplaceAll(p.w.Text(l), " ", still) }
	return whole(at.X) + still + "× " + whole(at.Y)
}

// funcs are the words the template asks for.
func (p phrases) funcs() template.FuncMap {
	return template.FuncMap{
		"length":    p.w.Text,
		"exact":     p.w.Exact,
		"form":      p.w.Form,
		"across":    p.w.Across,
		"placed":    p.w.Place,
		"round":     func(o *export.OpeningRow) bool { return o.Form == export.Round },
		"minutes":   func(e toolpath.Effort) string { return export.Minutes(e.Time()) },
		"what":      func(q toolpath.Path) string { return export.What(&q) },
		"held":      func(q toolpath.Path) string { return export.Held(&q) },
		"deepest":   func(q toolpath.Path) string { return p.w.Exact(export.Deepest(&q)) },
		"run":       func(q toolpath.Path) string { return p.w.Short(q.CutLength()) },
		"inc":       func(i int) int { return i + 1 },
		"measure":   func(s export.Step) string { return p.w.Measure(&s) },
		"size":      p.size,
		"box":       func(b geom.Box) string { return p.size(b.Size()) },
		"boxsize":   func(o nest.Offcut) string { return p.size(o.Box.Size()) },
		"stocksize": func(s *parts.Stock) string { return p.size(geom.Pt(s.Length, s.Width)) },
		"units":     func() string { return strings.TrimSpace(p.w.Word() + " " + p.w.Rounding()) },
		"sizes":     func() []int { return []int{1, 2, 4, 8} },
		"rowid":     svgmap.RowID,
		"kindid":    svgmap.KindID,
		"copyid":    svgmap.CopyID,
		"squares":   func(mm2 float64) string { return p.w.Decimal(mm2/1e6, 2) },
		"once":      export.Once,
		"money":     p.d.Money,
		"bought":    func(r export.BuyRow) string { return p.w.Count(r.Count + r.Spare) },
		"whole":     func(v float64) string { return p.w.Decimal(v, 0) },
		"tenth":     func(v float64) string { return p.w.Decimal(v, 1) },
		"metres":    func(l length.Length) string { return p.w.Metres(l, 2) },
		"grain": func(a parts.Axis) string {
			if a == parts.NoAxis {
				return "free"
			}
			return a.String()
		},
	}
}

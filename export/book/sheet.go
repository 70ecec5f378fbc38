package book

import (
	"fmt"
	"strings"

	"panelyard/export"
	"panelyard/export/pdf"
	"panelyard/kerf"
	"panelyard/kerf/toolpath"
	"panelyard/parts"
	"panelyard/parts/geom"
)

// work is what is done with a sheet: a table.
type work struct {
	name, title string
	columns     []column
	rows        [][]cell
}

// sheet writes the map of a sheet and what is done with it, below the map where that
// has room for all of it.
func (b *book) sheet(m *export.SheetMap) {
	w := b.steps(m)
	if b.d.Demand.Cut == kerf.Router {
		w = b.paths(m)
	}
	b.sheetMap(m, &w)
	switch {
	case len(w.rows) == 0:
		b.text("Nothing to cut: the sheet is used as it is.", body, pdf.Regular)
		return
	case b.fitsBelow(&w):
		b.mark(w.name, 1, b.y)
	default:
		b.title = w.name
		b.sheetOfPaper(w.name, false)
		b.mark(w.name, 1, 0)
	}
	b.table(w.title, w.columns, w.rows)
}

// fitsBelow reports whether what is done with a sheet has room below its map.
func (b *book) fitsBelow(w *work) bool {
	return b.page().W > b.page().H && b.room(b.tableHigh(w.title, w.columns, w.rows))
}

// sheetMap writes the page with the map of a sheet, a little smaller where that leaves
// room below it for what is done and everything on it has a place.
func (b *book) sheetMap(m *export.SheetMap, w *work) {
	b.open(fmt.Sprintf("Sheet %s: %s", m.ID, m.Stock.Name), m.Stock.Width > m.Stock.Length)
	top, items := b.y, len(b.page().Items)
	again := func(noted int, w *work) *chart {
		b.page().Items, b.y = b.page().Items[:items], top
		return b.chart(m, noted, w)
	}
	c := again(0, w)
	if c.missing.String() == "" {
		return
	}
	c = again(0, nil)
	if c.missing.String() == "" {
		return
	}
	const most = 3 // lines above a map
	note := func() []string {
		return pdf.Wrap("No room on the map for: "+c.missing.String(), body, b.width(), pdf.Regular)
	}
	lines := note()
	if len(lines) > most {
		lines = lines[:1]
	}
	c = again(len(lines), nil)
	all := c.missing.String()
	if list := note(); len(list) <= len(lines) {
		lines, all = list, ""
	} else {
		lines = []string{"Some of what belongs on the map has no room there: it is named on the next page."}
	}
	for i, s := range lines {
		b.words(margin, c.note+body*lead*float64(i), body, pdf.Regular, 0, s)
	}
	b.detail(c, all)
}

// chart draws a sheet below what is on the page, and leaves lines above it for a note
// and room below it for what is done, as far as that makes it not much smaller.
func (b *book) chart(m *export.SheetMap, noted int, done *work) *chart {
	c := &chart{b: b, m: m}
	l, w := m.Stock.Length.MM(), m.Stock.Width.MM()
	c.note = b.y + 2*body*lead
	top := b.y + body*lead*float64(noted+1) + 3.5
	high := b.bottom() - top - c.legend(0, false) - 3
	scale := round(max(l/b.width(), w/high))
	if done != nil && b.page().W > b.page().H {
		if high -= b.tableHigh(done.title, done.columns, done.rows); high > 0 {
			// A small board is still drawn large enough.
			if s := round(max(l/b.width(), w/high)); s <= scale*1.3 || s <= 5 {
				scale = s
			}
		}
	}
	c.k = 1 / scale
	c.x, c.y = margin+(b.width()-l*c.k)/2, top+w*c.k
	s, size := pdf.Fit(b.about(m, scale), body, least, b.width(), pdf.Regular)
	b.words(margin, b.y+body*lead, size, pdf.Regular, 0, s)
	c.draw()
	c.write(geom.Box{Max: geom.Pt(m.Stock.Length, m.Stock.Width)})
	b.y = c.legend(c.y+3, true)
	return c
}

// round returns the next round scale.
func round(scale float64) float64 {
	for _, s := range scales {
		if s >= scale {
			return s
		}
	}
	return scale
}

// of names a panel on a sheet.
type of struct {
	name string
	copy int
}

// about says what a sheet is and how it is seen.
func (b *book) about(m *export.SheetMap, scale float64) string {
	side := "seen from the good face"
	if b.d.FaceDown() {
		side = "seen from the back, the good face lies down"
	}
	text := fmt.Sprintf("%s %s", b.w.Size(geom.Pt(m.Stock.Length, m.Stock.Width)), b.w.Unit())
	if m.MassKG > 0 {
		text += ", " + b.w.Decimal(m.MassKG, 1) + " kg"
	}
	text += fmt.Sprintf(", scale 1:%g, %s", scale, side)
	if m.Stock.Grain != parts.NoAxis {
		text += ", grain along the " + m.Stock.Grain.String()
	}
	return text + "; " + m.Material.Name
}

// steps returns the cuts of a sheet in order.
func (b *book) steps(m *export.SheetMap) work {
	var rows [][]cell
	for i := range m.Steps {
		s := &m.Steps[i]
		set := cell{text: b.w.Measure(s)}
		if s.Reset {
			set.face = pdf.Bold
		}
		var mind []string
		for _, w := range s.Warnings {
			mind = append(mind, w.String())
		}
		rows = append(rows, row(tick, s.N, s.Kind, b.w.Size(s.Piece.Size()), set, s.At(), s.Kerf, b.w.Text(s.Long()), b.free(s), strings.Join(mind, "; ")))
	}
	title := "Cuts in order, in " + b.w.Word() + ". Set to: the piece between fence, or stop, and blade; bold where it changes"
	if b.d.FaceDown() {
		title += ". Left and right as seen from the back"
	}
	return work{"Sheet " + m.ID + ": cuts", title, []column{
		{"", 0.8, left},
		{"No.", 1.2, right},
		{"Cut", 3, unbroken},
		{"Piece in hand", 4.6, unbroken},
		{"Set to", 2.6, right},
		{"From", 2, left},
		{"Kerf", 2, left},
		{"Long", 2.4, right},
		{"What comes free", 11, left},
		{"Mind", 6, left},
	}, rows}
}

// free says what comes free at a step.
func (b *book) free(s *export.Step) string {
	text := ""
	for _, p := range s.Panels {
		switch {
		case p.Second:
			text += " + " + named(p) + " in the same blank"
			continue
		case text != "":
			text += "; "
		}
		text += named(p)
	}
	for _, o := range s.Offcuts {
		if text != "" {
			text += "; "
		}
		text += "offcut " + b.w.Size(o.Box.Size())
		if o.Keep {
			text += ", keep"
		}
	}
	return text
}

// paths returns the paths of the bit of a sheet in order.
func (b *book) paths(m *export.SheetMap) work {
	panels := map[of]*export.PlacedPanel{}
	for i := range m.Placements {
		p := &m.Placements[i]
		panels[of{p.Row.Name, p.Copy}] = p
	}
	var rows [][]cell
	for i := range m.Paths {
		p := &m.Paths[i]
		panel := ""
		if on := panels[of{p.Panel, p.Copy}]; on != nil {
			panel = named(on)
		}
		rows = append(rows, row(tick, i+1, export.What(p), panel, b.entry(p), b.w.Short(p.CutLength()), len(p.Depths), b.w.Exact(export.Deepest(p)), export.Held(p)))
	}
	title := fmt.Sprintf("Paths in order, in %s: %s m in %s, about %s; corners and clamping take longer",
		b.w.Word(), b.w.Decimal(m.Effort.Run.MM()/1000, 2), b.count(m.Effort.Passes, "pass", "passes"), export.Minutes(m.Effort.Time()))
	return work{"Sheet " + m.ID + ": paths", title, []column{
		{"", 0.8, left},
		{"No.", 1.4, right},
		{"Path", 6, left},
		{"Panel", 8, left},
		{"Entry", 4, left},
		{"Long", 2.4, right},
		{"Passes", 2, right},
		{"Deep", 2, right},
		{"Held by", 5, left},
	}, rows}
}

// entry says how the bit comes into a path.
func (b *book) entry(p *toolpath.Path) string {
	switch {
	case len(p.Lead) > 1:
		return "lead-in arc"
	case p.Ramp > 0:
		return "ramp over " + b.w.Short(p.Ramp)
	}
	return "plunge"
}

package svgmap

import (
	"fmt"
	"slices"
	"strings"

	"panelyard/export"
	"panelyard/kerf"
)

// key is the list of the panels on a sheet. Key, name and figures of a row stand
// apart, so that a name written to the left cannot turn the figures.
type key struct {
	box    rect
	size   float64 // of the text
	name   float64 // offset of the name in a row
	tail   float64 // offset of the figures
	rows   []keyRow
	remark string // at the end: what the map does not show
	at     spot   // of the remark
}

// keyRow is a line of the key.
type keyRow struct {
	key, name, tail string
	x, y            float64
}

// keySizes are the sizes of text that are tried until all rows have room.
var keySizes = [...]float64{2.4, 2.1, 1.9}

// fillKey lays the key out in columns in a box. When there is no room for all
// panels, those whose label on the map says everything are left out, and then
// the rest, with a remark that says so.
func (p *page) fillKey(box rect) {
	p.key.box = box
	rows := p.keyRows()
	laid := false
	for _, size := range keySizes {
		if laid = p.columns(rows, size); laid {
			break
		}
	}
	var remarks []string
	if !laid {
		whole := map[string]bool{}
		for i, l := range p.labels {
			k := p.m.Placements[i].Row.Key
			if before, seen := whole[k]; !seen || before {
				whole[k] = l.whole
			}
		}
		all := len(rows)
		rows = slices.DeleteFunc(rows, func(r keyRow) bool { return whole[r.key] })
		if !p.columns(rows, keySizes[len(keySizes)-1]) {
			rows = rows[:len(p.key.rows)]
		}
		remarks = append(remarks, fmt.Sprintf("%d of %d kinds of panel are not listed here", all-len(rows), all))
	}
	if p.unlabelled > 0 {
		remarks = append(remarks, fmt.Sprintf("%s too small to be labelled", count(p.unlabelled, "panel is", "panels are")))
	}
	if p.unnumbered > 0 {
		remarks = append(remarks, fmt.Sprintf("%s no room for a number", count(p.unnumbered, "cut has", "cuts have")))
	}
	if remarks != nil {
		p.key.remark = "On this map " + strings.Join(remarks, ", ") + ": see the cut list. "
	}
	if s := p.write.Rounding(); s != "" {
		p.key.remark += "Lengths are written " + s + "."
	}
	if p.key.remark = strings.TrimSpace(p.key.remark); p.key.remark != "" {
		p.key.at = spot{box.x, box.y + box.h - 0.8}
		p.key.remark = shorten(p.key.remark, keySizes[0], box.w)
	}
}

// count writes a number with its noun.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// keyRows returns the rows of the key in the order of the cut list, without
// places.
func (p *page) keyRows() []keyRow {
	on := map[*export.PanelRow]int{}
	blanks := map[*export.PanelRow][]string{} // each once
	for i := range p.m.Placements {
		pl := &p.m.Placements[i]
		on[pl.Row]++
		if b := p.blankLine(pl); b != "" && !slices.Contains(blanks[pl.Row], b) {
			blanks[pl.Row] = append(blanks[pl.Row], b)
		}
	}
	var rows []keyRow
	for i := range p.d.Panels {
		r := &p.d.Panels[i]
		n := on[r]
		if n == 0 {
			continue
		}
		tail := p.write.Size(r.Cut)
		if n > 1 {
			tail += fmt.Sprintf("  %d pieces", n)
		}
		for _, b := range blanks[r] {
			tail += "  " + b
		}
		if p.bound(r) {
			tail += "  grain " + r.Grain.String()
		}
		_, name, _ := strings.Cut(title(r), "  ")
		rows = append(rows, keyRow{key: r.Key, name: name, tail: tail})
	}
	return rows
}

// columns gives the rows their places at a size of text, and reports whether all
// have one; those that do not are left out. A line is kept for the remark.
func (p *page) columns(rows []keyRow, size float64) bool {
	const gap, leastName = 4.0, 22.0
	k := &p.key
	k.size = size
	lineH := size * 1.38
	keyW, nameW, tailW := 0.0, 0.0, 0.0
	for _, r := range rows {
		keyW = max(keyW, textWidth(r.key, size))
		nameW = max(nameW, textWidth(r.name, size))
		tailW = max(tailW, textWidth(r.tail, size))
	}
	k.name = keyW + 1.5
	// Of a narrow key the figures have at most two thirds.
	tailW = min(tailW, k.box.w*2/3)
	least := k.name + min(nameW, leastName) + 2 + tailW + gap
	lines := max(1, int((k.box.h-lineH-0.5)/lineH))
	columns := min(max(1, int(k.box.w/least)), max(1, (len(rows)+lines-1)/lines))
	w := k.box.w / float64(columns)
	nameW = max(0, min(nameW, w-k.name-2-tailW-gap))
	k.tail = k.name + nameW + 2
	all := len(rows) <= lines*columns
	k.rows = nil
	for n, r := range rows[:min(len(rows), lines*columns)] {
		r.name = shorten(r.name, size, nameW)
		r.tail = shorten(r.tail, size, w-k.tail)
		r.x, r.y = k.box.x+w*float64(n/lines), k.box.y+lineH*float64(n%lines+1)
		k.rows = append(k.rows, r)
	}
	return all
}

// sign is an entry of the legend: a small drawing and what it means. Its kind
// names the drawing.
type sign struct {
	kind string
	text string
	x, y float64 // of the drawing's lower left corner
}

// The size of the drawings and the texts of the signs.
const (
	signW, signH = 6.5, 2.6
	signSize     = 2.3
)

// signsOfMap lays out the legend of what is on this map, in two lines at the foot
// of the page.
func (p *page) signsOfMap() {
	add := func(kind, text string) { p.signs = append(p.signs, sign{kind: kind, text: text}) }
	k := p.write.Exact(p.d.Demand.Kerf) + " " + p.write.Unit()
	if p.d.Demand.Cut == kerf.Saw {
		add("kerf", "cut, as wide as the kerf of "+k)
		trim := false
		for i := range p.m.Cuts {
			trim = trim || p.m.Cuts[i].Trim
		}
		if trim {
			add("trim cut", "cut that trims or squares")
		}
		add("order", "order of the cuts")
	} else {
		add("bit", "path of the bit of "+k)
	}
	shaped, shared, bent, arrows := false, false, false, len(p.arrows) > 0
	for i := range p.m.Placements {
		shaped = shaped || p.m.Placements[i].Row.Shaped
		shared = shared || p.m.Placements[i].With != nil
		bent = bent || len(p.m.Placements[i].Kerfs) > 0
	}
	if bent {
		add("bend", "kerf for a bend, in the back")
	}
	if shaped && p.d.Demand.Cut == kerf.Saw {
		text := "blank, shaped after it is sawn"
		if shared {
			text += "; parted first where two share it"
		}
		add("blank", text)
	}
	keep, rest := false, false
	for _, o := range p.m.Offcuts {
		keep, rest = keep || o.Keep, rest || !o.Keep
	}
	if keep {
		add("kept", "offcut to keep")
	}
	if rest {
		add("offcut", "offcut")
	}
	if p.trimmed() {
		text := "trim"
		if p.d.Demand.Cut == kerf.Router {
			text = "trim and hold-down"
		}
		add("trim", text)
	}
	if arrows {
		add("grain", "grain must run so")
	}
	const gap = 5
	x, y := margin, p.paper.H-margin-footH+5.5
	for i := range p.signs {
		s := &p.signs[i]
		w := signW + 1 + textWidth(s.text, signSize)
		if x+w > p.paper.W-margin && x > margin {
			x, y = margin, y+3.8
		}
		s.x, s.y = x, y
		x += w + gap
	}
}

// trimmed reports whether a part of the sheet is trim.
func (p *page) trimmed() bool {
	u := p.m.Usable
	return u.Min.X > 0 || u.Min.Y > 0 || u.Max.X < p.m.Stock.Length || u.Max.Y < p.m.Stock.Width
}

// cautions returns the line of what to mind with this sheet, or nothing.
func (p *page) cautions() string {
	var mind []string
	for _, q := range p.d.Cautions {
		if slices.Contains(q.Sheets, p.m.ID) {
			mind = append(mind, q.Topic)
		}
	}
	if len(mind) == 0 {
		return ""
	}
	return "Mind: " + strings.Join(mind, "; ") + " (see the report)"
}

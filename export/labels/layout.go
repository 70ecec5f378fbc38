package labels

import (
	"fmt"
	"strings"

	"panelyard/export"
	"panelyard/export/pdf"
	"panelyard/parts"
)

// Grid is how labels lie on a page, in mm.
type Grid struct {
	PageW, PageH  float64
	Columns, Rows int
	Margin        float64 // of the page, all round
	Plain         bool    // codes in letters and figures, no QR codes
}

// The papers by name.
var papers = map[string][2]float64{"a4": {210, 297}, "letter": {215.9, 279.4}}

// Papers are the names of the papers.
var Papers = []string{"a4", "letter"}

// The limits of a grid: a smaller label holds no text that can be read, a larger
// number of labels on a page is no label sheet.
const (
	LeastW   = 30.0
	LeastH   = 16.0
	MostSide = 40
)

// NewGrid returns a grid on a paper. The error says what is wrong with it.
func NewGrid(paper string, columns, rows int, margin float64) (Grid, error) {
	size, ok := papers[paper]
	if !ok {
		return Grid{}, fmt.Errorf("paper %q: use %s", paper, strings.Join(Papers, " or "))
	}
	g := Grid{PageW: size[0], PageH: size[1], Columns: columns, Rows: rows, Margin: margin}
	if columns < 1 || rows < 1 || columns > MostSide || rows > MostSide {
		return Grid{}, fmt.Errorf("%d x %d labels on a page: use 1 to %d each way", columns, rows, MostSide)
	}
	if margin < 0 || margin > 50 {
		return Grid{}, fmt.Errorf("a margin of %g mm: use 0 to 50", margin)
	}
	if w, h := g.label(); w < LeastW || h < LeastH {
		return Grid{}, fmt.Errorf("labels of %.1f x %.1f mm: at least %g x %g are needed; use fewer on a page", w, h, LeastW, LeastH)
	}
	return g, nil
}

// label returns the size of a label.
func (g Grid) label() (w, h float64) {
	return (g.PageW - 2*g.Margin) / float64(g.Columns), (g.PageH - 2*g.Margin) / float64(g.Rows)
}

// at returns the page, from 0, and the upper left corner of label i.
func (g Grid) at(i int) (page int, corner pdf.Point) {
	w, h := g.label()
	page = i / (g.Columns * g.Rows)
	i %= g.Columns * g.Rows
	return page, pdf.Point{X: g.Margin + float64(i%g.Columns)*w, Y: g.Margin + float64(i/g.Columns)*h}
}

// label is one label.
type label struct {
	row   *export.PanelRow
	title string   // key and name
	lines []string // the most important first
	code  string
	plain string // the same in short: key, copy, sheet and step
}

// labels returns the labels of a plan, sheet by sheet in the order of the work.
func labels(d *export.Dossier) []label {
	var list []label
	for i := range d.Sheets {
		m := &d.Sheets[i]
		done := map[*export.PlacedPanel]bool{}
		add := func(p *export.PlacedPanel, step int) {
			if !done[p] {
				done[p] = true
				list = append(list, newLabel(d, m, p, step))
			}
		}
		for k := range m.Steps {
			for _, p := range m.Steps[k].Panels {
				add(p, m.Steps[k].N)
			}
		}
		// A panel that no cut frees is a whole sheet, or a router's.
		for k := range m.Placements {
			add(&m.Placements[k], 0)
		}
	}
	return list
}

func newLabel(d *export.Dossier, m *export.SheetMap, p *export.PlacedPanel, step int) label {
	w, r := d.Lengths(), p.Row
	from := m.ID
	if step > 0 {
		from += fmt.Sprintf(", step %d", step)
	}
	l := label{row: r, title: r.Key + "  " + r.Name}
	size := w.Size(r.Cut) + " " + w.Unit()
	if r.Of > 1 {
		size += fmt.Sprintf(", %d of %d", p.Copy, r.Of)
	}
	board := fmt.Sprintf("%s, %s thick", r.Material, w.Text(r.Thickness))
	l.lines = append(l.lines, size, "from "+from, board)
	if r.Grain != parts.NoAxis {
		l.lines = append(l.lines, "grain: "+r.Grain.String())
	}
	var edges []string
	for _, e := range r.Edging {
		edges = append(edges, e.Edge+": "+e.Band)
	}
	if len(edges) > 0 {
		l.lines = append(l.lines, strings.Join(edges, ", "))
	}
	if r.Shaped && len(m.Steps) > 0 {
		l.lines = append(l.lines, "shaped from "+w.Size(p.BlankSize()))
	}
	l.lines = append(l.lines, d.Title())
	l.code = fmt.Sprintf("%s %d/%d\n%s", r.Name, p.Copy, r.Of, from)
	l.plain = fmt.Sprintf("%s.%d %s", r.Key, p.Copy, m.ID)
	if step > 0 {
		l.plain += fmt.Sprintf("/%d", step)
	}
	return l
}

package labels

import (
	"panelyard/export"
	"panelyard/export/pdf"
)

// The drawing of the names, in mm.
const (
	namesMargin  = 12.0 // at least: it is plain paper, not a sheet of labels
	namesHeading = 5.0
	namesSize    = 3.2
	keyRoom      = 14.0
)

// names returns the pages that list, with their keys, the whole names of the panels
// whose labels have no room for them. There are none when all have.
func names(d *export.Dossier, g Grid) []pdf.Page {
	_, text := g.columns()
	cut := map[*export.PanelRow]bool{}
	for _, l := range labels(d) {
		if s, _ := l.heading(text); s != oneLine(l.title) {
			cut[l.row] = true
		}
	}
	list := nameList{g: g, margin: max(g.Margin, namesMargin)}
	for i := range d.Panels {
		if cut[&d.Panels[i]] {
			list.add(&d.Panels[i])
		}
	}
	return list.pages
}

// nameList is pages of names as they are filled.
type nameList struct {
	g      Grid
	margin float64
	pages  []pdf.Page
	y      float64 // of the last line
}

// add adds a panel, its lines on one page.
func (l *nameList) add(r *export.PanelRow) {
	const lead = namesSize * leading
	lines := pdf.Wrap(oneLine(r.Name), namesSize, l.g.PageW-2*l.margin-keyRoom, pdf.Regular)
	l.y += lead / 2 // panels are told apart
	if len(l.pages) == 0 || l.y+lead*float64(len(lines)) > l.g.PageH-l.margin {
		l.page()
	}
	for i, s := range lines {
		l.y += lead
		if i == 0 {
			key, size := pdf.Fit(r.Key, namesSize, leastSize, keyRoom-pad, pdf.Bold)
			l.words(l.margin, size, pdf.Bold, key)
		}
		l.words(l.margin+keyRoom, namesSize, pdf.Regular, s)
	}
}

// page begins a page.
func (l *nameList) page() {
	p := pdf.Page{W: l.g.PageW, H: l.g.PageH}
	heading := "Names too long for their labels"
	if len(l.pages) == 0 {
		p.Marks = []pdf.Mark{{Name: heading}}
	} else {
		heading += ", continued"
	}
	l.pages = append(l.pages, p)
	heading, size := pdf.Fit(heading, namesHeading, leastSize, p.W-2*l.margin, pdf.Bold)
	l.y = l.margin + size
	l.words(l.margin, size, pdf.Bold, heading)
	l.y += size / 2
}

// words writes on the last line.
func (l *nameList) words(x, size float64, f pdf.Face, s string) {
	p := &l.pages[len(l.pages)-1]
	p.Items = append(p.Items, pdf.Words{At: pdf.Point{X: x, Y: l.y}, Size: size, Face: f, Text: s})
}

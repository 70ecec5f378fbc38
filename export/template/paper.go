package template

import (
	"fmt"
	"slices"
	"strings"

	"panelyard/export/pdf"
	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// Paper is the paper of a printer, upright, in mm.
type Paper struct {
	Name string
	W, H float64
}

// papers are those that can be asked for: ISO 216 A4 and A3, and letter, 8 1/2 by 11 in
// (ANSI/ASME Y14.1 size A; both from memory).
var papers = []Paper{{"a4", 210, 297}, {"a3", 297, 420}, {"letter", 215.9, 279.4}}

// PaperNames returns the names of papers.
func PaperNames() []string {
	var list []string
	for _, p := range papers {
		list = append(list, p.Name)
	}
	return list
}

// Options say how a template is laid out on pages.
type Options struct {
	Paper     string // a name of PaperNames
	Landscape bool
	Overlap   length.Length // of the windows of neighbours
	Margin    length.Length // of each page, where printers do not print
}

// The defaults of a layout (common practice, no source).
const (
	DefaultPaper   = "a4"
	DefaultOverlap = 10 * length.Millimetre
	DefaultMargin  = 10 * length.Millimetre
)

// The bounds of a layout. The window has room for the rulers above it and for texts
// beside them; a mark needs the overlap.
const (
	leastOverlap = 5 * length.Millimetre
	leastMargin  = 3 * length.Millimetre
	leastW       = 150.0
	leastH       = 80.0
	mostOverlap  = 0.2 // of the window
)

// layout is the options, checked.
type layout struct {
	paper                              string
	w, h, margin, overlap              float64
	windowX, windowY, windowW, windowH float64
}

// layout checks options. The list names the flags of the command.
func (o Options) layout() (layout, diag.List) {
	var list diag.List
	wrong := func(flag, fact, remedy string) { list.Add(diag.Pos{}, flag, fact, remedy) }
	i := slices.IndexFunc(papers, func(p Paper) bool { return p.Name == o.Paper })
	if i < 0 {
		wrong("--paper", fmt.Sprintf("%.40q", o.Paper), "use "+strings.Join(PaperNames(), ", "))
		return layout{}, list
	}
	p := papers[i]
	l := layout{paper: strings.ToUpper(p.Name[:1]) + p.Name[1:], w: p.W, h: p.H, margin: o.Margin.MM(), overlap: o.Overlap.MM()}
	if o.Landscape {
		l.w, l.h = l.h, l.w
		l.paper += " landscape"
	}
	l.windowX, l.windowY = l.margin, l.margin+headerH
	l.windowW, l.windowH = l.w-2*l.margin, l.h-2*l.margin-headerH
	switch {
	case o.Margin < leastMargin:
		wrong("--margin", fmt.Sprintf("%v is less than %v: printers leave an edge white", o.Margin, leastMargin), "use 10mm, or what your printer needs")
	case l.windowW < leastW || l.windowH < leastH:
		most := min(l.w-leastW, l.h-headerH-leastH) / 2
		wrong("--margin", fmt.Sprintf("%v leaves too little of the page", o.Margin), fmt.Sprintf("use at most %g mm on this paper", most))
		return l, list
	}
	if most := mostOverlap * min(l.windowW, l.windowH); o.Overlap < leastOverlap || l.overlap > most {
		wrong("--overlap", fmt.Sprintf("%v is not between %v and %.0f mm, a fifth of what a page shows", o.Overlap, leastOverlap, most), "use 10mm")
	}
	return l, list
}

// window returns where the panel shows on a page.
func (l layout) window() Rect {
	return Rect{l.windowX, l.windowY, l.windowX + l.windowW, l.windowY + l.windowH}
}

// view returns the view of a window of the panel on a page.
func (l layout) view(window Rect) view {
	return view{at: pdf.Point{X: window.X0, Y: window.Y1}, on: pdf.Point{X: l.windowX, Y: l.windowY}, scale: 1}
}

package template

import (
	"fmt"
	"math"
	"strings"

	"panelyard/export/pdf"
	"panelyard/parts"
)

// fact is something the shop must know of the panel.
type fact struct{ head, text string }

// facts lists what the drawing does not say by itself.
func (t *Template) facts() []fact {
	p, w := t.Panel, t.write
	list := []fact{{"job", t.Job.Name + variant(t.Job)}}
	name := p.Name
	if p.Hand != parts.NoHand {
		name += fmt.Sprintf(": the %s one of the pair %s", p.Hand, p.PairOf)
	} else if p.Mirrored {
		name += ": the other hand of what the job file draws"
	}
	list = append(list, fact{"panel", name + fmt.Sprintf(", quantity %d", p.Quantity)})
	m := t.Job.Material(p.Material)
	stuff := t.stuff()
	if m.Measured != m.Nominal {
		stuff += fmt.Sprintf(" as measured (nominal %s)", w.Text(m.Nominal))
	}
	list = append(list, fact{"material", stuff})
	size := w.Size(t.Outline.Box().Size()) + " " + w.Unit()
	switch {
	case t.Finished && t.banded():
		size = "finished size " + size + ", edge bands included: cut smaller where there is a band"
	case t.banded():
		size = "cut size " + size + ", without edge bands; finished " + w.Size(p.Size())
	default:
		size += ", cut size and finished size: there are no edge bands"
	}
	list = append(list, fact{"drawn", size})
	list = append(list, fact{"face", t.faceFact(m)}, fact{"grain", t.grainFact(m)})
	if bands := t.bands(); bands != "" {
		list = append(list, fact{"edge bands", bands})
	}
	if t.bend != "" {
		list = append(list, fact{"bend", t.bend})
	}
	var openings []string
	for _, o := range p.Openings {
		openings = append(openings, openingName(o))
	}
	if len(openings) > 0 {
		list = append(list, fact{"openings", strings.Join(openings, "; ")})
	}
	if p.Note != "" {
		list = append(list, fact{"note", p.Note})
	}
	return list
}

func (t *Template) faceFact(m *parts.Material) string {
	text := "good face up: the panel is drawn as its good face is seen"
	if t.Mirrored {
		text = "good face down: the panel is drawn mirrored, as its back is seen"
	}
	if m.GoodFaces > 1 {
		text += "; both faces of this board are good"
	}
	return text
}

func (t *Template) grainFact(m *parts.Material) string {
	switch {
	case t.Panel.Grain == parts.AlongLength:
		return "along the length of the panel, from side to side of the drawing"
	case t.Panel.Grain == parts.AlongWidth:
		return "along the width of the panel, up and down on the drawing"
	case m.Grained:
		return "may run either way"
	}
	return "none"
}

// bands lists the banded edges.
func (t *Template) bands() string {
	d := drawing{Template: t}
	var list []string
	for i, b := range t.Edging {
		if b != "" {
			list = append(list, d.edgeText(i))
		}
	}
	return strings.Join(list, "; ")
}

// howTo says how the pages become a template.
func (l layout) howTo(g grid) []string {
	list := []string{
		"Print at 100 %, actual size: no fit to page, no scaling.",
		fmt.Sprintf("Measure the ruler of every page, and the frame of one: %g by %g mm. If they are not what they say, correct the printer's settings; do not use the pages.", round(l.windowW), round(l.windowH)),
	}
	if g.pages() > 1 {
		list = append(list,
			fmt.Sprintf("Neighbouring pages overlap by %g mm. Cut off the right and the lower edge of each page along its frame where a neighbour follows.", l.overlap),
			"Begin at the lower right. Lay each page over its neighbours so that the crosses with the same number coincide, up to the dotted line, and tape it.",
			"Then measure length and width over all: paper moves with moisture.")
	}
	return append(list, "The middle of the thin line is the edge of the panel; the names of edges stand on the panel's side of it.")
}

// round rounds to a tenth of a millimetre, which is as much as a rule shows.
func round(mm float64) float64 { return math.Round(mm*10) / 10 }

// front lays the first page out: facts and instructions above or, on a page that is
// wide, beside the map of the pages.
func (d *drawing) front(l layout, g grid) Page {
	p := l.page("")
	p.Frame = append(p.Frame, d.header("", l.strip())...)
	text, room := p.Window, p.Window
	if l.w > l.h {
		text.X1 = text.X0 + 0.48*text.width()
		room.X0 = text.X1 + 6
	}
	most := text.height()
	if l.w <= l.h {
		most *= 0.55 // the map has the rest
	}
	b := d.words(l, g, text, 3, 3)
	for _, c := range []struct {
		size  float64
		lines int
	}{{2.7, 3}, {2.7, 2}, {2.3, 2}, {2, 1}} {
		if b.y-text.Y0 <= most {
			break
		}
		b = d.words(l, g, text, c.size, c.lines)
	}
	p.Frame = append(p.Frame, b.items...)
	if l.w <= l.h {
		room.Y0 = b.y + 4
	}
	p.Frame = append(p.Frame, d.pageMap(g, room)...)
	return p
}

// words writes the text of the first page at a size, each fact in so many lines at most.
func (d *drawing) words(l layout, g grid, room Rect, size float64, lines int) block {
	b := block{x: room.X0, y: room.Y0, width: room.width()}
	title, large := pdf.Fit("Template of "+d.Panel.Name, 2.2*size, 3.5, b.width, pdf.Bold)
	b.put(title, large, pdf.Bold, 0)
	b.y += size / 2
	for _, f := range append(d.facts(), fact{"pages", d.pagesFact(l, g)}) {
		b.fact(f, size, lines)
	}
	b.y += size / 2
	for i, s := range l.howTo(g) {
		b.fact(fact{fmt.Sprintf("%d", i+1), s}, size, 4)
	}
	return b
}

// pagesFact counts the pages.
func (d *drawing) pagesFact(l layout, g grid) string {
	first, last := g.name(0, 0), g.name(g.rows-1, g.cols-1)
	text := fmt.Sprintf("%d of %s and this one, %s to %s", g.pages(), l.paper, first, last)
	if g.pages() == 1 {
		text = fmt.Sprintf("1 of %s and this one", l.paper)
	}
	if n := g.rows*g.cols - g.pages(); n > 0 {
		text += fmt.Sprintf("; %d with nothing to draw left out", n)
	}
	return text
}

// block is lines of text one below the other.
type block struct {
	x, y, width float64
	items       []Item
}

// factHead is the room for the head of a fact, in mm.
const factHead = 21.0

// put writes a line below the last.
func (b *block) put(text string, size float64, f pdf.Face, indent float64) {
	b.y += 1.35 * size
	b.items = append(b.items, Words{At: pdf.Point{X: b.x + indent, Y: b.y}, Size: size, Face: f, Text: text})
}

// fact writes a fact, its text in so many lines at most.
func (b *block) fact(f fact, size float64, most int) {
	indent := factHead
	if len(f.head) < 3 { // a number
		indent = 6
	}
	lines := pdf.Wrap(f.text, size, b.width-indent, pdf.Regular)
	if len(lines) > most {
		lines[most-1] = pdf.Cut(lines[most-1]+" "+lines[most], size, b.width-indent, pdf.Regular)
		lines = lines[:most]
	}
	for i, s := range lines {
		b.put(s, size, pdf.Regular, indent)
		if i == 0 {
			b.items = append(b.items, Words{At: pdf.Point{X: b.x, Y: b.y}, Size: size, Grey: soft, Text: f.head})
		}
	}
	b.y += 0.4
}

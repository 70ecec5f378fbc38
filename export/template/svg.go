package template

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	svg "github.com/ajstarks/svgo/float"

	"panelyard/export/pdf"
	"panelyard/parts/diag"
	"panelyard/parts/svgpath"
)

// svgFonts are the faces to set text in. The first is the one it was measured in; the
// others are no wider.
const svgFonts = "font-family:'DejaVu Sans',Helvetica,Arial,'Liberation Sans',sans-serif"

// WriteSVG writes a page as an SVG of its size in mm, one unit a mm, arcs as arcs. The
// error is the writer's first. Cost: what is on the page.
func WriteSVG(w io.Writer, title string, p Page) error {
	var b bytes.Buffer // the library that draws does not look at errors
	c := svg.New(&b)
	c.Decimals = 3
	c.StartviewUnit(p.W, p.H, "mm", 0, 0, p.W, p.H)
	c.Desc(Mark + ": a panel at true size, one unit a millimetre")
	c.Title(printable(title))
	c.Rect(0, 0, p.W, p.H, "fill:#fff")
	c.Gstyle(svgFonts + ";stroke-linejoin:round")
	for _, x := range append(p.Drawing[:len(p.Drawing):len(p.Drawing)], p.Frame...) {
		switch x := x.(type) {
		case Lines:
			c.Path(pathData(x.Paths), "fill:none;stroke:"+grey(x.Pen.Grey)+fmt.Sprintf(";stroke-width:%g", x.Pen.Width)+dashes(x.Pen), class(x.Class))
		case Area:
			c.Path(pathData(x.Paths), "stroke:none;fill-rule:evenodd;fill:"+grey(x.Grey))
		case Words:
			words(c, x)
		}
	}
	c.Gend()
	c.End()
	_, err := b.WriteTo(w)
	return err
}

func words(c *svg.SVG, w Words) {
	more := []string{fmt.Sprintf(`font-size="%.4g"`, w.Size), `fill="` + grey(w.Grey) + `"`, `xml:space="preserve"`}
	if w.Face == pdf.Bold {
		more = append(more, `font-weight="bold"`)
	}
	if w.Anchor != Start {
		more = append(more, `text-anchor="`+[3]string{"start", "middle", "end"}[w.Anchor]+`"`)
	}
	if w.Turn != 0 {
		more = append(more, fmt.Sprintf(`transform="rotate(%.3f %.3f %.3f)"`, -w.Turn, w.At.X, w.At.Y))
	}
	c.Text(w.At.X, w.At.Y, printable(w.Text), more...)
}

// pathData writes paths, arcs as arcs.
func pathData(paths []pdf.Path) string {
	var b strings.Builder
	at := func(p pdf.Point) string { return svgpath.Decimal(p.X) + " " + svgpath.Decimal(p.Y) }
	for _, p := range paths {
		b.WriteString("M" + at(p.From))
		from := p.From
		for _, s := range p.Steps {
			if s.Bulge == 0 {
				b.WriteString("L" + at(s.To))
			} else {
				svgpath.Arc(&b, from.X, from.Y, s.To.X, s.To.Y, s.Bulge, at(s.To))
			}
			from = s.To
		}
		if p.Closed {
			b.WriteByte('Z')
		}
	}
	return b.String()
}

func grey(v int) string { return fmt.Sprintf("#%02x%02x%02x", v, v, v) }

func class(s string) string { return `class="` + s + `"` }

func dashes(p pdf.Pen) string {
	if len(p.Dash) == 0 {
		return ""
	}
	list := make([]string, len(p.Dash))
	for i, d := range p.Dash {
		list[i] = fmt.Sprintf("%g", d)
	}
	return ";stroke-dasharray:" + strings.Join(list, " ")
}

// printable replaces what XML cannot hold or what would turn the direction of a line.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if diag.Unprintable(r) {
			return '\uFFFD'
		}
		return r
	}, s)
}

package svg

import (
	"strings"

	"panelyard/parts/drawing"
	"panelyard/parts/drawing/curve"
)

// maxText is how many characters of a text are kept.
const maxText = 1000

// text adds a text to the drawing. One that lies far off is left out: it names
// nothing.
func (x *expansion) text(n *node, at place) error {
	m := measures{n: n, inch: x.inch, size: at.size}
	p := curve.Vec{X: m.first("x", across), Y: m.first("y", upright)}
	if n.words == nil {
		s := cut(n.content(), maxText)
		n.words = &s
	}
	if err := join(m.errs); err != nil {
		return err
	}
	if g, ok := at.view.Point(p).OnGrid(); ok && *n.words != "" {
		x.d.Texts = append(x.d.Texts, drawing.Text{
			Source: x.source(n, at), Layer: at.layer.name, At: g, Content: *n.words,
		})
	}
	return nil
}

// first reads the first of a list of places, which is that of the first character:
// of the text, or else of the first tspan that has one.
func (m *measures) first(name string, d direction) float64 {
	for n := m.n; n != nil; n = n.firstPart() {
		if s, ok := n.attr(name); ok {
			s = strings.TrimLeft(s[:min(len(s), maxValue)], " \t\r\n\f,")
			if i := strings.IndexAny(s, " \t\r\n\f,"); i >= 0 {
				s = s[:i]
			}
			return m.read(name, s, d, 0)
		}
	}
	return 0
}

// firstPart returns the tspan that a text begins with, nil if it begins with
// something else.
func (n *node) firstPart() *node {
	for _, c := range n.nodes {
		switch {
		case c.kind == "tspan":
			return c
		case c.kind == "" && strings.TrimSpace(c.text) != "":
			return nil
		}
	}
	return nil
}

// content returns the characters of a text, blanks made single, and a line for each
// tspan that begins one.
func (n *node) content() string {
	var b strings.Builder
	n.write(&b)
	var lines []string
	for line := range strings.SplitSeq(b.String(), "\v") {
		if line = strings.Join(strings.Fields(line), " "); line != "" {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "\n")
}

// write writes the characters, a \v, which XML has not, before each line.
func (n *node) write(b *strings.Builder) {
	for _, c := range n.nodes {
		switch c.kind {
		case "":
			b.WriteString(c.text)
		case "tspan", "a":
			_, x := c.attr("x")
			_, y := c.attr("y")
			_, dy := c.attr("dy")
			if x || y || dy {
				b.WriteByte('\v')
			}
			c.write(b)
		}
	}
}

// cut returns the first characters of a text.
func cut(s string, most int) string {
	if len(s) <= most {
		return s
	}
	for i := range s {
		if most--; most < 0 {
			return s[:i]
		}
	}
	return s
}

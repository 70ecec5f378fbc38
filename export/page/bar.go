package page

import (
	"fmt"
	"html/template"
	"strings"
)

// Segment is a part of a bar: its share of the scale, its shade, and whether it is
// dashed, as what is not there is drawn.
type Segment struct {
	Share  float64
	Shade  int
	Dashed bool
}

// Bar draws segments one after another, on a scale from 0 to 1 that is as wide as its
// place; segments of nothing are left out. The label says in words what is drawn.
func Bar(label string, segments ...Segment) template.HTML {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="bar" viewBox="-3 0 1006 40" preserveAspectRatio="none" role="img" aria-label="%s">`, template.HTMLEscapeString(label))
	x := 0.0
	for _, s := range segments {
		if s.Share <= 0 {
			continue
		}
		wide := 1000 * s.Share
		fmt.Fprintf(&b, `<rect x="%.2f" y="1" width="%.2f" height="38"%s vector-effect="non-scaling-stroke"/>`, x, wide, paint(s.Shade, s.Dashed))
		x += wide
	}
	b.WriteString("</svg>")
	return template.HTML(b.String())
}

// Swatch draws a shade for a key.
func Swatch(i int) template.HTML { return swatch(i, false) }

// DashedSwatch draws a dashed shade for a key.
func DashedSwatch(i int) template.HTML { return swatch(i, true) }

func swatch(i int, dashed bool) template.HTML {
	return Key(fmt.Sprintf(`<rect x=".5" y=".5" width="27" height="11"%s/>`, paint(i, dashed)))
}

// paint returns the attributes of a shade and its border.
func paint(shade int, dashed bool) string {
	s := fmt.Sprintf(` fill="%s" stroke="#333"`, Shade(shade))
	if dashed {
		s += ` stroke-dasharray="4 3"`
	}
	return s
}

package tolerance

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"

	"panelyard/export/page"
	"panelyard/parts/length"
)

//go:embed tolerance.tmpl
var source string

// HTML writes the report as one page without scripts that needs no network. The error is
// the writer's, or a defect of the page.
func HTML(w io.Writer, r *Report) error {
	return page.Write(w, source, template.FuncMap{"bars": bars}, r)
}

// scale is what the bars show; a longer one ends in an arrow.
const scale = 20 * length.Millimetre

// bars draws what a sheet has to spare in length and width, above and below, with a mark
// at what the worst sheet takes, and the spare that is trim beyond it.
func bars(s Sheet) template.HTML {
	var b strings.Builder
	trim := s.Room.Least.Sub(s.Room.Bare)
	fmt.Fprintf(&b, `<svg class="bars" viewBox="0 0 420 44" role="img" aria-label="length and width to spare">`)
	lost := s.Size.Sub(s.Worst)
	for i, v := range []struct{ spare, trim, lost length.Length }{{s.Slack.X, trim.X, lost.X}, {s.Slack.Y, trim.Y, lost.Y}} {
		y := 2 + 21*i
		x := func(l length.Length) float64 { return 400 * min(1, l.MM()/scale.MM()) }
		from := x(v.spare)
		fmt.Fprintf(&b, `<rect x="1" y="%d" width="%.2f" height="17" class="spare"/>`, y, from)
		fmt.Fprintf(&b, `<rect x="%.2f" y="%d" width="%.2f" height="17" class="trim"/>`, 1+from, y, x(v.spare+v.trim)-from)
		if v.spare > scale {
			fmt.Fprintf(&b, `<path d="M404 %dl12 8.5l-12 8.5z" class="more"/>`, y)
		}
		if v.lost > 0 {
			fmt.Fprintf(&b, `<path d="M%.2f %dv21" class="under"/><path d="M%.2f %dv21" class="lost"/>`, 1+x(v.lost), y-2, 1+x(v.lost), y-2)
		}
	}
	b.WriteString("</svg>")
	return template.HTML(b.String())
}

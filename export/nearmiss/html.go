package nearmiss

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"

	"panelyard/nest/near"
)

//go:embed nearmiss.tmpl
var source string

// HTML writes the page without scripts; it needs no network. The error is the writer's,
// or a defect of the page.
func HTML(w io.Writer, p *Page) error {
	t, err := template.New("nearmiss").Funcs(template.FuncMap{
		"bar": p.bar, "swatch": swatch,
	}).Parse(source)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := t.Execute(&b, p); err != nil {
		return err
	}
	_, err = w.Write(b.Bytes())
	return err
}

// shades are told apart without colour, and by their borders.
var shades = [2]string{"#999", "#fff"}

// bar draws what the boards of a suggestion cost with the change, and what is saved, on
// one scale for all suggestions that begins at nothing.
func (p *Page) bar(row Row) template.HTML {
	most := int64(1)
	for i := range p.Rows {
		most = max(most, before(p.Rows[i].of), after(p.Rows[i].of))
	}
	g := row.of
	kept := 1000 * float64(after(g)) / float64(most)
	saved := max(0, 1000*float64(g.Saved)/float64(most))
	return template.HTML(fmt.Sprintf(`<svg class="bar" viewBox="0 0 1000 40" preserveAspectRatio="none" role="img" aria-label="%s with the change, %s as written">`+
		`<rect x="0" y="1" width="%.2f" height="38" fill="%s" stroke="#333" vector-effect="non-scaling-stroke"/>`+
		`<rect x="%.2f" y="1" width="%.2f" height="38" fill="%s" stroke="#333" stroke-dasharray="4 3" vector-effect="non-scaling-stroke"/></svg>`,
		template.HTMLEscapeString(p.cost(after(g))), template.HTMLEscapeString(p.cost(before(g))), kept, shades[0], kept, saved, shades[1]))
}

func before(g *near.Suggestion) int64 { return total(g.Before) }
func after(g *near.Suggestion) int64  { return total(g.After) }

func total(list []near.Board) int64 {
	var sum int64
	for i := range list {
		sum += list[i].Cost
	}
	return sum
}

// swatch draws the shade of a key.
func swatch(i int) template.HTML {
	dash := ""
	if i == 1 {
		dash = ` stroke-dasharray="3 2"`
	}
	return template.HTML(fmt.Sprintf(`<svg viewBox="0 0 14 9" aria-hidden="true"><rect x=".5" y=".5" width="13" height="8" fill="%s" stroke="#333"%s/></svg>`, shades[i], dash))
}

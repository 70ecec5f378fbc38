package compare

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"

	"panelyard/export"
	"panelyard/export/page"
)

//go:embed compare.tmpl
var source string

// HTML writes the comparison as one page without scripts that needs no network. The
// error is the writer's, or a defect of the page.
func HTML(w io.Writer, c *Comparison) error {
	return page.Write(w, source, template.FuncMap{
		"bars":   func() []bars { return charts(c.Rows) },
		"swatch": page.Swatch,
	}, c)
}

// Work writes what the cutting takes: length of cuts with fence settings or time.
func (r *Row) Work() string {
	s := r.write.Metres(r.Cuts, 1) + " m"
	switch {
	case r.sawn():
		if r.Fences == 1 {
			return s + ", 1 fence setting"
		}
		return fmt.Sprintf("%s, %d fence settings", s, r.Fences)
	case r.Time > 0:
		return s + ", " + export.Minutes(r.Time)
	}
	return s
}

// bars is a chart: a bar a row, of segments on one scale.
type bars struct {
	Title string
	Key   []entry
	Bars  []bar
}

type entry struct {
	Name string
	Fill int // number of the shade, from dark to light
}

type bar struct {
	Row  *Row
	Text string // its whole, with the unit
	SVG  template.HTML
}

// charts returns the chart of cost, when all has a price in one currency, and that of
// board. A scale common to unlike amounts would mislead.
func charts(rows []Row) []bars {
	var list []*Row
	money := true
	for i := range rows {
		if r := &rows[i]; r.Planned() {
			list = append(list, r)
			money = money && r.Priced && r.Currency == list[0].Currency
		}
	}
	var out []bars
	if money {
		out = append(out, chart(strings.TrimSpace("Cost "+inBrackets(list)), []string{"board in panels", extras(list), "board in kept offcuts", "board wasted"}, list, func(r *Row) ([page.Shades]float64, string) {
			return [page.Shades]float64{r.Split.Panels.Float(), r.extras().Float(), r.Split.Kept.Float(), r.Split.Waste.Float()}, r.write.Amount(r.Cost)
		}))
	}
	return append(out, chart("Board (m2)", []string{"panels", "kerf and trim", "kept offcuts", "other waste"}, list, func(r *Row) ([page.Shades]float64, string) {
		a := r.Areas
		return [page.Shades]float64{a.Panels / 1e6, a.KerfTrim / 1e6, a.Kept / 1e6, a.Waste / 1e6}, r.M2(a.Sheet)
	}))
}

// extras names what is paid beside the board of the plans.
func extras(list []*Row) string {
	for _, r := range list {
		if r.Delivery > 0 || r.Spare > 0 {
			return "edge band, delivery, spare sheets"
		}
	}
	return "edge band"
}

func inBrackets(list []*Row) string {
	if len(list) == 0 || list[0].Currency == "" {
		return ""
	}
	return "(" + list[0].Currency + ")"
}

// chart draws the bars of rows. The scale begins at nothing.
func chart(title string, names []string, list []*Row, of func(*Row) ([page.Shades]float64, string)) bars {
	out := bars{Title: title}
	for i, n := range names {
		out.Key = append(out.Key, entry{n, i})
	}
	most := 0.0
	for _, r := range list {
		v, _ := of(r)
		most = max(most, v[0]+v[1]+v[2]+v[3])
	}
	for _, r := range list {
		v, text := of(r)
		var said []string
		for i := range v {
			said = append(said, names[i]+" "+r.write.Decimal(v[i], 2))
		}
		var segments []page.Segment
		for i := range v {
			if most > 0 {
				segments = append(segments, page.Segment{Share: v[i] / most, Shade: i})
			}
		}
		out.Bars = append(out.Bars, bar{r, text, page.Bar(strings.Join(said, ", "), segments...)})
	}
	return out
}

package batch

import (
	"cmp"
	"fmt"
	"html/template"
	"math"
	"slices"
	"strings"

	"panelyard/export/page"
)

// The measures of a chart, in units of its view box.
const (
	chartWide, chartHigh         = 1000.0, 330.0
	edgeLeft, edgeRight          = 84.0, 12.0
	edgeTop, edgeBottom          = 18.0, 44.0
	plotWide, plotHigh           = chartWide - edgeLeft - edgeRight, chartHigh - edgeTop - edgeBottom
	mostTicks                    = 6
	mostNumbers          float64 = 25 // along the bottom
)

// chart is a figure of the page.
type chart struct {
	Title, Note string
	Key         []key
	SVG         template.HTML
}

// key is a line of the key: a shade from dark to light, or a line.
type key struct {
	Name string
	Mark template.HTML
}

// frame is the axes of a chart with a place for every number from 1 to n.
type frame struct {
	n          int
	low, high  float64 // of the scale upwards
	step       float64
	b          strings.Builder
	decimals   int
	writeScale func(v float64, decimals int) string
}

// newFrame makes a frame for values from low to high, and draws its scale in steps of
// at least so much.
func newFrame(n int, low, high, least float64, what, label string, write func(float64, int) string) *frame {
	f := &frame{n: n, writeScale: write}
	f.step = math.Max(least, round(math.Max(high-low, 1e-9)/mostTicks))
	f.low, f.high = math.Floor(low/f.step)*f.step, math.Ceil(high/f.step)*f.step
	if f.high <= f.low {
		f.high = f.low + f.step
	}
	f.decimals = max(0, int(math.Ceil(-math.Log10(f.step)-1e-9)))
	fmt.Fprintf(&f.b, `<svg class="chart" viewBox="0 0 %g %g" role="img" aria-label="%s">`, chartWide, chartHigh, template.HTMLEscapeString(label))
	for i := 0; f.low+float64(i)*f.step <= f.high+f.step/2; i++ {
		v := f.low + float64(i)*f.step
		fmt.Fprintf(&f.b, `<line x1="%g" x2="%g" y1="%.2f" y2="%.2f" class="grid"/>`, edgeLeft, chartWide-edgeRight, f.y(v), f.y(v))
		f.text(edgeLeft-8, f.y(v)+5, "end", f.writeScale(v, f.decimals))
	}
	every := math.Max(1, round(float64(n)/mostNumbers))
	for i := 1; i <= n; i++ {
		if i == 1 || math.Mod(float64(i), every) == 0 && (every == 1 || i > 2) {
			f.text(f.x(i), chartHigh-edgeBottom+18, "middle", fmt.Sprint(i))
		}
	}
	f.text(edgeLeft+plotWide/2, chartHigh-5, "middle", what)
	return f
}

// round returns the next of 1, 2, 5, 10, 20, 50 ..., also below 1.
func round(v float64) float64 {
	unit := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{1, 2, 5} {
		if v <= m*unit*(1+1e-9) {
			return m * unit
		}
	}
	return 10 * unit
}

func (f *frame) x(number int) float64 {
	return edgeLeft + plotWide*(float64(number)-0.5)/float64(f.n)
}

func (f *frame) y(v float64) float64 {
	return edgeTop + plotHigh*(1-(v-f.low)/(f.high-f.low))
}

func (f *frame) text(x, y float64, anchor, text string) {
	fmt.Fprintf(&f.b, `<text x="%.2f" y="%.2f" text-anchor="%s">%s</text>`, x, y, anchor, template.HTMLEscapeString(text))
}

// stair draws a level a number, joined upright.
func (f *frame) stair(class string, values []float64) {
	half := plotWide / float64(f.n) / 2
	var d strings.Builder
	for i, v := range values {
		c := "L"
		if i == 0 {
			c = "M"
		}
		fmt.Fprintf(&d, "%s%.2f %.2fH%.2f", c, f.x(i+1)-half, f.y(v), f.x(i+1)+half)
	}
	fmt.Fprintf(&f.b, `<path d="%s" class="%s"/>`, d.String(), class)
}

// column draws segments on each other from the bottom.
func (f *frame) column(number int, values []float64) {
	wide := math.Min(46, 0.72*plotWide/float64(f.n))
	sum := 0.0
	for i, v := range values {
		if v <= 0 {
			continue
		}
		fmt.Fprintf(&f.b, `<rect x="%.2f" y="%.2f" width="%.2f" height="%.2f" fill="%s" class="part"/>`,
			f.x(number)-wide/2, f.y(sum+v), wide, f.y(sum)-f.y(sum+v), page.Shade(i))
		sum += v
	}
}

func (f *frame) end() template.HTML {
	f.b.WriteString("</svg>")
	return template.HTML(f.b.String())
}

// rule draws the line of a key.
func rule(class string) template.HTML {
	return page.Key(fmt.Sprintf(`<path d="M0 6H28" class="%s"/>`, class))
}

// charts returns the figures of the page.
func (b *Batch) charts() []chart {
	if len(b.Rows) == 0 {
		return nil
	}
	return []chart{b.costChart(), b.sheetChart(), b.boardChart()}
}

// costChart draws what one of so many costs, and what it costs at least; where not
// everything has a price, the board that one takes.
func (b *Batch) costChart() chart {
	var each, least []float64
	bounded := b.Priced()
	c := chart{Title: strings.TrimSpace("Cost each " + inBrackets(b.Job.Currency)), Key: []key{{"each, of so many", rule("line")}}}
	for i := range b.Rows {
		r := &b.Rows[i]
		n := float64(r.Number)
		bounded = bounded && r.Bounded
		if b.Priced() {
			each, least = append(each, r.Cost.Float()/n), append(least, r.Least.Float()/n)
		} else {
			each = append(each, r.Areas.Sheet/1e6/n)
		}
	}
	if !b.Priced() {
		c.Title = "Board each (m2)"
	}
	low, high := slices.Min(each), slices.Max(each)
	if bounded {
		low, high = min(low, slices.Min(least)), max(high, slices.Max(least))
	}
	f := newFrame(len(each), low, high, 0, "cabinets", c.Title+" against the number of cabinets", b.write.Decimal)
	if bounded {
		f.stair("least", least)
		c.Key = append(c.Key, key{"the least it can cost: no plan is below", rule("least")})
	}
	f.stair("line", each)
	if b.Best != nil {
		i := b.Best.Number
		fmt.Fprintf(&f.b, `<circle cx="%.2f" cy="%.2f" r="6" class="best"/>`, f.x(i), f.y(each[i-1]))
		c.Key = append(c.Key, key{"the best number", page.Key(`<circle cx="14" cy="6" r="4" class="best"/>`)})
	}
	if f.low > 0 {
		c.Note = fmt.Sprintf("The scale begins at %s.", f.writeScale(f.low, f.decimals))
	}
	if !b.Complete() {
		c.Note = strings.TrimSpace(c.Note + " Where panels lack a place, it is the figure of what is placed.")
	}
	c.SVG = f.end()
	return c
}

func inBrackets(s string) string {
	if s == "" {
		return ""
	}
	return "(" + s + ")"
}

// kinds returns the kinds of sheet of all numbers, those first of which most are taken,
// and what most sheets of a number are. Kinds of as many sheets are in the order in which
// they are first taken.
func (b *Batch) kinds() (names []string, most int) {
	count := map[string]int{}
	for i := range b.Rows {
		r := &b.Rows[i]
		sheets := 0
		for _, k := range r.Kinds {
			if _, known := count[k.Name]; !known {
				names = append(names, k.Name)
			}
			count[k.Name] += k.Count
			sheets += k.Count
		}
		most = max(most, sheets, r.LeastSheets)
	}
	slices.SortStableFunc(names, func(x, y string) int { return cmp.Compare(count[y], count[x]) })
	return names, most
}

// sheetChart draws the sheets of each number, and the fewest it can take. Those to spare
// are not drawn, as they are not of the sheets of a row.
func (b *Batch) sheetChart() chart {
	c := chart{Title: "Sheets"}
	kinds, most := b.kinds()
	at := map[string]int{}
	for i, k := range kinds {
		at[k] = min(i, page.Shades-1)
		if i == page.Shades-1 && len(kinds) > page.Shades {
			k = "other sheets"
		}
		if i < page.Shades {
			c.Key = append(c.Key, key{k, page.Swatch(i)})
		}
	}
	c.Key = append(c.Key, key{"the fewest there can be", rule("fewest")})
	f := newFrame(len(b.Rows), 0, float64(most), 1, "cabinets", "Sheets against the number of cabinets", func(v float64, _ int) string { return b.write.Decimal(v, 0) })
	half := math.Min(29, 0.45*plotWide/float64(f.n))
	for i := range b.Rows {
		r := &b.Rows[i]
		var values [page.Shades]float64
		for _, k := range r.Kinds {
			values[at[k.Name]] += float64(k.Count)
		}
		f.column(r.Number, values[:])
		if len(b.Rows) <= 30 {
			f.text(f.x(r.Number), f.y(float64(r.Sheets))-4, "middle", fmt.Sprintf("%+d", r.Added))
		}
		y := f.y(float64(r.LeastSheets))
		// Twice: a light line under a dark one is seen on every shade.
		for _, class := range []string{"under", "fewest"} {
			fmt.Fprintf(&f.b, `<path d="M%.2f %.2fH%.2f" class="%s"/>`, f.x(r.Number)-half, y, f.x(r.Number)+half, class)
		}
	}
	if len(b.Rows) <= 30 {
		c.Note = "Above each column: how many sheets more than for one less."
	}
	if slices.ContainsFunc(b.Rows, func(r Row) bool { return r.spare() > 0 }) {
		c.Note = strings.TrimSpace(c.Note + " Sheets to spare are not drawn.")
	}
	c.SVG = f.end()
	return c
}

// boardChart draws where the board of one of so many goes.
func (b *Batch) boardChart() chart {
	c := chart{Title: "Where the board goes, each (m2)"}
	for i, name := range []string{"panels", "kerf and trim", "kept offcuts", "other waste"} {
		c.Key = append(c.Key, key{name, page.Swatch(i)})
	}
	most := 0.0
	for i := range b.Rows {
		most = math.Max(most, b.Rows[i].Areas.Sheet/1e6/float64(b.Rows[i].Number))
	}
	f := newFrame(len(b.Rows), 0, most, 0, "cabinets", c.Title+" against the number of cabinets", b.write.Decimal)
	for i := range b.Rows {
		a, n := b.Rows[i].Areas, 1e6*float64(b.Rows[i].Number)
		f.column(b.Rows[i].Number, []float64{a.Panels / n, a.KerfTrim / n, a.Kept / n, a.Waste / n})
	}
	c.SVG = f.end()
	return c
}

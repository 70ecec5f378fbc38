package svgmap

import (
	"bytes"
	"fmt"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

const mm = length.Millimetre

// many is a job with over a hundred small panels on a sheet.
func many() *parts.Job {
	j := exporttest.Job()
	add := func(name string, n int, l, w length.Length) {
		j.Panels = append(j.Panels, parts.Panel{
			Name: name, Quantity: n, Material: "birch 18", Outline: outline.Rectangle(l, w), Edging: make([]string, 4),
		})
	}
	for i := range 20 {
		add(fmt.Sprintf("drawer front with a rather long name %d", i), 6, length.Length(60+7*i)*mm, 60*mm)
	}
	add("plug", 8, 14*mm, 9*mm)
	return j
}

// whole is a job whose one panel is the usable sheet, in inches.
func whole() *parts.Job {
	j := exporttest.Job()
	j.Units = length.IN
	j.Panels = []parts.Panel{{
		Name: "table top", Quantity: 1, Material: "birch 18", Grain: parts.AlongLength, Edging: make([]string, 4),
		Outline: outline.Rectangle(2430*mm, 1210*mm),
	}}
	return j
}

var (
	once  sync.Once
	plans map[string]*export.Dossier
)

// dossiers returns the plans that the tests look at, made once.
func dossiers(t *testing.T) map[string]*export.Dossier {
	t.Helper()
	once.Do(func() {
		plans = map[string]*export.Dossier{
			"saw":    exporttest.Dossier(t, exporttest.Job(), kerf.Saw),
			"stands": exporttest.Dossier(t, exporttest.Stands(), kerf.Saw),
			"router": exporttest.Dossier(t, exporttest.Job(), kerf.Router),
			"nasty":  exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), kerf.Saw),
			"many":   exporttest.Dossier(t, many(), kerf.Saw),
			"whole":  exporttest.Dossier(t, whole(), kerf.Saw),
		}
	})
	return plans
}

// drawMap returns the document of a map.
func drawMap(t rapid.TB, d *export.Dossier, i int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, d, i, Look{}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// anySheet draws a dossier of one sheet that no solver made: a sheet of any size
// divided by cuts into panels and offcuts, some shaped, some with an opening.
func anySheet(t *rapid.T) *export.Dossier {
	size := func(name string, most int) length.Length {
		return length.Length(rapid.IntRange(20, most).Draw(t, name)) * mm
	}
	stock := parts.Stock{Name: anyName(t), Length: size("length", 33000), Width: size("width", 33000), Grain: parts.Axis(rapid.IntRange(0, 2).Draw(t, "grain"))}
	if rapid.Bool().Draw(t, "usual size") {
		stock.Length, stock.Width = 2440*mm, 1220*mm
	}
	trim := length.Length(rapid.IntRange(0, 8).Draw(t, "trim")) * mm
	job := &parts.Job{Name: anyName(t), Units: rapid.SampledFrom([]length.Unit{length.MM, length.IN}).Draw(t, "unit")}
	raw := geom.BoxFromSize(geom.Point{}, geom.Pt(stock.Length, stock.Width))
	d := &export.Dossier{Job: job, Demand: &kerf.Demand{Job: job, Kerf: 3 * mm, Gap: 3 * mm, Cut: kerf.Cut(rapid.IntRange(0, 1).Draw(t, "cut"))}}
	d.Panels = make([]export.PanelRow, 0, 600) // rows are pointed at
	m := export.SheetMap{ID: "S1", Stock: &stock, Material: &parts.Material{Name: anyName(t), Measured: 18 * mm}, Usable: raw.Inset(trim, trim, trim, trim), MassKG: 31}
	divide(t, d, &m, m.Usable, rapid.IntRange(0, 9).Draw(t, "depth"))
	d.Sheets = []export.SheetMap{m}
	d.Cautions = []export.Caution{{Topic: "heavy sheet", Sheets: []string{"S1"}}}
	return d
}

// anyName draws a name of letters of all sorts.
func anyName(t *rapid.T) string {
	if rapid.IntRange(0, 9).Draw(t, "nasty") == 0 {
		return rapid.SampledFrom(exporttest.Nasty).Draw(t, "name")
	}
	return strings.Repeat("panel ", rapid.IntRange(0, 6).Draw(t, "words")) + "x"
}

// divide cuts a box in two until depth is used up, and makes a panel or an offcut
// of what is left.
func divide(t *rapid.T, d *export.Dossier, m *export.SheetMap, b geom.Box, depth int) {
	const k = 3 * mm
	if depth > 0 {
		at := rapid.IntRange(10, 90).Draw(t, "at")
		if b.Dx() > b.Dy() && b.Dx() > 20*k {
			x := b.Min.X + b.Dx()*length.Length(at)/100
			m.Cuts = append(m.Cuts, nest.Cut{From: geom.Pt(x, b.Min.Y), To: geom.Pt(x, b.Max.Y), Fence: x - b.Min.X, Trim: at > 80})
			divide(t, d, m, geom.Box{Min: b.Min, Max: geom.Pt(x-k/2, b.Max.Y)}, depth-1)
			divide(t, d, m, geom.Box{Min: geom.Pt(x+k/2, b.Min.Y), Max: b.Max}, depth-1)
			return
		}
		if b.Dy() > 20*k {
			y := b.Min.Y + b.Dy()*length.Length(at)/100
			m.Cuts = append(m.Cuts, nest.Cut{From: geom.Pt(b.Min.X, y), To: geom.Pt(b.Max.X, y), Fence: y - b.Min.Y})
			divide(t, d, m, geom.Box{Min: b.Min, Max: geom.Pt(b.Max.X, y-k/2)}, depth-1)
			divide(t, d, m, geom.Box{Min: geom.Pt(b.Min.X, y+k/2), Max: b.Max}, depth-1)
			return
		}
	}
	if rapid.IntRange(0, 6).Draw(t, "offcut") == 0 {
		m.Offcuts = append(m.Offcuts, nest.Offcut{Box: b, Keep: rapid.Bool().Draw(t, "keep")})
		return
	}
	n := len(d.Panels)
	row := export.PanelRow{
		Key: fmt.Sprint(n + 1), Name: anyName(t), Copies: rapid.IntRange(1, 3).Draw(t, "copies"), Cut: b.Size(), Blank: b.Size(),
		Grain: parts.Axis(rapid.IntRange(0, 2).Draw(t, "grain")), Hand: parts.Hand(rapid.IntRange(0, 2).Draw(t, "hand")),
	}
	pl := export.PlacedPanel{Copy: 1, Blank: b, Outline: outline.Rectangle(b.Dx(), b.Dy()).Translate(b.Min), Flip: rapid.IntRange(0, 5).Draw(t, "flip") == 0}
	if rapid.IntRange(0, 3).Draw(t, "shaped") == 0 {
		row.Shaped = true
		pl.Outline[1].At.Y += b.Dy() / 2 // a corner cut off, and an arc
		pl.Outline[2].Bulge = -min(0.2, b.Dy().MM()/b.Dx().MM()/2)
	}
	pl.Shape.Outer = pl.Outline.Cover(100 * length.Micrometre)
	if s := min(b.Dx(), b.Dy()); s > 60*mm && rapid.IntRange(0, 3).Draw(t, "opening") == 0 {
		hole := outline.Circle(s / 4).Translate(geom.Pt(b.Min.X+b.Dx()/8, b.Min.Y+b.Dy()*5/8))
		pl.Openings = []outline.Outline{hole}
		pl.Shape.Holes = []geom.Ring{hole.Core(100 * length.Micrometre).Reversed()}
	}
	d.Panels = append(d.Panels, row)
	pl.Row = &d.Panels[n]
	m.Placements = append(m.Placements, pl)
}

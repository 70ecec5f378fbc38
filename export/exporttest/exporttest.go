// Package exporttest makes dossiers for the tests of the documents.
package exporttest

import (
	"context"
	"math"
	"strings"

	"panelyard/export"
	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/choose"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/money"
	"panelyard/parts/outline"
)

const mm = length.Millimetre

// Nasty are panel names that break careless writers.
var Nasty = []string{
	`=SUM(A1:A9)`, `+1`, `-2+3`, `@x`, `<script>alert("x")</script>`, `it's "5 & 6"`, "🪵 shelf", "لوح يمين",
	strings.Repeat("long name ", 20), "a\u202Eb", "]]>", `C:\x\y`, "comma, semicolon; and\ttab",
}

// Job returns a small cabinet: a mirrored pair of curved sides, a front with a
// display opening and two round ones, banded shelves, a back of another board.
// Panels with the given names, one each of 300 x 80, are added.
func Job(names ...string) *parts.Job {
	j := &parts.Job{
		Name: "Tide-table kiosk, small", File: "kiosk.yaml", Units: length.MM, Currency: "EUR",
		Tolerance: parts.DefaultTolerance,
		Materials: []parts.Material{
			{Name: "birch 18", Nominal: 18 * mm, Measured: 17700 * length.Micrometre, Density: 685, Grained: true, GoodFaces: 1},
			{Name: "MDF 6", Nominal: 6 * mm, Measured: 6 * mm, Density: 820, GoodFaces: 2},
		},
		Stock: []parts.Stock{
			{
				Name: "birch 2440 x 1220", Material: "birch 18", Length: 2440 * mm, Width: 1220 * mm, Grain: parts.AlongLength,
				Price: 92 * money.One, Priced: true, Available: parts.Unlimited, Trim: parts.Trim{Left: 5 * mm, Right: 5 * mm, Bottom: 5 * mm, Top: 5 * mm},
			},
			{
				Name: "MDF 1220 x 610", Material: "MDF 6", Length: 1220 * mm, Width: 610 * mm,
				Price: 9 * money.One, Priced: true, Available: parts.Unlimited, Trim: parts.Trim{Left: 5 * mm, Right: 5 * mm, Bottom: 5 * mm, Top: 5 * mm},
			},
		},
		Bands:  []parts.Band{{Name: "oak 1", Thickness: mm, Price: money.One * 85 / 100, Priced: true}},
		Saw:    parts.Saw{Kerf: parts.DefaultKerf, Allowance: parts.DefaultAllowance},
		Router: parts.Router{Bit: parts.DefaultBit, Gap: parts.DefaultGap, Margin: parts.DefaultMargin},
		Keep:   parts.KeepRule{Short: parts.DefaultKeepShort, Long: parts.DefaultKeepLong},
	}
	side := outline.Outline{
		{At: geom.Pt(0, 0), Edge: "bottom"},
		{At: geom.Pt(900*mm, 0), Edge: "back"},
		{At: geom.Pt(900*mm, 300*mm), Edge: "top", Bulge: 0},
		{At: geom.Pt(600*mm, 420*mm), Edge: "front", Bulge: -0.15},
		{At: geom.Pt(0, 420*mm), Edge: "foot"},
	}
	flipped := side.Flipped()
	flipped = flipped.Translate(flipped.Box().Min.Neg())
	front := outline.Rectangle(700*mm, 500*mm)
	add := func(p parts.Panel) {
		if p.Edging == nil {
			p.Edging = make([]string, len(p.Outline))
		}
		p.Pos.File = j.File
		j.Panels = append(j.Panels, p)
	}
	add(parts.Panel{Name: "side-left", Quantity: 1, Material: "birch 18", Grain: parts.AlongLength, Outline: side, Hand: parts.Left, PairOf: "side"})
	add(parts.Panel{Name: "side-right", Quantity: 1, Material: "birch 18", Grain: parts.AlongLength, Outline: flipped, Hand: parts.Right, Mirrored: true, PairOf: "side"})
	add(parts.Panel{
		Name: "front", Quantity: 1, Material: "birch 18", Grain: parts.AlongWidth, Outline: front,
		Openings: []parts.Opening{
			{Name: "display", Outline: outline.RoundedRectangle(500*mm, 280*mm, [4]length.Length{8 * mm, 8 * mm, 8 * mm, 8 * mm}).Translate(geom.Pt(100*mm, 180*mm))},
			{Name: "loudspeaker left", Outline: outline.Circle(90 * mm).Translate(geom.Pt(80*mm, 50*mm))},
			{Name: "loudspeaker right", Outline: outline.Circle(90 * mm).Translate(geom.Pt(530*mm, 50*mm))},
		},
		Note: "display opening lines up with the shelf",
	})
	add(parts.Panel{
		Name: "shelf", Quantity: 3, Material: "birch 18", Grain: parts.AlongLength, Outline: outline.Rectangle(664*mm, 280*mm),
		Edging: []string{"oak 1", "", "", ""},
	})
	add(parts.Panel{Name: "back", Quantity: 1, Material: "MDF 6", Outline: outline.Rectangle(880*mm, 580*mm), EitherFace: true})
	for _, n := range names {
		add(parts.Panel{Name: n, Quantity: 1, Material: "birch 18", Outline: outline.Rectangle(300*mm, 80*mm), Note: n})
	}
	return j
}

// Stands returns a job of an odd number of gussets along the grain, and of curved
// brackets, of which left and right are mirror images. For the saw it takes two sheets
// fewer when blanks are shared.
func Stands() *parts.Job {
	j := Job()
	j.Name = "Stands of the tide exhibition"
	j.Bands = nil
	j.Stock[0].Length, j.Stock[0].Width = 1220*mm, 1220*mm
	j.Stock[1].Length, j.Stock[1].Width = 1220*mm, 1220*mm
	gusset := outline.Outline{{At: geom.Pt(0, 0)}, {At: geom.Pt(560*mm, 0)}, {At: geom.Pt(0, 350*mm)}}
	quarter := math.Tan(math.Pi / 8) // the bulge of a quarter circle
	bracket := outline.Outline{
		{At: geom.Pt(300*mm, 0)},
		{At: geom.Pt(420*mm, 0), Bulge: quarter},
		{At: geom.Pt(0, 420*mm)},
		{At: geom.Pt(0, 300*mm), Bulge: -quarter},
	}
	mirrored := bracket.Flipped()
	mirrored = mirrored.Translate(mirrored.Box().Min.Neg())
	j.Panels = nil
	for _, p := range []parts.Panel{
		{Name: "gusset", Quantity: 13, Material: "birch 18", Grain: parts.AlongLength, Outline: gusset},
		{Name: "shelf", Quantity: 1, Material: "birch 18", Grain: parts.AlongLength, Outline: outline.Rectangle(590*mm, 200*mm)},
		{Name: "bracket-left", Quantity: 5, Material: "MDF 6", Outline: bracket, Hand: parts.Left, PairOf: "bracket"},
		{Name: "bracket-right", Quantity: 5, Material: "MDF 6", Outline: mirrored, Hand: parts.Right, Mirrored: true, PairOf: "bracket"},
	} {
		p.Edging = make([]string, len(p.Outline))
		p.Pos.File = j.File
		j.Panels = append(j.Panels, p)
	}
	return j
}

// TB is what a test and a check of a property have in common.
type TB interface {
	Helper()
	Fatal(args ...any)
}

// Dossier plans a job under a small counted budget and returns its dossier. It
// is a fatal error when the job cannot be planned.
func Dossier(tb TB, job *parts.Job, cut kerf.Cut) *export.Dossier {
	tb.Helper()
	d, list := kerf.Build(job, cut)
	if err := list.Err(); err != nil {
		tb.Fatal(err)
	}
	p := nest.FromDemand(d)
	r, err := choose.Plan(context.Background(), p, nest.Settings{Seed: 1, Budget: 1})
	if err != nil {
		tb.Fatal(err)
	}
	return export.New(d, p, r, 1)
}

// Bought returns [Job] with sheets from two yards, prices by quantity, drops that are
// paid for, and a sheet of each board to spare.
func Bought() *parts.Job {
	j := Job()
	j.Spare = 1
	j.Yards = []parts.Yard{{Name: "harbour yard"}, {Name: "mill & sons", Drop: 60 * money.One, Sheets: 2, KG: 1000}}
	for i := range j.Stock {
		j.Stock[i].Yard = j.Yards[1].Name
	}
	j.Stock[0].Breaks = []parts.Break{{From: 2, Price: 80 * money.One}, {From: 6, Price: 70 * money.One}}
	return j
}

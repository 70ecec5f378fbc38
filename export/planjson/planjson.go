// Package planjson writes a plan as JSON for other programs. The format is
// "panelyard-plan", version 1: origin at the sheet's lower left seen from the
// good face, x along the length, millimetres as exact decimals, areas in square
// millimetres, money in whole units of the currency.
//
//	*export.Dossier -> plan.json
//
// Outlines and holes are the polylines the plan was judged with: an outline
// contains the panel, a hole is contained in the opening, within the job's
// tolerance.
package planjson

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"regexp"
	"strconv"

	"panelyard/export"
	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/money"
)

// Format and Version name the format in the file.
const (
	Format  = "panelyard-plan"
	Version = 1
)

// Write writes the plan of d. The error is the writer's. Cost: the vertices of
// all placements.
func Write(w io.Writer, d *export.Dossier) error {
	f := Document{
		Format: Format, Version: Version, Units: "mm", Currency: d.Job.Currency, Job: d.Job.Name, Variant: d.Variant,
		JobFile: d.Job.File, Cut: d.Demand.Cut.String(), Seed: d.Seed, Kerf: mm(d.Demand.Kerf), Gap: mm(d.Demand.Gap),
		Sheets: []Sheet{}, Unplaced: []Unplaced{}, Buy: []Buy{}, Edging: []Band{}, Cautions: []Caution{},
	}
	for i := range d.Sheets {
		f.Sheets = append(f.Sheets, newSheet(&d.Sheets[i], d.Demand.Cut))
	}
	for _, u := range d.Unplaced {
		f.Unplaced = append(f.Unplaced, Unplaced{u.Row.Name, u.Copies, u.Reason})
	}
	for _, x := range d.Done {
		f.Done = append(f.Done, Done{x.Name, x.Copy, x.Sheet})
	}
	f.Before = newBefore(d)
	for _, b := range d.Buy {
		f.Buy = append(f.Buy, Buy{b.Stock.Name, b.Count, b.Spare, amount(b.Price), amount(b.Cost)})
	}
	for _, x := range d.Drops {
		f.Drops = append(f.Drops, Drop{x.Yard.Name, x.Sheets, number(x.KG, 3), x.Count, amount(x.Cost)})
	}
	for _, b := range d.Bands {
		f.Edging = append(f.Edging, Band{b.Band.Name, mm(b.Length), amount(b.Cost)})
	}
	for _, c := range d.Cautions {
		f.Cautions = append(f.Cautions, Caution(c))
	}
	f.Bound = Bound{d.Bound.Sheets, amount(d.Bound.Cost), d.Bound.Method, d.Bound.Proved, d.Bound.Text}
	t := &d.Totals
	f.Totals = Totals{
		PartsArea: number(t.Areas.Panels, 2), SheetArea: number(t.Areas.Sheet, 2), Yield: number(t.Yield, 6),
		KerfArea: number(t.Areas.Kerf, 2), TrimArea: number(t.Areas.KerfTrim-t.Areas.Kerf, 2),
		OffcutArea: number(t.Areas.Kept, 2), WasteArea: number(t.Areas.Waste, 2),
		Board: amount(t.Board), Delivery: amount(t.Delivery), Edging: amount(t.Edging), Cost: amount(t.Cost),
		MassKG: number(t.MassKG, 3), CutLength: mm(t.CutLength), Fences: t.Fences, Stages: t.Stages,
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	if err := e.Encode(&f); err != nil {
		return err
	}
	_, err := w.Write(spread.ReplaceAll(b.Bytes(), []byte("[$1,$2$3$4]")))
	return err
}

// spread matches a point, or a vertex with its bulge, that indenting has spread over
// lines. No string
// can hold one: a line break in a JSON string is written \n.
var spread = regexp.MustCompile(`\[\n\s*(-?[0-9.]+),\n\s*(-?[0-9.]+)(?:(,)\n\s*(-?[0-9.]+))?\n\s*\]`)

func newSheet(m *export.SheetMap, by kerf.Cut) Sheet {
	s := Sheet{
		ID: m.ID, Stock: m.Stock.Name, Material: m.Stock.Material, Length: mm(m.Stock.Length), Width: mm(m.Stock.Width),
		Grain: grain(m.Stock.Grain), Price: amount(m.Stock.Price), Priced: m.Stock.Priced, Offcut: m.Stock.Offcut, InHand: m.Stock.InHand, MassKG: number(m.MassKG, 3),
		Trim: Trim{
			mm(m.Usable.Min.X), mm(m.Stock.Length - m.Usable.Max.X), mm(m.Usable.Min.Y), mm(m.Stock.Width - m.Usable.Max.Y),
		},
		Placements: []Placement{}, Cuts: []Cut{}, Offcuts: []Offcut{},
	}
	for i := range m.Placements {
		p := &m.Placements[i]
		pl := Placement{
			Part: p.Row.Name, Copy: p.Copy, Outline: ring(p.Shape.Outer), Holes: [][]Point{},
			Blank: newBox(p.Blank), Shared: p.With != nil, Rotation: p.Turn, Flipped: p.Flip,
		}
		for _, k := range p.Kerfs {
			pl.KerfLines = append(pl.KerfLines, [2]Point{at(k[0].At), at(k[1].At)})
		}
		for _, h := range p.Shape.Holes {
			pl.Holes = append(pl.Holes, ring(h))
		}
		s.Placements = append(s.Placements, pl)
	}
	if by == kerf.Saw {
		for i := range m.Cuts {
			s.Cuts = append(s.Cuts, newCut(i, &m.Cuts[i]))
		}
	}
	for i := range m.Paths {
		s.Paths = append(s.Paths, newPath(i, &m.Paths[i]))
	}
	for _, o := range m.Offcuts {
		s.Offcuts = append(s.Offcuts, Offcut{newBox(o.Box), o.Keep})
	}
	return s
}

func newCut(i int, c *nest.Cut) Cut {
	return Cut{Order: i + 1, From: at(c.From), To: at(c.To), Fence: mm(c.Fence), Trim: c.Trim, First: c.BreakDown, Stage: c.Stage}
}

func newBox(b geom.Box) Box { return Box{mm(b.Min.X), mm(b.Min.Y), mm(b.Dx()), mm(b.Dy())} }

func ring(r geom.Ring) []Point {
	pts := make([]Point, len(r))
	for i, p := range r {
		pts[i] = at(p)
	}
	return pts
}

func at(p geom.Point) Point { return Point{mm(p.X), mm(p.Y)} }

func mm(l length.Length) json.Number { return json.Number(l.Decimal()) }

func amount(a money.Amount) json.Number { return json.Number(a.String()) }

func grain(a parts.Axis) string { return a.String() }

// number writes a computed value with a fixed number of decimals; a value that
// is no number, which would be a defect, becomes null's stand-in 0.
func number(v float64, decimals int) json.Number {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "0"
	}
	return json.Number(strconv.FormatFloat(v, 'f', decimals, 64))
}

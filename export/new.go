package export

import (
	"cmp"
	"fmt"
	"strconv"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/length"
	"panelyard/parts/money"
	"panelyard/parts/outline"
)

// New computes everything the papers print about a judged plan. The result must
// be for the problem that [nest.FromDemand] makes of d. Cost: the placements and
// cuts, times the vertices of a panel.
func New(d *kerf.Demand, p *nest.Problem, r *nest.Result, seed uint64) *Dossier {
	x := &Dossier{Job: d.Job, Variant: d.Job.Variant, Demand: d, Problem: p, Plan: r.Plan, Seed: seed}
	x.panels()
	x.sheets()
	x.shared()
	x.buy()
	x.bands()
	for _, u := range r.Plan.Unplaced {
		x.Unplaced = append(x.Unplaced, UnplacedRow{Row: &x.Panels[u.Part], Copies: u.Copies, Reason: u.Reason})
	}
	if x.routed() {
		x.route()
	}
	x.openings()
	x.total()
	x.Bound = boundLine(x, r)
	x.Cautions = cautions(x)
	return x
}

// panels makes the lines of the cut list.
func (x *Dossier) panels() {
	for i := range x.Demand.Items {
		it := &x.Demand.Items[i]
		p := it.Panel
		m := x.Job.Material(p.Material)
		row := PanelRow{
			Item: it, Key: strconv.Itoa(i + 1), Name: p.Name, Hand: p.Hand, Copies: it.Copies, Of: max(it.Copies, p.Of),
			Material: p.Material, Thickness: m.Measured, Finished: p.Size(), Cut: it.CutOutline.Box().Size(),
			Blank: it.Blank, Shaped: it.Shaped(), Openings: len(it.CutOpenings), Grain: p.Grain,
			Edging: edgeLines(p), AreaMM2: it.CutOutline.AreaMM2(), Note: p.Note,
			Sheets: make([]string, it.Copies),
		}
		for _, o := range it.CutOpenings {
			row.AreaMM2 -= o.AreaMM2()
		}
		row.MassKG = m.MassKG(row.AreaMM2)
		x.Panels = append(x.Panels, row)
	}
}

// edgeLines returns the banded edges of a panel; segments of one name and band
// are one edge.
func edgeLines(p *parts.Panel) []EdgeLine {
	var lines []EdgeLine
next:
	for i, band := range p.Edging {
		if band == "" {
			continue
		}
		l := p.Outline.SegmentLength(i)
		name := p.Outline[i].Edge
		if name == "" {
			name = "edge " + strconv.Itoa(i+1)
		}
		for k := range lines {
			if lines[k].Edge == name && lines[k].Band == band {
				lines[k].Length += l
				continue next
			}
		}
		lines = append(lines, EdgeLine{Edge: name, Band: band, Length: l})
	}
	return lines
}

// sheets makes the sheet maps.
func (x *Dossier) sheets() {
	fence := length.Length(-1) // set to nothing yet
	for i := range x.Plan.Sheets {
		s := &x.Plan.Sheets[i]
		st := &x.Demand.Sheets[s.Stock]
		m := SheetMap{
			ID: cmp.Or(s.ID, fmt.Sprintf("S%d", i+1)), Stock: st.Stock, Material: x.Job.Material(st.Stock.Material),
			Usable: st.Usable, Cuts: s.Cuts, Offcuts: s.Offcuts,
		}
		for _, pl := range s.Placements {
			m.Placements = append(m.Placements, x.place(pl))
			x.Panels[pl.Part].Sheets[pl.Copy-1] = m.ID
		}
		mate(m.Placements, s.Placements)
		m.Areas = x.areas(&m)
		m.MassKG = m.Material.MassKG(m.Areas.Sheet)
		if x.Demand.Cut == kerf.Saw {
			fence = x.steps(&m, fence)
		}
		x.Sheets = append(x.Sheets, m)
	}
}

// place puts the true outline of a panel where a placement says.
func (x *Dossier) place(pl nest.Placement) PlacedPanel {
	row := &x.Panels[pl.Part]
	it := row.Item
	pp := PlacedPanel{Row: row, Copy: it.Panel.Number(pl.Copy), Turn: pl.Turn, Flip: pl.Flip}
	pp.Shape, pp.Blank = x.Problem.Place(pl)
	if pl.IsShared() {
		pp.Blank = pl.Shared
		row.Sharing++
	}
	move := func(o outline.Outline) outline.Outline {
		o = o.Translate(it.Inset)
		if pl.Flip {
			o = o.Flipped()
		}
		return o.Turned(pl.Turn)
	}
	d := x.Problem.Shift(pl)
	pp.Outline = move(it.CutOutline).Translate(d)
	for _, o := range it.CutOpenings {
		pp.Openings = append(pp.Openings, move(o).Translate(d))
	}
	for _, k := range it.KerfLines {
		pp.Kerfs = append(pp.Kerfs, move(outline.Outline{{At: k.From}, {At: k.To}}).Translate(d))
	}
	return pp
}

// buy makes the list of sheets to buy or to take from the rack, in the order of
// the job file.
func (x *Dossier) buy() {
	bill := nest.BillOf(x.Demand, x.Problem.Count(x.Plan))
	x.Drops = bill.Drops
	for i := range bill.Lines {
		l := &bill.Lines[i]
		if l.Count+l.Spare == 0 {
			continue
		}
		row := BuyRow{Stock: l.Stock, Count: l.Count, Spare: l.Spare, Price: l.Price, Cost: l.Cost}
		for k := range x.Plan.Sheets {
			if x.Plan.Sheets[k].Stock == i {
				row.Sheets = append(row.Sheets, x.Sheets[k].ID)
			}
		}
		x.Buy = append(x.Buy, row)
	}
}

// bands totals the edge bands to buy: those of the panels that are placed, without what
// is in hand from an earlier plan.
func (x *Dossier) bands() {
	for i := range x.Job.Bands {
		b := &x.Job.Bands[i]
		row := BandRow{Band: b}
		for k := range x.Panels {
			for _, e := range x.Panels[k].Edging {
				if e.Band == b.Name {
					row.Length += e.Length * length.Length(max(0, x.Panels[k].placed()-x.Panels[k].Item.Panel.Banded))
				}
			}
		}
		if row.Length > 0 {
			// Price a metre times units, to the nearest hundredth, so that what is
			// printed adds up.
			const cent = int64(money.One / 100)
			row.Cost = money.Amount((int64(row.Length)*int64(b.Price)/int64(length.Metre) + cent/2) / cent * cent)
			x.Bands = append(x.Bands, row)
		}
	}
}

// placed returns how many copies lie on sheets.
func (r *PanelRow) placed() int {
	n := 0
	for _, id := range r.Sheets {
		if id != "" {
			n++
		}
	}
	return n
}

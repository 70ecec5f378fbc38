package compare

import (
	"encoding/json"
	"io"

	"panelyard/export/page"
)

// Format and Version name the format in the file.
const (
	Format  = "panelyard-compare"
	Version = 1
)

// document is compare.json. Lengths are in metres, areas in square metres, masses in
// kilograms, shares between 0 and 1, money in the currency of the row; where
// priced is false, it is that of what has a price.
type document struct {
	Format  string       `json:"format"`
	Version int          `json:"version"`
	Seed    uint64       `json:"seed"`
	Budget  string       `json:"budget"`
	Advice  string       `json:"advice"`
	Same    []string     `json:"same"`
	Changes []jsonChange `json:"changes"`
	Rows    []jsonRow    `json:"rows"`
}

type jsonChange struct {
	Name string   `json:"name"`
	What []string `json:"what"`
}

type jsonRow struct {
	Name    string    `json:"name"`
	Job     string    `json:"job"`
	File    string    `json:"file"`
	Variant string    `json:"variant"`
	Cut     string    `json:"cut"`
	Reason  string    `json:"reason,omitempty"`           // why there is no plan
	Plan    *jsonPlan `json:"plan" jsonschema:"nullable"` // null when there is none
}

type jsonPlan struct {
	Currency string         `json:"currency"`
	Priced   bool           `json:"priced"`
	Sheets   []jsonKind     `json:"sheets"`
	Cost     jsonCost       `json:"cost"`
	Areas    jsonAreas      `json:"areas"`
	Yield    json.Number    `json:"yield"`
	Kept     json.Number    `json:"kept"`
	Waste    json.Number    `json:"waste"`
	AddOn    json.Number    `json:"add_on"`
	Bound    jsonBound      `json:"bound"`
	Panels   int            `json:"panels"`
	Mass     *json.Number   `json:"mass" jsonschema:"nullable"` // null when a density is unknown
	Cuts     json.Number    `json:"cut_length"`
	Fences   *int           `json:"fence_settings" jsonschema:"nullable"` // null for a router
	Minutes  *json.Number   `json:"minutes" jsonschema:"nullable"`        // of a router; null when unknown
	Unplaced []jsonUnplaced `json:"unplaced"`
}

type jsonKind struct {
	Name     string `json:"name"`
	Material string `json:"material"`
	Count    int    `json:"count"` // that the plan takes
	Spare    int    `json:"spare"` // bought beyond
	Offcut   bool   `json:"offcut"`
}

type jsonCost struct {
	Total   json.Number `json:"total"`
	Board   json.Number `json:"board"`
	Spare   json.Number `json:"spare"`
	Drops   json.Number `json:"delivery"`
	Edging  json.Number `json:"edging"`
	Panels  json.Number `json:"of_board_panels"`
	Kept    json.Number `json:"of_board_kept"`
	Waste   json.Number `json:"of_board_waste"`
	PerArea json.Number `json:"per_square_metre"`
}

type jsonAreas struct {
	Sheets json.Number `json:"sheets"`
	Panels json.Number `json:"panels"`
	Kept   json.Number `json:"kept"`
	Waste  json.Number `json:"waste"`
}

type jsonBound struct {
	Sheets int    `json:"sheets"`
	Proved bool   `json:"proved"`
	Text   string `json:"text"`
}

type jsonUnplaced struct {
	Panel  string `json:"panel"`
	Copies int    `json:"copies"`
	Reason string `json:"reason"`
}

// JSON writes compare.json. The error is the writer's.
func JSON(w io.Writer, c *Comparison) error {
	d := document{
		Format: Format, Version: Version, Seed: c.Seed, Budget: c.Budget, Advice: c.Advice,
		Same: append([]string{}, c.Same...), Changes: []jsonChange{}, Rows: []jsonRow{},
	}
	for _, x := range c.Changes {
		d.Changes = append(d.Changes, jsonChange{x.Name, append([]string{}, x.What...)})
	}
	for i := range c.Rows {
		r := &c.Rows[i]
		row := jsonRow{Name: r.Name, Job: r.Job, File: r.File, Variant: r.Vary, Cut: r.Cut.String(), Reason: r.Reason}
		if r.Planned() {
			row.Plan = planOf(r)
		}
		d.Rows = append(d.Rows, row)
	}
	return page.JSON(w, d)
}

func planOf(r *Row) *jsonPlan {
	p := &jsonPlan{
		Currency: r.Currency, Priced: r.Priced, Sheets: []jsonKind{}, Unplaced: []jsonUnplaced{},
		Cost: jsonCost{
			json.Number(r.Cost.String()), json.Number(r.Board.String()), json.Number(r.Spare.String()), json.Number(r.Delivery.String()), json.Number(r.Edging.String()),
			json.Number(r.Split.Panels.String()), json.Number(r.Split.Kept.String()), json.Number(r.Split.Waste.String()), page.Number(r.CostM2, 4),
		},
		Areas: jsonAreas{page.Number(r.Areas.Sheet/1e6, 6), page.Number(r.Areas.Panels/1e6, 6), page.Number(r.Areas.Kept/1e6, 6), page.Number(lost(r.Areas)/1e6, 6)},
		Yield: page.Number(r.Yield, 4), Kept: page.Number(r.Kept, 4), Waste: page.Number(r.Waste, 4), AddOn: page.Number(r.AddOn, 4),
		Bound: jsonBound{r.Bound.Sheets, r.Bound.Proved, r.Bound.Text}, Panels: r.Panels, Cuts: page.Number(r.Cuts.MM()/1000, 3),
	}
	for _, k := range r.Kinds {
		p.Sheets = append(p.Sheets, jsonKind{k.Name, k.Material, k.Count, k.Spare, k.Offcut})
	}
	for _, u := range r.Unplaced {
		p.Unplaced = append(p.Unplaced, jsonUnplaced(u))
	}
	if r.MassKG > 0 {
		n := page.Number(r.MassKG, 3)
		p.Mass = &n
	}
	if r.sawn() {
		p.Fences = &r.Fences
	} else if r.Time > 0 {
		n := page.Number(r.Time.Minutes(), 2)
		p.Minutes = &n
	}
	return p
}

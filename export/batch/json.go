package batch

import (
	"encoding/json"
	"io"

	"panelyard/export/page"
)

// Format and Version name the format in the file.
const (
	Format  = "panelyard-batch"
	Version = 1
)

// document is batch.json. Lengths are in millimetres, areas in square metres, shares
// between 0 and 1, money in the currency; where priced is false, it is that of what has a
// price. least is what board and edge band cost at least, null when that is unknown.
type document struct {
	Format   string    `json:"format"`
	Version  int       `json:"version"`
	Job      string    `json:"job"`
	Variant  string    `json:"variant"`
	Cut      string    `json:"cut"`
	Seed     uint64    `json:"seed"`
	Budget   string    `json:"budget"`
	Currency string    `json:"currency"`
	Advice   []string  `json:"advice"`
	Best     *int      `json:"best" jsonschema:"nullable"`    // the number that costs least each; null when there is none
	Fullest  *int      `json:"fullest" jsonschema:"nullable"` // the number with the best yield
	Numbers  []jsonRow `json:"numbers"`
}

type jsonRow struct {
	Number      int            `json:"number"`
	Priced      bool           `json:"priced"`
	Sheets      []jsonKind     `json:"sheets"`
	Count       int            `json:"sheet_count"`
	Added       int            `json:"sheets_added"`
	LeastSheets int            `json:"least_sheets"`
	Cost        json.Number    `json:"cost"`
	Board       json.Number    `json:"board"`
	Edging      json.Number    `json:"edging"`
	Each        json.Number    `json:"cost_each"`
	Step        json.Number    `json:"cost_added"`
	Least       *json.Number   `json:"least" jsonschema:"nullable"`
	Proved      bool           `json:"proved"`
	Area        json.Number    `json:"sheet_area"`
	Panels      json.Number    `json:"panel_area"`
	Kept        json.Number    `json:"kept_area"`
	Yield       json.Number    `json:"yield"`
	Offcuts     []jsonKept     `json:"kept"`
	Unplaced    []jsonUnplaced `json:"unplaced"`
}

type jsonKind struct {
	Name     string `json:"name"`
	Material string `json:"material"`
	Count    int    `json:"count"` // that the plan takes
	Spare    int    `json:"spare"` // bought beyond
	Offcut   bool   `json:"offcut"`
	Last     bool   `json:"last"` // there are no more of them
}

type jsonKept struct {
	Material string      `json:"material"`
	Length   json.Number `json:"length"`
	Width    json.Number `json:"width"`
	Count    int         `json:"count"`
}

type jsonUnplaced struct {
	Panel  string `json:"panel"`
	Copies int    `json:"copies"`
	Reason string `json:"reason"`
}

// JSON writes batch.json. The error is the writer's.
func JSON(w io.Writer, b *Batch) error {
	d := document{
		Format: Format, Version: Version, Job: b.Job.Name, Variant: b.Job.Variant, Cut: b.Cut.String(), Seed: b.Seed,
		Budget: b.Budget, Currency: b.Job.Currency, Advice: append([]string{}, b.Advice...), Numbers: []jsonRow{},
	}
	if b.Best != nil {
		d.Best, d.Fullest = &b.Best.Number, &b.Fullest.Number
	}
	for i := range b.Rows {
		d.Numbers = append(d.Numbers, rowOf(&b.Rows[i]))
	}
	return page.JSON(w, d)
}

func rowOf(r *Row) jsonRow {
	out := jsonRow{
		Number: r.Number, Priced: r.Priced, Sheets: []jsonKind{}, Count: r.Sheets, Added: r.Added, LeastSheets: r.LeastSheets,
		Cost: json.Number(r.Cost.String()), Board: json.Number(r.Board.String()), Edging: json.Number(r.Edging.String()),
		Each: json.Number(r.Each(r.Cost).String()), Step: json.Number(r.Step.String()), Proved: r.Proved,
		Area: page.Number(r.Areas.Sheet/1e6, 6), Panels: page.Number(r.Areas.Panels/1e6, 6), Kept: page.Number(r.Areas.Kept/1e6, 6),
		Yield: page.Number(r.Yield, 4), Offcuts: []jsonKept{}, Unplaced: []jsonUnplaced{},
	}
	if r.Bounded {
		n := json.Number(r.Least.String())
		out.Least = &n
	}
	for _, k := range r.Kinds {
		out.Sheets = append(out.Sheets, jsonKind(k))
	}
	for _, k := range r.Kept {
		out.Offcuts = append(out.Offcuts, jsonKept{k.Material, json.Number(k.Size.X.Decimal()), json.Number(k.Size.Y.Decimal()), k.Count})
	}
	for _, u := range r.Unplaced {
		out.Unplaced = append(out.Unplaced, jsonUnplaced(u))
	}
	return out
}

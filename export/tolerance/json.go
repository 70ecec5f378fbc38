package tolerance

import (
	"encoding/json"
	"io"

	"panelyard/export/page"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// Format and Version name the format in the file.
const (
	Format  = "panelyard-tolerance"
	Version = 1
)

// document is tolerance.json. Lengths are in millimetres.
type document struct {
	Format   string         `json:"format"`
	Version  int            `json:"version"`
	Job      string         `json:"job"`
	Variant  string         `json:"variant"`
	Cut      string         `json:"cut"`
	Seed     uint64         `json:"seed"`
	Budget   string         `json:"budget"`
	Kerf     json.Number    `json:"kerf"`
	Advice   []string       `json:"advice"`
	Unplaced []jsonUnplaced `json:"unplaced"` // in the plan that is judged
	Sheets   []jsonSheet    `json:"sheets"`
	Boards   []jsonBoard    `json:"boards"`
	Again    []jsonAgain    `json:"again"`
}

type jsonSheet struct {
	ID       string       `json:"id"`
	Stock    string       `json:"stock"`
	Size     jsonSize     `json:"size"`
	Least    jsonSize     `json:"smallest"`           // with its trim
	Bare     jsonSize     `json:"smallest_untrimmed"` // of all usable area
	Slack    jsonSize     `json:"slack"`
	Standard string       `json:"standard"` // empty for a piece from the rack
	Worst    jsonSize     `json:"worst"`
	Verdict  string       `json:"verdict"`
	Extra    *json.Number `json:"kerf_extra" jsonschema:"nullable"` // null when any kerf will do
}

type jsonSize struct {
	Length json.Number `json:"length"`
	Width  json.Number `json:"width"`
}

type jsonBoard struct {
	Material string       `json:"material"`
	Nominal  json.Number  `json:"nominal"`
	Measured json.Number  `json:"measured"`
	Least    json.Number  `json:"least"`
	Most     json.Number  `json:"most"`
	Standard string       `json:"standard"`
	Changes  []jsonChange `json:"panels"`
	Faults   []string     `json:"faults"`
}

type jsonChange struct {
	Panel string   `json:"panel"`
	Thin  jsonSize `json:"thin"`
	Made  jsonSize `json:"planned"`
	Thick jsonSize `json:"thick"`
}

type jsonAgain struct {
	What    string `json:"what"`
	Sheets  int    `json:"sheets"`
	Missing int    `json:"unplaced"`
	Reason  string `json:"reason"`
}

type jsonUnplaced struct {
	Panel  string `json:"panel"`
	Copies int    `json:"copies"`
	Reason string `json:"reason"`
}

func mms(l length.Length) json.Number { return json.Number(l.Decimal()) }

func size(p geom.Point) jsonSize { return jsonSize{mms(p.X), mms(p.Y)} }

// JSON writes tolerance.json. The error is the writer's.
func JSON(w io.Writer, r *Report) error {
	x := r.Dossier
	d := document{
		Format: Format, Version: Version, Job: x.Job.Name, Variant: x.Variant, Cut: x.Demand.Cut.String(), Seed: x.Seed, Budget: r.Budget,
		Kerf: mms(x.Demand.Kerf), Advice: append([]string{}, r.Advice...), Sheets: []jsonSheet{}, Boards: []jsonBoard{}, Again: []jsonAgain{}, Unplaced: []jsonUnplaced{},
	}
	for _, m := range x.Missing() {
		d.Unplaced = append(d.Unplaced, jsonUnplaced(m))
	}
	for i := range r.Sheets {
		s := &r.Sheets[i]
		j := jsonSheet{
			s.ID, s.Stock.Name, size(s.Size), size(s.Room.Least), size(s.Room.Bare), size(s.Slack), s.Standard, size(s.Worst), s.Verdict.String(), nil,
		}
		if !s.Unbounded {
			n := mms(s.Extra)
			j.Extra = &n
		}
		d.Sheets = append(d.Sheets, j)
	}
	for i := range r.Boards {
		b := &r.Boards[i]
		j := jsonBoard{b.Material.Name, mms(b.Material.Nominal), mms(b.Material.Measured), mms(b.Least), mms(b.Most), b.Source, []jsonChange{}, append([]string{}, b.Faults...)}
		for _, c := range b.Changes {
			j.Changes = append(j.Changes, jsonChange{c.Panel, size(c.Thin), size(c.Made), size(c.Thick)})
		}
		d.Boards = append(d.Boards, j)
	}
	for _, a := range r.Again {
		d.Again = append(d.Again, jsonAgain(a))
	}
	return page.JSON(w, d)
}

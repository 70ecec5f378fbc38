package nearmiss

import (
	"encoding/json"
	"io"

	"panelyard/export/page"
	"panelyard/nest/near"
	"panelyard/parts/length"
	"panelyard/parts/money"
)

// Format and Version name the format in the file.
const (
	Format  = "panelyard-nearmiss"
	Version = 1
)

// document is nearmiss.json. Lengths are in millimetres; savings in the currency where
// priced is true, and in square metres of board where it is false.
type document struct {
	Format      string           `json:"format"`
	Version     int              `json:"version"`
	Job         string           `json:"job"`
	Variant     string           `json:"variant"`
	Cut         string           `json:"cut"`
	Seed        uint64           `json:"seed"`
	Rounds      int              `json:"rounds"` // 0 is the usual number
	Plans       int              `json:"plans"`
	Ended       string           `json:"ended"`
	Priced      bool             `json:"priced"`
	Currency    string           `json:"currency"`
	Answer      string           `json:"answer"`
	Boards      []jsonBoard      `json:"boards"`
	Suggestions []jsonSuggestion `json:"suggestions"`
	Tried       []jsonTried      `json:"tried"`
}

type jsonBoard struct {
	Material string       `json:"material"`
	Sheets   []jsonSheets `json:"sheets"`
	Cost     json.Number  `json:"cost"`
	Missing  int          `json:"missing"`
	Proved   bool         `json:"proved"`
	Plans    int          `json:"plans"`
}

type jsonSheets struct {
	Name   string `json:"name"`
	Count  int    `json:"count"`
	Offcut bool   `json:"offcut"`
}

type jsonChange struct {
	Kind   string       `json:"kind"`
	Of     string       `json:"of"`
	Line   int          `json:"line,omitempty"`
	From   *json.Number `json:"from,omitempty"`
	To     *json.Number `json:"to,omitempty"`
	Copies int          `json:"copies,omitempty"`
}

type jsonSuggestion struct {
	jsonChange
	Weight  json.Number `json:"weight"`
	Saved   json.Number `json:"saved"`
	PerMM   json.Number `json:"saved_per_mm"`
	Sheets  int         `json:"sheets_saved"`
	Placed  int         `json:"panels_placed"`
	Least   bool        `json:"least_proved"`
	Sure    bool        `json:"as_written_proved"`
	Plans   int         `json:"plans"`
	Follows []jsonMoved `json:"follows"`
	Before  []jsonBoard `json:"before"`
	After   []jsonBoard `json:"after"`
}

type jsonMoved struct {
	Panel  string         `json:"panel"`
	Copies int            `json:"copies"`
	From   [2]json.Number `json:"from"`
	To     [2]json.Number `json:"to"`
}

type jsonTried struct {
	jsonChange
	Verdict string `json:"verdict"`
	Why     string `json:"why,omitempty"`
}

var (
	verdicts = map[near.Verdict]string{
		near.RuledOut: "ruled out", near.NotFound: "not found", near.Luck: "luck",
		near.Refused: "refused", near.TooSmall: "too small", near.NotReached: "not reached",
	}
	ends = map[near.Stop]string{near.Finished: "finished", near.Spent: "plans spent", near.OutOfTime: "out of time", near.Interrupted: "interrupted"}
)

// JSON writes nearmiss.json. The error is the writer's.
func JSON(w io.Writer, p *Page) error {
	r := p.report
	d := document{
		Format: Format, Version: Version, Job: r.Job.Name, Variant: r.Job.Variant, Cut: p.Cut, Seed: r.Seed, Rounds: r.Rounds,
		Plans: r.Plans, Ended: ends[r.Stop], Priced: r.Priced, Currency: r.Job.Currency, Answer: p.Answer,
		Boards: p.jsonBoards(r.Boards), Suggestions: []jsonSuggestion{}, Tried: []jsonTried{},
	}
	for i := range r.Suggestions {
		g := &r.Suggestions[i]
		s := jsonSuggestion{
			jsonChange: changeOf(&g.Change), Weight: page.Number(g.Weight(), 3), Saved: p.number(float64(g.Saved)), PerMM: p.number(g.PerWeight()),
			Sheets: g.Sheets, Placed: g.Placed, Least: g.Least, Sure: g.Sure, Plans: g.Plans,
			Follows: []jsonMoved{}, Before: p.jsonBoards(g.Before), After: p.jsonBoards(g.After),
		}
		for _, m := range g.Moved {
			s.Follows = append(s.Follows, jsonMoved{m.Panel, m.Copies, [2]json.Number{millimetres(m.From.X), millimetres(m.From.Y)}, [2]json.Number{millimetres(m.To.X), millimetres(m.To.Y)}})
		}
		d.Suggestions = append(d.Suggestions, s)
	}
	for i := range r.Tried {
		t := &r.Tried[i]
		d.Tried = append(d.Tried, jsonTried{changeOf(&t.Change), verdicts[t.Verdict], t.Why})
	}
	return page.JSON(w, d)
}

func changeOf(c *near.Change) jsonChange {
	out := jsonChange{Kind: c.Kind.String(), Of: c.Of, Line: c.Pos.Line, Copies: c.Copies}
	if c.From > 0 {
		from, to := millimetres(c.From), millimetres(c.To)
		out.From, out.To = &from, &to
	}
	return out
}

func (p *Page) jsonBoards(list []near.Board) []jsonBoard {
	out := []jsonBoard{}
	for i := range list {
		b := &list[i]
		j := jsonBoard{Material: b.Material, Sheets: []jsonSheets{}, Cost: p.number(float64(b.Cost)), Missing: b.Missing, Proved: b.Proved(), Plans: b.Plans}
		for _, s := range b.Sheets {
			j.Sheets = append(j.Sheets, jsonSheets{s.Stock, s.Count, s.Offcut})
		}
		out = append(out, j)
	}
	return out
}

// number writes a cost in the currency, or in square metres.
func (p *Page) number(cost float64) json.Number {
	if p.report.Priced {
		return page.Number(cost/float64(money.One), 4)
	}
	return page.Number(cost/1e6, 6)
}

func millimetres(l length.Length) json.Number { return json.Number(l.Decimal()) }

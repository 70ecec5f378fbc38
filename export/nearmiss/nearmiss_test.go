package nearmiss

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"testing"

	"panelyard/export/exporttest"
	"panelyard/nest/near"
	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/money"
)

const mm = length.Millimetre

var writers = []struct {
	name  string
	write func(io.Writer, *Page) error
}{{"HTML", HTML}, {"JSON", JSON}}

// report returns a report of a job that costs 185 for two sheets, and nothing found.
func report() *near.Report {
	return &near.Report{
		Job: exporttest.Job(), Seed: 3, Rounds: 5, Seeds: 3, Priced: true, Plans: 40,
		Limits: near.Limits{Size: 20 * mm, Share: 0.05, Kerf: mm},
		Boards: []near.Board{{Material: "birch 18", Sheets: []near.Sheets{{Stock: "birch", Count: 2}, {Stock: "rest", Count: 1, Offcut: true}}, Cost: 185 * int64(money.One), Least: 92 * int64(money.One), Plans: 9}},
	}
}

// saving returns a suggestion that saves a sheet of 92.50.
func saving(c near.Change) near.Suggestion {
	r := report()
	after := r.Boards[0]
	after.Cost, after.Sheets = 925*int64(money.One)/10, []near.Sheets{{Stock: "birch", Count: 1}}
	return near.Suggestion{Change: c, Before: r.Boards, After: []near.Board{after}, Saved: 925 * int64(money.One) / 10, Sheets: 1, Plans: 12}
}

// What a row says of each kind of change; amounts for a millimetre worked by hand.
func TestRows(t *testing.T) {
	for _, c := range []struct {
		change    near.Change
		what, per string
		note      string
	}{
		{near.Change{Kind: near.Size, Of: `variable "width"`, From: 600 * mm, To: 595 * mm}, `variable "width": 600 to 595 mm`, "18.50 EUR per mm", "only what the job file works out follows"},
		{near.Change{Kind: near.Trim, Of: `trim`, From: 5 * mm, To: 3 * mm}, `trim: 5 to 3 mm`, "46.25 EUR per mm", "straight and sound"},
		{near.Change{Kind: near.Kerf, Of: `the saw's kerf`, From: 3200, To: 2400}, `the saw's kerf: 0.4 to 0.3 mm`, "9.25 EUR per mm", "another blade or bit"},
		{near.Change{Kind: near.Bit, Of: `the router's bit`, From: 6 * mm, To: 3 * mm}, `the router's bit: 6 to 3 mm`, "9.25 EUR per mm", "another blade or bit"},
		{near.Change{Kind: near.Grain, Of: `grain of panel "back"`, Copies: 1}, `grain of panel "back" freed, 1 copy`, "18.50 EUR per mm", "nobody sees it"},
		{near.Change{Kind: near.Join, Of: `panel "back", joined along its length`, Copies: 2}, `panel "back", joined along its length, 2 copies`, "2.31 EUR per mm", "planing the joint"},
	} {
		r := report()
		c.change.Pos = diag.Pos{File: "far/kiosk.yaml", Line: 12}
		r.Suggestions = []near.Suggestion{saving(c.change)}
		row := New(r).Rows[0]
		if row.What != c.what || row.Per != c.per || row.Saves != "92.50 EUR, 1 sheet" || row.Where != "kiosk.yaml:12" {
			t.Errorf("%+v", row)
		}
		if row.Sheets != "before: 2 x birch, 1 x rest (kept offcut); after: 1 x birch" {
			t.Errorf("sheets %q", row.Sheets)
		}
		notes := strings.Join(row.Notes, "\n")
		if !strings.Contains(notes, c.note) || !strings.Contains(notes, "as written, 9 plans found nothing as good") {
			t.Errorf("%s: notes %q", c.what, notes)
		}
	}
}

// The answer is honest about what is proved and what the search did not get to.
func TestAnswer(t *testing.T) {
	change := near.Change{Kind: near.Size, Of: `variable "width"`, From: 600 * mm, To: 595 * mm}
	for _, c := range []struct {
		name  string
		stop  near.Stop
		tried []near.Verdict
		found bool
		want  string
	}{
		{"proved", near.Finished, []near.Verdict{near.RuledOut, near.Refused}, false, "There is no near miss, which is proved: no single change within these limits saves enough."},
		{"not proved", near.Finished, []near.Verdict{near.RuledOut, near.NotFound}, false, "No near miss was found: no single change within these limits saves enough, as far as the search went."},
		{"luck", near.Finished, []near.Verdict{near.Luck}, false, "No near miss was found: no single change within these limits saves enough, as far as the search went."},
		{"nothing to change", near.Finished, []near.Verdict{near.Refused, near.TooSmall}, false, "There is no near miss: within these limits nothing of this job can be changed."},
		{"spent", near.Spent, []near.Verdict{near.RuledOut, near.NotReached}, false, "No near miss was found: no single change within these limits saves enough, as far as the search went. The search ended after 40 plans, before it was through."},
		{"out of time", near.OutOfTime, nil, true, `Most for what it changes: variable "width": 600 to 595 mm. It saves 92.50 EUR, 1 sheet. The time was up before the search was through.`},
		{"interrupted", near.Interrupted, nil, true, `Most for what it changes: variable "width": 600 to 595 mm. It saves 92.50 EUR, 1 sheet. The search was interrupted; this is what was finished.`},
	} {
		r := report()
		r.Stop = c.stop
		for _, v := range c.tried {
			r.Tried = append(r.Tried, near.Tried{Change: change, Verdict: v, Why: "why"})
		}
		if c.found {
			r.Suggestions = []near.Suggestion{saving(change)}
		}
		if got := New(r).Answer; got != c.want {
			t.Errorf("%s: %q", c.name, got)
		}
	}
}

// Without prices board counts; numbers have the marks of the job.
func TestBoard(t *testing.T) {
	r := report()
	r.Priced = false
	r.Job.Figures = parts.Figures{Comma: true}
	g := saving(near.Change{Kind: near.Size, Of: "x", From: 600 * mm, To: 595 * mm})
	g.Saved, g.Sheets = 2440*1220, -1
	r.Suggestions = []near.Suggestion{g}
	p := New(r)
	if row := p.Rows[0]; row.Saves != "2,98 m2 of board, 1 sheet more, of less board" || row.Per != "0,60 m2 of board per mm" {
		t.Errorf("%q, %q", row.Saves, row.Per)
	}
}

// nasty returns a page whose every name would break a careless writer.
func nasty() *Page {
	r := report()
	for _, name := range exporttest.Nasty {
		r.Job.Name, r.Job.Currency = name, "€<"
		g := saving(near.Change{Kind: near.Size, Of: name, From: 600 * mm, To: 595 * mm})
		g.Moved = []near.Moved{{Panel: name, Copies: 2, From: geom.Pt(600*mm, 100*mm), To: geom.Pt(595*mm, 100*mm)}}
		r.Suggestions = append(r.Suggestions, g)
		r.Tried = append(r.Tried, near.Tried{Change: near.Change{Of: name}, Verdict: near.Refused, Why: name})
		r.Boards = append(r.Boards, near.Board{Material: name, Sheets: []near.Sheets{{Stock: name, Count: 1}}, Missing: 1})
	}
	return New(r)
}

func written(t *testing.T, write func(io.Writer, *Page) error, p *Page) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestWriterFails(t *testing.T) {
	p := nasty()
	for _, w := range writers {
		t.Run(w.name, func(t *testing.T) {
			whole := written(t, w.write, p)
			for n := 0; n < len(whole); n += 1 + len(whole)/40 {
				if err := w.write(&exporttest.Failing{Left: n}, p); !errors.Is(err, exporttest.ErrFull) {
					t.Fatalf("a disk full after %d of %d bytes gave %v", n, len(whole), err)
				}
			}
			if !bytes.Equal(whole, written(t, w.write, p)) {
				t.Error("two runs differ")
			}
		})
	}
}

// The page needs nothing from elsewhere, is well-formed, and has every name as it is.
func TestHTML(t *testing.T) {
	text := exporttest.PageText(t, written(t, HTML, nasty()))
	for _, name := range exporttest.Nasty {
		for _, s := range []string{name + ": 600 to 595 mm", "2 x " + name + ": 600 × 100 to 595 × 100 mm", name + ": " + name} {
			if !strings.Contains(text, s) {
				t.Errorf("%q is not on the page", s)
			}
		}
	}
}

// A bar is as wide as what the boards cost as written, on one scale: the largest fills it.
func TestBars(t *testing.T) {
	r := report()
	whole := saving(near.Change{Kind: near.Grain, Of: "a", Copies: 1})
	small := saving(near.Change{Kind: near.Grain, Of: "b", Copies: 1})
	small.Before, small.After = slices.Clone(small.Before), slices.Clone(small.After)
	small.Before[0].Cost, small.After[0].Cost, small.Saved = 37*int64(money.One), 185*int64(money.One)/10, 185*int64(money.One)/10
	r.Suggestions = []near.Suggestion{whole, small}
	p := New(r)
	width := regexp.MustCompile(` width="([0-9.]+)"`)
	for i, want := range [][2]string{{"500.00", "500.00"}, {"100.00", "100.00"}} {
		got := width.FindAllStringSubmatch(string(p.bar(p.Rows[i])), -1)
		if len(got) != 2 || got[0][1] != want[0] || got[1][1] != want[1] {
			t.Errorf("bar %d: %v, want %v", i, got, want)
		}
	}
}

// The JSON holds the figures of the report.
func TestJSON(t *testing.T) {
	r := report()
	g := saving(near.Change{Kind: near.Size, Of: `variable "width"`, From: 600 * mm, To: 595 * mm, Pos: diag.Pos{Line: 7}})
	g.Moved = []near.Moved{{Panel: "shelf", Copies: 2, From: geom.Pt(564*mm, 300*mm), To: geom.Pt(559*mm, 300*mm)}}
	r.Suggestions = []near.Suggestion{g}
	r.Tried = []near.Tried{{Change: near.Change{Kind: near.Grain, Of: "back", Copies: 1}, Verdict: near.RuledOut}}
	var d document
	dec := json.NewDecoder(bytes.NewReader(written(t, JSON, New(r))))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&d); err != nil {
		t.Fatal(err)
	}
	if d.Format != Format || d.Ended != "finished" || len(d.Suggestions) != 1 || len(d.Tried) != 1 || d.Tried[0].Verdict != "ruled out" {
		t.Fatalf("%+v", d)
	}
	s := d.Suggestions[0]
	got := fmt.Sprintln(s.Kind, *s.From, *s.To, s.Line, s.Saved, s.PerMM, s.Sheets, s.Follows[0].To, s.Before[0].Cost, s.After[0].Sheets[0].Count)
	if want := "smaller size 600 595 7 92.5000 18.5000 1 [559 300] 185.0000 1\n"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

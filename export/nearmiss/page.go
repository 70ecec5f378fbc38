package nearmiss

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"panelyard/export"
	"panelyard/nest/near"
	"panelyard/parts/money"
)

// Page is what the documents say.
type Page struct {
	Title    string
	Cut      string
	Effort   string // seed and plans
	Accepted string // the limits
	Answer   string // in a sentence or two
	Boards   []Board
	Rows     []Row // best first
	Tried    []Tried
	Weights  string // how changes without a length are counted
	report   *near.Report
	w        export.Lengths
}

// Board is a kind of board as the job is written.
type Board struct{ Material, Sheets, Cost, Proof string }

// Row is a suggestion.
type Row struct {
	No      int
	What    string // the change
	Where   string // file and line; empty where it has no place
	Saves   string
	Gain    string // the same after a subject: saves 50.00 EUR
	Per     string // for a millimetre
	Sheets  string // before and after
	Follows []string
	Notes   []string
	of      *near.Suggestion
}

// Tried is a group of changes that are no suggestion, with what came of them.
type Tried struct {
	Outcome string
	Changes []string
	verdict near.Verdict
}

// New returns the page of a report.
func New(r *near.Report) *Page {
	p := &Page{Title: r.Job.Name, Cut: r.Cut.String(), report: r, w: export.LengthsOf(r.Job)}
	if v := r.Job.Variant; v != "" {
		p.Title += ", " + v
	}
	rounds := "the usual rounds a plan"
	if r.Rounds > 0 {
		rounds = plural(r.Rounds, "round") + " a plan"
	}
	p.Effort = fmt.Sprintf("%s made, %s, seed %d and those after it", plural(r.Plans, "plan"), rounds, r.Seed)
	p.Accepted = fmt.Sprintf("sizes up to %s %s or %s %% smaller", p.w.Text(r.Limits.Size), p.w.Unit(), p.percent(r.Limits.Share))
	for i := range r.Boards {
		b := &r.Boards[i]
		p.Boards = append(p.Boards, Board{b.Material, sheets(b), p.cost(b.Cost), proof(b)})
	}
	other := false
	for i := range r.Suggestions {
		g := &r.Suggestions[i]
		other = other || g.Kind != near.Size && g.Kind != near.Trim
		p.Rows = append(p.Rows, p.row(i+1, g))
	}
	if other {
		p.Weights = near.Weights
	}
	p.tried()
	p.Answer = p.answer()
	return p
}

// percent writes a share in percent, with a decimal where it has one.
func (p *Page) percent(share float64) string {
	decimals := 1
	if math.Abs(100*share-math.Round(100*share)) < 0.05 {
		decimals = 0
	}
	return p.w.Decimal(100*share, decimals)
}

// row writes a suggestion.
func (p *Page) row(no int, g *near.Suggestion) Row {
	row := Row{No: no, of: g, What: p.change(&g.Change), Saves: p.saves(g), Gain: p.gain(g), Per: p.per(g), Sheets: "before: " + side(g.Before) + "; after: " + side(g.After)}
	if g.Pos.Line > 0 {
		row.Where = fmt.Sprintf("%s:%d", filepath.Base(g.Pos.File), g.Pos.Line)
	}
	for _, m := range g.Moved {
		s := fmt.Sprintf("%s: %s to %s %s", m.Panel, p.w.Size(m.From), p.w.Size(m.To), p.w.Unit())
		if m.Copies > 1 {
			s = fmt.Sprintf("%d x %s", m.Copies, s)
		}
		row.Follows = append(row.Follows, s)
	}
	switch g.Kind {
	case near.Size, near.Kerf, near.Trim, near.Bit:
		if g.Least {
			row.Notes = append(row.Notes, "proved: no smaller step saves as much")
		} else {
			row.Notes = append(row.Notes, "found by search: a smaller step may do")
		}
	}
	switch g.Kind {
	case near.Size:
		row.Notes = append(row.Notes, "mind what meets these panels: only what the job file works out follows")
	case near.Kerf, near.Bit:
		row.Notes = append(row.Notes, "another blade or bit for the whole job")
	case near.Trim:
		row.Notes = append(row.Notes, "where that edge is straight and sound on each sheet")
	case near.Grain:
		row.Notes = append(row.Notes, "where nobody sees it")
	case near.Join:
		row.Notes = append(row.Notes, "without an allowance for planing the joint")
	}
	if g.Sure {
		row.Notes = append(row.Notes, "proved: as written it cannot be planned for less")
	} else {
		n := 0
		for i := range g.Before {
			n = max(n, g.Before[i].Plans)
		}
		row.Notes = append(row.Notes, fmt.Sprintf("as written, %s found nothing as good; that there is none is not proved", plural(n, "plan")))
	}
	return row
}

// change writes a change by its amount.
func (p *Page) change(c *near.Change) string {
	switch c.Kind {
	case near.Grain:
		return fmt.Sprintf("%s freed, %s", c.Of, copies(c.Copies))
	case near.Join:
		return fmt.Sprintf("%s, %s", c.Of, copies(c.Copies))
	}
	return fmt.Sprintf("%s: %s to %s %s", c.Of, p.w.Text(c.From), p.w.Text(c.To), p.w.Unit())
}

func copies(n int) string {
	if n == 1 {
		return "1 copy"
	}
	return fmt.Sprintf("%d copies", n)
}

// gain writes what a suggestion does, after its subject.
func (p *Page) gain(g *near.Suggestion) string {
	if g.Placed > 0 {
		return "places " + plural(g.Placed, "panel") + " more"
	}
	return "saves " + p.saves(g)
}

// saves writes what a suggestion saves.
func (p *Page) saves(g *near.Suggestion) string {
	var list []string
	if g.Placed > 0 {
		list = append(list, plural(g.Placed, "panel")+" more placed")
	}
	switch {
	case g.Saved > 0:
		list = append(list, p.cost(g.Saved))
	case g.Saved < 0:
		list = append(list, p.cost(-g.Saved)+" more board")
	}
	switch {
	case g.Sheets > 0:
		list = append(list, plural(g.Sheets, "sheet"))
	case g.Sheets < 0:
		list = append(list, plural(-g.Sheets, "sheet")+" more, of less board")
	}
	return strings.Join(list, ", ")
}

// per writes what is saved for a millimetre.
func (p *Page) per(g *near.Suggestion) string {
	if g.Saved <= 0 {
		return "-"
	}
	return p.cost(int64(g.PerWeight()+0.5)) + " per mm"
}

// cost writes a cost: money, or board where some has no price.
func (p *Page) cost(c int64) string {
	if p.report.Priced {
		// To the nearest hundredth, as amounts a millimetre are quotients.
		const cent = int64(money.One / 100)
		return strings.TrimSpace(p.w.Amount(money.Amount((c+cent/2)/cent*cent)) + " " + p.report.Job.Currency)
	}
	return p.w.Decimal(float64(c)/1e6, 2) + " m2 of board"
}

// tried groups what is no suggestion.
func (p *Page) tried() {
	for _, v := range []near.Verdict{near.RuledOut, near.NotFound, near.Luck, near.Refused, near.TooSmall, near.NotReached} {
		t := Tried{verdict: v}
		for i := range p.report.Tried {
			x := &p.report.Tried[i]
			if x.Verdict != v {
				continue
			}
			s := p.change(&x.Change)
			switch {
			case v == near.TooSmall:
				s = x.Of
			case v == near.Refused:
				s = x.Of + ": " + x.Why
			}
			t.Changes = append(t.Changes, s)
		}
		if n := len(t.Changes); n > 0 {
			t.Outcome = fmt.Sprintf(outcomes[v], plural(n, "change"))
			p.Tried = append(p.Tried, t)
		}
	}
}

// Listed returns the changes that are named where room is scarce: the first of those that
// could not be tried, with why.
func (t *Tried) Listed() []string {
	const most = 8
	if t.verdict != near.Refused {
		return nil
	}
	if n := len(t.Changes) - most; n > 0 {
		return append(t.Changes[:most:most], fmt.Sprintf("and %d more", n))
	}
	return t.Changes
}

// outcomes say what came of changes.
var outcomes = map[near.Verdict]string{
	near.RuledOut:   "%s ruled out: the bound proves that even the largest amount saves nothing",
	near.NotFound:   "%s planned by the largest amount: nothing saved was found, which is no proof",
	near.Luck:       "%s dropped: the job as written does as well when it is planned as often",
	near.Refused:    "%s not possible, or nothing follows",
	near.TooSmall:   "%s not tried: the least step is more than the limit allows",
	near.NotReached: "%s not reached: the search ended before",
}

// answer says what the search came to.
func (p *Page) answer() string {
	r := p.report
	end := ""
	switch r.Stop {
	case near.Spent:
		end = fmt.Sprintf(" The search ended after %s, before it was through.", plural(r.Plans, "plan"))
	case near.OutOfTime:
		end = " The time was up before the search was through."
	case near.Interrupted:
		end = " The search was interrupted; this is what was finished."
	}
	if len(r.Suggestions) > 0 {
		g := &r.Suggestions[0]
		return fmt.Sprintf("Most for what it changes: %s. It %s.%s", p.change(&g.Change), p.gain(g), end)
	}
	n := map[near.Verdict]int{}
	for i := range r.Tried {
		n[r.Tried[i].Verdict]++
	}
	switch {
	case n[near.RuledOut]+n[near.NotFound]+n[near.Luck]+n[near.NotReached] == 0:
		return "There is no near miss: within these limits nothing of this job can be changed." + end
	case n[near.NotFound]+n[near.Luck]+n[near.NotReached] == 0:
		return "There is no near miss, which is proved: no single change within these limits saves enough." + end
	}
	return "No near miss was found: no single change within these limits saves enough, as far as the search went." + end
}

// sheets writes the sheets of a board.
func sheets(b *near.Board) string {
	var list []string
	for _, s := range b.Sheets {
		t := fmt.Sprintf("%d x %s", s.Count, s.Stock)
		if s.Offcut {
			t += " (kept offcut)"
		}
		list = append(list, t)
	}
	if b.Missing > 0 {
		list = append(list, plural(b.Missing, "panel")+" without a place")
	}
	return strings.Join(list, ", ")
}

// side writes the sheets of boards.
func side(list []near.Board) string {
	var all []string
	for i := range list {
		all = append(all, sheets(&list[i]))
	}
	return strings.Join(all, ", ")
}

func proof(b *near.Board) string {
	switch {
	case b.Proved():
		return "proved: no plan costs less"
	case b.Missing > 0:
		return "not all panels have a place"
	}
	return fmt.Sprintf("best of %s", plural(b.Plans, "plan"))
}

func plural(n int, of string) string {
	if n == 1 {
		return "1 " + of
	}
	return fmt.Sprintf("%d %ss", n, of)
}

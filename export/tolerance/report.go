package tolerance

import (
	"fmt"
	"slices"

	"panelyard/export"
	"panelyard/kerf"
	"panelyard/nest/slack"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// Verdict is whether the panels of a sheet come out of the worst one.
type Verdict int

// The verdicts.
const (
	Fits    Verdict = iota // with its trim
	ByTrim                 // only when less is trimmed
	TooLess                // not: some panel would be short
)

// String returns the words for a verdict.
func (v Verdict) String() string {
	return [...]string{"fits", "fits with less trim", "does not fit"}[v]
}

// Sheet is a sheet of the plan and what it can bear.
type Sheet struct {
	ID       string
	Stock    *parts.Stock
	Size     geom.Point // as planned
	Standard string     // that Worst is of; empty for a piece from the rack
	Worst    geom.Point // the true rectangle of the worst sheet
	Room     slack.Room
	Slack    geom.Point // by how much the sheet could be smaller
	Eaten    geom.Point // of the trim, by the worst sheet
	Verdict  Verdict
	// Extra is by how much kerf or bit could be wider; Unbounded says that it is more than
	// that of any tool.
	Extra     length.Length
	Unbounded bool
}

// boundless is so much wider that it is no tool's.
const boundless = 25 * length.Millimetre

// Wider are the measures of a kerf that are tried: so much more than planned. Common
// practice, no source: a blade that wobbles or was ground anew.
func Wider() []length.Length {
	return []length.Length{100 * length.Micrometre, 200 * length.Micrometre}
}

// Board is a material at the ends of its thickness.
type Board struct {
	Material    *parts.Material
	Least, Most length.Length
	Source      string // the standard
	Changes     []Change
	Faults      []string // what is wrong with the job at an end
}

// Change is a panel whose finished size depends on the thickness.
type Change struct {
	Panel             string
	Thin, Made, Thick geom.Point
}

// Again is what came of planning again with the values of one end.
type Again struct {
	What    string // "sheets as small as EN 315 allows"
	Sheets  int
	Missing int    // panels without a place
	Reason  string // why there is no plan; empty when there is one
}

// Report is all that the documents say.
type Report struct {
	Dossier *export.Dossier
	Budget  string // in words
	Sheets  []Sheet
	Boards  []Board
	Again   []Again
	Advice  []string

	write     export.Lengths
	standards Standards
}

// New reports on a plan, with sheets by the standards. The error is for a plan that the
// judge would refuse, a defect of ours.
func New(d *export.Dossier, standards Standards, budget string) (*Report, error) {
	r := &Report{Dossier: d, Budget: budget, write: d.Lengths(), standards: standards}
	for i := range d.Sheets {
		m := &d.Sheets[i]
		room, err := slack.Of(d.Problem, &d.Plan.Sheets[i])
		if err != nil {
			return nil, fmt.Errorf("sheet %s: %w", m.ID, err)
		}
		size := geom.Pt(m.Stock.Length, m.Stock.Width)
		s := Sheet{ID: m.ID, Stock: m.Stock, Size: size, Worst: size, Room: room, Slack: size.Sub(room.Least)}
		if !m.Stock.Offcut {
			st := standards.of(m.Stock)
			s.Standard = st.Name
			s.Worst = geom.Pt(st.Worst(size.X, size.Y))
		}
		s.Eaten = geom.Pt(max(0, room.Least.X-s.Worst.X), max(0, room.Least.Y-s.Worst.Y))
		switch {
		case s.Eaten == geom.Point{}:
		case room.Bare.X <= s.Worst.X && room.Bare.Y <= s.Worst.Y:
			s.Verdict = ByTrim
		default:
			s.Verdict = TooLess
		}
		s.Extra = room.Widest - d.Problem.Kerf
		if d.Demand.Cut == kerf.Router {
			s.Extra = room.Widest - d.Problem.Gap
		}
		s.Unbounded = s.Extra >= boundless
		r.Sheets = append(r.Sheets, s)
	}
	return r, nil
}

// Small reports whether a sheet of the plan does not come out of the worst one with its
// trim, so that it is worth planning again.
func (r *Report) Small() bool {
	return slices.ContainsFunc(r.Sheets, func(s Sheet) bool { return s.Verdict != Fits })
}

// SmallJob returns the job with all sheets that are bought as small as the standards allow.
func (r *Report) SmallJob() *parts.Job {
	out := *r.Dossier.Job
	out.Stock = slices.Clone(out.Stock)
	for i := range out.Stock {
		if s := &out.Stock[i]; !s.Offcut {
			st := r.standards.of(s)
			l, w := st.Worst(s.Length, s.Width)
			edges := 2 * out.Router.Margin // as a router may keep more than the trim
			if l <= max(edges, s.Trim.Left+s.Trim.Right) || w <= max(edges, s.Trim.Bottom+s.Trim.Top) {
				s.Available = 0 // trim is all that would be left
				continue
			}
			s.Length, s.Width = l, w
		}
	}
	return &out
}

// Tight returns by how much the kerf may not be wider, the least of those that are tried;
// 0 when the plan holds all of them.
func (r *Report) Tight() length.Length {
	for _, by := range Wider() {
		if len(r.tooTight(by)) > 0 {
			return by
		}
	}
	return 0
}

// tooTight returns the sheets that do not hold a kerf so much wider.
func (r *Report) tooTight(by length.Length) []string {
	var list []string
	for i := range r.Sheets {
		if s := &r.Sheets[i]; !s.Unbounded && s.Extra < by {
			list = append(list, s.ID)
		}
	}
	return list
}

// WideJob returns the job with a kerf, or bit, so much wider.
func (r *Report) WideJob(by length.Length) *parts.Job {
	out := *r.Dossier.Job
	if r.Dossier.Demand.Cut == kerf.Router {
		out.Router.Bit += by
	} else {
		out.Saw.Kerf += by
	}
	return &out
}

// Tool returns the word for what cuts.
func (r *Report) Tool() string {
	if r.Dossier.Demand.Cut == kerf.Router {
		return "bit"
	}
	return "kerf"
}

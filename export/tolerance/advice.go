package tolerance

import (
	"fmt"
	"slices"
	"strings"

	"panelyard/kerf"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// Advise says in sentences what the plan bears, once all is known.
func (r *Report) Advise() {
	r.Advice = nil
	missing := r.missing()
	say := func(format string, args ...any) { r.Advice = append(r.Advice, fmt.Sprintf(format, args...)) }
	if missing > 0 {
		say("%s no place in the plan; what follows is about the others.", panelsHave(missing))
	}
	if len(r.Sheets) == 0 {
		say("The plan has no sheets.")
		return
	}
	r.adviseSheets(say)
	r.adviseKerf(say)
	for i := range r.Boards {
		r.adviseBoard(&r.Boards[i], say)
	}
	before := r.Dossier.Totals.Sheets
	for _, a := range r.Again {
		switch {
		case a.Reason != "":
			say("Planned again for %s: %s.", a.What, a.Reason)
		case a.Missing > 0:
			say("Planned again for %s: %s no place%s.", a.What, panelsHave(a.Missing), beside(a.Missing, missing))
		case missing > 0:
			say("Planned again for %s: every panel has a place, on %s.", a.What, sheets(a.Sheets))
		case a.Sheets == before:
			say("Planned again for %s: as many sheets, %d.", a.What, a.Sheets)
		default:
			say("Planned again for %s: %d sheets instead of %d.", a.What, a.Sheets, before)
		}
	}
}

// missing returns how many panels have no place in the plan.
func (r *Report) missing() int {
	n := 0
	for _, m := range r.Dossier.Missing() {
		n += m.Copies
	}
	return n
}

// panelsHave begins a sentence: "1 panel has", "2 panels have".
func panelsHave(n int) string {
	if n == 1 {
		return "1 panel has"
	}
	return fmt.Sprintf("%d panels have", n)
}

// beside compares panels without a place with those that the plan has, if it has any.
func beside(n, planned int) string {
	switch {
	case planned == 0:
		return ""
	case n == planned:
		return ", as many as in the plan"
	case n > planned:
		return fmt.Sprintf(", %d more than in the plan", n-planned)
	}
	return fmt.Sprintf(", %d fewer than in the plan", planned-n)
}

func sheets(n int) string {
	if n == 1 {
		return "1 sheet"
	}
	return fmt.Sprintf("%d sheets", n)
}

func (r *Report) adviseSheets(say func(string, ...any)) {
	var by [3][]string
	for i := range r.Sheets {
		s := &r.Sheets[i]
		by[s.Verdict] = append(by[s.Verdict], s.ID)
	}
	worst := r.Standards()
	if worst == "" {
		say("All sheets are from the rack, and were measured: no standard says what they may lack.")
		return
	}
	if len(by[Fits]) == len(r.Sheets) {
		say("Every sheet of the plan comes out of the smallest that %s allows, with its trim.", worst)
		return
	}
	if len(by[Fits]) > 0 {
		say("%d of %d sheets come out of the smallest that %s allows, with their trim.", len(by[Fits]), len(r.Sheets), worst)
	}
	if len(by[ByTrim]) > 0 {
		say("Only when less is trimmed: %s.", ids(by[ByTrim]))
	}
	if perfect := r.perfect(); len(perfect) > 0 {
		say("Only out of a perfect sheet, of its full size and square: %s.", ids(perfect))
	}
	if len(by[TooLess]) > 0 {
		say("Only out of sheets that are larger than the smallest that %s allows: %s. Measure them before the first cut.", worst, ids(by[TooLess]))
	}
}

// perfect returns the sheets that cannot be any shorter or narrower, not even untrimmed.
func (r *Report) perfect() []string {
	var list []string
	for i := range r.Sheets {
		if s := &r.Sheets[i]; s.Verdict == TooLess && (s.Room.Bare.X == s.Size.X || s.Room.Bare.Y == s.Size.Y) {
			list = append(list, s.ID)
		}
	}
	return list
}

func (r *Report) adviseKerf(say func(string, ...any)) {
	planned := r.Dossier.Demand.Kerf
	var least *Sheet
	for i := range r.Sheets {
		if s := &r.Sheets[i]; !s.Unbounded && (least == nil || s.Extra < least.Extra) {
			least = s
		}
	}
	if least == nil {
		say("Every sheet has room for any %s in use.", r.Tool())
		return
	}
	atLeast := ""
	if r.Dossier.Demand.Cut == kerf.Router {
		atLeast = " at least, as it is laid"
	}
	say("The same plan bears a %s of up to %s%s, planned with %s: %s is the tightest.", r.Tool(), r.measure(planned+least.Extra), atLeast, r.measure(planned), least.ID)
	for _, step := range Wider() {
		if list := r.tooTight(step); len(list) > 0 {
			say("With %s more (%s) it does not: %s.", r.Step(step), r.measure(planned+step), ids(list))
			return
		}
	}
}

func (r *Report) adviseBoard(b *Board, say func(string, ...any)) {
	span := fmt.Sprintf("%s, %s to %s by %s", b.Material.Name, r.write.Text(b.Least), r.measure(b.Most), b.Source)
	switch {
	case len(b.Faults) > 0:
		say("%s: the job cannot be read so: %s.", span, strings.Join(b.Faults, "; "))
	case len(b.Changes) == 0:
		say("%s: no panel's size depends on it.", span)
	case len(b.Changes) == 1:
		say("%s: the size of %s depends on it. Measure the board, and write measured: into the job.", span, b.Changes[0].Panel)
	default:
		say("%s: the sizes of %d panels depend on it. Measure the board, and write measured: into the job.", span, len(b.Changes))
	}
}

// Standards names the standards of the sheets.
func (r *Report) Standards() string {
	var list []string
	for i := range r.Sheets {
		if n := r.Sheets[i].Standard; n != "" && !slices.Contains(list, n) {
			list = append(list, n)
		}
	}
	return strings.Join(list, " or ")
}

// ids names sheets, a few of them by their IDs.
func ids(list []string) string {
	const most = 12
	if n := len(list) - most; n > 0 {
		return fmt.Sprintf("%s and %d more", strings.Join(list[:most], ", "), n)
	}
	return strings.Join(list, ", ")
}

// measure writes a length with its unit.
func (r *Report) measure(l length.Length) string { return r.write.Text(l) + " " + r.write.Unit() }

// Step writes a small difference with its unit: in thousandths of an inch, of which
// fractions would leave nothing.
func (r *Report) Step(l length.Length) string {
	if r.write.Unit() == "in" {
		return r.write.Decimal(l.Inches(), 3) + " in"
	}
	return r.measure(l)
}

// Size writes length x width without a unit.
func (r *Report) Size(p geom.Point) string { return r.write.Size(p) }

// Length writes a length without its unit.
func (r *Report) Length(l length.Length) string { return r.write.Text(l) }

// Extra writes by how much the kerf could be wider.
func (r *Report) Extra(s Sheet) string {
	if s.Unbounded {
		return "any"
	}
	return r.write.Text(s.Extra)
}

// Unit returns the unit of lengths: mm or in.
func (r *Report) Unit() string { return r.write.Unit() }

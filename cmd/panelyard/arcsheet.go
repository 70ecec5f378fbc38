package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"panelyard/export"
	"panelyard/parts"
	"panelyard/parts/arc"
	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// measures writes lengths in one unit, as the papers do.
type measures struct{ export.Lengths }

func newMeasures(unit length.Unit) measures {
	return measures{(&export.Dossier{Job: &parts.Job{Units: unit}}).Lengths()}
}

// to writes a length without its unit; a decimal of an inch with the nearest
// thirty-second.
func (m measures) to(l length.Length) string {
	if l == arc.Unbounded {
		return "unbounded"
	}
	s := m.Text(l)
	if m.Unit() == "in" && strings.Contains(s, ".") {
		s += " (" + strings.TrimSuffix(l.Fraction(32), `"`) + ")"
	}
	return s
}

// with writes a length with its unit.
func (m measures) with(l length.Length) string { return m.to(l) + " " + m.Unit() }

// table prints rows of cells in columns. Cells that a row leaves out are empty.
func table(s streams, rows [][]string) {
	most := 0
	for _, cells := range rows {
		most = max(most, len(cells))
	}
	var b strings.Builder
	tw := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	for _, cells := range rows {
		// A column lasts only as long as its rows have a cell in it.
		fmt.Fprintln(tw, "  "+strings.Join(cells, "\t")+strings.Repeat("\t", most-len(cells)))
	}
	tw.Flush()
	for line := range strings.Lines(b.String()) {
		s.say("%s", strings.TrimRight(line, " \n"))
	}
}

// arcSheet is everything there is to say of an arc.
type arcSheet struct {
	known    arc.Known
	arc      arc.Arc
	off      arc.Errors
	effects  []arc.Effect
	stations []arc.Station
	write    measures
}

// columns are the measures of an arc as a table shows them.
var columns = []arc.Quantity{arc.OfChord, arc.OfRise, arc.OfRadius, arc.OfAngle, arc.OfLength}

// cell writes one measure of an arc.
func (x arcSheet) cell(a arc.Arc, q arc.Quantity) string {
	switch q {
	case arc.OfChord:
		return x.write.to(a.Chord)
	case arc.OfRise:
		return x.write.to(a.Rise)
	case arc.OfRadius:
		return x.write.to(a.Radius)
	case arc.OfLength:
		return x.write.to(a.Length)
	}
	return a.Angle.String()
}

// print prints the arc.
func (x arcSheet) print(s streams) {
	given := map[arc.Quantity]bool{}
	for _, f := range x.effects {
		given[f.Of] = true
	}
	about := map[arc.Quantity]string{
		arc.OfChord:  "straight from end to end",
		arc.OfRise:   "from the middle of the chord to the arc",
		arc.OfAngle:  "degrees, seen from the centre",
		arc.OfLength: "along the arc",
	}
	s.say("arc, lengths in %s", x.write.Unit())
	var rows [][]string
	for _, q := range columns {
		note := about[q]
		if given[q] {
			note = strings.TrimPrefix(note+", given", ", ")
		}
		rows = append(rows, []string{q.String(), x.cell(x.arc, q), note})
	}
	table(s, rows)
	if x.arc.Long() {
		s.say("  longer than half a circle")
	}
	if given[arc.OfChord] && given[arc.OfRadius] {
		x.printOther(s)
	}
	x.printEffects(s)
	x.printStations(s)
	s.say("\nmind   an arc is as good as its measures: try it on a template before anything is cut")
}

// printOther prints the other arc with the same chord and radius.
func (x arcSheet) printOther(s streams) {
	k := x.known
	k.Long = !k.Long
	other, err := arc.Solve(k)
	switch {
	case err != nil: // too long to be one
	case k.Long:
		s.say("  the longer arc with this chord and radius rises %s: --long", x.write.with(other.Rise))
	default:
		s.say("  the shorter arc with this chord and radius rises %s: without --long", x.write.with(other.Rise))
	}
}

// printEffects prints both ends of every error.
func (x arcSheet) printEffects(s streams) {
	s.say("\nif a measure is off")
	rows := [][]string{{""}}
	for _, q := range columns {
		rows[0] = append(rows[0], q.String())
	}
	var between []string
	for _, f := range x.effects {
		by := x.write.with(x.off.Length)
		if f.Of == arc.OfAngle {
			by = x.off.Angle.String() + " degrees"
		}
		for _, end := range []struct {
			word string
			end  arc.End
		}{{"less", f.Less}, {"more", f.More}} {
			row := []string{fmt.Sprintf("%v %s %s", f.Of, by, end.word)}
			for _, q := range columns {
				row = append(row, x.cell(end.end.Arc, q))
			}
			rows = append(rows, append(row, end.end.Limit.String()))
		}
		lo, hi := f.Range()
		for _, q := range columns {
			ends := []string{x.cell(f.Less.Arc, q), x.cell(f.More.Arc, q)}
			if v := x.cell(lo, q); v != ends[0] && v != ends[1] {
				between = append(between, fmt.Sprintf("between the two ends of the %v the %v is as small as %s", f.Of, q, v))
			}
			if v := x.cell(hi, q); v != ends[0] && v != ends[1] {
				between = append(between, fmt.Sprintf("between the two ends of the %v the %v is as large as %s", f.Of, q, v))
			}
		}
	}
	table(s, rows)
	for _, line := range between {
		s.say("  %s", line)
	}
}

// printStations prints what the arc is set out by.
func (x arcSheet) printStations(s streams) {
	if x.stations == nil {
		return
	}
	s.say("\nto set it out: offsets at a right angle to the chord")
	rows := [][]string{{"station", "from the end", "from the middle", "offset"}}
	for i, p := range x.stations {
		rows = append(rows, []string{fmt.Sprint(i + 1), x.write.to(p.Along), x.write.to((p.Along - x.arc.Chord/2).Abs()), x.write.to(p.Offset)})
	}
	table(s, rows)
}

// warnings returns what is doubtful about the measures.
func (x arcSheet) warnings() diag.List {
	var list diag.List
	if x.arc.Long() && x.known.Rise != 0 {
		list.Warn(diag.Pos{}, "--rise", "the arc is longer than half a circle",
			"make sure that the rise goes from the chord to the far side of the arc")
	}
	for _, f := range x.effects {
		// A radius that an error moves by more than a tenth is not one to build by.
		lo, hi := f.Range()
		if f.Of == arc.OfRadius || hi.Radius <= x.arc.Radius+x.arc.Radius/10 && lo.Radius >= x.arc.Radius-x.arc.Radius/10 {
			continue
		}
		to := "without bound"
		if hi.Radius != arc.Unbounded {
			to = "to " + x.write.with(hi.Radius)
		}
		list.Warn(diag.Pos{}, fmt.Sprintf("--%v", f.Of), fmt.Sprintf("within the error of the %v the radius goes from %s %s", f.Of, x.write.to(lo.Radius), to),
			"take the radius from a data sheet or a drawing if there is one, or measure a longer chord and its rise")
	}
	return list
}

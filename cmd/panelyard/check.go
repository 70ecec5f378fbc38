package main

import (
	"fmt"
	"strconv"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"panelyard/export"
	"panelyard/kerf"
	"panelyard/kerf/toolpath"
	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/jobfile"
	"panelyard/parts/length"
)

func checkCommand(s streams) *cobra.Command {
	return &cobra.Command{
		Use:   "check JOB",
		Short: "Say what a job file was understood to ask for, and what is wrong with it",
		Long: `Read the job file JOB, print it as it was understood, and list every mistake and
doubt with its place and remedy. Nothing is planned and nothing is written.`,
		Args: oneJob,
		RunE: func(_ *cobra.Command, args []string) error {
			job, readings, list := jobfile.Examine(args[0])
			for _, r := range readings {
				s.say("%s", r.Text)
			}
			if err := list.Err(); err != nil {
				return err
			}
			saw, sawList := kerf.Build(job, kerf.Saw)
			router, routerList := kerf.Build(job, kerf.Router)
			switch {
			case saw == nil && router == nil:
				return sawList.Err()
			case saw == nil:
				list = append(list, asWarnings(sawList, "by saw")...)
			case router == nil:
				list = append(list, asWarnings(routerList, "by router")...)
			}
			demand := saw
			if demand == nil {
				demand = router
			}
			if router != nil {
				for i := range router.Items {
					it := &router.Items[i]
					_, doubts := toolpath.Of(it, job.Router, job.Material(it.Panel.Material).Measured)
					routerList = append(routerList, doubts...)
				}
			}
			for _, f := range append(sawList, routerList...) {
				if f.Severity == diag.Warning {
					list = append(list, f)
				}
			}
			understood(s, job, demand)
			list.Sort()
			s.warn(list)
			if len(list) == 0 {
				s.say("no mistakes found")
			} else {
				s.say("no mistakes found, %s (above)", count(len(list), "warning"))
			}
			return nil
		},
	}
}

// unrounded returns how what was understood of a job is written: as on its papers, but not
// rounded to fractions.
func unrounded(job *parts.Job) export.Lengths {
	j := *job
	j.Figures.Fraction = 0
	return export.LengthsOf(&j)
}

// handled says how a saw is used and what its user can handle.
func handled(job *parts.Job, w export.Lengths) string {
	s := &job.Saw
	list := []string{"good face up"}
	if s.FaceDown {
		list[0] = "good face down, maps mirrored"
	}
	if s.Stages > 0 {
		list = append(list, fmt.Sprintf("at most %d stages", s.Stages))
	}
	if s.Fence > 0 {
		list = append(list, "fence up to "+measure(w, s.Fence))
	}
	if s.Support > 0 {
		list = append(list, "rail on "+measure(w, s.Support)+" of board")
	}
	if s.Largest.X > 0 {
		list = append(list, "pieces carried up to "+size(w, s.Largest)+" "+w.Unit())
	}
	if s.Heaviest > 0 {
		list = append(list, "pieces carried up to "+plain(job, s.Heaviest)+" kg")
	}
	return strings.Join(list, ", ")
}

// asWarnings makes the findings of one way to cut warnings: the other way works.
func asWarnings(list diag.List, way string) diag.List {
	var w diag.List
	for _, f := range list {
		f.Severity = diag.Warning
		f.Fact += "; it cannot be cut " + way
		w = append(w, f)
	}
	return w
}

// understood prints a job as tables.
func understood(s streams, job *parts.Job, d *kerf.Demand) {
	w := unrounded(job)
	s.say("%s (%s)", job.Name, job.File)
	tw := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
	row := func(cells ...string) { fmt.Fprintln(tw, "  "+strings.Join(cells, "\t")) }
	if len(job.Variants) > 0 {
		s.say("variants: %s", strings.Join(job.Variants, ", "))
	}
	s.say("\nmaterials")
	for i := range job.Materials {
		m := &job.Materials[i]
		grain := "no grain"
		if m.Grained {
			grain = "grain"
		}
		if m.Turn != parts.ByGrain {
			grain += ", turns: " + parts.TurnWord(m.Turn)
		}
		density := "density unknown"
		if m.Density > 0 {
			density = plain(job, m.Density) + " kg/m3"
		}
		row(m.Name, measure(w, m.Nominal), "measured "+measure(w, m.Measured), grain, count(m.GoodFaces, "good face"), density)
	}
	tw.Flush()
	s.say("\nsheets to be had (in %s)", w.Word())
	for i := range job.Stock {
		st := &job.Stock[i]
		had := "any number"
		if st.Available != parts.Unlimited {
			had = fmt.Sprintf("%d available", st.Available)
		}
		price := "no price"
		if st.Priced {
			price = strings.TrimSpace(w.Amount(st.Price) + " " + job.Currency)
		} else if st.Offcut {
			price = "kept offcut"
		}
		grain := "no grain"
		if st.Grain != parts.NoAxis {
			grain = "grain along " + st.Grain.String()
		}
		row(st.Name, st.Material, size(w, geom.Pt(st.Length, st.Width)), grain, had, trimmed(w, st.Trim), price)
	}
	tw.Flush()
	if len(job.Variables) > 0 {
		s.say("\nvariables")
		for _, v := range job.Variables {
			value := v.Value
			if value == "" {
				value = "by the board of the panel"
			}
			row(v.Name, v.Text, "= "+value)
		}
		tw.Flush()
	}
	if len(job.Components) > 0 {
		s.say("\ncomponents (opening; width x height in %s)", w.Word())
		for i := range job.Components {
			c := &job.Components[i]
			o := c.Opening()
			cells := []string{c.Name, "body " + faceSize(w, c.Body, c.Round), "opening " + faceSize(w, o, c.Round)}
			if c.Flange.X > 0 {
				cells = append(cells, "flange "+faceSize(w, c.Flange, c.RoundFlange))
			} else {
				cells = append(cells, "no flange")
			}
			room := "depth unknown"
			if c.Depth > 0 {
				room = "needs " + w.Text(c.Room()) + " deep"
			}
			if rise := c.Rise(); rise > 0 {
				room += ", its curve rises " + w.Text(rise)
			}
			row(append(cells, room)...)
		}
		tw.Flush()
	}
	if len(job.Bands) > 0 {
		s.say("\nedge bands")
		for i := range job.Bands {
			b := &job.Bands[i]
			price := "no price"
			if b.Priced {
				price = strings.TrimSpace(w.Amount(b.Price)+" "+job.Currency) + " a metre"
			}
			row(b.Name, measure(w, b.Thickness), price)
		}
		tw.Flush()
	}
	s.say("\ntools and rules")
	share := "two that interlock may share one"
	if job.Saw.OwnBlanks {
		share = "none is shared"
	}
	row(job.Saw.Kind.String(), handled(job, w))
	row("", fmt.Sprintf("kerf %s, blanks %s larger where a panel is shaped, %s", measure(w, job.Saw.Kerf), measure(w, job.Saw.Allowance), share))
	row("router", fmt.Sprintf("bit %s, %s more between panels, margin %s", measure(w, job.Router.Bit), measure(w, job.Router.Gap), measure(w, job.Router.Margin)))
	row("offcuts", "kept from "+size(w, geom.Pt(job.Keep.Short, job.Keep.Long))+" "+w.Unit())
	if job.Figures != (parts.Figures{}) {
		row("papers", onPapers(job))
	}
	tw.Flush()
	s.say("\npanels (finished size, cut size; length x width in %s)", w.Word())
	row("panel", "qty", "hand", "material", "grain", "finished", "cut", "openings", "edge bands")
	n, area := 0, 0.0
	for i := range d.Items {
		it := &d.Items[i]
		p := it.Panel
		grain := "free"
		if p.Grain != parts.NoAxis {
			grain = p.Grain.String()
		}
		finished := size(w, p.Size())
		if it.Shaped() {
			finished += " shaped"
		}
		row(p.Name, fmt.Sprint(it.Copies), hand(p), p.Material, grain, finished,
			size(w, it.CutOutline.Box().Size()), fmt.Sprint(len(p.Openings)), dash(bands(p)))
		n += it.Copies
		a := it.CutOutline.AreaMM2()
		for _, o := range it.CutOpenings {
			a -= o.AreaMM2()
		}
		area += a * float64(it.Copies)
	}
	tw.Flush()
	workings(s, job)
	s.say("\n%s, %s m2 of board without what is cut away", count(n, "panel"), w.Decimal(area/1e6, 3))
}

// workings prints how sizes were worked out.
func workings(s streams, job *parts.Job) {
	said := false
	for i := range job.Panels {
		p := &job.Panels[i]
		if len(p.Workings) == 0 || p.Hand == parts.Right {
			continue // a pair is worked out once
		}
		if !said {
			s.say("\nsizes worked out")
			said = true
		}
		name := p.Name
		if p.PairOf != "" {
			name = p.PairOf
		}
		s.say("  %s: %s", name, strings.Join(p.Workings, "; "))
	}
}

// onPapers says how the papers of a job write numbers.
func onPapers(job *parts.Job) string {
	w, f := export.LengthsOf(job), job.Figures
	list := []string{"lengths in " + w.Word()}
	if w.Rounding() != "" {
		list[0] += fmt.Sprintf(" to the nearest 1/%d", f.Fraction)
	}
	mark := "point"
	if f.Comma {
		mark = "comma"
	}
	list = append(list, "decimal "+mark)
	for _, name := range parts.ThousandsNames {
		if f.Thousands != "" && parts.Thousands[name] == f.Thousands {
			list = append(list, name+" between thousands")
		}
	}
	return strings.Join(list, ", ")
}

// trimmed writes a trim: one number when all edges have the same.
func trimmed(w export.Lengths, t parts.Trim) string {
	if t.Left == t.Right && t.Left == t.Bottom && t.Left == t.Top {
		return "trim " + w.Text(t.Left)
	}
	return fmt.Sprintf("trim left %s, right %s, bottom %s, top %s", w.Text(t.Left), w.Text(t.Right), w.Text(t.Bottom), w.Text(t.Top))
}

// measure writes a length with its unit.
func measure(w export.Lengths, l length.Length) string { return w.Text(l) + " " + w.Unit() }

// size writes length x width without a unit.
func size(w export.Lengths, p geom.Point) string { return w.Text(p.X) + " x " + w.Text(p.Y) }

// plain writes a number with as many decimals as it has.
func plain(job *parts.Job, v float64) string {
	return job.Figures.Mark(strconv.FormatFloat(v, 'f', -1, 64))
}

func dash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

// hand writes the hand of a panel of a pair, or that it is mirrored.
func hand(p *parts.Panel) string {
	if p.Hand == parts.NoHand && p.Mirrored {
		return "mirrored"
	}
	return dash(p.Hand.String())
}

// bands names the banded edges of a panel: the band once when all edges have it.
func bands(p *parts.Panel) string {
	var list []string
	all := true
	for i, b := range p.Edging {
		all = all && b != "" && b == p.Edging[0]
		if b == "" {
			continue
		}
		name := p.Outline[i].Edge
		if name == "" {
			name = fmt.Sprintf("edge %d", i+1)
		}
		list = append(list, name+": "+b)
	}
	if all && len(list) > 1 {
		return "all: " + p.Edging[0]
	}
	return strings.Join(list, ", ")
}

// faceSize writes the size of a face without a unit.
func faceSize(w export.Lengths, face geom.Point, round bool) string {
	if round {
		return "dia " + w.Text(face.X)
	}
	return size(w, face)
}

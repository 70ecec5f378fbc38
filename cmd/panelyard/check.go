package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

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

// handled says how a saw is used and what its user can handle.
func handled(s *parts.Saw) string {
	list := []string{"good face up"}
	if s.FaceDown {
		list[0] = "good face down, maps mirrored"
	}
	if s.Stages > 0 {
		list = append(list, fmt.Sprintf("at most %d stages", s.Stages))
	}
	if s.Fence > 0 {
		list = append(list, fmt.Sprintf("fence up to %s mm", short(s.Fence)))
	}
	if s.Support > 0 {
		list = append(list, fmt.Sprintf("rail on %s mm of board", short(s.Support)))
	}
	if s.Largest.X > 0 {
		list = append(list, "pieces carried up to "+size(s.Largest))
	}
	if s.Heaviest > 0 {
		list = append(list, fmt.Sprintf("pieces carried up to %g kg", s.Heaviest))
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
			density = fmt.Sprintf("%g kg/m3", m.Density)
		}
		row(m.Name, m.Nominal.String(), "measured "+m.Measured.String(), grain, count(m.GoodFaces, "good face"), density)
	}
	tw.Flush()
	s.say("\nsheets to be had")
	for i := range job.Stock {
		st := &job.Stock[i]
		had := "any number"
		if st.Available != parts.Unlimited {
			had = fmt.Sprintf("%d available", st.Available)
		}
		price := "no price"
		if st.Priced {
			price = strings.TrimSpace(st.Price.String() + " " + job.Currency)
		} else if st.Offcut {
			price = "kept offcut"
		}
		grain := "no grain"
		if st.Grain != parts.NoAxis {
			grain = "grain along " + st.Grain.String()
		}
		row(st.Name, st.Material, size(geom.Pt(st.Length, st.Width)), grain, had, trimmed(st.Trim), price)
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
		s.say("\ncomponents (opening; width x height in mm)")
		for i := range job.Components {
			c := &job.Components[i]
			o := c.Opening()
			cells := []string{c.Name, "body " + faceSize(c.Body, c.Round), "opening " + faceSize(o, c.Round)}
			if c.Flange.X > 0 {
				cells = append(cells, "flange "+faceSize(c.Flange, c.RoundFlange))
			} else {
				cells = append(cells, "no flange")
			}
			room := "depth unknown"
			if c.Depth > 0 {
				room = "needs " + c.Room().Fixed(1) + " deep"
			}
			if rise := c.Rise(); rise > 0 {
				room += ", its curve rises " + rise.Fixed(1)
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
				price = strings.TrimSpace(b.Price.String()+" "+job.Currency) + " a metre"
			}
			row(b.Name, short(b.Thickness)+" mm", price)
		}
		tw.Flush()
	}
	s.say("\ntools and rules")
	share := "two that interlock may share one"
	if job.Saw.OwnBlanks {
		share = "none is shared"
	}
	row(job.Saw.Kind.String(), handled(&job.Saw))
	row("", fmt.Sprintf("kerf %s mm, blanks %s mm larger where a panel is shaped, %s", short(job.Saw.Kerf), short(job.Saw.Allowance), share))
	row("router", fmt.Sprintf("bit %s mm, %s mm more between panels, margin %s mm", short(job.Router.Bit), short(job.Router.Gap), short(job.Router.Margin)))
	row("offcuts", fmt.Sprintf("kept from %s x %s mm", short(job.Keep.Short), short(job.Keep.Long)))
	tw.Flush()
	s.say("\npanels (finished size, cut size; length x width in mm)")
	row("panel", "qty", "hand", "material", "grain", "finished", "cut", "openings", "edge bands")
	n, area := 0, 0.0
	for i := range d.Items {
		it := &d.Items[i]
		p := it.Panel
		grain := "free"
		if p.Grain != parts.NoAxis {
			grain = p.Grain.String()
		}
		finished := size(p.Size())
		if it.Shaped() {
			finished += " shaped"
		}
		row(p.Name, fmt.Sprint(it.Copies), hand(p), p.Material, grain, finished,
			size(it.CutOutline.Box().Size()), fmt.Sprint(len(p.Openings)), dash(bands(p)))
		n += it.Copies
		a := it.CutOutline.AreaMM2()
		for _, o := range it.CutOpenings {
			a -= o.AreaMM2()
		}
		area += a * float64(it.Copies)
	}
	tw.Flush()
	workings(s, job)
	s.say("\n%s, %.3f m2 of board without what is cut away", count(n, "panel"), area/1e6)
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

// trimmed writes a trim: one number when all edges have the same.
func trimmed(t parts.Trim) string {
	if t.Left == t.Right && t.Left == t.Bottom && t.Left == t.Top {
		return "trim " + short(t.Left)
	}
	return fmt.Sprintf("trim left %s, right %s, bottom %s, top %s", short(t.Left), short(t.Right), short(t.Bottom), short(t.Top))
}

// size writes length x width in millimetres.
func size(p geom.Point) string { return short(p.X) + " x " + short(p.Y) }

// short writes a length with at most two decimals.
func short(l length.Length) string {
	s := l.Fixed(2)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
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

// faceSize writes the size of a face in millimetres.
func faceSize(size geom.Point, round bool) string {
	if round {
		return "dia " + size.X.Decimal()
	}
	return size.X.Decimal() + " x " + size.Y.Decimal()
}

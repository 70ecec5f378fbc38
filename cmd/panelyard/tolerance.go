package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"panelyard/export"
	"panelyard/export/tolerance"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/jobfile"
	"panelyard/parts/length"
)

// toleranceFlags are the flags of tolerance.
type toleranceFlags struct {
	planFlags
	standards []string
}

func toleranceCommand(s streams) *cobra.Command {
	var f toleranceFlags
	c := &cobra.Command{
		Use:   "tolerance JOB",
		Short: "Whether the plan still comes out of boards as they come",
		Long: `Plan the job file JOB and say of every sheet of the plan which smallest sheet the same
panels come out of with the same cuts, whether that is within what the standard allows a
sheet to be short, narrow and out of square, and how much wider the kerf may be; and which
sizes depend on the thickness of the boards. Where the same plan does not do, the job is
planned again with those values. With --out, tolerance.html and tolerance.json are
written into a folder; earlier ones in it are moved to its folder "previous".`,
		Example: "  panelyard tolerance kiosk.yaml --out kiosk-tolerance\n  panelyard tolerance kiosk.yaml --standard 'MDF 12=EN 622-1' --rounds 10",
		Args:    oneJob,
		RunE: func(c *cobra.Command, args []string) error {
			if err := f.named(c.Flags()); err != nil {
				return err
			}
			return toleranceOf(c.Context(), s, args[0], f)
		},
	}
	f.add(c.Flags())
	f.papers.figures.add(c.Flags())
	f.addResult(c.Flags(), "table", "tolerance.json")
	f.addJob(c.Flags())
	c.Flags().StringArrayVar(&f.standards, "standard", nil, `standard of the sheets: PS 1, EN 315 or EN 622-1, or that of a material, "MDF 12=EN 622-1"; may be given again; without it PS 1 for sheets of whole inches, else EN 315`)
	return c
}

// toleranceOf is the command tolerance.
func toleranceOf(ctx context.Context, s streams, file string, f toleranceFlags) error {
	cut, err := f.oneWay()
	if err := errors.Join(f.limits(), f.papers.figures.check(), err); err != nil {
		return err
	}
	read := func(thickness map[string]length.Length) (*parts.Job, diag.List) {
		job, list := jobfile.ReadMeasured(file, f.variant, thickness)
		if list.Err() == nil {
			if err := f.papers.figures.give(job); err != nil {
				list = append(list, diag.Finding{Pos: diag.Pos{File: file}, Fact: err.Error(), Err: err})
			}
		}
		return job, list
	}
	job, warnings := read(nil)
	if err := warnings.Err(); err != nil {
		return err
	}
	s.warn(warnings)
	standards, err := tolerance.ReadStandards(f.standards, job)
	if err != nil {
		return err
	}
	var dir *folder
	if f.out != "" {
		if dir, err = newFolderOf(f.out, tolerancePapers()); err != nil {
			return err
		}
		defer dir.discard()
	}
	f.stops = "stops and judges it"
	d, interrupted, err := search(ctx, s, job, cut, f.planFlags)
	if err != nil {
		return err
	}
	r, err := tolerance.New(d, standards, f.budget())
	if err != nil {
		return err
	}
	r.Measure(read)
	f.stops = "stops and leaves it out"
	interrupted = f.again(ctx, s, r, read) || interrupted
	r.Advise()
	if dir != nil {
		if err := dir.tolerance(r); err != nil {
			return err
		}
	}
	if f.json {
		if err := tolerance.JSON(s.out, r); err != nil {
			return err
		}
	} else {
		toleranceTable(s, r, f.out)
	}
	return s.end(interrupted, "this is what was finished", len(d.Unplaced) == 0)
}

// again plans again where the plan does not do, and reports whether it was interrupted.
func (f *toleranceFlags) again(ctx context.Context, s streams, r *tolerance.Report, read tolerance.Reading) bool {
	try := func(what string, job *parts.Job, list diag.List) {
		a := tolerance.Again{What: what}
		switch {
		case list.Err() != nil:
			a.Reason = reason(list)
		case ctx.Err() != nil:
			a.Reason = "interrupted before its turn"
		default:
			a.Sheets, a.Missing, a.Reason = f.replan(ctx, s, what, job, r.Dossier)
		}
		r.Again = append(r.Again, a)
	}
	if r.Small() {
		try("sheets as small as "+r.Standards()+" allows", r.SmallJob(), nil)
	}
	if by := r.Tight(); by > 0 {
		try(fmt.Sprintf("a %s of %s more", r.Tool(), r.Step(by)), r.WideJob(by), nil)
	}
	if r.Depends() {
		thin, thick := r.Ends()
		job, list := read(thin)
		try("boards as thin as they may be", job, list)
		job, list = read(thick)
		try("boards as thick as they may be", job, list)
	}
	return ctx.Err() != nil
}

// replan plans a job under the budget of the plan, and returns its sheets and how many
// panels have no place, or why there is no plan.
func (f *toleranceFlags) replan(ctx context.Context, s streams, what string, job *parts.Job, made *export.Dossier) (sheets, missing int, why string) {
	demand, list := kerf.Build(job, made.Demand.Cut)
	if list.Err() != nil {
		return 0, 0, reason(list)
	}
	if s.terminal() {
		s.note("again: %s", what)
	}
	d, interrupted, err := searchDemand(ctx, s, demand, f.planFlags, 1)
	switch {
	case err != nil:
		return 0, 0, err.Error()
	case interrupted:
		return 0, 0, "interrupted before its budget was used"
	}
	for i := range d.Unplaced {
		missing += d.Unplaced[i].Copies
	}
	return d.Totals.Sheets, missing, ""
}

// tolerancePapers are the papers of the command, and how they are told from others'.
func tolerancePapers() kindOfPapers {
	return kindOfPapers{names: []string{"tolerance.json", "tolerance.html"}, proof: "tolerance.json", format: tolerance.Format}
}

// tolerance writes the papers of a report and moves them to their place.
func (f *folder) tolerance(r *tolerance.Report) error {
	if err := f.write("tolerance.json", func(w io.Writer) error { return tolerance.JSON(w, r) }); err != nil {
		return err
	}
	if err := f.write("tolerance.html", func(w io.Writer) error { return tolerance.HTML(w, r) }); err != nil {
		return err
	}
	return f.place()
}

// toleranceTable prints a report: a line a sheet, and what the plan bears.
func toleranceTable(s streams, r *tolerance.Report, out string) {
	s.say("%s, what the plan for the %v bears, in %s: %s, seed %d", r.Dossier.Title(), r.Dossier.Demand.Cut, r.Dossier.Lengths().Word(), r.Budget, r.Dossier.Seed)
	w := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "  sheet\tplanned\tsmallest, with trim\tworst\tby\tverdict\t%s wider by\n", r.Tool())
	for i := range r.Sheets {
		x := &r.Sheets[i]
		by := x.Standard
		if by == "" {
			by = "as measured"
		}
		fmt.Fprintf(w, "  %s\t%s\t%s\t%s\t%s\t%v\t%s\n", x.ID, r.Size(x.Size), r.Size(x.Room.Least), r.Size(x.Worst), by, x.Verdict, r.Extra(*x))
	}
	w.Flush()
	for _, m := range r.Dossier.Missing() {
		s.say("  WITHOUT A PLACE: %d x %s: %s", m.Copies, m.Panel, m.Reason)
	}
	for i := range r.Boards {
		for _, c := range r.Boards[i].Changes {
			s.say("  size     %s: %s at %s, %s as planned, %s at %s", c.Panel, r.Size(c.Thin), r.Length(r.Boards[i].Least), r.Size(c.Made), r.Size(c.Thick), r.Length(r.Boards[i].Most))
		}
	}
	for _, text := range r.Advice {
		s.say("%s", text)
	}
	if out != "" {
		s.say("  look     %s", filepath.Join(out, "tolerance.html"))
	} else {
		s.say("  --out DIR writes the page and the JSON")
	}
}

package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"panelyard/export"
	"panelyard/export/batch"
	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/choose"
	"panelyard/parts"
	"panelyard/parts/jobfile"
)

// The numbers that batch plans: up to a dozen if not said, and at most so many.
const (
	usualBatch   = 12
	largestBatch = 100
)

// batchFlags are the flags of batch.
type batchFlags struct {
	planFlags
	to     int
	number int // whose plan is written, too; 0 is none
}

func batchCommand(s streams) *cobra.Command {
	var f batchFlags
	c := &cobra.Command{
		Use:   "batch JOB",
		Short: "What each costs when 1, 2, 3 or more are built",
		Long: `Plan the whole job once, twice and so on up to --to times, and print for each number
what it takes and costs each, what the last one adds, and what is left over; and which
number costs the least each. No number costs more than smaller ones together, as long as
there are sheets. With --out, batch.html with charts and batch.json are written into a
folder; those of an earlier batch in it are moved to its folder "previous". Where stock
runs out, the panels without a place are named, and the numbers after it are planned all
the same. --papers 8 writes the papers of the plan for 8 as well, as plan does.`,
		Example: "  panelyard batch kiosk.yaml --to 12 --out kiosk-batch\n  panelyard batch kiosk.yaml --cut router --to 6 --rounds 10",
		Args:    oneJob,
		RunE: func(c *cobra.Command, args []string) error {
			if err := f.named(c.Flags()); err != nil {
				return err
			}
			return batchJob(c.Context(), s, args[0], f)
		},
	}
	f.add(c.Flags())
	f.addResult(c.Flags(), "table", "batch.json")
	f.papers.add(c.Flags())
	c.Flags().IntVar(&f.to, "to", usualBatch, fmt.Sprintf("largest number to plan, at most %d", largestBatch))
	c.Flags().IntVar(&f.number, "papers", 0, "number whose plan is written as well, all its papers, into a folder of its own in --out")
	f.addJob(c.Flags())
	return c
}

// batchJob is the command batch.
func batchJob(ctx context.Context, s streams, file string, f batchFlags) error {
	cut, err := f.check()
	if err != nil {
		return err
	}
	job, err := readJob(s, file, f.variant, f.papers.figures)
	if err != nil {
		return err
	}
	if n := panelsOf(job); n*f.to > jobfile.MaxPanels {
		return fmt.Errorf("--to %d: %d times the %d panels of the job are more than %d; use %d at most", f.to, f.to, n, jobfile.MaxPanels, jobfile.MaxPanels/n)
	}
	demand, list := kerf.Build(job, cut)
	if err := list.Err(); err != nil {
		return err
	}
	s.warn(list)
	var dir, own *folder
	if f.out != "" {
		if dir, err = newFolderOf(f.out, batchPapers()); err != nil {
			return err
		}
		defer dir.discard()
		if f.number > 0 {
			if own, err = newFolder(filepath.Join(f.out, strconv.Itoa(f.number))); err != nil {
				return err
			}
			defer own.discard()
		}
	}
	b, wanted, interrupted, err := f.plan(ctx, s, demand)
	if err != nil {
		return err
	}
	if len(b.Rows) == 0 {
		s.note("panelyard: interrupted before the first plan was finished; nothing was written")
		return exitError(exitInterrupted)
	}
	if dir != nil {
		if err := dir.batch(b); err != nil {
			return err
		}
	}
	if wanted != nil {
		if err := own.papers(wanted, f.papers); err != nil {
			return err
		}
	}
	if f.json {
		if err := batch.JSON(s.out, b); err != nil {
			return err
		}
	} else {
		batchTable(s, b, f.out)
	}
	return s.end(interrupted, "these are the numbers that were finished", b.Complete())
}

// check returns the way to cut, or all that is wrong with the flags.
func (f *batchFlags) check() (kerf.Cut, error) {
	cut, err := f.planFlags.check()
	errs := []error{err}
	switch {
	case f.to < 1 || f.to > largestBatch:
		errs = append(errs, fmt.Errorf("--to %d: use 1 to %d", f.to, largestBatch))
	case f.number < 0 || f.number > f.to:
		errs = append(errs, fmt.Errorf("--papers %d: use 1 to %d, the numbers that are planned", f.number, f.to))
	}
	if f.number > 0 && f.out == "" {
		errs = append(errs, errors.New("--papers wants a folder: give --out"))
	}
	return cut, errors.Join(errs...)
}

// panelsOf returns how many panels a job asks for.
func panelsOf(job *parts.Job) int {
	n := 0
	for i := range job.Panels {
		n += job.Panels[i].Quantity
	}
	return n
}

// plan plans the numbers, and reports whether it was interrupted. It also returns the
// plan of the number whose papers are wanted, if it was planned.
func (f *batchFlags) plan(ctx context.Context, s streams, demand *kerf.Demand) (b *batch.Batch, wanted *export.Dossier, interrupted bool, err error) {
	plans := choose.NewBatch(nest.FromDemand(demand))
	set := nest.Settings{Seed: f.seed, Budget: f.rounds, Workers: f.threads}
	if f.limit > 0 {
		set.Budget = -1
	}
	for n := 1; n <= f.to && ctx.Err() == nil; n++ {
		if s.terminal() {
			s.note("%d of %d", n, f.to)
		}
		m := newMeter(ctx, s, "stops and keeps the numbers that are finished")
		set.Watch = m.watch
		err := plans.Next(ctx, f.limit, set)
		m.stop()
		if err != nil && ctx.Err() == nil {
			return nil, nil, false, fmt.Errorf("planning %d: %w", n, err)
		}
	}
	interrupted = plans.Len() < f.to
	list, err := plans.Plans()
	if err != nil {
		return nil, nil, false, err
	}
	var rows []batch.Row
	for _, x := range list {
		d, findings := kerf.Build(demand.Job.Times(x.Number), demand.Cut)
		if err := findings.Err(); err != nil {
			return nil, nil, false, err
		}
		dossier := export.New(d, x.Problem, x.Result, f.seed)
		rows = append(rows, batch.RowOf(x.Number, dossier))
		if x.Number == f.number {
			wanted = dossier
		}
	}
	return batch.New(demand.Job, demand.Cut, batch.Conditions{Seed: f.seed, Budget: f.budget()}, rows), wanted, interrupted, nil
}

// batchPapers are the papers of a batch, and how they are told from others'.
func batchPapers() kindOfPapers {
	return kindOfPapers{names: []string{"batch.json", "batch.html"}, proof: "batch.json", format: batch.Format}
}

// batch writes the papers of a batch and moves them to their place.
func (f *folder) batch(b *batch.Batch) error {
	if err := f.write("batch.json", func(w io.Writer) error { return batch.JSON(w, b) }); err != nil {
		return err
	}
	if err := f.write("batch.html", func(w io.Writer) error { return batch.HTML(w, b) }); err != nil {
		return err
	}
	return f.place()
}

// batchTable prints a batch: a line a number, and which to build.
func batchTable(s streams, b *batch.Batch, out string) {
	s.say("%s, 1 to %d, for the %v: %s, seed %d", b.Title(), len(b.Rows), b.Cut, b.Budget, b.Seed)
	w := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, "number\tsheets\tmore\tcost\teach\tlast adds\teach at least\tyield\tkept\tkept m2\tproof\t")
	for i := range b.Rows {
		r := &b.Rows[i]
		cost, each, step, least := "-", "-", "-", "-"
		if r.Priced {
			cost, each, step = b.Amount(r.Cost), b.Amount(r.Each(r.Cost)), b.Amount(r.Step)
		}
		if r.Bounded {
			least = b.Amount(r.Each(r.Least))
		}
		mark, proof := "", "-"
		switch {
		case !r.Whole():
			proof = strconv.Itoa(r.Missing) + " without a place"
		case r.Proved:
			proof = "proved"
		}
		if b.IsBest(r.Number) {
			mark = "* "
		}
		fmt.Fprintf(w, "%s%d\t%d\t%+d\t%s\t%s\t%s\t%s\t%s\t%d\t%s\t%s\t\n", mark, r.Number, r.Sheets, r.Added, cost, each, step, least,
			b.Percent(r.Yield), r.Offcuts(), b.Area(r.Areas.Kept), proof)
	}
	w.Flush()
	for i := range b.Rows {
		for _, u := range b.Rows[i].Unplaced {
			s.say("  WITHOUT A PLACE: at %d: %d x %s: %s", b.Rows[i].Number, u.Copies, u.Panel, u.Reason)
		}
	}
	for _, text := range b.Advice {
		s.say("%s", text)
	}
	if out != "" {
		s.say("  look     %s", filepath.Join(out, "batch.html"))
	} else {
		s.say("  --out DIR writes the page and the JSON")
	}
}

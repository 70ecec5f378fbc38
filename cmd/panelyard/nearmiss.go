package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"panelyard/export/nearmiss"
	"panelyard/kerf"
	"panelyard/nest/near"
	"panelyard/parts/jobfile"
	"panelyard/parts/length"
	"panelyard/parts/money"
)

// nearFlags are the flags of nearmiss.
type nearFlags struct {
	planFlags
	upTo  string
	share float64
	least string
	sheet bool
	plans int
	seeds int
}

func nearmissCommand(s streams) *cobra.Command {
	var f nearFlags
	c := &cobra.Command{
		Use:   "nearmiss JOB",
		Short: "Say which single change of a job saves a sheet or an amount",
		Long: `Look for the one change that saves board: a size in plain figures or a variable a
little smaller, with all that follows from it, a thinner kerf or smaller bit, less trim
on one edge, the grain freed on a panel that nobody sees, a panel joined from two
pieces. Every suggestion is planned and judged, and holds against the job as written,
planned as often. First comes what saves most for each millimetre of change. With --out,
nearmiss.html and nearmiss.json are written into a folder. The job file stays as it is.`,
		Example: "  panelyard nearmiss kiosk.yaml --cut saw --out kiosk-nearmiss\n  panelyard nearmiss kiosk.yaml --up-to 10mm --save 50 --rounds 10",
		Args:    oneJob,
		RunE: func(c *cobra.Command, args []string) error {
			if err := f.named(c.Flags()); err != nil {
				return err
			}
			return nearMisses(c.Context(), s, args[0], f)
		},
	}
	f.add(c.Flags())
	f.papers.figures.add(c.Flags())
	fs := c.Flags()
	fs.Lookup("time").Usage = "wall-clock limit of the whole search, such as 5m; what is found by then depends on the machine"
	f.addResult(fs, "table", "nearmiss.json")
	f.addJob(fs)
	fs.StringVar(&f.upTo, "up-to", "20 mm", "the most that a size may lose")
	fs.Float64Var(&f.share, "percent", 100*near.DefaultShare, "the most that a size may lose, in percent of it")
	fs.StringVar(&f.least, "save", "", "the least that is worth a change, in the currency of the job; any saving if not given")
	fs.BoolVar(&f.sheet, "sheet", false, "only changes that save a whole sheet to be bought")
	fs.IntVar(&f.plans, "plans", near.DefaultPlans, "the most plans to make in all")
	fs.IntVar(&f.seeds, "seeds", near.DefaultSeeds, "plans with so many seeds of the job, and of each step of a change")
	return c
}

// nearMisses is the command nearmiss.
func nearMisses(ctx context.Context, s streams, file string, f nearFlags) error {
	set, cut, err := f.settings()
	if err != nil {
		return err
	}
	model := jobfile.NewModel(file, f.variant)
	job, warnings := model.Job()
	if err := warnings.Err(); err != nil {
		return err
	}
	if err := f.papers.figures.give(job); err != nil {
		return err
	}
	s.warn(warnings)
	var dir *folder
	if f.out != "" {
		if dir, err = newFolderOf(f.out, nearmissPapers()); err != nil {
			return err
		}
		defer dir.discard()
	}
	m := newMeter(ctx, s, "stops and tells what is found")
	set.Watch = func(p near.Progress) {
		m.tell(fmt.Sprintf("change %d of %d, %s, %s", min(p.Done+1, p.All), p.All, count(p.Plans, "plan"), count(p.Found, "suggestion")))
	}
	limited := ctx
	if f.limit > 0 {
		var cancel context.CancelFunc
		limited, cancel = context.WithTimeout(ctx, f.limit)
		defer cancel()
	}
	r, err := near.Search(limited, model, cut, set)
	m.stop()
	if errors.Is(err, near.ErrNoPrices) {
		return fmt.Errorf("--save: %w; give every sheet of the stock a price, or use --sheet", err)
	}
	if err != nil {
		return err
	}
	r.Job.Figures = job.Figures
	p := nearmiss.New(r)
	if dir != nil {
		if err := dir.nearMisses(p); err != nil {
			return err
		}
	}
	if f.json {
		if err := nearmiss.JSON(s.out, p); err != nil {
			return err
		}
	} else {
		nearmissTable(s, p, f.out)
	}
	lacks := slices.ContainsFunc(r.Boards, func(b near.Board) bool { return b.Missing > 0 })
	return s.end(ctx.Err() != nil, "what was found is told", !lacks)
}

// settings returns the settings of the search, or what is wrong with the flags.
func (f *nearFlags) settings() (near.Settings, kerf.Cut, error) {
	only := f.planFlags
	if only.limit > 0 {
		only.rounds = min(only.rounds, 0) // here they go together: rounds a plan, and time in all
	}
	set := near.Settings{
		Seed: f.seed, Rounds: f.rounds, Seeds: f.seeds, Workers: f.threads, MostPlans: f.plans, Sheet: f.sheet,
		Limits: near.Limits{Share: f.share / 100},
	}
	cut, err := f.oneWay()
	errs := []error{only.limits(), err}
	wrong := func(format string, args ...any) { errs = append(errs, fmt.Errorf(format, args...)) }
	if l, err := length.Parse(f.upTo, length.MM); err != nil || l <= 0 {
		wrong("--up-to %q: write a length such as 10mm or 3/8in", f.upTo)
	} else {
		set.Limits.Size = l
	}
	if !(f.share > 0 && f.share <= 50) { // refuses what is no number as well
		wrong("--percent %v: use more than 0, to 50", f.share)
	}
	if f.plans < 1 || f.plans > math.MaxInt32 {
		wrong("--plans %d: use 1 or more", f.plans)
	}
	if f.seeds < 1 || f.seeds > 100 {
		wrong("--seeds %d: use 1 to 100", f.seeds)
	}
	if f.least != "" {
		a, err := money.Parse(f.least)
		if err != nil || a <= 0 {
			wrong("--save %q: write an amount such as 50 or 12.50", f.least)
		}
		set.Least = int64(a)
	}
	errs = append(errs, f.papers.figures.check())
	return set, cut, errors.Join(errs...)
}

// nearmissPapers are the papers of near misses, and how they are told from others'.
func nearmissPapers() kindOfPapers {
	return kindOfPapers{names: []string{"nearmiss.json", "nearmiss.html"}, proof: "nearmiss.json", format: nearmiss.Format}
}

// nearMisses writes the papers and moves them to their place.
func (f *folder) nearMisses(p *nearmiss.Page) error {
	err := errors.Join(
		f.write("nearmiss.json", func(w io.Writer) error { return nearmiss.JSON(w, p) }),
		f.write("nearmiss.html", func(w io.Writer) error { return nearmiss.HTML(w, p) }),
	)
	if err != nil {
		return err
	}
	return f.place()
}

// nearmissTable prints near misses.
func nearmissTable(s streams, p *nearmiss.Page, out string) {
	s.say("%s, cut with the %s: %s", p.Title, p.Cut, p.Effort)
	for _, b := range p.Boards {
		s.say("  as written  %s: %s, %s, %s", b.Material, b.Sheets, b.Cost, b.Proof)
	}
	for _, r := range p.Rows {
		s.say("  %d  %s", r.No, r.What)
		s.say("     %s; %s", r.Gain, r.Per)
		s.say("     sheets %s", r.Sheets)
		if r.Where != "" {
			s.say("     in the job file: %s", r.Where)
		}
		if len(r.Follows) > 0 {
			s.say("     what changes: %s", strings.Join(r.Follows, "; "))
		}
		for _, n := range r.Notes {
			s.say("     %s", n)
		}
	}
	for _, t := range p.Tried {
		s.say("  %s", t.Outcome)
		for _, c := range t.Listed() {
			s.say("     %s", c)
		}
	}
	if p.Weights != "" {
		s.say("  %s", p.Weights)
	}
	s.say("%s", p.Answer)
	if out != "" {
		s.say("  look     %s", filepath.Join(out, "nearmiss.html"))
	} else {
		s.say("  --out DIR writes the page and the JSON")
	}
}

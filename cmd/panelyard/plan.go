package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"runtime"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"panelyard/export"
	"panelyard/export/planjson"
	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/choose"
	"panelyard/parts"
	"panelyard/parts/jobfile"
)

// planFlags are the flags of plan.
type planFlags struct {
	out     string
	cut     string
	limit   time.Duration
	seed    uint64
	rounds  int
	threads int
	variant string
	json    bool
	stops   string // what Ctrl-C does, for the line of progress; keeps the plan if empty
	papers  paperFlags
}

// add defines the flags of a search.
func (f *planFlags) add(fs *pflag.FlagSet) {
	fs.DurationVar(&f.limit, "time", 0, "wall-clock limit of the search, such as 10s; the plan then depends on the machine")
	fs.Uint64Var(&f.seed, "seed", 1, "seed of the search: same job, seed and rounds give the same bytes")
	fs.IntVar(&f.rounds, "rounds", 0, "counted budget of the search; 0 suits the size of the job")
	fs.IntVar(&f.threads, "threads", runtime.GOMAXPROCS(0), "threads to search with; they do not change the plan")
}

// addJob defines the flags that say which job is planned, and how it is cut.
func (f *planFlags) addJob(fs *pflag.FlagSet) {
	fs.StringVar(&f.cut, "cut", "saw", "way to cut: saw (straight through-cuts) or router (true shapes)")
	fs.StringVar(&f.variant, "variant", "", "variant of the job; without it the job as written")
}

// addResult defines the flags that say where the result goes: what is shown without them,
// and the file that is printed instead.
func (f *planFlags) addResult(fs *pflag.FlagSet, shown, file string) {
	fs.StringVar(&f.out, "out", "", "folder for the papers; without it only the "+shown+" is printed")
	fs.BoolVar(&f.json, "json", false, "print "+file+" instead of the "+shown)
}

// named says that --out is given without a name.
func (f *planFlags) named(fs *pflag.FlagSet) error {
	if fs.Changed("out") && f.out == "" {
		return errors.New("--out '' names no folder")
	}
	return nil
}

// readJob reads a job, prints its warnings, and gives it the figures of the flags.
func readJob(s streams, file, variant string, figures figureFlags) (*parts.Job, error) {
	job, warnings := jobfile.ReadVariant(file, variant)
	if err := warnings.Err(); err != nil {
		return nil, err
	}
	s.warn(warnings)
	return job, figures.give(job)
}

func planCommand(s streams) *cobra.Command {
	var f planFlags
	c := &cobra.Command{
		Use:   "plan JOB",
		Short: "Plan a job and write its papers",
		Long: `Plan the job file JOB and print what to buy. With --out, the papers are written
into a folder: plan.json, cutlist.xlsx, cutlist.csv, report.html, a map of every
sheet, labels.pdf, and for a router DXF and SVG drawings of sheets and
panels. Papers of an earlier plan in that folder are moved to its folder "previous",
each plan in a folder of its own.`,
		Example: "  panelyard plan kiosk.yaml --cut saw --out kiosk-saw\n  panelyard plan kiosk.yaml --cut router --time 20s --out kiosk-router",
		Args:    oneJob,
		RunE: func(c *cobra.Command, args []string) error {
			if err := f.named(c.Flags()); err != nil {
				return err
			}
			return planJob(c.Context(), s, args[0], f)
		},
	}
	f.add(c.Flags())
	f.addResult(c.Flags(), "summary", "plan.json")
	f.papers.add(c.Flags())
	f.addJob(c.Flags())
	return c
}

// oneJob wants one argument, the job file.
func oneJob(c *cobra.Command, args []string) error {
	if len(args) != 1 {
		return fmt.Errorf("%s wants one job file, got %d arguments; see panelyard %s --help", c.Name(), len(args), c.Name())
	}
	return nil
}

// planJob is the command plan.
func planJob(ctx context.Context, s streams, file string, f planFlags) error {
	cut, err := f.check()
	if err != nil {
		return err
	}
	job, err := readJob(s, file, f.variant, f.papers.figures)
	if err != nil {
		return err
	}
	var dir *folder
	if f.out != "" {
		// Before the search: nobody should wait for a plan that cannot be written.
		if dir, err = newFolder(f.out); err != nil {
			return err
		}
		defer dir.discard()
	}
	d, interrupted, err := search(ctx, s, job, cut, f)
	if err != nil {
		return err
	}
	return deliver(s, d, dir, f, interrupted)
}

// deliver writes the papers of a plan, if there is a folder for them, and says what
// came of it.
func deliver(s streams, d *export.Dossier, dir *folder, f planFlags, interrupted bool) error {
	s.warn(d.Warnings)
	if dir != nil {
		if err := dir.papers(d, f.papers); err != nil {
			return err
		}
	}
	if f.json {
		if err := planjson.Write(s.out, d); err != nil {
			return err
		}
	} else {
		summary(s, d, f.out)
	}
	return s.end(interrupted, "this is the best plan so far", len(d.Unplaced) == 0)
}

// check returns the way to cut, or all that is wrong with the flags.
func (f *planFlags) check() (kerf.Cut, error) {
	cut, err := f.oneWay()
	return cut, errors.Join(f.limits(), f.papers.check(), err)
}

// oneWay returns the way to cut where one is wanted.
func (f *planFlags) oneWay() (kerf.Cut, error) {
	cuts := waysToCut[f.cut]
	if len(cuts) != 1 {
		return 0, fmt.Errorf("--cut %q: use saw or router", f.cut)
	}
	return cuts[0], nil
}

// limits says what is wrong with the flags of a search.
func (f *planFlags) limits() error {
	var errs []error
	wrong := func(format string, args ...any) { errs = append(errs, fmt.Errorf(format, args...)) }
	if f.limit < 0 {
		wrong("--time %v: a limit cannot be negative", f.limit)
	}
	if f.rounds < 0 {
		wrong("--rounds %d: a budget cannot be negative", f.rounds)
	}
	if f.limit > 0 && f.rounds > 0 {
		wrong("--time and --rounds are two budgets: give one of them")
	}
	if f.threads < 1 || f.threads > 1024 {
		wrong("--threads %d: use 1 to 1024", f.threads)
	}
	return errors.Join(errs...)
}

// search plans a job and reports whether it was interrupted.
func search(ctx context.Context, s streams, job *parts.Job, cut kerf.Cut, f planFlags) (*export.Dossier, bool, error) {
	demand, list := kerf.Build(job, cut)
	if err := list.Err(); err != nil {
		return nil, false, err
	}
	s.warn(list)
	return searchDemand(ctx, s, demand, f, 1)
}

// searchDemand plans a demand; its sheets are numbered from first on.
func searchDemand(ctx context.Context, s streams, demand *kerf.Demand, f planFlags, first int) (*export.Dossier, bool, error) {
	problem := nest.FromDemand(demand)
	m := newMeter(ctx, s, cmp.Or(f.stops, "stops and keeps it"))
	set := nest.Settings{Seed: f.seed, Budget: f.rounds, Workers: f.threads, Watch: m.watch}
	limited := ctx
	if f.limit > 0 {
		var cancel context.CancelFunc
		limited, cancel = context.WithTimeout(ctx, f.limit)
		defer cancel()
		set.Budget = -1
	}
	r, err := choose.Plan(limited, problem, set)
	m.stop()
	if err != nil {
		return nil, false, err
	}
	for i := range r.Plan.Sheets {
		r.Plan.Sheets[i].ID = fmt.Sprintf("S%d", first+i)
	}
	return export.New(demand, problem, r, f.seed), ctx.Err() != nil, nil
}

package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"panelyard/export/compare"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/jobfile"
)

// compareFlags are the flags of compare.
type compareFlags struct {
	planFlags
	only []string
}

func compareCommand(s streams) *cobra.Command {
	var f compareFlags
	c := &cobra.Command{
		Use:   "compare JOB...",
		Short: "Plan all variants of jobs and say which to build",
		Long: `Plan the jobs as written and all their variants under the same budget, for the saw
and for the router, and print them side by side: sheets, cost, waste, yield, bound and
work, what differs, and which to build. With --out, compare.html, compare.xlsx and
compare.json are written into a folder; those of an earlier comparison in it are moved
to its folder "previous". A variant with mistakes is listed with its reason.`,
		Example: "  panelyard compare kiosk.yaml --cut saw --out kiosk-compare\n  panelyard compare kiosk.yaml --only 'as written' --only narrow --rounds 20",
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return fmt.Errorf("compare wants one job file or more; see panelyard %s --help", c.Name())
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			if err := f.named(c.Flags()); err != nil {
				return err
			}
			return compareJobs(c.Context(), s, args, f)
		},
	}
	f.add(c.Flags())
	f.papers.figures.add(c.Flags())
	f.addResult(c.Flags(), "table", "compare.json")
	c.Flags().StringVar(&f.cut, "cut", "both", "way to cut: saw, router or both")
	c.Flags().StringArrayVar(&f.only, "only", nil, "variant to compare, or 'as written'; may be given again")
	return c
}

// compareJobs is the command compare.
func compareJobs(ctx context.Context, s streams, files []string, f compareFlags) error {
	cuts, ok := waysToCut[f.cut]
	var wrong error
	if !ok {
		wrong = fmt.Errorf("--cut %q: use saw, router or both", f.cut)
	}
	if err := errors.Join(f.limits(), f.papers.figures.check(), wrong); err != nil {
		return err
	}
	entries, mistakes, err := readVariants(files, f.only, cuts)
	if err != nil {
		return err
	}
	s.warn(mistakes)
	for i := range entries {
		if j := entries[i].Read; j != nil {
			if err := f.papers.figures.give(j); err != nil {
				return err
			}
		}
	}
	var dir *folder
	if f.out != "" {
		if dir, err = newFolderOf(f.out, comparePapers()); err != nil {
			return err
		}
		defer dir.discard()
	}
	f.stops = "stops and compares what is finished"
	interrupted := f.planAll(ctx, s, entries)
	c := compare.New(entries, compare.Conditions{Seed: f.seed, Budget: f.budget()})
	if c.Planned() > 0 && dir != nil {
		if err := dir.comparison(c); err != nil {
			return err
		}
	}
	if f.json {
		if err := compare.JSON(s.out, c); err != nil {
			return err
		}
	} else {
		comparisonTable(s, c, f.out)
	}
	switch {
	case interrupted:
		s.note("panelyard: interrupted; what was finished is compared")
		return exitError(exitInterrupted)
	case c.Planned() == 0:
		return errors.New("nothing could be planned, so there is nothing to compare; no papers were written")
	case !c.Complete():
		return exitError(exitUnplaced)
	}
	return nil
}

// waysToCut are what --cut may be.
var waysToCut = map[string][]kerf.Cut{"saw": {kerf.Saw}, "router": {kerf.Router}, "both": {kerf.Saw, kerf.Router}}

// budget says under which budget every plan was made.
func (f *planFlags) budget() string {
	switch {
	case f.limit > 0:
		return fmt.Sprintf("%v a plan, which depends on the machine", f.limit)
	case f.rounds > 0:
		return count(f.rounds, "round") + " a plan"
	}
	return "the usual rounds a plan"
}

// readVariants reads the jobs and their variants: an entry each way to cut. The
// mistakes of those that cannot be planned are returned as well; they are no error,
// but a name that no job knows is.
func readVariants(files, only []string, cuts []kerf.Cut) ([]compare.Entry, diag.List, error) {
	var entries []compare.Entry
	var findings diag.List
	known := []string{compare.AsWritten}
	unread := false // a job that cannot be read may have any variant
	wanted := func(name string) bool { return len(only) == 0 || slices.Contains(only, name) }
	had := map[string]bool{}
	for _, file := range files {
		if had[filepath.Clean(file)] {
			return nil, nil, fmt.Errorf("%s is named twice", file)
		}
		had[filepath.Clean(file)] = true
		said := once{}
		job, list := jobfile.ReadVariant(file, "")
		add := func(variant string, read *parts.Job, list diag.List, title string) {
			e := compare.Entry{Job: title, File: file, Variant: variant, Read: read, Base: job}
			if list.Err() != nil {
				e.Read, e.Reason = nil, reason(list)
			}
			findings = append(findings, said.fresh(variant, list)...)
			for _, c := range cuts {
				e.Cut = c
				entries = append(entries, e)
			}
		}
		if job == nil || list.Err() != nil {
			unread = true
			add("", nil, list, filepath.Base(file))
			continue
		}
		if wanted(compare.AsWritten) {
			add("", job, list, job.Name)
		}
		for _, v := range job.Variants {
			known = append(known, v)
			if wanted(v) {
				j, list := jobfile.ReadVariant(file, v)
				add(v, j, list, job.Name)
			}
		}
	}
	var errs []error
	for _, o := range only {
		if !slices.Contains(known, o) && !unread {
			errs = append(errs, unknownVariant(o, known))
		}
	}
	return entries, findings, errors.Join(errs...)
}

// unknownVariant says that no job has a variant, and what there is.
func unknownVariant(name string, known []string) error {
	if near := diag.Nearest(name, known); near != "" {
		return fmt.Errorf("--only %q: no job has such a variant; did you mean %q?", name, near)
	}
	const most = 20
	more := ""
	if len(known) > most {
		known, more = known[:most], ", …"
	}
	return fmt.Errorf("--only %q: no job has such a variant; there are %s%s", name, strings.Join(known, ", "), more)
}

// once holds the findings that were said: variants mostly share them.
type once map[string]bool

// fresh returns the findings of a variant that were not said yet.
func (o once) fresh(variant string, list diag.List) diag.List {
	var fresh diag.List
	for _, x := range list {
		if !o[x.Error()] {
			o[x.Error()] = true
			x.Part = strings.TrimSuffix(inVariant(variant)+x.Part, ": ")
			fresh = append(fresh, x)
		}
	}
	return fresh
}

// inVariant begins what a finding is about.
func inVariant(name string) string {
	if name == "" {
		return ""
	}
	return fmt.Sprintf("variant %q: ", name)
}

// reason is the first mistake of a list, and how many more there are.
func reason(list diag.List) string {
	mistakes, _ := list.Split()
	first := mistakes[0]
	text := first.Fact
	if first.Part != "" {
		text = first.Part + ": " + text
	}
	if n := len(mistakes) - 1; n > 0 {
		text += fmt.Sprintf(" (and %s)", count(n, "more mistake"))
	}
	return text
}

// planAll plans the entries that can be planned, and reports whether it was
// interrupted: the plan at hand then had less than its budget and does not count.
func (f *compareFlags) planAll(ctx context.Context, s streams, entries []compare.Entry) bool {
	said := once{}
	warn := func(e *compare.Entry, list diag.List) { s.warn(said.fresh(e.Variant, list)) }
	for i := range entries {
		e := &entries[i]
		if e.Reason != "" {
			continue
		}
		if ctx.Err() != nil {
			e.Reason = "interrupted before its turn"
			continue
		}
		demand, list := kerf.Build(e.Read, e.Cut)
		warn(e, list)
		if list.Err() != nil {
			e.Reason = reason(list)
			continue
		}
		if s.terminal() {
			s.note("%d of %d: %s%s", i+1, len(entries), inVariant(e.Variant), e.Cut)
		}
		d, interrupted, err := searchDemand(ctx, s, demand, f.planFlags, 1)
		switch {
		case err != nil:
			e.Reason = err.Error()
		case interrupted:
			e.Reason = "interrupted before its budget was used"
		default:
			warn(e, d.Warnings)
			e.Dossier = d
		}
	}
	return ctx.Err() != nil
}

package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"panelyard/export"
	"panelyard/export/planjson"
	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/bound"
	"panelyard/nest/check"
	"panelyard/nest/order"
	"panelyard/nest/rest"
	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/jobfile"
)

// recutFlags are the flags of recut.
type recutFlags struct {
	planFlags
	done    []string
	spoiled []string
	job     string
}

func recutCommand(s streams) *cobra.Command {
	var f recutFlags
	c := &cobra.Command{
		Use:   "recut PLAN",
		Short: "Plan the rest of a job again when a panel is spoiled or work has begun",
		Long: `Read PLAN, a plan.json or the folder it lies in, take what is cut already as it is,
and plan the rest on what there is: pieces in hand, kept offcuts and sheets that are
not begun. Sheets are bought only when that is not enough, and the summary says so.
Where the missing panels fit on pieces and offcuts, the sheets that are not begun
stay as they are planned, and their maps stay valid.

The job file must be as it was when the plan was made.`,
		Example: "  panelyard recut kiosk-saw --cut S1 --cut S2:7 --spoiled side-left --out kiosk-recut",
		Args: func(c *cobra.Command, args []string) error {
			if len(args) != 1 {
				return fmt.Errorf("recut wants one plan, got %d arguments; see panelyard recut --help", len(args))
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			if err := f.named(c.Flags()); err != nil {
				return err
			}
			return recut(c.Context(), s, args[0], f)
		},
	}
	f.add(c.Flags())
	c.Flags().StringArrayVar(&f.done, "cut", nil, "sheet that is cut, S1, or cut up to a step of its list, S1:7; may be given again")
	c.Flags().StringArrayVar(&f.spoiled, "spoiled", nil, "panel that was cut and is spoiled, NAME or NAME:COPY; may be given again")
	f.papers.add(c.Flags())
	c.Flags().StringVar(&f.job, "job", "", "job file, when it is not where it was when the plan was made")
	f.addResult(c.Flags(), "summary", "plan.json")
	return c
}

// begun is a plan that is read back, with what it was made of.
type begun struct {
	doc     *planjson.Document
	file    *parts.Job // as the job file has it
	demand  *kerf.Demand
	problem *nest.Problem
	plan    *nest.Plan
}

// recut is the command recut.
func recut(ctx context.Context, s streams, file string, f recutFlags) error {
	b, err := readBegun(s, file, f.job)
	if err != nil {
		return err
	}
	f.cut = b.doc.Cut
	if _, err := f.check(); err != nil {
		return err
	}
	if err := f.papers.figures.give(b.demand.Job); err != nil {
		return err
	}
	state, err := b.state(f.done, f.spoiled)
	if err != nil {
		return err
	}
	left, err := rest.Of(b.problem, b.plan, state)
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	var dir *folder
	if f.out != "" {
		if dir, err = newFolder(f.out); err != nil {
			return err
		}
		defer dir.discard()
	}
	d, interrupted, err := b.goOn(ctx, s, left, f.planFlags)
	if err != nil {
		return err
	}
	return deliver(s, d, dir, f.planFlags, interrupted)
}

// readBegun reads a plan and its job, and has the judge look at them.
func readBegun(s streams, file, jobFile string) (*begun, error) {
	file = planFile(file)
	r, err := os.Open(file)
	if err != nil {
		return nil, fmt.Errorf("cannot read the plan: %w", err)
	}
	defer r.Close()
	b := &begun{}
	if b.doc, err = planjson.Read(r); err != nil {
		return nil, fmt.Errorf("%s: %w; give the plan.json that plan --out wrote", file, err)
	}
	if jobFile == "" {
		if jobFile, err = findJob(b.doc.JobFile, filepath.Dir(file)); err != nil {
			return nil, fmt.Errorf("%s: %w", file, err)
		}
	}
	job, warnings := jobfile.ReadVariant(jobFile, b.doc.Variant)
	if err := warnings.Err(); err != nil {
		return nil, err
	}
	s.warn(warnings)
	b.file = job
	changed := func(err error) error {
		return fmt.Errorf("%s does not fit %s, which was changed since, or is another job:\n%w\ngive the job file as it was with --job", file, jobFile, err)
	}
	if job, err = b.doc.Resume(job); err != nil {
		return nil, changed(err)
	}
	cut := kerf.Saw
	if b.doc.Cut == kerf.Router.String() {
		cut = kerf.Router
	}
	demand, findings := kerf.Build(job, cut)
	if err := findings.Err(); err != nil {
		return nil, err
	}
	b.demand = demand
	b.problem = nest.FromDemand(demand)
	if b.plan, err = b.doc.Plan(b.problem); err != nil {
		return nil, changed(err)
	}
	if err := planjson.Copies(b.plan, job); err != nil {
		return nil, changed(err)
	}
	if err := check.Plan(b.problem, b.plan); err != nil {
		return nil, changed(err)
	}
	for i := range b.doc.Sheets {
		b.plan.Sheets[i].ID = b.doc.Sheets[i].ID
	}
	return b, nil
}

// findJob looks for the job file of a plan: as it was named, or by its name beside
// the plan or its folder.
func findJob(named, dir string) (string, error) {
	tries := []string{named, filepath.Join(dir, filepath.Base(named)), filepath.Join(dir, "..", filepath.Base(named))}
	for _, t := range tries {
		if _, err := os.Stat(t); named != "" && err == nil {
			return t, nil
		} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return "", err
		}
	}
	return "", fmt.Errorf("its job file %q is not there; name it with --job", named)
}

// state reads the flags that say what is cut and what is spoiled.
func (b *begun) state(done, spoiled []string) (rest.State, error) {
	st := rest.State{Cuts: map[int]int{}}
	var errs []error
	for _, arg := range done {
		for word := range strings.SplitSeq(arg, ",") {
			id, step, partly := strings.Cut(strings.TrimSpace(word), ":")
			at := slices.IndexFunc(b.plan.Sheets, func(s nest.Sheet) bool { return strings.EqualFold(s.ID, id) })
			n := rest.All
			var err error
			if partly {
				n, err = strconv.Atoi(step)
			}
			switch _, twice := st.Cuts[at]; {
			case at < 0:
				errs = append(errs, fmt.Errorf("--cut %s: the plan has no sheet %q; its sheets are %s to %s", word, id, b.first(), b.last()))
			case twice:
				errs = append(errs, fmt.Errorf("--cut %s: the sheet is named twice", word))
			case partly && b.problem.Cut == kerf.Router:
				errs = append(errs, fmt.Errorf("--cut %s: a router's sheet has no steps; it is cut or not", word))
			case err != nil || partly && (n < 0 || n > len(b.plan.Sheets[at].Cuts)):
				errs = append(errs, fmt.Errorf("--cut %s: the sheet has the steps 1 to %d", word, len(b.plan.Sheets[at].Cuts)))
			default:
				st.Cuts[at] = n
			}
		}
	}
	for _, word := range spoiled {
		p, err := b.panel(word)
		if err != nil {
			errs = append(errs, fmt.Errorf("--spoiled %s: %w", word, err))
			continue
		}
		st.Spoiled = append(st.Spoiled, p)
	}
	return st, errors.Join(errs...)
}

func (b *begun) first() string {
	if len(b.plan.Sheets) == 0 {
		return "none"
	}
	return b.plan.Sheets[0].ID
}

func (b *begun) last() string {
	if len(b.plan.Sheets) == 0 {
		return "none"
	}
	return b.plan.Sheets[len(b.plan.Sheets)-1].ID
}

// panel reads NAME or NAME:COPY. A name may hold a colon itself.
func (b *begun) panel(word string) (rest.Panel, error) {
	find := func(name string) int {
		return slices.IndexFunc(b.demand.Items, func(it kerf.Item) bool { return it.Panel.Name == name })
	}
	name, number := word, 0
	at := find(word)
	if i := strings.LastIndex(word, ":"); at < 0 && i >= 0 {
		if n, err := strconv.Atoi(word[i+1:]); err == nil {
			name, number = word[:i], n
			at = find(name)
		}
	}
	if at < 0 {
		var names []string
		for i := range b.demand.Items {
			names = append(names, b.demand.Items[i].Panel.Name)
		}
		if near := diag.Nearest(name, names); near != "" {
			return rest.Panel{}, fmt.Errorf("the plan has no panel %q; did you mean %q?", name, near)
		}
		return rest.Panel{}, fmt.Errorf("the plan has no panel %q; its panels are named in plan.json", name)
	}
	p := b.demand.Items[at].Panel
	if number == 0 {
		if p.Quantity > 1 {
			return rest.Panel{}, fmt.Errorf("there are %d of them: say which, as in %s:1", p.Quantity, name)
		}
		return rest.Panel{Part: at, Copy: 1}, nil
	}
	for c := 1; c <= p.Quantity; c++ {
		if p.Number(c) == number {
			return rest.Panel{Part: at, Copy: c}, nil
		}
	}
	return rest.Panel{}, fmt.Errorf("there is no copy %d", number)
}

// goOn plans the rest: on pieces and offcuts if they are enough, and otherwise on all
// there is and can be bought.
func (b *begun) goOn(ctx context.Context, s streams, left *rest.Rest, f planFlags) (*export.Dossier, bool, error) {
	ids := make([]string, len(b.plan.Sheets))
	for i := range ids {
		ids[i] = b.plan.Sheets[i].ID
	}
	// As little as possible changes: first the pieces in hand stay as planned, too.
	var d *export.Dossier
	interrupted := false
	inHand := slices.ContainsFunc(left.Pieces, func(q rest.Piece) bool { return q.InHand })
	for _, pieces := range []bool{true, false} {
		if !pieces && !inHand {
			break // that was tried: there are no pieces in hand to give up
		}
		var err error
		if d, interrupted, err = b.unchanged(ctx, s, left, ids, pieces, f); err != nil {
			return nil, false, err
		}
		if d != nil {
			if n := len(left.Uncut); n > 0 {
				s.note("%s not begun: to be cut as planned", count(n, "sheet"))
			}
			break
		}
	}
	if d == nil {
		var err error
		if d, interrupted, err = planRest(ctx, s, left.Job(b.demand, b.plan, ids, true), b.problem.Cut, f, b.next()); err != nil {
			return nil, false, err
		}
	}
	d.Done = []export.DoneRow{} // even when nothing is done, the plan goes on from another one
	for _, x := range b.doc.Done {
		d.Done = append(d.Done, export.DoneRow{Name: x.Part, Copy: x.Copy, Sheet: x.Sheet})
	}
	d.Before = &export.Before{
		Taken: left.Taken(b.demand, b.plan, b.file, b.doc.Before.Gone()),
		Left:  rest.Left(d.Demand, d.Plan, b.file),
	}
	for _, x := range left.Done {
		p := b.demand.Items[x.Part].Panel
		d.Done = append(d.Done, export.DoneRow{Name: p.Name, Copy: p.Number(x.Copy), Sheet: ids[x.Sheet]})
	}
	return d, interrupted, nil
}

// next returns the number of the first sheet that is new.
func (b *begun) next() int {
	most := 0
	note := func(id string) {
		// A number that a plan never gets to is not counted on.
		if n, err := strconv.Atoi(strings.TrimPrefix(id, "S")); err == nil && n < math.MaxInt32 {
			most = max(most, n)
		}
	}
	for i := range b.plan.Sheets {
		note(b.plan.Sheets[i].ID)
	}
	for _, x := range b.doc.Done {
		note(x.Sheet)
	}
	// A piece has the name of its sheet.
	for i := range b.demand.Sheets {
		id, _, _ := strings.Cut(b.demand.Sheets[i].Stock.Name, ",")
		note(id)
	}
	return most + 1
}

// unchanged tries to place what is missing on pieces and offcuts alone; the sheets
// that are not begun, and with pieces also those in hand, then stay as they are. It
// returns nil when that does not do.
func (b *begun) unchanged(ctx context.Context, s streams, left *rest.Rest, ids []string, pieces bool, f planFlags) (*export.Dossier, bool, error) {
	next := b.next()
	var stay []rest.Carried
	for _, i := range left.Uncut {
		stay = append(stay, rest.Carried{Sheet: b.plan.Sheets[i], On: rest.InHand(b.demand, b.plan.Sheets[i].Stock)})
	}
	for i := range left.Pieces {
		if q := &left.Pieces[i]; pieces && q.InHand {
			sheet := nest.Sheet{Placements: q.Planned, Offcuts: q.Kept, ID: fmt.Sprintf("S%d", next)}
			stay = append(stay, rest.Carried{Sheet: sheet, On: q.Name(ids)})
			next++
		}
	}
	small, interrupted, err := planRest(ctx, s, left.Only(b.plan, pieces).Job(b.demand, b.plan, ids, false), b.problem.Cut, f, next)
	if err != nil || len(small.Unplaced) > 0 {
		return nil, false, err
	}
	demand, list := kerf.Build(left.Job(b.demand, b.plan, ids, true), b.problem.Cut)
	if err := list.Err(); err != nil {
		return nil, false, err
	}
	plan := &nest.Plan{}
	if plan.Sheets, err = rest.Carry(stay, b.demand, demand); err != nil {
		return nil, false, err
	}
	p := nest.FromDemand(demand)
	for i := range plan.Sheets {
		// The cuts of a piece in hand are found anew: it is a sheet of its own now.
		if t := &plan.Sheets[i]; p.Cut == kerf.Saw && len(t.Cuts) == 0 {
			if err := order.Sheet(p, t); err != nil {
				return nil, false, err
			}
		}
	}
	var more []rest.Carried
	for _, sheet := range small.Plan.Sheets {
		more = append(more, rest.Carried{Sheet: sheet, On: small.Demand.Sheets[sheet.Stock].Stock.Name})
	}
	placed, err := rest.Carry(more, small.Demand, demand)
	if err != nil {
		return nil, false, err
	}
	plan.Sheets = append(plan.Sheets, placed...)
	if err := check.Plan(p, plan); err != nil {
		return nil, false, fmt.Errorf("the plan that goes on was refused by the judge, a defect of panelyard: %w", err)
	}
	r := &nest.Result{Plan: plan, Bound: bound.Of(ctx, p)}
	return export.New(demand, p, r, f.seed), interrupted, nil
}

// planRest plans a job that goes on. Its sheets are numbered from a number on.
func planRest(ctx context.Context, s streams, job *parts.Job, cut kerf.Cut, f planFlags, first int) (*export.Dossier, bool, error) {
	demand, list := kerf.Build(job, cut)
	if err := list.Err(); err != nil {
		return nil, false, err
	}
	return searchDemand(ctx, s, demand, f, first)
}

// Command nestbench measures the solvers on instances from the literature.
//
//	nestbench --cut router --time 20s --threads 2 FILE|DIR...
//
// It reads instance files (the type instance says what is in one), lets the
// solvers work on each for a time, has every layout judged by nest/check, prints
// a table with what is best known and what no layout can beat, and totals a set.
// With --out it writes a line of JSON an instance with the layout.
//
//	file -> instance -> grid (a nest.Problem) -> solvers -> nest/check -> row, line
//
// Kerf and gap are zero. --cut router nests true shapes; --cut free is the same
// for rectangles without the rule of straight cuts; both also try straight cuts
// when all pieces are rectangles, which are often better. --cut saw wants
// straight cuts through the whole piece in hand.
//
// With --cabinets N it plans N generated jobs of cabinets for a saw instead (package
// nest/bound/cabinets), and prints how near each plan is to what no plan can beat.
//
// # Measures
//
// A strip has a fixed width along y, and its used length along x counts; density
// is the area of the pieces over width times length. Bins count by their number.
// The ratio is the result over the best known value: 1 is as good, more is worse.
// Best known values are in the instance (known_optimal_bins, known_optimal_length)
// or in a file best_known_strip.tsv beside it. Lengths are compared, not densities:
// areas of one instance differ between publications. F is the mean of the squared
// shares of the bins that are used.
//
// A search ends early when it has reached the bound, so that seconds count.
//
// # What --out keeps
//
// The file is begun anew when the first result is there. Each line is written as
// soon as its instance is done, so that a run that is killed keeps what it has.
//
// Exit codes: 0 done, 2 bad input or usage, or a layout the judge refused;
// 130 interrupted: what is done so far is printed, with the best layout so far of
// the instance in work.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/pprof"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/pflag"
)

// The exit codes.
const (
	exitDone        = 0
	exitBad         = 2
	exitInterrupted = 130
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	// The first interrupt ends the search; a second one ends the program.
	context.AfterFunc(ctx, stop)
	code := run(ctx, os.Args[1:], os.Stdout, os.Stderr, solversFor)
	stop()
	os.Exit(code)
}

// options are the flags.
type options struct {
	cut     string
	limit   time.Duration
	seed    uint64
	threads int
	out     string
	curve   []float64 // seconds
	rounds  int       // a counted budget; 0 is none
	profile string
	// cabinets is how many generated jobs are planned instead of instances.
	cabinets int
}

// readOptions returns the flags and the files or folders they leave over.
func readOptions(args []string, stderr io.Writer) (*options, []string, error) {
	o := &options{}
	fs := pflag.NewFlagSet("nestbench", pflag.ContinueOnError)
	fs.SetOutput(stderr)
	fs.SortFlags = false
	fs.StringVar(&o.cut, "cut", "router", "way to cut: router (true shapes), free (rectangles, no straight cuts wanted) or saw (straight through-cuts)")
	fs.DurationVar(&o.limit, "time", 5*time.Second, "wall-clock time for each instance")
	fs.Uint64Var(&o.seed, "seed", 1, "seed of the searches")
	fs.IntVar(&o.threads, "threads", 2, "threads to search with")
	fs.StringVar(&o.out, "out", "", "file for the layouts, a line of JSON each; lines are written as they come")
	fs.IntVar(&o.rounds, "rounds", 0, "counted budget of a search, for runs that repeat exactly; --time still ends it (default none)")
	fs.IntVar(&o.cabinets, "cabinets", 0, "plan so many generated cabinet jobs, from --seed on, instead of instances")
	fs.StringVar(&o.profile, "profile", "", "file for a CPU profile")
	curve := fs.String("curve", "", "seconds, such as 1,5,20, at which to print how good the best layout was")
	fs.Usage = func() {
		fmt.Fprintf(stderr, "nestbench measures the solvers on instances from the literature.\n\n"+
			"Usage: nestbench [flags] FILE|DIR...\n\n%s\n"+
			"Exit codes: 0 done; 2 bad input or usage, or a layout the judge refused;\n130 interrupted, with what is done so far printed.\n", fs.FlagUsages())
	}
	if err := fs.Parse(args); err != nil {
		return nil, nil, err
	}
	switch {
	case !slices.Contains([]string{"router", "free", "saw"}, o.cut):
		return nil, nil, fmt.Errorf("--cut %s: want router, free or saw", o.cut)
	case o.limit <= 0:
		return nil, nil, fmt.Errorf("--time %v: want more than nothing, such as 5s", o.limit)
	case o.threads < 1:
		return nil, nil, fmt.Errorf("--threads %d: want 1 or more", o.threads)
	case o.rounds < 0:
		return nil, nil, fmt.Errorf("--rounds %d: want 1 or more, or 0 for no limit", o.rounds)
	case o.cabinets < 0:
		return nil, nil, fmt.Errorf("--cabinets %d: want 1 or more", o.cabinets)
	case o.cabinets > 0 && fs.NArg() > 0:
		return nil, nil, errors.New("--cabinets makes its own jobs: name no files")
	case o.cabinets == 0 && fs.NArg() == 0:
		return nil, nil, errors.New("no instance: name a file or a folder; see nestbench --help")
	}
	if *curve != "" {
		for s := range strings.SplitSeq(*curve, ",") {
			v, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
			if err != nil || !(v > 0) || v > o.limit.Seconds() {
				return nil, nil, fmt.Errorf("--curve %s: want seconds above 0 up to --time, which is %v", *curve, o.limit)
			}
			o.curve = append(o.curve, v)
		}
		slices.Sort(o.curve)
	}
	return o, fs.Args(), nil
}

// profile begins a CPU profile; the function ends it.
func profile(name string) (func(), error) {
	f, err := os.Create(name)
	if err != nil {
		return nil, err
	}
	if err := pprof.StartCPUProfile(f); err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return func() {
		pprof.StopCPUProfile()
		f.Close()
	}, nil
}

// run is the program: it returns the exit code.
func run(ctx context.Context, args []string, stdout, stderr io.Writer, solvers solverChoice) int {
	o, paths, err := readOptions(args, stderr)
	if errors.Is(err, pflag.ErrHelp) {
		return exitDone
	}
	fail := func(err error) { fmt.Fprintf(stderr, "nestbench: %v\n", err) }
	if err != nil {
		fail(err)
		return exitBad
	}
	if o.profile != "" {
		end, err := profile(o.profile)
		if err != nil {
			fail(err)
			return exitBad
		}
		defer end()
	}
	if o.cabinets > 0 {
		return runCabinets(ctx, o, stdout, fail)
	}
	code := exitDone
	found := findInstances(paths)
	for _, n := range found.notes {
		fmt.Fprintf(stderr, "nestbench: note: %s\n", n)
	}
	for _, err := range found.faults {
		fail(err)
		code = exitBad
	}
	todo := found.instances
	if o.cut == "saw" {
		todo = slices.DeleteFunc(todo, func(in *instance) bool {
			id, odd := in.oddPiece()
			if odd {
				fmt.Fprintf(stderr, "nestbench: note: %s: skipped: piece %q is no upright rectangle, and a saw frees no other; use --cut router\n", in.file, id)
			}
			return odd
		})
	}
	if len(todo) == 0 {
		fail(errors.New("no instance to work on"))
		return exitBad
	}
	lines := &lineFile{name: o.out}
	t := newTable(stdout, todo)
	for i, in := range todo {
		m := newMeter(stderr, fmt.Sprintf("%d/%d %s", i+1, len(todo), in.Name))
		r, err := measure(ctx, in, o, solvers, m)
		m.stop()
		if err != nil {
			fail(fmt.Errorf("%s: %w", in.file, err))
			code = exitBad
		} else {
			t.row(r)
			if err := lines.write(r); err != nil {
				fail(err)
				code = exitBad
				break
			}
		}
		if ctx.Err() != nil {
			fmt.Fprintf(stderr, "nestbench: interrupted; %d of %d instances were reached\n", i+1, len(todo))
			code = exitInterrupted
			break
		}
	}
	t.totals()
	if err := errors.Join(lines.close(), t.err); err != nil {
		fail(err)
		return exitBad
	}
	return code
}

// Command panelyard plans how cabinet panels come out of sheets: which sheets to
// buy, what they cost, and how every panel is cut from them.
//
//	panelyard demo                     a job of our own and everything it yields
//	panelyard check JOB                what was understood, and what is wrong
//	panelyard plan JOB --out DIR       the plan and its papers
//	panelyard compare JOB...           all variants side by side, and which to build
//	panelyard nearmiss JOB             which single change saves a sheet or an amount
//	panelyard batch JOB --to 12        what each costs of so many
//	panelyard tolerance JOB            whether the plan comes out of boards as they come
//	panelyard recut PLAN --spoiled NAME   the rest of a plan, planned again
//	panelyard arc --chord 600 --rise 50   an arc from two measures
//	panelyard rack list                the kept offcuts
//	panelyard bend --thickness 18 --web 2 --radius 300 --angle 90   the kerfs of a bend
//	panelyard template JOB PANEL --out FILE.pdf   a panel at true size, on pages
//
// Results go to standard output; warnings, progress and errors to standard
// error. Exit codes: 0 done, 1 planned but some panels have no place, 2 bad
// input or usage, 130 interrupted (the best plan so far is written).
package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"github.com/spf13/cobra"
)

// The exit codes.
const (
	exitDone        = 0
	exitUnplaced    = 1
	exitBadInput    = 2
	exitInterrupted = 130
)

func main() { os.Exit(run(os.Args[1:], streams{in: os.Stdin, out: os.Stdout, err: os.Stderr})) }

// exitError ends a command that has said what it had to say with a code.
type exitError int

func (e exitError) Error() string { return "exit" }

// run runs the program and returns its exit code.
func run(args []string, s streams) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	// The first interrupt ends the search; a second one ends the program.
	context.AfterFunc(ctx, stop)
	out := &checked{Writer: s.out}
	s.out = out
	root := command(s)
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	if err == nil && out.err != nil {
		err = fmt.Errorf("the result could not be written: %w", out.err)
	}
	var code exitError
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &code):
		return int(code)
	}
	s.fail(err)
	return exitBadInput
}

// version returns what the build says of itself.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	v := info.Main.Version
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && v == "(devel)" {
			v += " " + s.Value[:min(12, len(s.Value))]
		}
	}
	return v + ", " + info.GoVersion
}

// command returns the program's commands.
func command(s streams) *cobra.Command {
	root := &cobra.Command{
		Use:   "panelyard",
		Short: "Plan how cabinet panels, curves included, come out of sheets",
		Long: `panelyard reads a job file with panels, boards and sheets, nests the panels with
kerf, grain and trim, and writes what to buy, what it costs, sheet maps, a cut list
and a report.

Exit codes: 0 done; 1 planned, but some panels have no place; 2 bad input or usage;
130 interrupted, with the best plan so far written.`,
		Version:           version(),
		SilenceErrors:     true,
		SilenceUsage:      true,
		CompletionOptions: cobra.CompletionOptions{HiddenDefaultCmd: true},
	}
	root.SetIn(s.in)
	root.SetOut(s.out)
	root.SetErr(s.err)
	root.AddCommand(demoCommand(s), checkCommand(s), planCommand(s), compareCommand(s), batchCommand(s), toleranceCommand(s), nearmissCommand(s), recutCommand(s), arcCommand(s), rackCommand(s), bendCommand(s), templateCommand(s))
	return root
}

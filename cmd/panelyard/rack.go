package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"panelyard/parts/diag"
	"panelyard/parts/length"
	"panelyard/parts/money"
	"panelyard/parts/rack"
)

// The file of the rack: the flag --rack, or this variable, or this name.
const (
	rackVariable = "PANELYARD_RACK"
	rackName     = "rack.csv"
)

// rackFlags are the flags of the commands of rack, as they were written.
type rackFlags struct {
	set   *pflag.FlagSet // of the command that runs
	file  string
	units string

	material, length, width, thickness, grain string
	label, price, from, note                  string
	json                                      bool
}

func rackCommand(s streams) *cobra.Command {
	var f rackFlags
	c := &cobra.Command{
		Use:   "rack",
		Short: "Keep the rack: the offcuts worth keeping, each with a label",
		Long: `Keep a list of the offcuts in your rack, in a CSV file that you can also edit in a
text editor or a spreadsheet program. Each board has a label, R1, R2 and so on, which
you write on it; none is given twice. A job uses the pieces of a rack that it names:

    rack: {file: rack.csv}

The file is that of --rack, or of the variable ` + rackVariable + `, or ` + rackName + ` in the current folder.`,
		Example: "  panelyard rack keep kiosk-saw/plan.json\n" +
			"  panelyard rack add --material \"birch 18\" --length 620 --width 410 --grain length\n" +
			"  panelyard rack list --length 600 --width 300\n" +
			"  panelyard rack take R3 R5",
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return c.Help()
			}
			var names []string
			for _, sub := range c.Commands() {
				names = append(names, sub.Name())
			}
			near := ""
			if n := diag.Nearest(args[0], names); n != "" {
				near = fmt.Sprintf("did you mean %s? ", n)
			}
			return fmt.Errorf("unknown command %.40q of rack: %suse %s", args[0], near, strings.Join(names, ", "))
		},
	}
	c.PersistentFlags().StringVar(&f.file, "rack", "", "file of the rack (default "+rackName+", or what "+rackVariable+" says)")
	c.PersistentFlags().StringVar(&f.units, "units", "mm", "unit of bare numbers and of what is printed: mm or in")
	c.AddCommand(f.addCommand(s), f.keepCommand(s), f.listCommand(s), f.takeCommand(s))
	return c
}

// path returns the file of the rack.
func (f *rackFlags) path() string { return cmp.Or(f.file, os.Getenv(rackVariable), rackName) }

// begin notes the command that runs, and reads --rack and --units.
func (f *rackFlags) begin(c *cobra.Command) (length.Unit, diag.List) {
	f.set = c.Flags()
	var list diag.List
	if f.set.Changed("rack") && f.file == "" {
		list.Add(diag.Pos{}, "--rack", "'' names no file", "give a file such as "+rackName)
	}
	switch f.units {
	case "mm":
		return length.MM, list
	case "in":
		return length.IN, list
	}
	list.Add(diag.Pos{}, "--units", fmt.Sprintf("%.40q", f.units), "use mm or in")
	return length.MM, list
}

// size reads a flag that is a length above 0; 0 is one that is not given, or wrong.
func (f *rackFlags) size(list *diag.List, name, text string, unit length.Unit) length.Length {
	if !f.set.Changed(name) {
		return 0
	}
	l, err := length.Parse(text, unit)
	switch {
	case err != nil:
		list.Add(diag.Pos{}, "--"+name, diag.Brief(err), "give a length above 0, such as 620, 18.5 mm or 23 11/16 in")
	case l <= 0:
		list.Add(diag.Pos{}, "--"+name, fmt.Sprintf("%v is not above 0", l), "give a length above 0, such as 620, 18.5 mm or 23 11/16 in")
		return 0
	}
	return l
}

func (f *rackFlags) addCommand(s streams) *cobra.Command {
	c := &cobra.Command{
		Use:   "add --material NAME --length L --width W",
		Short: "Put a board into the rack",
		Long: `Put a board into the rack. Material, length and width are needed: the material as
the jobs call it, the sides as measured. The grain runs along the length or the width of
the piece; a board with grain cannot be used by a job that does not know how it runs.
Without --label the board gets the next label; write it on the board.`,
		Example: "  panelyard rack add --material \"birch 18\" --length 620 --width 410 --grain length --note \"one corner is gone\"\n" +
			"  panelyard rack add --material \"MDF 12\" --units in --length \"23 11/16\" --width 12 --grain none",
		Args: noArgs,
		RunE: func(c *cobra.Command, _ []string) error { return f.add(c, s) },
	}
	fs := c.Flags()
	fs.StringVar(&f.material, "material", "", "material, as the jobs call it")
	fs.StringVar(&f.length, "length", "", "length of the board")
	fs.StringVar(&f.width, "width", "", "width of the board")
	fs.StringVar(&f.thickness, "thickness", "", "thickness as measured")
	fs.StringVar(&f.grain, "grain", "", "side of the board along which the grain runs: length, width or none")
	fs.StringVar(&f.label, "label", "", "label of your own; without it the next of R1, R2, ...")
	fs.StringVar(&f.price, "price", "", "price of the board, without currency")
	fs.StringVar(&f.from, "from", "", "where the board is from")
	fs.StringVar(&f.note, "note", "", "anything else")
	return c
}

// noArgs wants flags only.
func noArgs(c *cobra.Command, args []string) error {
	if len(args) > 0 {
		return fmt.Errorf("%s takes flags only, got %.40q; see %s --help", c.CommandPath(), args[0], c.CommandPath())
	}
	return nil
}

// today is the date as the rack has it (ISO 8601).
func today() string { return time.Now().Format(time.DateOnly) }

// add is the command rack add.
func (f *rackFlags) add(c *cobra.Command, s streams) error {
	unit, list := f.begin(c)
	for _, need := range [][2]string{{"material", "name it as the jobs do, as in --material \"birch 18\""}, {"length", "measure the board, as in --length 620"}, {"width", "measure the board, as in --width 410"}} {
		if !f.set.Changed(need[0]) {
			list.Add(diag.Pos{}, "--"+need[0], "is missing", need[1])
		}
	}
	p := rack.Piece{
		Label: strings.TrimSpace(f.label), Material: strings.TrimSpace(f.material), Date: today(), From: strings.TrimSpace(f.from), Note: strings.TrimSpace(f.note),
		Length: f.size(&list, "length", f.length, unit), Width: f.size(&list, "width", f.width, unit), Thickness: f.size(&list, "thickness", f.thickness, unit),
	}
	if f.set.Changed("label") && p.Label == "" {
		list.Add(diag.Pos{}, "--label", "'' is no label", "write one, or leave --label out")
	}
	if f.set.Changed("material") && p.Material == "" {
		list.Add(diag.Pos{}, "--material", "'' names no material", "name it as the jobs do")
	}
	var err error
	if p.Grain, err = rack.ParseGrain(strings.TrimSpace(f.grain)); err != nil {
		list.Add(diag.Pos{}, "--grain", err.Error(), "use length, width or none")
	}
	if f.set.Changed("price") {
		if p.Price, err = money.Parse(f.price); err != nil {
			list.Add(diag.Pos{}, "--price", diag.Brief(err), "write the amount without currency, as in 4.50")
		}
		p.Priced = true
	}
	if err := list.Err(); err != nil {
		return err
	}
	err = f.change(c.Context(), s, rack.New(unit), func(r *rack.Rack) error {
		p, err = r.Add(p)
		return err
	})
	if err != nil {
		return err
	}
	s.say("%s: %s, now in %s; write %s on the board", p.Label, described(&p, newMeasures(unit)), f.path(), p.Label)
	return nil
}

// change changes the file of the rack and prints what its reading warned of.
func (f *rackFlags) change(ctx context.Context, s streams, fresh *rack.Rack, change func(*rack.Rack) error) error {
	warnings, err := rack.Change(ctx, f.path(), fresh, change)
	if err != nil && ctx.Err() != nil {
		s.note("panelyard: interrupted; nothing was written")
		return exitError(exitInterrupted)
	}
	if err == nil {
		s.warn(warnings)
	}
	return err
}

// described writes material, size and grain of a piece.
func described(p *rack.Piece, m measures) string {
	return fmt.Sprintf("%s, %s x %s%s", p.Material, m.to(p.Length), m.with(p.Width), grained(p, ", "))
}

// grained says along what the grain of a piece runs, behind a text; nothing where
// nobody has noted it.
func grained(p *rack.Piece, before string) string {
	switch p.Grain {
	case rack.None:
		return before + "no grain"
	case rack.Unknown:
		return ""
	}
	return before + "grain along " + p.Grain.String()
}

func (f *rackFlags) takeCommand(s streams) *cobra.Command {
	return &cobra.Command{
		Use:     "take LABEL...",
		Short:   "Take boards out of the rack",
		Long:    "Take the boards with some labels out of the rack: all of them, or none when a label is\nnot there. Their labels are not given again.",
		Example: "  panelyard rack take R3 R5",
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return errors.New("rack take wants the labels of the boards, as in panelyard rack take R3 R5")
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			unit, list := f.begin(c)
			if err := list.Err(); err != nil {
				return err
			}
			var taken []rack.Piece
			err := f.change(c.Context(), s, nil, func(r *rack.Rack) (err error) {
				taken, err = r.Take(args...)
				return err
			})
			if err != nil {
				return err
			}
			for i := range taken {
				s.say("%s: %s, taken out of %s", taken[i].Label, described(&taken[i], newMeasures(unit)), f.path())
			}
			return nil
		},
	}
}

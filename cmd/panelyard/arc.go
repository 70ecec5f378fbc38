package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"panelyard/parts/arc"
	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// arcFlags are the flags of arc, as they were written.
type arcFlags struct {
	set *pflag.FlagSet

	chord, rise, radius, angle           string
	long                                 bool
	err, angleErr                        string
	stations                             int
	diagonal, ratio, width, height, body string
	units                                string
	svg                                  string
}

func arcCommand(s streams) *cobra.Command {
	var f arcFlags
	c := &cobra.Command{
		Use:   "arc",
		Short: "Compute a circular arc, or the size and the curve of a display, from measures",
		Long: `Compute an arc from any two of chord (the straight distance of its ends), rise (from
the middle of the chord to the arc), radius and angle; say what an error of measuring
does to it; list offsets to set it out by hand.

With --diagonal and --ratio, or --width and --height, compute the size of the picture
of a display. With --radius, also its curve, and with --body the depth a cabinet must
leave for it.

A bare number has the unit of --units; any length may carry its own: 600, 27in,
23 11/16 in. A radius may be written as displays are sold: 1800R is 1800 mm.`,
		Example: "  panelyard arc --chord 600 --rise 50 --stations 7\n" +
			"  panelyard arc --chord 600 --radius 925 --svg arc.svg\n" +
			"  panelyard arc --diagonal 27in --ratio 16:9 --radius 1800R --body 60",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return fmt.Errorf("arc takes flags only, got %q; see panelyard arc --help", args[0])
			}
			return nil
		},
		RunE: func(*cobra.Command, []string) error { return f.run(s) },
	}
	f.set = c.Flags()
	f.set.StringVar(&f.chord, "chord", "", "straight distance of the two ends")
	f.set.StringVar(&f.rise, "rise", "", "from the middle of the chord to the arc")
	f.set.StringVar(&f.radius, "radius", "", "radius of the arc, or of a curved display")
	f.set.StringVar(&f.angle, "angle", "", "angle of the arc in degrees, seen from its centre")
	f.set.BoolVar(&f.long, "long", false, "the longer of the two arcs with a chord and a radius")
	f.set.StringVar(&f.err, "error", "1 mm", "how far a measured length may be off, either way")
	f.set.StringVar(&f.angleErr, "angle-error", "0.5", "how far a measured angle may be off, in degrees")
	f.set.IntVar(&f.stations, "stations", 0, "list offsets at so many stations along the chord, both ends included")
	f.set.StringVar(&f.diagonal, "diagonal", "", "diagonal of the picture of a display")
	f.set.StringVar(&f.ratio, "ratio", "", "its width to its height, such as 16:9, or its pixels")
	f.set.StringVar(&f.width, "width", "", "width of the picture of a display")
	f.set.StringVar(&f.height, "height", "", "height of the picture of a display")
	f.set.StringVar(&f.body, "body", "", "depth of the body of a curved display at its deepest, the curve aside")
	f.set.StringVar(&f.units, "units", "mm", "unit of bare numbers and of what is printed: mm or in")
	f.set.StringVar(&f.svg, "svg", "", "file for a picture of the arc with its measures")
	return c
}

// forArc are the flags that make no sense for a display, forDisplay those that ask
// for one.
var (
	forArc     = []string{"chord", "rise", "angle", "long", "error", "angle-error", "stations", "svg"}
	forDisplay = []string{"diagonal", "ratio", "width", "height", "body"}
)

// run is the command arc.
func (f *arcFlags) run(s streams) error {
	var list diag.List
	unit := length.MM
	switch f.units {
	case "mm":
	case "in":
		unit = length.IN
	default:
		f.mistake(&list, "units", fmt.Sprintf("%.40q", f.units), "use mm or in")
	}
	for _, name := range forDisplay {
		if f.set.Changed(name) {
			return f.display(s, unit, list)
		}
	}
	return f.arc(s, unit, list)
}

// mistake adds what is wrong with a flag.
func (f *arcFlags) mistake(list *diag.List, name, fact, remedy string) {
	list.Add(diag.Pos{}, "--"+name, fact, remedy)
}

// length reads a flag that is a length above 0; 0 is one that is not given, or
// wrong.
func (f *arcFlags) length(list *diag.List, name, text string, unit length.Unit) length.Length {
	if text == "" && !f.set.Changed(name) {
		return 0
	}
	read := length.Parse
	if name == "radius" {
		read = arc.ParseRadius
	}
	const remedy = "give a length above 0, such as 600, 23 11/16 in or 4'"
	l, err := read(text, unit)
	switch {
	case err != nil:
		f.mistake(list, name, diag.Brief(err), remedy)
	case l <= 0:
		f.mistake(list, name, fmt.Sprintf("%v is not above 0", l), remedy)
		return 0
	}
	return l
}

// degrees reads a flag that is an angle above 0; 0 is one that is not given, or
// wrong.
func (f *arcFlags) degrees(list *diag.List, name, text string) arc.Angle {
	if text == "" && !f.set.Changed(name) {
		return 0
	}
	const remedy = "give degrees above 0 and below 360, such as 37.5"
	a, err := arc.ParseAngle(text)
	switch {
	case err != nil:
		f.mistake(list, name, diag.Brief(err), remedy)
	case a <= 0:
		f.mistake(list, name, fmt.Sprintf("%v degrees are not above 0", a), remedy)
		return 0
	case a >= arc.FullCircle:
		f.mistake(list, name, fmt.Sprintf("%v degrees are a full circle or more", a), remedy)
	}
	return a
}

// named gives the findings of a calculation the names of the flags.
func (f *arcFlags) named(list diag.List, err error) diag.List {
	var more diag.List
	errors.As(err, &more)
	for _, x := range more {
		if name := strings.ReplaceAll(x.Part, " ", "-"); name != "" && f.set.Lookup(name) != nil {
			x.Part = "--" + name
		}
		list = append(list, x)
	}
	return list
}

// arc computes an arc and prints it.
func (f *arcFlags) arc(s streams, unit length.Unit, list diag.List) error {
	known := arc.Known{
		Chord: f.length(&list, "chord", f.chord, unit), Rise: f.length(&list, "rise", f.rise, unit),
		Radius: f.length(&list, "radius", f.radius, unit), Angle: f.degrees(&list, "angle", f.angle), Long: f.long,
	}
	off := arc.Errors{Length: f.length(&list, "error", f.err, unit), Angle: f.degrees(&list, "angle-error", f.angleErr)}
	if f.set.Changed("svg") && f.svg == "" {
		f.mistake(&list, "svg", "'' names no file", "give a file such as arc.svg")
	}
	if len(list) > 0 {
		return list
	}
	a, err := arc.Solve(known)
	if err != nil {
		return f.named(list, err)
	}
	effects, err := arc.Effects(known, off)
	list = f.named(list, err)
	var stations []arc.Station
	if f.set.Changed("stations") {
		stations, err = a.Stations(f.stations)
		list = f.named(list, err)
	}
	if len(list) > 0 {
		return list
	}
	sheet := arcSheet{known, a, off, effects, stations, newMeasures(unit)}
	if f.svg != "" {
		if err := writePicture(f.svg, sheet); err != nil {
			return err
		}
	}
	sheet.print(s)
	s.warn(sheet.warnings())
	if f.svg != "" {
		s.say("\nlook   %s", f.svg)
	}
	return nil
}

// writePicture writes the picture of an arc, over an earlier one but over nothing
// else.
func writePicture(file string, sheet arcSheet) error {
	switch f, err := os.Open(file); {
	case err == nil:
		head, err := io.ReadAll(io.LimitReader(f, 1024))
		f.Close()
		if err != nil || !bytes.Contains(head, []byte(pictureMark)) {
			return fmt.Errorf("%s is there and no picture of panelyard arc: choose another name for --svg", file)
		}
	case !errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("cannot write the picture: %w", err)
	}
	var b bytes.Buffer
	sheet.draw(&b)
	if err := writeNew(file, b.Bytes()); err != nil {
		return fmt.Errorf("cannot write the picture: %w", err)
	}
	return nil
}

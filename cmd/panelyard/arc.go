package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"panelyard/parts/arc"
	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// arcFlags are the flags of arc, as they were written.
type arcFlags struct {
	measureFlags

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
	unit := f.unit(&list, f.units)
	for _, name := range forDisplay {
		if f.set.Changed(name) {
			return f.display(s, unit, list)
		}
	}
	return f.arc(s, unit, list)
}

// arc computes an arc and prints it.
func (f *arcFlags) arc(s streams, unit length.Unit, list diag.List) error {
	known := arc.Known{
		Chord: f.length(&list, "chord", f.chord, unit), Rise: f.length(&list, "rise", f.rise, unit),
		Radius: f.length(&list, "radius", f.radius, unit), Angle: f.degrees(&list, "angle", f.angle), Long: f.long,
	}
	off := arc.Errors{Length: f.length(&list, "error", f.err, unit), Angle: f.degrees(&list, "angle-error", f.angleErr)}
	f.file(&list, "svg", f.svg, "arc.svg")
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
		if err := writePicture(f.svg, "arc", sheet.draw); err != nil {
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

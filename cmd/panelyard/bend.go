package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"panelyard/parts"
	"panelyard/parts/arc"
	"panelyard/parts/bend"
	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// bendFlags are the flags of bend, as they were written.
type bendFlags struct {
	measureFlags

	thickness, web, kerf       string
	radius, angle, chord, rise string
	facet                      string
	count                      int
	open                       bool
	from, to, width            string
	grain, units, svg          string
	json                       bool
}

func bendCommand(s streams) *cobra.Command {
	var f bendFlags
	c := &cobra.Command{
		Use:   "bend",
		Short: "Work out the kerfs that bend a board, and whether it bends without",
		Long: `Work out how a board is kerfed to bend: how many kerfs, where they are sawn in the
flat blank, how long that is, and what facets and gaps are left. The bend is that of
the outer face: --radius and --angle, or --chord and --rise.

Kerfs are sawn into the inner face and close; as few as close, or as many as keep
the flat pieces within --facet of the arc. With --open they are in the outer face and
gape. With --grain, also say whether plywood bends dry, without kerfs.

A bare number has the unit of --units; any length may carry its own: 18, 3/4 in.`,
		Example: "  panelyard bend --thickness 18 --web 2 --radius 300 --angle 90 --from 200 --to 200\n" +
			"  panelyard bend --thickness 18 --web 2 --chord 600 --rise 25.18 --facet 0.25 --svg bend.svg\n" +
			"  panelyard bend --thickness 9 --web 1.5 --radius 1800R --angle 38 --grain across",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return fmt.Errorf("bend takes flags only, got %q; see panelyard bend --help", args[0])
			}
			return nil
		},
		RunE: func(*cobra.Command, []string) error { return f.run(s) },
	}
	f.set = c.Flags()
	f.set.StringVar(&f.thickness, "thickness", "", "of the board, as measured")
	f.set.StringVar(&f.web, "web", "", "left under each kerf")
	f.set.StringVar(&f.kerf, "kerf", parts.DefaultKerf.String(), "width of a kerf, as measured on scrap")
	f.set.StringVar(&f.radius, "radius", "", "radius of the outer face")
	f.set.StringVar(&f.angle, "angle", "", "angle of the bend in degrees")
	f.set.StringVar(&f.chord, "chord", "", "straight distance of the ends of the bend, on the outer face")
	f.set.StringVar(&f.rise, "rise", "", "from the middle of the chord to the outer face")
	f.set.StringVar(&f.facet, "facet", "", "the most that flat pieces may stand off the arc")
	f.set.IntVar(&f.count, "count", 0, "number of kerfs; as few as needed if not given")
	f.set.BoolVar(&f.open, "open", false, "kerfs in the outer face, that gape")
	f.set.StringVar(&f.from, "from", "", "straight wood before the bend")
	f.set.StringVar(&f.to, "to", "", "straight wood after the bend")
	f.set.StringVar(&f.width, "width", "", "width of the blank: the length of the kerfs")
	f.set.StringVar(&f.grain, "grain", "", "also try plywood dry, its face grain along the curve or across: along or across")
	f.set.StringVar(&f.units, "units", "mm", "unit of bare numbers and of what is printed: mm or in")
	f.set.StringVar(&f.svg, "svg", "", "file for a picture of the blank and of the bent board")
	f.set.BoolVar(&f.json, "json", false, "print the result for other programs, in millimetres")
	return c
}

// run is the command bend.
func (f *bendFlags) run(s streams) error {
	x, list := f.read()
	if len(list) > 0 {
		return list
	}
	var err error
	if x.bend.Outer, err = arc.Solve(x.known); err != nil {
		return f.named(nil, err)
	}
	x.cuts, err = bend.Solve(x.bend)
	list = f.named(nil, err)
	if f.grain != "" && err == nil {
		// What bend refuses of board and radius, this would say again.
		x.dry = &bend.Dry{Thickness: x.bend.Thickness, Radius: x.bend.Outer.Radius, Grain: grains[f.grain]}
		x.advice, err = x.dry.Check()
		list = f.named(list, err)
	}
	if x.blank() > length.Max {
		list.Add(diag.Pos{}, "--from", fmt.Sprintf("the blank would be %v long", x.blank()), "use "+length.Max.String()+" or less")
	}
	if len(list) > 0 {
		return list
	}
	x.positions = x.cuts.Positions(x.from)
	if f.svg != "" {
		if err := writePicture(f.svg, "bend", x.draw); err != nil {
			return err
		}
	}
	if f.json {
		if err := x.json(s.out); err != nil {
			return err
		}
	} else {
		x.print(s)
	}
	s.warn(f.named(nil, x.bend.Doubts()))
	if f.svg != "" && !f.json {
		s.say("\nlook   %s", f.svg)
	}
	return nil
}

// grains are the words of --grain.
var grains = map[string]bend.Grain{bend.Along.String(): bend.Along, bend.Across.String(): bend.Across}

// read reads the flags, with all that is wrong with them.
func (f *bendFlags) read() (bendSheet, diag.List) {
	var list diag.List
	unit := f.unit(&list, f.units)
	read := func(name, text string) length.Length { return f.length(&list, name, text, unit) }
	x := bendSheet{
		known: arc.Known{Radius: read("radius", f.radius), Angle: f.degrees(&list, "angle", f.angle), Chord: read("chord", f.chord), Rise: read("rise", f.rise)},
		bend: bend.Bend{
			Thickness: read("thickness", f.thickness), Web: read("web", f.web), Kerf: read("kerf", f.kerf),
			Facet: read("facet", f.facet), Open: f.open, Count: f.count,
		},
		from: read("from", f.from), to: read("to", f.to), width: read("width", f.width),
		write: newMeasures(unit),
	}
	for _, k := range []struct{ name, what string }{{"thickness", "the board, as measured"}, {"web", "what is left under each kerf"}} {
		if !f.set.Changed(k.name) {
			f.mistake(&list, k.name, "is not given", "give "+k.what)
		}
	}
	if f.set.Changed("count") && f.count < 1 {
		f.mistake(&list, "count", fmt.Sprintf("%d kerfs bend nothing", f.count), "give 1 or more, or leave it out")
	}
	if _, ok := grains[f.grain]; !ok && f.set.Changed("grain") {
		f.mistake(&list, "grain", fmt.Sprintf("%.40q", f.grain), "use along (the face grain runs round the curve) or across (it runs along the kerfs)")
	}
	f.file(&list, "svg", f.svg, "bend.svg")
	return x, list
}

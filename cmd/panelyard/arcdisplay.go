package main

import (
	"fmt"

	"panelyard/parts/arc"
	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// smallDisplay is a diagonal that a bare number in millimetres rarely means.
const smallDisplay = 110 * length.Millimetre

// screen is a display.
type screen struct {
	diagonal, width, height length.Length // 0 is not known
	ratio                   arc.Ratio
	radius, body            length.Length // 0 is not given
	along, across           arc.Arc       // when there is a radius
}

// display computes the size of a display and prints it.
func (f *arcFlags) display(s streams, unit length.Unit, list diag.List) error {
	for _, name := range forArc {
		if f.set.Changed(name) {
			f.mistake(&list, name, "is about an arc, and the other flags are about a display", "compute them one after the other")
		}
	}
	d := screen{
		diagonal: f.length(&list, "diagonal", f.diagonal, unit),
		width:    f.length(&list, "width", f.width, unit),
		height:   f.length(&list, "height", f.height, unit),
		radius:   f.length(&list, "radius", f.radius, unit),
		body:     f.length(&list, "body", f.body, unit),
	}
	if f.set.Changed("ratio") {
		var err error
		if d.ratio, err = arc.ParseRatio(f.ratio); err != nil {
			f.mistake(&list, "ratio", diag.Brief(err), "give the ratio, or the pixels, of the data sheet")
		}
	}
	f.wanted(&list)
	if len(list) > 0 {
		return list
	}
	if err := d.compute(); err != nil {
		return f.named(nil, err)
	}
	w := newMeasures(unit)
	if err := d.print(s, w); err != nil {
		return f.named(nil, err)
	}
	s.warn(d.warnings(f))
	return nil
}

// wanted adds what is missing for a display, or too much.
func (f *arcFlags) wanted(list *diag.List) {
	has := f.set.Changed
	if has("diagonal") && (has("width") || has("height")) {
		f.mistake(list, "diagonal", "given beside width or height", "give diagonal and ratio, or width and height")
	} else if has("diagonal") && !has("ratio") {
		f.mistake(list, "diagonal", "needs the ratio of width to height", "add --ratio, such as --ratio 16:9")
	}
	if has("ratio") && !has("diagonal") {
		f.mistake(list, "ratio", "goes with a diagonal", "add --diagonal")
	}
	switch {
	case has("height") && !has("width"):
		f.mistake(list, "height", "goes with a width", "add --width")
	case has("width") && !has("height") && !has("radius"):
		f.mistake(list, "width", "nothing can be computed from the width alone", "add --height, or --radius of a curved display")
	}
	switch {
	case has("body") && !has("radius"):
		f.mistake(list, "body", "goes with the radius of a curved display", "add --radius; a flat display needs the depth of its body")
	case has("body") && !has("width") && !has("diagonal"):
		f.mistake(list, "body", "goes with the size of a curved display", "add --diagonal and --ratio, or --width")
	}
}

// compute fills in what follows from what is given.
func (d *screen) compute() (err error) {
	switch {
	case d.diagonal != 0:
		d.width, d.height, err = d.ratio.Size(d.diagonal)
	case d.height != 0:
		d.diagonal, err = arc.Diagonal(d.width, d.height)
	}
	if err == nil && d.radius != 0 {
		d.along, d.across, err = arc.Screen(d.radius, d.width)
	}
	return err
}

// print prints the display. The error is that of the depth.
func (d *screen) print(s streams, w measures) error {
	var depths [2]length.Length
	if d.body != 0 {
		for i, a := range [2]arc.Arc{d.along, d.across} {
			var err error
			if depths[i], err = arc.Depth(d.body, a); err != nil {
				return err
			}
		}
	}
	s.say("display, lengths in %s", w.Unit())
	var rows [][]string
	if d.diagonal != 0 {
		rows = append(rows, []string{"diagonal", w.to(d.diagonal)})
	}
	if d.ratio != (arc.Ratio{}) {
		rows = append(rows, []string{"ratio", d.ratio.String()})
	}
	rows = append(rows, []string{"width", w.to(d.width), "of the picture: the rim comes on top"})
	if d.height != 0 {
		rows = append(rows, []string{"height", w.to(d.height)})
	}
	table(s, rows)
	if d.radius == 0 {
		return nil
	}
	s.say("\ncurved across its width, radius %s", w.with(d.radius))
	rows = [][]string{{"if the width is", "chord", "rise", "length", "angle"}}
	if d.body != 0 {
		rows[0] = append(rows[0], "depth of the cabinet inside")
	}
	for i, x := range []struct {
		how string
		arc arc.Arc
	}{{"along the curve", d.along}, {"straight across", d.across}} {
		row := []string{x.how, w.to(x.arc.Chord), w.to(x.arc.Rise), w.to(x.arc.Length), x.arc.Angle.String()}
		if d.body != 0 {
			row = append(row, fmt.Sprintf("%s = body %s + rise", w.to(depths[i]), w.to(d.body)))
		}
		rows = append(rows, row)
	}
	table(s, rows)
	s.say("\nmind   data sheets seldom say how the width is meant, and the rim follows the curve as well:")
	s.say("       measure chord and depth of the display itself before anything is cut")
	return nil
}

// warnings returns what is doubtful about the size.
func (d *screen) warnings(f *arcFlags) diag.List {
	var list diag.List
	if f.diagonal != "" && d.diagonal < smallDisplay {
		list.Warn(diag.Pos{}, "--diagonal", fmt.Sprintf("%v is a very small display", d.diagonal), "write the unit when inches are meant: --diagonal 27in")
	}
	// The pixels are those of data sheets, from memory.
	if d.ratio.Same(arc.Ratio{Width: 21, Height: 9}) && d.ratio.Width != 0 {
		list.Warn(diag.Pos{}, "--ratio", "displays sold as 21:9 are seldom that: 3440 x 1440 pixels are 43:18, 2560 x 1080 are 64:27", "give the pixels of the data sheet, such as --ratio 3440x1440")
	}
	return list
}

package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"panelyard/parts/arc"
	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// measureFlags reads flags that are measures, and names them in findings.
type measureFlags struct{ set *pflag.FlagSet }

// unit reads --units.
func (f measureFlags) unit(list *diag.List, text string) length.Unit {
	switch text {
	case "mm":
	case "in":
		return length.IN
	default:
		f.mistake(list, "units", fmt.Sprintf("%.40q", text), "use mm or in")
	}
	return length.MM
}

// mistake adds what is wrong with a flag.
func (f measureFlags) mistake(list *diag.List, name, fact, remedy string) {
	list.Add(diag.Pos{}, "--"+name, fact, remedy)
}

// length reads a flag that is a length above 0; 0 is one that is not given, or
// wrong.
func (f measureFlags) length(list *diag.List, name, text string, unit length.Unit) length.Length {
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
func (f measureFlags) degrees(list *diag.List, name, text string) arc.Angle {
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
func (f measureFlags) named(list diag.List, err error) diag.List {
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

// file adds a mistake when a flag that names a file is given and empty.
func (f measureFlags) file(list *diag.List, name, text, example string) {
	if f.set.Changed(name) && text == "" {
		f.mistake(list, name, "'' names no file", "give a file such as "+example)
	}
}

// writePicture writes what draw draws, over an earlier picture of the same command but
// over nothing else. The picture holds the mark of the command.
func writePicture(file, command string, draw func(io.Writer)) error {
	var b bytes.Buffer
	draw(&b)
	return writeOver(command, output{file, "--svg", "picture", b.Bytes()})
}

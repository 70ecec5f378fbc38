package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/pflag"

	"panelyard/parts"
	"panelyard/parts/length"
)

// figureFlags say how papers write numbers, over what the job says.
type figureFlags struct {
	units, decimal, thousands string
	fraction                  int64
}

// add defines the flags.
func (f *figureFlags) add(fs *pflag.FlagSet) {
	fs.StringVar(&f.units, "units", "", "unit of lengths on papers: mm or in; without it that of the job")
	fs.Int64Var(&f.fraction, "fraction", 0, "write inches as fractions to 1/16, 1/32 or 1/64: 16, 32 or 64")
	fs.StringVar(&f.decimal, "decimal", "", "decimal mark on papers: point or comma")
	fs.StringVar(&f.thousands, "thousands", "", "mark between thousands on papers: "+strings.Join(parts.ThousandsNames, ", "))
}

// check says which flags are wrong whatever the job is.
func (f *figureFlags) check() error {
	var errs []error
	wrong := func(format string, args ...any) { errs = append(errs, fmt.Errorf(format, args...)) }
	if f.fraction != 0 {
		if err := (parts.Figures{Unit: length.IN, Fraction: f.fraction}).Check(length.IN); err != nil {
			wrong("--fraction: %w; use 16, 32 or 64", err)
		}
	}
	if f.units != "" && f.units != "mm" && f.units != "in" {
		wrong("--units %q: use mm or in", f.units)
	}
	if f.decimal != "" && f.decimal != "point" && f.decimal != "comma" {
		wrong("--decimal %q: use point or comma", f.decimal)
	}
	if _, known := parts.Thousands[f.thousands]; f.thousands != "" && !known {
		wrong("--thousands %q: use %s", f.thousands, strings.Join(parts.ThousandsNames, ", "))
	}
	return errors.Join(errs...)
}

// give changes the figures of a job to those of the flags that were given.
func (f *figureFlags) give(j *parts.Job) error {
	to := j.Figures
	switch f.units {
	case "mm":
		to.Unit, to.Fraction = length.MM, 0
	case "in":
		to.Unit = length.IN
	}
	if f.fraction != 0 {
		to.Fraction = f.fraction
		if f.units == "" {
			to.Unit = length.IN // who wants fractions wants inches
		}
	}
	if f.decimal != "" {
		to.Comma = f.decimal == "comma"
	}
	if f.thousands != "" {
		to.Thousands = parts.Thousands[f.thousands]
	}
	if err := to.Check(j.Units); err != nil {
		return fmt.Errorf("%w: see --units, --fraction, --decimal and --thousands", err)
	}
	j.Figures = to
	return nil
}

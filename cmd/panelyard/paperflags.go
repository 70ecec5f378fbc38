package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"panelyard/export/dxf"
	"panelyard/export/labels"
	"panelyard/export/svgmap"
	"panelyard/parts/length"
)

// paperFlags are the flags that say how papers are written.
type paperFlags struct {
	dxf, labels, paper, margin, code, mapPaper string
	mirrored                                   bool
	figures                                    figureFlags

	// What they come to, after check.
	flavour dxf.Flavour
	grid    labels.Grid
	maps    svgmap.Paper
}

// The flags that are not given.
const (
	usualDXF    = "r12"
	usualLabels = "3x8"
	usualPaper  = "a4"
	usualMargin = "8"
	usualCode   = "qr"
	usualMap    = "a4"
)

// add defines the flags.
func (f *paperFlags) add(fs *pflag.FlagSet) {
	f.figures.add(fs)
	fs.StringVar(&f.dxf, "dxf", usualDXF, "flavour of the DXF drawings for a router: r12 or 2000")
	fs.StringVar(&f.mapPaper, "map-paper", usualMap, "paper of the sheet maps: a4, a3 or letter")
	fs.BoolVar(&f.mirrored, "mirrored-maps", false, "draw each sheet from its other side, too")
	fs.StringVar(&f.labels, "labels", usualLabels, "labels on a page, columns x rows")
	fs.StringVar(&f.paper, "label-paper", usualPaper, "paper of the labels: "+strings.Join(labels.Papers, " or "))
	fs.StringVar(&f.margin, "label-margin", usualMargin, "margin of a page of labels, in mm or with a unit")
	fs.StringVar(&f.code, "label-code", usualCode, "code of the labels: qr, or plain letters and figures")
}

// usualPapers are the papers when no flag is given.
func usualPapers() paperFlags {
	return paperFlags{dxf: usualDXF, labels: usualLabels, paper: usualPaper, margin: usualMargin, code: usualCode, mapPaper: usualMap}
}

// check reads the flags. The error names all that are wrong.
func (f *paperFlags) check() error {
	errs := []error{f.figures.check()}
	wrong := func(format string, args ...any) { errs = append(errs, fmt.Errorf(format, args...)) }
	switch f.dxf {
	case "r12":
		f.flavour = dxf.R12
	case "2000":
		f.flavour = dxf.R2000
	default:
		wrong("--dxf %q: use r12 or 2000", f.dxf)
	}
	switch strings.ToLower(f.mapPaper) {
	case "a4":
		f.maps = svgmap.A4
	case "a3":
		f.maps = svgmap.A3
	case "letter":
		f.maps = svgmap.Letter
	default:
		wrong("--map-paper %q: use a4, a3 or letter", f.mapPaper)
	}
	columns, rows, ok := strings.Cut(strings.ToLower(f.labels), "x")
	c, err1 := strconv.Atoi(strings.TrimSpace(columns))
	r, err2 := strconv.Atoi(strings.TrimSpace(rows))
	grid := ok && err1 == nil && err2 == nil
	if !grid {
		wrong("--labels %q: write columns x rows, as in 3x8", f.labels)
	}
	margin, err := length.Parse(f.margin, length.MM)
	if err != nil {
		wrong("--label-margin %q: write a length, as in 8 or 0.3 in", f.margin)
	}
	if grid && err == nil {
		if f.grid, err = labels.NewGrid(strings.ToLower(f.paper), c, r, margin.MM()); err != nil {
			wrong("labels: %w", err)
		}
	}
	switch strings.ToLower(f.code) {
	case "qr":
	case "plain":
		f.grid.Plain = true
	default:
		wrong("--label-code %q: use qr or plain", f.code)
	}
	return errors.Join(errs...)
}

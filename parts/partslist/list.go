package partslist

import (
	"bytes"
	"errors"

	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// The limits of a parts list.
const (
	MaxBytes    = 64 << 20
	MaxUnpacked = 128 << 20 // of all files in a workbook's archive
	MaxRatio    = 100       // unpacked to packed, of an archive or a file in it, beyond 1 MiB
	MaxParts    = 10_000    // files in a workbook's archive
	MaxDepth    = 64        // levels of XML
	MaxRows     = 100_000   // filled rows of a sheet
	MaxColumns  = 256
	MaxCells    = 2_000_000 // filled cells of a sheet
	MaxMerges   = 100_000   // columns of all merged areas of a sheet
	MaxTitle    = 50        // filled rows in which the headings are looked for
	MaxCopies   = 100_000   // of a panel
	MaxPanels   = 200_000   // pieces in all
	MaxName     = 200       // characters
	MaxNote     = 4_000     // characters
	MaxComputed = 10_000    // formulas that have no cached value
)

// Mark is a decimal mark.
type Mark int

// The decimal marks. Unstated leaves it to each number, and those that can be read
// both ways are mistakes.
const (
	Unstated Mark = iota
	Point
	Comma
)

// Options say what a file does not say itself. The zero value is usable.
type Options struct {
	Sheet   string      // of a workbook, case ignored; empty is the first with a heading row
	Units   length.Unit // of bare numbers; the zero Unit makes those without a unit mistakes
	Decimal Mark        // of numbers written as text
}

// List is a parts list as read.
type List struct {
	Rows    []Row // nil when the findings hold a mistake
	Reading Reading
}

// Row is a row that describes panels.
type Row struct {
	Place     Place
	Pos       diag.Pos // for findings about the row
	Name      string
	Quantity  int
	Length    length.Length // along x; 0 when a drawing is given and no size
	Width     length.Length
	Thickness length.Length // 0 when it is not given
	Material  string        // empty when it is not given
	Grain     string        // "length", "width" or "free", as in a job file; empty when it is not given
	Edging    []Edge
	Note      string
	Drawing   string // name of a file, as written
}

// Place is where a row stands. The row counts as a spreadsheet counts, the line as
// an editor does; they differ in CSV with line breaks in cells.
type Place struct {
	Sheet string // empty for CSV
	Row   int
	Line  int
}

// Edge is an edge that is banded, in the words of a job file: bottom and top run
// along the length, left and right along the width; all is every edge. An edge of
// a panel that has a drawing may have another name.
type Edge struct {
	Edge string
	Band string // name of the band; empty when the list does not say which
}

// ReadFile reads a parts list from a file, CSV or XLSX by its content.
func ReadFile(path string, opt Options) (*List, diag.List) {
	src, err := diag.ReadFile(path, MaxBytes)
	if err != nil {
		remedy := "check the name and the permissions of the file"
		switch {
		case errors.Is(err, diag.ErrDirectory):
			remedy = "name the parts list in it"
		case errors.Is(err, diag.TooLarge(MaxBytes)):
			remedy = largeRemedy
		}
		return &List{Reading: Reading{File: path}}, diag.List{{Pos: diag.Pos{File: path}, Fact: err.Error(), Remedy: remedy, Err: err}}
	}
	return Read(path, src, opt)
}

const largeRemedy = "keep the sheet of panels only, without pictures"

// Read reads the parts list in src; name is the file name that findings carry. The
// list is never nil. Read never panics, whatever is in src.
func Read(name string, src []byte, opt Options) (*List, diag.List) {
	r := &reader{file: name, opt: opt}
	r.out.Reading.File = name
	var g *grid
	switch {
	case len(src) > MaxBytes:
		r.whole(diag.TooLarge(MaxBytes).Error(), largeRemedy)
	case bytes.HasPrefix(src, []byte(zipMagic)):
		g = r.workbook(src)
	case bytes.HasPrefix(src, []byte(compoundMagic)):
		r.compound(src)
	default:
		g = r.csv(src)
	}
	if g != nil {
		r.table(g)
	}
	return r.result()
}

// reader is one run of Read.
type reader struct {
	file string
	opt  Options
	list diag.List
	out  List
}

// whole adds a mistake of the file as a whole.
func (r *reader) whole(fact, remedy string) { r.list.Add(diag.Pos{File: r.file}, "", fact, remedy) }

// result returns the list and what is listed of the findings.
func (r *reader) result() (*List, diag.List) {
	list := r.list.Listed(r.file)
	if list.Err() != nil {
		r.out.Rows = nil
	}
	return &r.out, list
}

package rack

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/length"
	"panelyard/parts/money"
)

// The limits of a rack.
const (
	MaxBytes  = 4 << 20
	MaxPieces = 5_000
	MaxLines  = 20_000
	MaxLabel  = 40    // characters
	MaxName   = 200   // characters of a material
	MaxNote   = 1_000 // characters of other text

	// MinSide is the least side of a piece: what is less was meant in another unit.
	// Common practice, no source.
	MinSide = 5 * length.Millimetre

	// maxNumber is the highest number that is given in a label.
	maxNumber = 999_999_999
)

// Grain is the side of a piece along which its grain runs.
type Grain int

// The grains. The zero Grain is one that nobody has noted.
const (
	Unknown Grain = iota
	AlongLength
	AlongWidth
	None // the board has no grain
)

// String returns the word of the file, "" when the grain is not known.
func (g Grain) String() string { return [...]string{"", "length", "width", "none"}[g] }

// Axis returns the grain as the axis of a sheet, and whether it is known.
func (g Grain) Axis() (parts.Axis, bool) {
	switch g {
	case AlongLength:
		return parts.AlongLength, true
	case AlongWidth:
		return parts.AlongWidth, true
	}
	return parts.NoAxis, g == None
}

// ParseGrain reads a word for a grain; no word is an unknown grain.
func ParseGrain(s string) (Grain, error) {
	for g := Unknown; g <= None; g++ {
		if strings.EqualFold(s, g.String()) {
			return g, nil
		}
	}
	return Unknown, fmt.Errorf("%q is not known", clip(s))
}

// Piece is a kept offcut: a rectangle of board with a label on it.
type Piece struct {
	Label     string
	Material  string
	Thickness length.Length // as measured; 0 when it is not known
	Length    length.Length
	Width     length.Length
	Grain     Grain
	Price     money.Amount // of the piece
	Priced    bool         // a price was given
	Date      string       // on which it was put in; free text, our own are 2026-11-25
	From      string       // the job and the sheet that it is left of
	Note      string
	Pos       diag.Pos
}

// Holds reports whether a rectangle can be cut out of a piece in one of the two ways
// it can be turned, grain aside.
func (p *Piece) Holds(l, w length.Length) bool {
	return p.Length >= l && p.Width >= w || p.Length >= w && p.Width >= l
}

// kind is what a line of the file is.
type kind int

const (
	aside   kind = iota // a comment, or a row in which nothing is written
	heading             // the row of headings
	highest             // our comment with the highest label
	plan                // our comment of a plan that was put in
	piece               // a row with a piece
)

// line is a line of the file, or a row of several lines when a cell has line breaks.
type line struct {
	raw  string // with its line break
	kind kind
	Piece
}

// Rack is the pieces of a rack and the lines of its file. The zero Rack is none: use
// [New] or [Read].
type Rack struct {
	name    string // of the file, for findings
	mark    string // byte order mark before the first line
	eol     string
	sep     rune
	lines   []line
	columns columns
	width   int // cells of the widest row
	comma   bool
	highest int // number of the highest label that was ever given
	stated  int // the one that the file states
	plans   map[string]string
}

// New returns an empty rack whose sizes have a unit. Cost: none to speak of.
func New(unit length.Unit) *Rack {
	text := "# The rack: one row a board. Take a row out or change it by hand as you like.\n"
	var cells []string
	for w := range words {
		c := w.String()
		if w.size() {
			c += " (" + unit.Name + ")"
		}
		cells = append(cells, c)
	}
	r, list := Read("", []byte(text+strings.Join(cells, ",")+"\n"))
	if r == nil {
		panic(fmt.Sprintf("rack: our own heading cannot be read: %v", list)) // a unit of the package length has been tested
	}
	return r
}

// Bytes returns the file. Cost: its size.
func (r *Rack) Bytes() []byte {
	b := []byte(r.mark)
	for i, l := range r.lines {
		b = append(b, l.raw...)
		if i < len(r.lines)-1 && !strings.HasSuffix(l.raw, "\n") {
			b = append(b, r.eol...)
		}
	}
	return b
}

// Pieces returns the pieces in the order of the file.
func (r *Rack) Pieces() []Piece {
	var list []Piece
	for i := range r.lines {
		if r.lines[i].kind == piece {
			list = append(list, r.lines[i].Piece)
		}
	}
	return list
}

// find returns the place of a label among the lines, or -1. Upper and lower case are
// the same: a label is written by hand.
func (r *Rack) find(label string) int {
	label = strings.TrimSpace(label)
	return slices.IndexFunc(r.lines, func(l line) bool { return l.kind == piece && strings.EqualFold(l.Label, label) })
}

// numbered is a label of our own.
var numbered = regexp.MustCompile(`^[Rr](\d{1,9})$`)

// number returns the number of a label of our own, 0 for any other.
func number(label string) int {
	m := numbered.FindStringSubmatch(label)
	if m == nil {
		return 0
	}
	n, err := strconv.Atoi(m[1])
	if err != nil {
		return 0 // nine digits are a number
	}
	return n
}

// label returns the label of our own with a number.
func label(n int) string { return "R" + strconv.Itoa(n) }

// called is what findings call a piece.
func called(label string) string {
	if label == "" {
		return "offcut"
	}
	return fmt.Sprintf("offcut %q", clip(label))
}

// clip cuts a text short for a finding.
func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

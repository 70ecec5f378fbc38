package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"

	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// study is one run of [Panels].
type study struct {
	d    *Drawing
	opt  Options
	list diag.List
	// broken are the boxes of what could not be made a loop: what lies in them may
	// be in the wrong place for no fault of its own.
	broken []frame
}

// pos returns the place of a source.
func (s *study) pos(src Source) diag.Pos { return diag.Pos{File: s.d.File, Line: src.Line} }

// mistake reports a mistake at a piece.
func (s *study) mistake(piece int, fact, remedy string) {
	p := &s.d.Pieces[piece]
	s.list.Add(s.pos(p.Source), s.label(piece), fact, remedy)
}

// warn reports a warning at a source, which may be empty.
func (s *study) warn(src Source, fact, remedy string) {
	s.list.Warn(s.pos(src), src.Entity, fact, remedy)
}

// label names a piece and its layer; its line is that of the finding.
func (s *study) label(piece int) string {
	p := &s.d.Pieces[piece]
	return fmt.Sprintf("%s, layer %s", p.Entity, quote(p.Layer))
}

// other names a piece that a finding concerns besides the one it is about.
func (s *study) other(piece int) string {
	p := &s.d.Pieces[piece]
	return fmt.Sprintf("%s (layer %s)", p.Source, quote(p.Layer))
}

// number writes a length in the unit of the drawing to four decimals.
func (d *Drawing) number(units float64) string {
	s := strconv.FormatFloat(units/float64(d.unit().Size), 'f', 4, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// least writes a tolerance that is no less than a length, in millimetres.
func least(units float64) string {
	step := float64(length.Millimetre) / 100
	return length.Length(math.Ceil(units/step) * step).String()
}

// quote writes a name of the drawing, cut short when it is long.
func quote(name string) string {
	const most = 40
	r := []rune(strings.Map(func(c rune) rune {
		if !unicode.IsPrint(c) {
			return '\ufffd'
		}
		return c
	}, name))
	if len(r) > most {
		r = append(r[:most-1], '…')
	}
	return `"` + string(r) + `"`
}

package partslist

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// fault adds a mistake in the cell of a word.
func (t *table) fault(l *line, w word, err error, remedy string) {
	t.r.list = append(t.r.list, diag.Finding{
		Pos: t.pos(l), Part: t.part(l), Fact: t.by[w].called(l.number) + ": " + diag.Brief(err), Remedy: remedy, Err: err,
	})
}

// lonely warns of a note that is a bare number in a comma-separated row: a decimal
// comma outside quotes, with one blank cell left out, gives the right number of
// cells and the wrong sizes.
func (t *table) lonely(l *line, w word) {
	if s := t.cell(l, w).text; t.g.comma && s != "" && strings.Trim(s, "0123456789.") == "" {
		t.warn(l, fmt.Sprintf("%s is a bare number, %s: is there a decimal comma outside quotes in the row?", t.by[w].called(l.number), clip(s)), "put quotes about each cell with a comma")
	}
}

// mergedAcross refuses one value for two columns that are understood.
func (t *table) mergedAcross(l *line) {
	for _, c := range t.cols {
		m := t.g.merged(l.number, c.col)
		if c.word == other || m == nil || m.wide == 1 {
			continue
		}
		first := t.g.row(m.first)
		if m.anchor == c.col || first == nil || first.at(m.anchor).text == "" {
			continue
		}
		t.add(l, fmt.Sprintf("%s is merged with the cells from column %s on: one value cannot be two things", c.called(l.number), letters(m.anchor)), "take the merged cells apart and fill in each")
	}
}

// The errors of a cell of the wrong kind.
var (
	errDate    = errors.New("holds a date: the program that wrote the sheet took a text such as 3-4 or 3/4 for one")
	errFault   = errors.New("holds an error of its formula")
	errPending = errors.New("holds a formula without a value")
	errBroken  = errors.New("cannot be read")
	errBoolean = errors.New("holds TRUE or FALSE")
)

// usable reports whether a cell holds a text or a number, after a mistake if not.
func (t *table) usable(l *line, w word, c *cell) bool {
	switch c.kind {
	case date:
		t.fault(l, w, errDate, "format the cells as text and enter the value again")
	case fault:
		t.fault(l, w, fmt.Errorf("%w, %s", errFault, clip(c.text)), "correct the formula, or enter the value")
	case pending:
		t.fault(l, w, fmt.Errorf("%w: %s", errPending, c.text), "open the workbook in a spreadsheet program and save it, or enter the value")
	case broken:
		t.fault(l, w, fmt.Errorf("%w: %s", errBroken, clip(c.text)), "save the workbook again with the program it comes from, or enter the value")
	case boolean:
		t.fault(l, w, errBoolean, "enter the value as text or as a number")
	default:
		return true
	}
	return false
}

// text returns the text of the cell of a word, empty when there is none.
func (t *table) text(l *line, w word, most int) string {
	c := t.cell(l, w)
	if c.text == "" || !t.usable(l, w, c) {
		return ""
	}
	odd := func(c rune) bool { return diag.Unprintable(c) && c != '\n' && c != '\r' && c != '\t' }
	switch {
	case utf8.RuneCountInString(c.text) > most:
		t.fault(l, w, fmt.Errorf("is longer than %d characters", most), "shorten it")
	case strings.ContainsFunc(c.text, odd):
		t.fault(l, w, errors.New("holds a control character"), "write plain text")
	default:
		return strings.ReplaceAll(strings.ReplaceAll(c.text, "\r\n", "\n"), "\r", "\n")
	}
	return ""
}

// quantity returns the quantity of a row, 1 when there is no column of them.
func (t *table) quantity(l *line) int {
	if t.by[wordQuantity] == nil {
		return 1
	}
	c := t.cell(l, wordQuantity)
	if c.text == "" {
		fact := "is blank"
		if t.g.merged(l.number, t.by[wordQuantity].col) != nil {
			fact = "is merged with others: the quantity may be of each row or of all"
		}
		t.fault(l, wordQuantity, errors.New(fact), "give each row its quantity; 0 passes it over")
		return 0
	}
	if m := t.g.merged(l.number, t.by[wordQuantity].col); m != nil && m.last > m.first {
		t.fault(l, wordQuantity, errors.New("is merged with others: the quantity may be of each row or of all"), "give each row its quantity; 0 passes it over")
		return 0
	}
	if !t.usable(l, wordQuantity, c) {
		return 0
	}
	n, err := quantity(c.text, c.kind == text, t.r.opt.Decimal)
	if err != nil {
		remedy := "write a whole number, as in 2"
		var doubt *doubtError
		if errors.As(err, &doubt) {
			remedy = doubt.remedy()
		}
		t.fault(l, wordQuantity, err, remedy)
	}
	return n
}

// rowUnit returns the unit of the row's own cell, zero when there is none.
func (t *table) rowUnit(l *line) length.Unit {
	s := t.text(l, wordUnit, MaxName)
	if s == "" {
		return length.Unit{}
	}
	u, ok := unitOf(s)
	if !ok {
		t.fault(l, wordUnit, fmt.Errorf("%q is no unit of length", clip(s)), "use mm, cm, m, in or ft")
	}
	return u
}

const sizeRemedy = `write a number, perhaps with a unit, as in 600, 18.5 mm, 23 11/16 in, 1' 7 1/2"`

// length returns the length in the cell of a word, 0 when it is blank or wrong.
func (t *table) length(l *line, w word, rowUnit length.Unit, needed bool) length.Length {
	col := t.by[w]
	c := t.cell(l, w)
	switch {
	case col == nil && needed && t.by[wordDrawing] != nil:
		t.add(l, fmt.Sprintf("has neither a %v nor a drawing", w), "add a column for it, or name a drawing")
		return 0
	case col == nil || c.text == "" && !needed:
		return 0
	case c.text == "":
		t.fault(l, w, errors.New("is blank"), "give the size, with its unit or without; or name a drawing and leave length and width blank")
		return 0
	case !t.usable(l, w, c):
		return 0
	}
	def, by := t.r.opt.Units, ""
	var conflict error
	for _, said := range [...]struct {
		unit length.Unit
		by   string
	}{{col.unit, "its heading"}, {rowUnit, "the row's unit"}, {c.unit, "its number format"}} {
		switch {
		case said.unit.Size == 0:
		case by != "" && def != said.unit:
			conflict = fmt.Errorf("%s says %s, %s says %s", by, def.Name, said.by, said.unit.Name)
		default:
			def, by = said.unit, said.by
		}
	}
	stated := t.r.opt.Decimal
	if c.kind == number {
		stated = Point // as the file format has it
	}
	value, mark, bare, err := size(c.text, def, stated)
	switch {
	case conflict != nil && bare:
		t.fault(l, w, conflict, "leave one of the units, or write it in the cell")
		return 0
	case errors.Is(err, errNoUnit):
		if !t.noUnit[col] {
			t.noUnit[col] = true
			t.fault(l, w, err, fmt.Sprintf("write the unit in the heading, as in %v (mm), or in each cell", w))
		}
		return 0
	case err != nil:
		t.fault(l, w, err, lengthRemedy(err))
		return 0
	case value <= 0:
		t.fault(l, w, fmt.Errorf("%s must be greater than zero", clip(c.text)), "give the size as a positive length")
		return 0
	}
	if c.kind == text {
		t.marks.see(mark, letters(col.col)+strconv.Itoa(l.number))
	}
	if !bare {
		col.own++
		return value
	}
	col.bare++
	if by == "" {
		by = "the job"
	}
	if u := def.Name + ", says " + by; !slices.Contains(col.units, u) {
		col.units = append(col.units, u)
	}
	return value
}

// lengthRemedy is the remedy of a length that cannot be read.
func lengthRemedy(err error) string {
	var doubt *doubtError
	switch {
	case errors.Is(err, length.ErrTooLong):
		return "check the number and its unit"
	case errors.As(err, &doubt):
		return doubt.remedy()
	}
	return sizeRemedy
}

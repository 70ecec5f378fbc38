package partslist

import (
	"cmp"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"panelyard/parts/diag"
)

// The errors of a worksheet.
var (
	errStop  = errors.New("stop after a finding")
	errOrder = errors.New("rows or cells are out of order")
)

// worksheet reads a sheet into a grid, or returns nil after a finding.
func (r *reader) worksheet(b *book, s sheet) *grid {
	w := &sheetReader{r: r, b: b, g: &grid{sheet: s.name}, formulas: map[ref]string{}}
	switch err := b.a.unpack(s.part, w.read); {
	case errors.Is(err, errStop):
		return nil
	case err != nil:
		r.unpacked(fmt.Errorf("sheet %q: %w", clip(s.name), err))
		return nil
	}
	slices.SortFunc(w.g.merges, compareMerges)
	compute(w.g, w.formulas)
	return w.g
}

// ref is the place of a cell.
type ref struct{ row, col int }

// sheetReader reads a worksheet in one pass. Only filled cells are kept, so rows
// and cells that merely have a look cost nothing.
type sheetReader struct {
	r        *reader
	b        *book
	g        *grid
	formulas map[ref]string // without a value
	cells    int
	row      int // of the last row

	d     *xml.Decoder
	depth int
	x     cellXML // read last
}

// cellXML is what stands in a cell (ECMA-376 part 1, 18.3.1.4).
type cellXML struct {
	value   []byte
	inline  []byte // its text, runs of formatting joined, phonetic hints left out
	formula []byte
	// valued and formed report that there is a value, a formula; shared that the
	// formula speaks of other cells than this one.
	valued, formed, shared bool
}

// next returns the next token, or errDeep.
func (w *sheetReader) next() (xml.Token, error) {
	t, err := w.d.Token()
	switch t.(type) {
	case xml.StartElement:
		w.depth++
	case xml.EndElement:
		w.depth--
	}
	if w.depth > MaxDepth {
		return nil, errDeep
	}
	return t, err
}

// read reads the XML of a worksheet up to its end.
func (w *sheetReader) read(in io.Reader) error {
	w.d = xml.NewDecoder(in)
	for {
		t, err := w.next()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		start, ok := t.(xml.StartElement)
		if !ok {
			continue
		}
		switch start.Name.Local {
		case "row":
			err = w.readRow(start)
		case "col":
			w.readColumn(start)
		case "mergeCell":
			err = w.readMerge(start)
		}
		if err != nil {
			return err
		}
	}
}

// attribute returns the value of an attribute, or "".
func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// readRow reads a row and adds it to the grid when something in it is filled.
func (w *sheetReader) readRow(start xml.StartElement) error {
	number := w.row + 1
	if s := attribute(start, "r"); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil || n < number || n > excelize.TotalRows {
			return fmt.Errorf("row %q: %w", clip(s), errOrder)
		}
		number = n
	}
	w.row = number
	l := line{number: number, line: number, hidden: isTrue(attribute(start, "hidden"))}
	col, depth := 0, w.depth
	for {
		t, err := w.next()
		if err != nil {
			return err
		}
		if w.depth < depth {
			break
		}
		start, ok := t.(xml.StartElement)
		if !ok || start.Name.Local != "c" || w.depth != depth+1 {
			continue
		}
		at := col + 1
		if s := attribute(start, "r"); s != "" {
			c, n, err := excelize.CellNameToCoordinates(s)
			if err != nil || n != number || c < at {
				return fmt.Errorf("cell %q in row %d: %w", clip(s), number, errOrder)
			}
			at = c
		}
		col = at
		if err := w.readCell(); err != nil {
			return err
		}
		c := w.value(ref{number, at}, attribute(start, "t"), attribute(start, "s"))
		if c.text != "" {
			l.cells = append(l.cells, c)
		}
	}
	if len(l.cells) == 0 {
		return nil
	}
	if !w.r.room(w.g, &l, &w.cells) {
		return errStop
	}
	w.g.rows = append(w.g.rows, l)
	return nil
}

// readCell reads up to the end of a cell whose start was read.
func (w *sheetReader) readCell() error {
	x := &w.x
	*x = cellXML{value: x.value[:0], inline: x.inline[:0], formula: x.formula[:0]}
	var into *[]byte
	phonetic := 0 // depth of a phonetic hint
	for depth := w.depth; w.depth >= depth; {
		t, err := w.next()
		if err != nil {
			return err
		}
		switch t := t.(type) {
		case xml.StartElement:
			switch t.Name.Local {
			case "v":
				x.valued, into = true, &x.value
			case "f":
				kind := attribute(t, "t")
				x.formed, x.shared, into = true, kind != "" && kind != "normal", &x.formula
			case "t":
				if phonetic == 0 {
					into = &x.inline
				}
			case "rPh":
				phonetic = w.depth
			}
		case xml.EndElement:
			into = nil
			if w.depth < phonetic {
				phonetic = 0
			}
		case xml.CharData:
			if into != nil {
				*into = append(*into, t...)
			}
		}
	}
	return nil
}

// value reads what a cell holds, by its type (ECMA-376 part 1, 18.18.11).
func (w *sheetReader) value(at ref, typ, style string) cell {
	c := cell{col: at.col}
	v := string(w.x.value)
	if w.x.formed && (!w.x.valued || v == "" && typ != "str") {
		c.kind, c.text = pending, "no value"
		w.formulas[at] = string(w.x.formula)
		if w.x.shared {
			w.formulas[at] = ""
		}
		return c
	}
	switch typ {
	case "s":
		if v == "" {
			return c
		}
		n, err := strconv.Atoi(trim(v))
		if err != nil || n < 0 || n >= len(w.b.strings) {
			c.kind, c.text = broken, fmt.Sprintf("there is no shared string %q", clip(v))
			return c
		}
		c.text = trim(w.b.strings[n])
	case "inlineStr":
		c.text = trim(string(w.x.inline))
	case "str":
		c.text = trim(v)
	case "b":
		c.kind, c.text = boolean, "FALSE"
		if v == "" {
			c.text = ""
		} else if trim(v) != "0" {
			c.text = "TRUE"
		}
	case "e":
		c.kind, c.text = fault, trim(v)
	case "d":
		c.kind, c.text = date, trim(v)
	case "", "n":
		c.kind, c.text = number, trim(v)
		if n, err := strconv.Atoi(style); err == nil && n >= 0 && n < len(w.b.formats) {
			f := w.b.formats[n]
			c.unit = f.unit
			switch {
			case c.text == "":
			case f.date:
				c.kind = date
			case f.percent:
				c.kind, c.text = broken, "it is shown as a percentage"
			}
		}
		if c.text != "" && c.kind == number {
			s, ok := digits15(c.text)
			if !ok {
				c.kind, s = broken, fmt.Sprintf("%q is no number", clip(v))
			}
			c.text = s
		}
	default:
		c.kind, c.text = broken, fmt.Sprintf("type %q is unknown", clip(typ))
	}
	return c
}

// digits15 returns a number of XML with the 15 digits that spreadsheets show, as a
// plain decimal: a value such as 18.100000000000001 was written as 18.1.
func digits15(s string) (string, bool) {
	f, err := strconv.ParseFloat(s, 64)
	if err != nil || f-f != 0 || strings.ContainsAny(s, "xX_pP") {
		return "", false
	}
	short, _ := strconv.ParseFloat(strconv.FormatFloat(f, 'g', 15, 64), 64)
	return strconv.FormatFloat(short, 'f', -1, 64), true
}

// isTrue reads a Boolean of XML Schema.
func isTrue(s string) bool { return s == "1" || s == "true" }

// readColumn notes columns that are hidden. There are as many entries as columns at
// most: more say nothing new.
func (w *sheetReader) readColumn(start xml.StartElement) {
	first, err1 := strconv.Atoi(attribute(start, "min"))
	last, err2 := strconv.Atoi(attribute(start, "max"))
	if err1 == nil && err2 == nil && isTrue(attribute(start, "hidden")) && len(w.g.hidden) < MaxColumns {
		w.g.hidden = append(w.g.hidden, [2]int{first, last})
	}
}

// readMerge adds a merged area, a column at a time.
func (w *sheetReader) readMerge(start xml.StartElement) error {
	from, to, ok := strings.Cut(attribute(start, "ref"), ":")
	if !ok {
		return nil // one cell, merged with nothing
	}
	c1, r1, err1 := excelize.CellNameToCoordinates(from)
	c2, r2, err2 := excelize.CellNameToCoordinates(to)
	if err := cmp.Or(err1, err2); err != nil {
		return fmt.Errorf("merged cells %q: %w", clip(attribute(start, "ref")), err)
	}
	c1, c2, r1, r2 = min(c1, c2), max(c1, c2), min(r1, r2), max(r1, r2)
	for col := c1; col <= min(c2, MaxColumns); col++ {
		w.g.merges = append(w.g.merges, merge{col: col, first: r1, last: r2, anchor: c1, wide: c2 - c1 + 1})
	}
	if len(w.g.merges) > MaxMerges {
		w.r.list.Add(diag.Pos{File: w.r.file}, "", fmt.Sprintf("sheet %q has more than %d columns of merged cells", clip(w.g.sheet), MaxMerges), "take the merged cells apart")
		return errStop
	}
	return nil
}

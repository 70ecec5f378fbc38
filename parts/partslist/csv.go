package partslist

import (
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"panelyard/parts/diag"
)

// The byte order marks (Unicode 15, section 23.8).
const (
	bom8    = "\xef\xbb\xbf"
	bom16le = "\xff\xfe"
	bom16be = "\xfe\xff"
)

// separators are the separators that are tried, with their names.
var separators = [...]struct {
	sign rune
	name string
}{{',', "comma"}, {';', "semicolon"}, {'\t', "tab"}}

// csv reads CSV into a grid, or returns nil after a finding.
func (r *reader) csv(src []byte) *grid {
	if r.opt.Sheet != "" {
		r.whole(fmt.Sprintf("is CSV, which has no sheet %q", clip(r.opt.Sheet)), "name no sheet, or an .xlsx workbook")
		return nil
	}
	src, ok := r.decode(src)
	if !ok {
		return nil
	}
	if len(bytes.TrimSpace(src)) == 0 {
		r.whole("is empty", headingRemedy)
		return nil
	}
	sign := r.separator(src)
	if sign == 0 {
		return nil
	}
	g := &grid{comma: sign == ','}
	s := newScan(src, sign)
	cells := 0
	for {
		l, err := s.next()
		switch {
		case err == io.EOF:
			return g
		case err != nil:
			r.list = append(r.list, s.finding(r.file, err))
			continue
		case len(l.cells) == 0:
			continue
		}
		if !r.room(g, &l, &cells) {
			return nil
		}
		g.rows = append(g.rows, l)
	}
}

// room reports whether a row may be added to a grid, after a finding if not.
func (r *reader) room(g *grid, l *line, cells *int) bool {
	*cells += len(l.cells)
	pos := diag.Pos{File: r.file, Line: l.line}
	switch last := l.cells[len(l.cells)-1].col; {
	case last > MaxColumns:
		r.list.Add(pos, "", fmt.Sprintf("a cell in column %s is filled: a sheet has more than %d columns", letters(last), MaxColumns), "remove columns that say nothing of panels")
	case len(g.rows) == MaxRows:
		r.list.Add(pos, "", fmt.Sprintf("the sheet has more than %d filled rows", MaxRows), "split the list, or raise quantities in place of equal rows")
	case *cells > MaxCells:
		r.list.Add(pos, "", fmt.Sprintf("the sheet has more than %d filled cells", MaxCells), "remove columns that say nothing of panels, or split the list")
	default:
		return true
	}
	return false
}

// decode returns src as UTF-8 without a byte order mark, false after a finding.
func (r *reader) decode(src []byte) ([]byte, bool) {
	const remedy = "save it as CSV in UTF-8, or as an .xlsx workbook"
	r.out.Reading.Encoding = "UTF-8"
	var order binary.ByteOrder
	switch {
	case bytes.HasPrefix(src, []byte(bom8)):
		src = src[len(bom8):]
	case bytes.HasPrefix(src, []byte(bom16le)):
		order = binary.LittleEndian
	case bytes.HasPrefix(src, []byte(bom16be)):
		order = binary.BigEndian
	}
	if order != nil {
		r.out.Reading.Encoding = "UTF-16"
		if len(src)%2 != 0 {
			r.whole("is UTF-16 text cut off in the middle of a character", remedy)
			return nil, false
		}
		out := make([]byte, 0, len(src))
		for i := 2; i < len(src); i += 2 {
			c := rune(order.Uint16(src[i:]))
			if utf16.IsSurrogate(c) && i+4 <= len(src) {
				if pair := utf16.DecodeRune(c, rune(order.Uint16(src[i+2:]))); pair != utf8.RuneError {
					c, i = pair, i+2
				}
			}
			out = utf8.AppendRune(out, c)
		}
		src = out
	}
	line := func(at int) diag.Pos {
		return diag.Pos{File: r.file, Line: 1 + bytes.Count(src[:at], []byte{'\n'})}
	}
	if i := bytes.IndexByte(src, 0); i >= 0 {
		r.list.Add(line(i), "", "holds a zero byte: it is no CSV, or UTF-16 without a byte order mark", remedy)
		return nil, false
	}
	if !utf8.Valid(src) {
		at := 0
		for {
			c, n := utf8.DecodeRune(src[at:])
			if c == utf8.RuneError && n == 1 {
				break
			}
			at += n
		}
		r.list.Add(line(at), "", fmt.Sprintf("is not UTF-8 text (byte %#x): it may be Latin-1 or Windows-1252, which cannot be told for certain", src[at]), remedy)
		return nil, false
	}
	if bytes.IndexByte(src, '\n') < 0 {
		src = bytes.ReplaceAll(src, []byte{'\r'}, []byte{'\n'}) // line ends of old programs
	}
	return src, true
}

// separator returns the sign that separates cells: what a first line sep=; says,
// or the one that makes a heading row. It returns 0 after a finding.
func (r *reader) separator(src []byte) rune {
	first, _, _ := bytes.Cut(src, []byte{'\n'})
	stated := strings.TrimRight(strings.ToLower(string(first[:min(len(first), 8)])), "\r")
	best, score, equal := -1, 1, -1
	for i, s := range separators {
		if stated == "sep="+string(s.sign) {
			best = i
			break
		}
		if bytes.IndexByte(src, byte(s.sign)) < 0 {
			continue
		}
		g := &grid{}
		scan := newScan(src, s.sign)
		for range 10 * MaxTitle {
			l, err := scan.next()
			if err == io.EOF || len(g.rows) == MaxTitle {
				break
			}
			if err == nil && len(l.cells) > 0 {
				g.rows = append(g.rows, l)
			}
		}
		switch _, n := headingRow(g); {
		case n > score:
			best, score, equal = i, n, -1
		case n == score && best >= 0:
			equal = i
		}
	}
	switch {
	case best < 0:
		r.whole("no heading row is found with commas, semicolons or tabs between the cells", headingRemedy)
		return 0
	case equal >= 0:
		r.whole(fmt.Sprintf("the cells may be separated by %ss or %ss", separators[best].name, separators[equal].name),
			"use one of them in the heading row, or put a first line sep="+string(separators[best].sign))
		return 0
	}
	r.out.Reading.Separator = separators[best].name
	return separators[best].sign
}

// scan reads records and counts rows and lines.
type scan struct {
	src    []byte
	sign   rune
	r      *csv.Reader
	offset int // of the record to come
	lines  int // line breaks before it
	row    int // number of the row before it
}

func newScan(src []byte, sign rune) *scan {
	s := &scan{src: src, sign: sign, r: csv.NewReader(bytes.NewReader(src))}
	s.r.Comma, s.r.FieldsPerRecord, s.r.ReuseRecord = sign, -1, true
	return s
}

// next returns the next row with its filled cells. After an error other than
// io.EOF the one after it can be read.
func (s *scan) next() (line, error) {
	record, err := s.r.Read()
	if err == io.EOF {
		return line{}, err
	}
	end := int(s.r.InputOffset())
	chunk := s.src[s.offset:end]
	// Lines that hold nothing at all are skipped by the csv reader, and are rows.
	lead := len(chunk) - len(bytes.TrimLeft(chunk, "\r\n"))
	s.row += 1 + bytes.Count(chunk[:lead], []byte{'\n'})
	l := line{number: s.row, line: 1 + s.lines + bytes.Count(chunk[:lead], []byte{'\n'})}
	s.lines += bytes.Count(chunk, []byte{'\n'})
	s.offset = end
	if errors.Is(err, csv.ErrBareQuote) {
		// An inch mark in a cell without quotes: 23 11/16". It cannot be misread.
		lazy := csv.NewReader(bytes.NewReader(chunk))
		lazy.Comma, lazy.FieldsPerRecord, lazy.LazyQuotes = s.sign, -1, true
		record, err = lazy.Read()
		if n := len(record); n > 0 && strings.HasSuffix(record[n-1], "\n") {
			err = &csv.ParseError{StartLine: l.line, Line: l.line, Err: csv.ErrQuote} // a quoted cell runs into the next row
		}
	}
	if err != nil {
		return l, err
	}
	l.fields = len(record)
	for i, f := range record {
		if f = trim(f); f != "" {
			l.cells = append(l.cells, cell{col: i + 1, text: strings.Clone(f)})
		}
	}
	return l, nil
}

// finding says what is wrong with the quotes of a record.
func (s *scan) finding(file string, err error) diag.Finding {
	f := diag.Finding{Pos: diag.Pos{File: file}, Fact: err.Error(), Remedy: "save the list as CSV again, or as an .xlsx workbook", Err: err}
	var pe *csv.ParseError
	if errors.As(err, &pe) {
		f.Pos.Line = pe.StartLine
		f.Fact, f.Remedy = "a quoted cell goes on after its closing quote", `double each quote within a quoted cell, as in "23 11/16"""`
		if pe.Line > pe.StartLine || s.offset == len(s.src) {
			f.Fact, f.Remedy = fmt.Sprintf("the quotes of a cell that begins here do not match (seen in line %d)", pe.Line), "close the quoted cell, and double each quote within it"
		}
	}
	return f
}

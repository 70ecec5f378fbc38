package rack

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io/fs"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"panelyard/parts/diag"
)

// byteOrderMark is the UTF-8 signature that some spreadsheet programs write (Unicode
// 15, section 23.8).
const byteOrderMark = "\ufeff"

// separators are the signs that may stand between cells.
var separators = [...]rune{',', ';', '\t'}

// Our own comments. A spreadsheet program may have put separators behind them, or
// quotes around them.
var (
	highestLine = regexp.MustCompile(`^"?#\s*highest label: [Rr](\d{1,9})\b`)
	planLine    = regexp.MustCompile(`^"?#\s*plan ([0-9a-f]{16}), put in ([^,;:"]*)`)
)

// ReadFile reads a rack from a file. The rack is nil when the list holds a mistake; the
// list is sorted by place.
func ReadFile(path string) (*Rack, diag.List) {
	src, err := diag.ReadFile(path, MaxBytes)
	if err != nil {
		remedy := "check the name and the permissions of the file"
		if errors.Is(err, fs.ErrNotExist) {
			remedy = "name the file of the rack with --rack, or begin one with panelyard rack add"
		}
		return nil, diag.List{{Pos: diag.Pos{File: path}, Fact: err.Error(), Remedy: remedy, Err: err}}
	}
	return Read(path, src)
}

// Read reads the rack in src; name is the file name that findings carry. The rack is
// nil when the list holds a mistake. It never panics, whatever is in src. Cost: the
// size of src.
func Read(name string, src []byte) (*Rack, diag.List) {
	rd := &reader{r: &Rack{name: name, eol: "\n", plans: map[string]string{}}, labels: map[string]int{}}
	if text, ok := bytes.CutPrefix(src, []byte(byteOrderMark)); ok {
		rd.r.mark, src = byteOrderMark, text
	}
	if rd.text(src) {
		rd.read(string(src))
	}
	list := rd.list.Listed(name)
	if list.Err() != nil {
		return nil, list
	}
	return rd.r, list
}

// reader is one run of Read.
type reader struct {
	r      *Rack
	list   diag.List
	labels map[string]int // line of a label, in lower case
	titles []string       // cells of the heading row
	pieces int
	points int // sizes written with a decimal point
	commas int // and with a comma
}

// whole adds a mistake of the whole file.
func (rd *reader) whole(fact, remedy string) {
	rd.list.Add(diag.Pos{File: rd.r.name}, "", fact, remedy)
}

// text reports whether src is text that can be read.
func (rd *reader) text(src []byte) bool {
	const remedy = "save it as CSV in UTF-8"
	at := func(i int) diag.Pos {
		return diag.Pos{File: rd.r.name, Line: 1 + bytes.Count(src[:i], []byte{'\n'})}
	}
	if len(src) > MaxBytes {
		rd.whole(diag.TooLarge(MaxBytes).Error(), "a rack is a short list; is this another file?")
		return false
	}
	for i := 0; i < len(src); {
		c, n := utf8.DecodeRune(src[i:])
		switch {
		case c == utf8.RuneError && n == 1:
			rd.list.Add(at(i), "", fmt.Sprintf("is not UTF-8 text (byte %#x)", src[i]), remedy)
			return false
		case c < ' ' && c != '\n' && c != '\r' && c != '\t':
			rd.list.Add(at(i), "", fmt.Sprintf("holds the control character %#02x", c), remedy)
			return false
		case c == '\r' && (i+1 == len(src) || src[i+1] != '\n'):
			rd.list.Add(at(i), "", "a line ends with a carriage return alone", "save it with the line ends of this system")
			return false
		}
		i += n
	}
	return true
}

// read reads the lines of the file.
func (rd *reader) read(src string) {
	r := rd.r
	if first, _, ok := strings.Cut(src, "\n"); ok && strings.HasSuffix(first, "\r") {
		r.eol = "\r\n"
	}
	for at, number := 0, 1; at < len(src); {
		if len(r.lines) == MaxLines {
			rd.list.Add(diag.Pos{File: r.name, Line: number}, "", fmt.Sprintf("has more than %d lines", MaxLines), "remove what is no kept offcut, or keep two racks")
			return
		}
		end := len(src)
		if i := strings.IndexByte(src[at:], '\n'); i >= 0 {
			end = at + i + 1
		}
		raw := src[at:end]
		text := strings.TrimSpace(raw)
		switch {
		case text == "" || strings.HasPrefix(text, "#") || strings.HasPrefix(text, `"#`) && strings.Count(text, `"`)%2 == 0:
			r.lines = append(r.lines, rd.comment(raw, text))
		case len(r.lines) == 0 && stated(raw) != 0:
			r.sep = stated(raw)
			r.lines = append(r.lines, line{raw: raw})
		default:
			head := r.width == 0
			if head {
				rd.separator(src, at)
			}
			row := record(r.name, src, at, number, r.sep)
			raw = src[at : at+row.size]
			if !rd.row(row, raw, head) {
				return
			}
		}
		at += len(raw)
		number += strings.Count(raw, "\n")
	}
	r.comma = rd.commas > rd.points || rd.commas == rd.points && r.sep == ';'
	if r.width == 0 {
		rd.whole("has no row of headings", headingRemedy)
	}
}

// stated returns the separator that a line sep=; states, as some spreadsheet programs
// want it, or 0.
func stated(raw string) rune {
	s, ok := strings.CutPrefix(strings.TrimRight(raw, "\r\n"), "sep=")
	for _, sign := range separators {
		if ok && s == string(sign) {
			return sign
		}
	}
	return 0
}

// comment reads a comment, which may be one of ours.
func (rd *reader) comment(raw, text string) line {
	l := line{raw: raw}
	if m := highestLine.FindStringSubmatch(text); m != nil {
		if n, err := strconv.Atoi(m[1]); err == nil && n > rd.r.stated {
			l.kind, rd.r.stated = highest, n
			rd.r.highest = max(rd.r.highest, n)
		}
	} else if m := planLine.FindStringSubmatch(text); m != nil {
		l.kind = plan
		rd.r.plans[m[1]] = strings.TrimSpace(m[2])
	}
	return l
}

// separator finds the sign that makes most known headings of the row at a place.
func (rd *reader) separator(src string, at int) {
	if rd.r.sep != 0 {
		return
	}
	best := -1
	for _, sign := range separators {
		if n := knownHeadings(record(rd.r.name, src, at, 1, sign).cells); n > best {
			best, rd.r.sep = n, sign
		}
	}
}

// row takes in a row, and reports whether reading can go on.
func (rd *reader) row(row *row, raw string, head bool) bool {
	r := rd.r
	if row.err != nil {
		rd.list = append(rd.list, diag.Finding{
			Pos: row.at, Fact: "the quotes of a cell do not match", Err: row.err,
			Remedy: `put a cell that holds a quote between quotes and double each quote in it, as in "the 1/2"" one"`,
		})
		return !head
	}
	r.width = max(r.width, len(row.cells))
	l := line{raw: raw}
	switch {
	case head:
		l.kind, rd.titles = heading, row.cells
		n := len(rd.list)
		if knownHeadings(row.cells) == 0 {
			rd.list.Add(row.at, "", "the first row has none of the headings of a rack", headingRemedy)
			return false
		}
		r.columns = readColumns(row, &rd.list)
		if rd.list[n:].Err() != nil {
			return false // each row would tell of the same
		}
	case strings.HasPrefix(strings.TrimSpace(row.cells[0]), "#"):
		// A comment of several lines, between quotes.
	case strings.TrimSpace(strings.Join(row.cells, "")) != "":
		if rd.pieces++; rd.pieces > MaxPieces {
			rd.list.Add(row.at, "", fmt.Sprintf("has more than %d pieces", MaxPieces), "keep two racks")
			return false
		}
		l.kind = piece
		l.Piece = rd.piece(row)
		r.highest = max(r.highest, number(l.Label))
	}
	r.lines = append(r.lines, l)
	return true
}

// row is a row of cells and where they begin.
type row struct {
	at    diag.Pos
	cells []string
	pos   []diag.Pos
	size  int // bytes
	err   error
}

// record reads the row that begins at a place in src, in a line of a number.
func record(name, src string, at, number int, sep rune) *row {
	c := csv.NewReader(strings.NewReader(src[at:]))
	c.Comma, c.FieldsPerRecord = sep, -1
	out := &row{at: diag.Pos{File: name, Line: number}}
	out.cells, out.err = c.Read()
	out.size = int(c.InputOffset())
	if out.err != nil {
		return out
	}
	for i := range out.cells {
		l, col := c.FieldPos(i)
		out.pos = append(out.pos, diag.Pos{File: name, Line: number + l - 1, Col: col})
	}
	return out
}

package rack

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math/big"
	"regexp"
	"strings"
	"unicode/utf8"

	"panelyard/parts/diag"
	"panelyard/parts/length"
	"panelyard/parts/money"
)

// cells are the cells of a row with what is found in them.
type cells struct {
	rd   *reader
	row  *row
	what string // `offcut "R3"`, for findings
}

// piece reads a row, which is not blank, and notes its label as taken.
func (rd *reader) piece(row *row) Piece {
	c := &cells{rd: rd, row: row}
	c.what = called(c.get(wordLabel))
	p := Piece{Label: c.label(), Pos: row.at}
	if p.Material = c.text(wordMaterial, MaxName); p.Material == "" && c.get(wordMaterial) == "" {
		c.add(wordMaterial, "has no material", "name it as the jobs do")
	}
	p.Length = c.length(wordLength, true)
	p.Width = c.length(wordWidth, true)
	p.Thickness = c.length(wordThickness, false)
	var err error
	if p.Grain, err = ParseGrain(c.get(wordGrain)); err != nil {
		c.add(wordGrain, "grain: "+err.Error(), "write length, width or none: the side of the piece along which the grain runs; blank where it is not known")
	}
	if s := c.get(wordPrice); s != "" {
		p.Price, err = money.Parse(s)
		switch {
		case err != nil:
			c.add(wordPrice, "price: "+diag.Brief(err), "write the amount without currency, as in 4.50")
		case p.Price < 0:
			c.add(wordPrice, fmt.Sprintf("price: %s is negative", clip(s)), "a price is zero or more")
		default:
			p.Priced = true
		}
	}
	p.Date, p.From, p.Note = c.text(wordDate, MaxNote), c.text(wordFrom, MaxNote), c.text(wordNote, MaxNote)
	c.beyond()
	return p
}

// at returns the place of the cell of a word, of the row where it has none.
func (c *cells) at(w word) diag.Pos {
	if i := c.rd.r.columns[w].at; i >= 0 && i < len(c.row.pos) {
		return c.row.pos[i]
	}
	return c.row.at
}

func (c *cells) add(w word, fact, remedy string) { c.rd.list.Add(c.at(w), c.what, fact, remedy) }

// get returns the text of a cell, trimmed, empty where there is none.
func (c *cells) get(w word) string {
	if i := c.rd.r.columns[w].at; i >= 0 && i < len(c.row.cells) {
		return bare(c.row.cells[i])
	}
	return ""
}

// text returns a text that can be printed and is not too long.
func (c *cells) text(w word, most int) string {
	s := c.get(w)
	odd := func(c rune) bool { return diag.Unprintable(c) && (w != wordNote || c != '\n' && c != '\t') }
	switch {
	case utf8.RuneCountInString(s) > most:
		c.add(w, fmt.Sprintf("%v is longer than %d characters", w, most), "shorten it")
	case strings.ContainsFunc(s, odd):
		c.add(w, fmt.Sprintf("%v holds a line break or a control character", w), "write it on one line of plain text")
	default:
		return s
	}
	return ""
}

// label returns the label, which no other piece has.
func (c *cells) label() string {
	s := c.text(wordLabel, MaxLabel)
	if s == "" {
		if c.get(wordLabel) == "" {
			c.add(wordLabel, "has no label", "write one that no other piece has had, as on the board")
		}
		return ""
	}
	key := strings.ToLower(s)
	if first, ok := c.rd.labels[key]; ok {
		c.add(wordLabel, fmt.Sprintf("the label is taken, first in line %d", first), "give each board a label of its own, and write it on the board")
	} else {
		c.rd.labels[key] = c.row.at.Line
	}
	return s
}

// length returns a size, 0 after a mistake or where there is none.
func (c *cells) length(w word, needed bool) length.Length {
	s := c.get(w)
	if s == "" {
		if needed {
			c.add(w, fmt.Sprintf("has no %v", w), "measure the board")
		}
		return 0
	}
	l, err := length.Parse(s, c.rd.r.columns[w].unit)
	switch {
	case err != nil:
		c.rd.list = append(c.rd.list, diag.Finding{
			Pos: c.at(w), Part: c.what, Fact: fmt.Sprintf("%v: %s", w, diag.Brief(err)), Err: err,
			Remedy: "write a number in the unit of the heading, or with its own, as in 620, 18.5 mm, 23 11/16 in",
		})
		return 0
	case l <= 0:
		c.add(w, fmt.Sprintf("%v: %s must be greater than zero", w, clip(s)), "give the size as a positive length")
		return 0
	case needed && l < MinSide:
		c.add(w, fmt.Sprintf("%v: %s is less than %v", w, clip(s), MinSide), "check the number and the unit of the heading; 1.220 is not 1220")
		return 0
	}
	if strings.Contains(s, ",") {
		c.rd.commas++
	} else if strings.Contains(s, ".") {
		c.rd.points++
	}
	return l
}

// beyond warns of cells that stand under no heading at all: a comma in a text that is
// not quoted moves all that follows.
func (c *cells) beyond() {
	for i, cell := range c.row.cells {
		if strings.TrimSpace(cell) != "" && (i >= len(c.rd.titles) || strings.TrimSpace(c.rd.titles[i]) == "") {
			c.rd.list.Warn(c.row.pos[i], c.what, fmt.Sprintf("%q stands under no heading and is not read", clip(cell)), "put a text that holds a separator between quotes, or give the column a heading")
			return
		}
	}
}

// Signs that make a spreadsheet program take a text for a formula, as OWASP's page on
// CSV injection lists them (from memory), full-width forms included; the sign of our
// comments; and the apostrophe that is put in front of them.
const signs = "=+-@＝＋－＠#'"

// safe puts an apostrophe in front of a text that begins with one of the signs.
func safe(s string) string {
	if first, _ := utf8.DecodeRuneInString(s); s != "" && strings.ContainsRune(signs, first) {
		return "'" + s
	}
	return s
}

// bare is the text of a cell without what [safe] has put in front.
func bare(cell string) string {
	s := strings.TrimSpace(strings.ReplaceAll(cell, "\r\n", "\n"))
	if rest, ok := strings.CutPrefix(s, "'"); ok && safe(rest) != rest {
		return rest
	}
	return s
}

// thousandth is a number with three decimals, which could be one grouped by thousands
// when its mark is a comma.
var thousandth = regexp.MustCompile(`\.\d{3}$`)

// compose writes a piece as a row, every cell in the column of its word.
func (r *Rack) compose(p Piece) string {
	out := make([]string, r.width)
	set := func(w word, s string) {
		if at := r.columns[w].at; at >= 0 {
			out[at] = safe(s)
		}
	}
	number := func(s string) string {
		if !r.comma {
			return s
		}
		if thousandth.MatchString(s) {
			s += "0"
		}
		return strings.Replace(s, ".", ",", 1)
	}
	for w, s := range p.texts() {
		set(w, s)
	}
	for w, l := range map[word]length.Length{wordThickness: p.Thickness, wordLength: p.Length, wordWidth: p.Width} {
		if l != 0 {
			set(w, number(decimal(l, r.columns[w].unit)))
		}
	}
	if p.Priced {
		set(wordPrice, number(p.Price.String()))
	}
	var b bytes.Buffer
	c := csv.NewWriter(&b)
	c.Comma, c.UseCRLF = r.sep, r.eol == "\r\n"
	// A buffer takes everything, and the separator is one of three good ones.
	_ = c.Write(out)
	c.Flush()
	return b.String()
}

// texts returns the words of a piece that are text.
func (p *Piece) texts() map[word]string {
	return map[word]string{
		wordLabel: p.Label, wordMaterial: p.Material, wordGrain: p.Grain.String(),
		wordDate: p.Date, wordFrom: p.From, wordNote: p.Note,
	}
}

// decimal writes a length in a unit so that it is read as the same length. Six decimals
// of an inch are exact to a tenth of what a length counts, and hold every 1/64.
func decimal(l length.Length, unit length.Unit) string {
	if unit == length.MM {
		return l.Decimal()
	}
	decimals := 6
	if unit.Size > length.Inch {
		decimals = 9
	}
	s := big.NewRat(int64(l), int64(unit.Size)).FloatString(decimals)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

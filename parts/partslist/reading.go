package partslist

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"
)

// Reading tells how a file was understood. It holds what was found up to where the
// file could not be read.
type Reading struct {
	File       string
	Workbook   bool     // XLSX, not CSV
	Sheet      string   // of a workbook
	Others     []string // visible sheets that were not read
	Encoding   string   // of CSV
	Separator  string   // of CSV: comma, semicolon or tab
	HeadingRow int      // 0 when none was found
	Columns    []Column
	Missing    []string // words that no heading means
	Decimal    string   // which decimal marks texts have
	Skipped    []Skip   // in the order of the rows
	Rows       int      // rows that describe panels and have no mistake
	Panels     int      // pieces in all
	First      int      // first and last of these rows
	Last       int
}

// Column is a column and what it was taken for.
type Column struct {
	Letters string // A, B, ..., AA
	Heading string // as written; empty when it has none
	Word    string // empty when the column is ignored
	Filled  int    // cells below the heading
	Own     int    // lengths that carry their unit
	Bare    int    // lengths that carry none
	Units   []string
}

// Skip is a run of rows that were passed over for one reason.
type Skip struct {
	First, Last int
	Reason      string
}

// skip adds rows that are passed over.
func (r *Reading) skip(first, last int, reason string) {
	if first > last {
		return
	}
	if n := len(r.Skipped); n > 0 && r.Skipped[n-1].Reason == reason && r.Skipped[n-1].Last == first-1 {
		r.Skipped[n-1].Last = last
		return
	}
	r.Skipped = append(r.Skipped, Skip{first, last, reason})
}

// took counts a row that describes panels.
func (r *Reading) took(row, copies int) {
	if r.Rows == 0 {
		r.First = row
	}
	r.Rows, r.Last = r.Rows+1, row
	r.Panels += copies
}

// conclude fills in what is known at the end.
func (r *Reading) conclude(t *table) {
	for _, c := range t.cols {
		col := Column{Letters: letters(c.col), Heading: c.title, Filled: c.filled, Own: c.own, Bare: c.bare, Units: c.units}
		if c.word != other {
			col.Word = c.word.String()
		}
		r.Columns = append(r.Columns, col)
	}
	for w := other + 1; w < words; w++ {
		if t.by[w] == nil {
			r.Missing = append(r.Missing, w.String())
		}
	}
	switch m := t.marks; {
	case m.point > 0 && m.comma > 0:
		r.Decimal = fmt.Sprintf("point in %d, comma in %d", m.point, m.comma)
	case m.point > 0:
		r.Decimal = "point"
	case m.comma > 0:
		r.Decimal = "comma"
	default:
		r.Decimal = "none in text"
	}
}

// most is how many lines of a kind Table prints.
const most = 30

// Table returns the reading as text for a terminal, ending in a line feed.
func (r *Reading) Table() string {
	var b strings.Builder
	fmt.Fprintf(&b, "parts list %s", clip(r.File))
	if r.Sheet != "" {
		fmt.Fprintf(&b, ", sheet %q", clip(r.Sheet))
	}
	if r.Separator != "" {
		fmt.Fprintf(&b, ", %s, cells separated by %ss", r.Encoding, r.Separator)
	}
	b.WriteByte('\n')
	if r.Others != nil {
		var list []string
		for _, s := range r.Others {
			list = append(list, fmt.Sprintf("%q", clip(s)))
		}
		fmt.Fprintf(&b, "sheets not read: %s\n", few(list))
	}
	if r.HeadingRow == 0 {
		b.WriteString("no heading row was found\n")
		return b.String()
	}
	fmt.Fprintf(&b, "headings in row %d; ", r.HeadingRow)
	if r.Rows == 0 {
		b.WriteString("no panels\n")
	} else {
		fmt.Fprintf(&b, "panels: %d, in %s; pieces: %d\n", r.Rows, rows(r.First, r.Last), r.Panels)
	}
	b.WriteByte('\n')
	w := tabwriter.NewWriter(&b, 0, 8, 2, ' ', 0)
	fmt.Fprintln(w, "column\theading\ttaken for\tcells\tunit of bare numbers\t")
	for i, c := range r.Columns {
		if i == MaxTitle {
			fmt.Fprintf(w, "%d more\t\t\t\t\t\n", len(r.Columns)-i)
			break
		}
		heading := "(none)"
		if c.Heading != "" {
			heading = clip(c.Heading)
		}
		word := c.Word
		if word == "" {
			word = "- ignored"
		}
		units := strings.Join(c.Units, "; ")
		if c.Own > 0 {
			units = strings.TrimPrefix(units+fmt.Sprintf("; %d with their own", c.Own), "; ")
		}
		fmt.Fprintf(w, "%s\t%s\t%s\t%d\t%s\t\n", c.Letters, heading, word, c.Filled, units)
	}
	w.Flush()
	table := b.String()
	b.Reset()
	for _, l := range strings.SplitAfter(table, "\n") {
		b.WriteString(strings.TrimRight(l, " \n"))
		if strings.HasSuffix(l, "\n") {
			b.WriteByte('\n')
		}
	}
	b.WriteByte('\n')
	if r.Missing != nil {
		fmt.Fprintf(&b, "no column for: %s\n", strings.Join(r.Missing, ", "))
		if slices.Contains(r.Missing, wordQuantity.String()) {
			b.WriteString("quantity: 1 a row\n")
		}
	}
	fmt.Fprintf(&b, "decimal mark: %s\n", r.Decimal)
	if len(r.Skipped) == 0 {
		b.WriteString("passed over: none\n")
		return b.String()
	}
	b.WriteString("passed over:\n")
	for i, s := range r.Skipped {
		if i == most {
			fmt.Fprintf(&b, "  and %d more\n", len(r.Skipped)-i)
			break
		}
		fmt.Fprintf(&b, "  %s: %s\n", rows(s.First, s.Last), s.Reason)
	}
	return b.String()
}

// rows names a run of rows.
func rows(first, last int) string {
	if first == last {
		return "row " + strconv.Itoa(first)
	}
	return fmt.Sprintf("rows %d to %d", first, last)
}

package partslist

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"panelyard/parts/diag"
)

// table is a grid whose headings are read.
type table struct {
	r     *reader
	g     *grid
	cols  []*column
	by    [words]*column // the column of a word, nil when there is none
	at    [MaxColumns + 1]*column
	marks marks
	names map[string]int // the row that has a name first
	// noUnit are the columns with bare numbers that nothing gives a unit: said once.
	noUnit map[*column]bool
	hidden []int
}

// table reads the rows below the headings.
func (r *reader) table(g *grid) {
	at, score := headingRow(g)
	if score < 2 {
		r.whole("no row has two known headings", headingRemedy)
		return
	}
	t := &table{r: r, g: g, names: map[string]int{}, noUnit: map[*column]bool{}}
	head := &g.rows[at]
	reading := &r.out.Reading
	reading.HeadingRow = head.number
	t.columns(head)
	reading.skip(1, head.number-1, "above the headings")
	below := at + 1
	if below < len(g.rows) && t.unitRow(head, &g.rows[below]) {
		reading.skip(g.rows[below].number, g.rows[below].number, "units")
		below++
	}
	last := g.rows[below-1].number
	for i := below; i < len(g.rows); i++ {
		l := &g.rows[i]
		reading.skip(last+1, l.number-1, "blank")
		last = l.number
		if t.again(l) {
			reading.skip(l.number, l.number, "headings again")
			continue
		}
		if otherHeadings(l) {
			r.list.Add(t.pos(l), "", fmt.Sprintf("row %d is another row of headings", l.number), "put each table on a sheet of its own, or under the same headings")
			reading.skip(l.number, g.rows[len(g.rows)-1].number, "another table")
			break
		}
		t.read(head, l)
	}
	t.done(head)
}

// add adds a mistake in a row as a whole.
func (t *table) add(l *line, fact, remedy string) { t.r.list.Add(t.pos(l), t.part(l), fact, remedy) }

// warn adds a warning of a row.
func (t *table) warn(l *line, fact, remedy string) { t.r.list.Warn(t.pos(l), t.part(l), fact, remedy) }

// pos is the place of a row.
func (t *table) pos(l *line) diag.Pos { return diag.Pos{File: t.r.file, Line: l.line} }

// part names the sheet, where there are several, and the panel of a row.
func (t *table) part(l *line) string {
	var p []string
	if t.r.out.Reading.Others != nil {
		p = append(p, fmt.Sprintf("sheet %q", clip(t.g.sheet)))
	}
	if l.number > t.r.out.Reading.HeadingRow && t.by[wordName] != nil {
		if c := t.cell(l, wordName); c.text != "" && (c.kind == text || c.kind == number) {
			p = append(p, fmt.Sprintf("panel %q", clip(c.text)))
		}
	}
	return strings.Join(p, ", ")
}

// cell returns the cell of a word in a row: its own, or that of the merged area it
// lies in. It is blank when there is none.
func (t *table) cell(l *line, w word) *cell {
	c := t.by[w]
	if c == nil {
		return &cell{}
	}
	if own := l.at(c.col); own.text != "" {
		return own
	}
	if m := t.g.merged(l.number, c.col); m != nil {
		if first := t.g.row(m.first); first != nil && m.anchor == c.col && w != wordQuantity {
			return first.at(c.col)
		}
	}
	return &cell{}
}

// unitRow reads a row of units just below the headings: it holds nothing else.
func (t *table) unitRow(head, l *line) bool {
	for i := range l.cells {
		if _, ok := unitOf(strings.Trim(l.cells[i].text, "()[] ")); !ok || l.cells[i].kind != text {
			return false
		}
	}
	for _, c := range t.cols {
		u, ok := unitOf(strings.Trim(l.at(c.col).text, "()[] "))
		if !ok || !c.word.size() {
			continue
		}
		if c.unit.Size != 0 && c.unit != u {
			t.add(l, fmt.Sprintf("%s says %s, its heading %s", c.called(l.number), u.Name, c.unit.Name), "correct one of them")
		}
		c.unit = u
	}
	return true
}

// again reports whether a row repeats the headings, as on a new page.
func (t *table) again(l *line) bool {
	n := 0
	for _, c := range t.cols {
		if c.word == other {
			continue
		}
		cell := l.at(c.col)
		if cell.kind != text || readTitle(cell.text).word != c.word {
			return false
		}
		n++
	}
	return n > 1
}

// otherHeadings reports whether a row looks like the headings of another table: no
// number is in it, and three words are.
func otherHeadings(l *line) bool {
	for i := range l.cells {
		if c := &l.cells[i]; c.kind != text || c.text[0] >= '0' && c.text[0] <= '9' {
			return false
		}
	}
	return known(l) >= 3
}

// totals is what stands before the sums under a list.
var totals = regexp.MustCompile(`^(?:grand |sub-?\s?)?(?:totals?|sum)(?: (?:of|for) .*)?\s*[:=]?$`)

// read reads a row, and adds what it describes or why it is passed over.
func (t *table) read(head, l *line) {
	reading := &t.r.out.Reading
	t.count(l)
	if isTotal(&l.cells[0]) || isTotal(t.cell(l, wordName)) {
		reading.skip(l.number, l.number, "total")
		if t.cell(l, wordLength).text != "" && t.cell(l, wordWidth).text != "" {
			t.warn(l, fmt.Sprintf("row %d is taken for a total and is passed over, though it has a length and a width", l.number), "rename it if it is a panel")
		}
		return
	}
	own := func(w word) bool { return t.by[w] != nil && l.at(t.by[w].col).text != "" }
	others := 0 // own cells that are understood, apart from the name
	for _, c := range t.cols {
		if c.word != other && c.word != wordName && own(c.word) {
			others++
		}
	}
	sized := t.cell(l, wordLength).text != "" || t.cell(l, wordWidth).text != "" || t.cell(l, wordDrawing).text != ""
	name := t.cell(l, wordName).text != ""
	switch {
	case others == 0 && !own(wordName):
		reading.skip(l.number, l.number, "nothing under a known heading")
		return
	case others == 0 && !sized:
		reading.skip(l.number, l.number, "a title: only a name")
		t.warn(l, fmt.Sprintf("row %d has a name only, and is taken for the title of a group", l.number), "fill in the row if it is a panel")
		return
	case !name && !sized:
		reading.skip(l.number, l.number, "neither name nor size")
		t.warn(l, fmt.Sprintf("row %d has neither a name nor a size, and is passed over", l.number), "fill in the row if it is a panel")
		return
	}
	if n := head.fields; t.g.comma && l.fields != n {
		t.add(l, fmt.Sprintf("row %d has %d cells, the heading row %d: a decimal comma outside quotes, or a comma too many or too few at the end", l.number, l.fields, n),
			`put quotes about a cell with a comma, as in "1,5", and give each row as many commas as the heading row; or use semicolons`)
		return
	}
	before := len(t.r.list)
	row := t.panel(l)
	if mistakes, _ := t.r.list[before:].Split(); len(mistakes) > 0 {
		return
	}
	if l.hidden {
		t.hidden = append(t.hidden, l.number)
	}
	if row.Quantity == 0 {
		reading.skip(l.number, l.number, "quantity 0")
		t.warn(l, fmt.Sprintf("row %d has the quantity 0, and is passed over", l.number), "remove the row, or give a quantity")
		return
	}
	if first, ok := t.names[row.Name]; ok {
		t.warn(l, fmt.Sprintf("rows %d and %d have the same name", first, l.number), "give each panel a name of its own, or raise the quantity")
	} else {
		t.names[row.Name] = l.number
	}
	t.r.out.Rows = append(t.r.out.Rows, row)
	reading.took(l.number, row.Quantity)
}

// count counts the filled cells of each column. Those without a heading become
// columns that are ignored.
func (t *table) count(l *line) {
	for i := range l.cells {
		col := l.cells[i].col
		c := t.at[col]
		if c == nil {
			c = &column{col: col}
			t.at[col] = c
			at, _ := slices.BinarySearchFunc(t.cols, col, func(c *column, col int) int { return cmp.Compare(c.col, col) })
			t.cols = slices.Insert(t.cols, at, c)
		}
		c.filled++
	}
}

// isTotal reports whether a cell stands before the sums under a list.
func isTotal(c *cell) bool {
	return len(c.text) < 100 && totals.MatchString(oneLine(strings.ToLower(c.text)))
}

// panel reads the cells of a row.
func (t *table) panel(l *line) Row {
	row := Row{Place: Place{Sheet: t.g.sheet, Row: l.number, Line: l.line}, Pos: t.pos(l)}
	t.mergedAcross(l)
	row.Name = oneLine(t.text(l, wordName, MaxName))
	if row.Name == "" && t.by[wordName] != nil && t.cell(l, wordName).text == "" {
		t.add(l, t.by[wordName].called(l.number)+" is blank", "name the panel")
	}
	row.Quantity = t.quantity(l)
	row.Drawing = t.text(l, wordDrawing, MaxName)
	row.Material = oneLine(t.text(l, wordMaterial, MaxName))
	row.Note = t.text(l, wordNote, MaxNote)
	t.lonely(l, wordNote)
	t.lonely(l, wordDrawing)
	unit := t.rowUnit(l)
	drawn := t.cell(l, wordDrawing).text != ""
	both := t.cell(l, wordLength).text == "" && t.cell(l, wordWidth).text == ""
	row.Length = t.length(l, wordLength, unit, !drawn || !both)
	row.Width = t.length(l, wordWidth, unit, !drawn || !both)
	row.Thickness = t.length(l, wordThickness, unit, false)
	var err error
	if row.Grain, err = readGrain(t.text(l, wordGrain, MaxName)); err != nil {
		t.fault(l, wordGrain, err, grainRemedy)
	}
	if row.Edging, err = readEdging(t.text(l, wordEdging, MaxNote), drawn); err != nil {
		t.fault(l, wordEdging, err, edgingRemedy)
	}
	return row
}

// done says what concerns the list as a whole.
func (t *table) done(head *line) {
	reading := &t.r.out.Reading
	reading.conclude(t)
	switch {
	case reading.Panels > MaxPanels:
		t.r.whole(fmt.Sprintf("%d panels are too many", reading.Panels), fmt.Sprintf("a list may have %d", MaxPanels))
	case len(t.r.out.Rows) == 0 && t.r.list.Err() == nil:
		t.add(head, "no row below the headings describes a panel", "give each panel a row with a name, a length and a width")
	}
	if t.by[wordQuantity] == nil {
		t.warn(head, "no heading means quantity: each row is one panel", "head its column with one of "+strings.Join(headings[wordQuantity], ", "))
	}
	var ignored []string
	for _, c := range reading.Columns {
		if c.Word == "" && c.Filled > 0 {
			name := c.Letters
			if c.Heading != "" {
				name += fmt.Sprintf(" %q", clip(c.Heading))
			}
			ignored = append(ignored, name)
		}
	}
	if ignored != nil {
		t.warn(head, "columns that are not understood are ignored: "+few(ignored), "known headings: "+wordList())
	}
	for _, c := range t.cols {
		if c.word != other && t.g.hides(c.col) {
			t.warn(head, fmt.Sprintf("column %s %q is hidden in the sheet and is read all the same", letters(c.col), clip(c.title)), "remove it, or show it")
		}
	}
	if len(t.hidden) > 0 {
		t.warn(head, fmt.Sprintf("rows that are hidden in the sheet are read all the same: %d, the first is row %d", len(t.hidden), t.hidden[0]), "remove them, or show them")
	}
	if t.marks.point > 0 && t.marks.comma > 0 {
		t.warn(head, fmt.Sprintf("some numbers have a decimal point (first %s), some a decimal comma (first %s)", t.marks.firstPoint, t.marks.firstC), "check that each was meant so")
	}
}

// wordList lists the first heading of each word.
func wordList() string {
	var list []string
	for w := other + 1; w < words; w++ {
		list = append(list, w.String())
	}
	return strings.Join(list, ", ")
}

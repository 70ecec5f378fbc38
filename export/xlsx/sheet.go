package xlsx

import (
	"strings"

	"github.com/xuri/excelize/v2"
)

// write puts a table on the worksheet of its name. What comes before the rows
// in the file (view, page, filter, widths) is set first, because rows are
// streamed.
func (t *table) write(f *excelize.File, s *styles, job string) error {
	steps := []func(*excelize.File, string) error{t.view, t.filter, t.check, t.page, t.illustrate}
	for _, step := range steps {
		if err := step(f, job); err != nil {
			return err
		}
	}
	sw, err := f.NewStreamWriter(t.name)
	if err != nil {
		return err
	}
	widths := t.widths()
	for i, w := range widths {
		if err := sw.SetColWidth(i+1, i+1, w); err != nil {
			return err
		}
	}
	rows := t.rows
	if t.titled {
		titles := row{}
		for _, c := range t.columns {
			l := look{header: true, align: c.align}
			if c.most == 0 && c.align == "" {
				l.align = "center"
			}
			titles.cells = append(titles.cells, cell{value: c.title, shown: c.title, look: l})
		}
		rows = append([]row{titles}, rows...)
	}
	for i := range rows {
		if err := t.stream(sw, s, 1+i, &rows[i], widths); err != nil {
			return err
		}
	}
	return sw.Flush()
}

// stream writes a row of the worksheet.
func (t *table) stream(sw *excelize.StreamWriter, s *styles, n int, r *row, widths []float64) error {
	cells := r.cells
	if t.titled && !r.spread {
		// Lines run through empty cells.
		cells = make([]cell, len(t.columns))
		copy(cells, r.cells)
		for i := range cells {
			l := &cells[i].look
			l.ruled, l.first, l.total = !l.header, r.first, r.total
		}
	}
	values := make([]any, len(cells))
	for i, c := range cells {
		if c.value == nil && c.look == (look{}) {
			continue
		}
		if c.look.align == "" {
			c.look.align = t.columns[i].align
		}
		if _, isText := c.value.(string); isText && c.look.align == "" {
			c.look.align = "left"
		}
		id, err := s.id(c.look)
		if err != nil {
			return err
		}
		values[i] = excelize.Cell{StyleID: id, Formula: c.formula, Value: c.value}
	}
	var opts []excelize.RowOpts
	if h := t.height(r, widths); h > 0 {
		opts = append(opts, excelize.RowOpts{Height: h})
	}
	start := name(1, n)
	if r.spread {
		if err := sw.MergeCell(start, name(t.width(), n)); err != nil {
			return err
		}
	}
	return sw.SetRow(start, values, opts...)
}

// view freezes titles and the first columns.
func (t *table) view(f *excelize.File, _ string) error {
	no := false
	if err := f.SetSheetView(t.name, 0, &excelize.ViewOptions{ShowGridLines: &no}); err != nil {
		return err
	}
	if !t.titled {
		return nil
	}
	p := &excelize.Panes{Freeze: true, XSplit: t.fixed, YSplit: 1, ActivePane: "bottomLeft"}
	if t.fixed > 0 {
		p.ActivePane = "bottomRight"
	}
	p.TopLeftCell = name(t.fixed+1, 2)
	return f.SetPanes(t.name, p)
}

// filter adds the buttons that choose rows.
func (t *table) filter(f *excelize.File, _ string) error {
	if !t.titled || t.filtered == 0 {
		return nil
	}
	return f.AutoFilter(t.name, at(1, 1)+":"+at(len(t.columns), 1+t.filtered), nil)
}

// check limits what can be written in some cells.
func (t *table) check(f *excelize.File, _ string) error {
	for _, c := range t.checks {
		v := excelize.NewDataValidation(true)
		v.SetSqref(c.cell)
		if err := v.SetRange(0, 1, excelize.DataValidationTypeDecimal, excelize.DataValidationOperatorBetween); err != nil {
			return err
		}
		v.SetError(excelize.DataValidationErrorStyleStop, "Not a share", c.say)
		if err := f.AddDataValidation(t.name, v); err != nil {
			return err
		}
	}
	return nil
}

// illustrate puts the pictures on the worksheet.
func (t *table) illustrate(f *excelize.File, _ string) error {
	for i := range t.pictures {
		if err := t.pictures[i].add(f, t.name); err != nil {
			return err
		}
	}
	return nil
}

// page sets A4 landscape, as wide as one page, titles on every page.
func (t *table) page(f *excelize.File, job string) error {
	const a4 = 9 // paper size code of ISO/IEC 29500-1, 18.3.1.63 (from memory)
	var (
		size      = a4
		landscape = "landscape"
		one, auto = 1, 0
		yes       = true
		side, end = 0.4, 0.6 // inches
		note      = 0.3
	)
	// The filter replaces the sheet's properties, so this one comes after it.
	if err := f.SetSheetProps(t.name, &excelize.SheetPropsOptions{FitToPage: &yes}); err != nil {
		return err
	}
	if err := f.SetPageLayout(t.name, &excelize.PageLayoutOptions{
		Size: &size, Orientation: &landscape, FitToWidth: &one, FitToHeight: &auto,
	}); err != nil {
		return err
	}
	if err := f.SetPageMargins(t.name, &excelize.PageLayoutMarginsOptions{
		Left: &side, Right: &side, Top: &end, Bottom: &end, Header: &note, Footer: &note,
	}); err != nil {
		return err
	}
	if err := f.SetDefinedName(&excelize.DefinedName{
		Name: "_xlnm.Print_Area", RefersTo: "'" + t.name + "'!" + at(1, 1) + ":" + at(t.width(), max(t.next()-1, 1)), Scope: t.name,
	}); err != nil {
		return err
	}
	if err := f.SetHeaderFooter(t.name, &excelize.HeaderFooterOptions{
		OddHeader: "&L" + plain(job) + "&R" + t.name,
		OddFooter: "&Lpanelyard cut list&RPage &P of &N",
	}); err != nil {
		return err
	}
	if !t.titled {
		return nil
	}
	return f.SetDefinedName(&excelize.DefinedName{
		Name: "_xlnm.Print_Titles", RefersTo: "'" + t.name + "'!$1:$1", Scope: t.name,
	})
}

// plain writes a name for a page header: short, and without the codes that an
// ampersand starts there.
func plain(s string) string {
	const most = 60
	if r := []rune(s); len(r) > most {
		s = string(r[:most]) + "…"
	}
	return strings.ReplaceAll(s, "&", "&&")
}

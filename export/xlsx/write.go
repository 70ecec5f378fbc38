package xlsx

import (
	"bytes"
	"fmt"
	"io"

	"github.com/xuri/excelize/v2"

	"panelyard/export"
	"panelyard/kerf"
)

// Write writes the cut list of d as a workbook. The error is the writer's, or
// that of a dossier with more rows than a worksheet can hold. Cost: the panels,
// and cuts times placements of each sheet; the workbook is made in memory.
func Write(w io.Writer, d *export.Dossier) error {
	tables, err := tables(d)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if err := workbook(&out, tables, d.Title()); err != nil {
		return err
	}
	_, err = w.Write(out.Bytes())
	return err
}

// tables makes the worksheets of d, in their order.
func tables(d *export.Dossier) ([]*table, error) {
	u := newLengths(d)
	rows := stockRows(d)
	left, leftSum, kept := offcuts(d, u, rows)
	fittings, fittingsSum := hardware(d, u, firstStock+len(d.Buy)+len(d.Drops))
	buying, b := buy(d, u, outside{leftSum, fittingsSum, kept})
	pictures, err := sheetMaps(d, u)
	if err != nil {
		return nil, err
	}
	list := []*table{summary(d, u, b), panels(d, u), sizes(d, u)}
	if len(d.Openings) > 0 {
		list = append(list, openings(d, u))
	}
	if len(d.Shared) > 0 {
		list = append(list, shared(d, u))
	}
	if bent(d) {
		list = append(list, bends(d, u))
	}
	if len(d.Bands) > 0 {
		list = append(list, edges(d, u))
	}
	list = append(list, buying, fittings, pictures)
	if d.Demand.Cut == kerf.Saw {
		list = append(list, cuts(d, u))
	} else {
		list = append(list, paths(d, u))
	}
	return append(list, left), nil
}

// workbook writes tables as a workbook.
func workbook(w io.Writer, tables []*table, job string) (err error) {
	f := excelize.NewFile()
	defer func() {
		if e := f.Close(); err == nil {
			err = e
		}
	}()
	if err := f.SetDefaultFont(fontName); err != nil {
		return err
	}
	// The library's template carries fixed dates; only the names are ours.
	if err := f.SetDocProps(&excelize.DocProperties{Creator: "panelyard", Title: job}); err != nil {
		return err
	}
	s := &styles{file: f, ids: map[look]int{}}
	for i, t := range tables {
		if i == 0 {
			err = f.SetSheetName(f.GetSheetName(0), t.name)
		} else {
			_, err = f.NewSheet(t.name)
		}
		if err != nil {
			return err
		}
	}
	for _, t := range tables {
		if n := t.next() - 1; n > excelize.TotalRows {
			return fmt.Errorf("worksheet %s: %d rows are more than the %d a worksheet can hold", t.name, n, excelize.TotalRows)
		}
		if err := t.write(f, s, job); err != nil {
			return fmt.Errorf("worksheet %s: %w", t.name, err)
		}
	}
	f.SetZipWriter(func(w io.Writer) excelize.ZipWriter { return newPack(w) })
	_, err = f.WriteTo(w)
	return err
}

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
	u := newLengths(d.Job.Units)
	buying, b := buy(d, u)
	tables := []*table{summary(d, u, b), panels(d, u)}
	if len(d.Shared) > 0 {
		tables = append(tables, shared(d, u))
	}
	tables = append(tables, buying)
	if d.Demand.Cut == kerf.Saw {
		tables = append(tables, cuts(d, u))
	}
	tables = append(tables, offcuts(d, u))
	var out bytes.Buffer
	if err := workbook(&out, tables, d.Job.Name); err != nil {
		return err
	}
	_, err := w.Write(out.Bytes())
	return err
}

// workbook writes tables as a workbook.
func workbook(w io.Writer, tables []*table, job string) (err error) {
	f := excelize.NewFile()
	defer func() {
		if e := f.Close(); err == nil {
			err = e
		}
	}()
	if err := f.SetDefaultFont(font); err != nil {
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

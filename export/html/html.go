// Package html writes the report: one self-contained HTML page with what to buy,
// cost, yield, cautions, panel list, sheet maps and cuts. It needs no network and
// no scripts, prints cleanly, and can be read with a keyboard or by ear.
//
//	*export.Dossier -> HTML
//
// Printed on A4 every map has a page of its own at the scale it states; on a
// screen it fills the column, and its scale bar tells sizes. Names are kept as
// they are written, each set apart from the text around it (bdi), so that one
// written to the left turns no figures.
package html

import (
	"bytes"
	_ "embed"
	"errors"
	"html/template"
	"io"
	"strings"

	"panelyard/export"
	"panelyard/export/svgmap"
	"panelyard/parts"
)

//go:embed report.tmpl
var source string

// report is what the page is made from.
type report struct {
	*export.Dossier
	Tool   string
	Saw    bool
	Router parts.Router
	Shares []share
	Rows   []panelRow
	Bends  []bend
	Kept   []keptRow
	Maps   []sheet
}

// sheet is a sheet map with its cuts.
type sheet struct {
	*export.SheetMap
	SVG template.HTML
}

// Write writes the report of d. The error is the writer's, or a defect of the
// page. Cost: that of all maps, which are held in memory.
func Write(w io.Writer, d *export.Dossier) error {
	p := phrases{d, d.Lengths()}
	r := report{Dossier: d, Tool: p.tool(), Saw: p.saw(), Router: d.Job.Router.Filled(), Shares: shares(d.Totals.Areas), Rows: p.panelRows(), Bends: p.bends(), Kept: p.kept()}
	for i := range d.Sheets {
		var b bytes.Buffer
		if err := svgmap.Write(&b, d, i, svgmap.Look{}); err != nil {
			return err
		}
		svg, err := inline(b.String())
		if err != nil {
			return err
		}
		r.Maps = append(r.Maps, sheet{SheetMap: &d.Sheets[i], SVG: svg})
	}
	t, err := template.New("report").Funcs(p.funcs()).Parse(source)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := t.Execute(&b, r); err != nil {
		return err
	}
	_, err = w.Write(b.Bytes())
	return err
}

// inline makes a map, a document of our own, an element of a page: the
// declaration goes, and the size, which the page's style gives.
func inline(doc string) (template.HTML, error) {
	_, rest, ok := strings.Cut(doc, "<svg ")
	size, rest, sized := strings.Cut(rest, "viewBox=")
	if !ok || !sized || strings.Contains(size, ">") {
		return "", errors.New("a sheet map is not the drawing that a page can hold")
	}
	// The map escapes all text itself.
	return template.HTML(`<svg role="img" viewBox=` + rest), nil
}

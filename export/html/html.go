// Package html writes the report: one self-contained HTML page with what to buy,
// cost, yield, cautions, panel list, sheet maps and cuts. It needs no network and
// no scripts, prints cleanly, and can be read with a keyboard or by ear.
//
//	*export.Dossier -> HTML
//
//	report.tmpl    the page
//	report.css     its look on a screen and on paper
//	report.js      zooming, and marking a panel in the list and on all maps
//	phrases.go     words and figures
//
// Links lead from a row of the list to its panels on each sheet and back. What they
// lead to is marked, and maps are enlarged, by the style alone; the script does both
// better, and where it is blocked nothing is missing.
//
// The page itself forbids to load anything, and to run any script but this one, whose
// digest it states (Content Security Policy Level 3, W3C). The script is the same in
// all reports; what it needs of the page stands in data attributes.
//
// Printed on A4 every map has a page of its own at the scale it states; on a
// screen it fills the column, and its scale bar tells sizes. Names are kept as
// they are written, each set apart from the text around it (bdi), so that one
// written to the left turns no figures.
package html

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"errors"
	"html/template"
	"io"
	"strings"

	"panelyard/export"
	"panelyard/export/svgmap"
	"panelyard/parts"
)

var (
	//go:embed report.tmpl
	source string
	//go:embed report.css
	style string
	//go:embed report.js
	script string
)

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

	Policy string
	Style  template.CSS
	Script template.JS
}

// sheet is a sheet map with its cuts.
type sheet struct {
	*export.SheetMap
	SVG           template.HTML
	Kinds         []kind
	Before, After string // IDs of its neighbours
}

// policy allows a page its styles and its script, and nothing from elsewhere.
func policy() string {
	sum := sha256.Sum256([]byte(script))
	return "default-src 'none'; style-src 'unsafe-inline'; script-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'; base-uri 'none'; form-action 'none'"
}

// Write writes the report of d. The error is the writer's, or a defect of the
// page. Cost: that of all maps, which are held in memory.
func Write(w io.Writer, d *export.Dossier) error {
	p := phrases{d, d.Lengths()}
	r := report{Dossier: d, Tool: p.tool(), Saw: p.saw(), Router: d.Job.Router.Filled(), Shares: shares(d.Totals.Areas), Rows: p.panelRows(), Bends: p.bends(), Kept: p.kept()}
	r.Policy, r.Style, r.Script = policy(), template.CSS(style), template.JS(script)
	for i := range d.Sheets {
		var b bytes.Buffer
		if err := svgmap.Write(&b, d, i, svgmap.Look{Linked: true}); err != nil {
			return err
		}
		svg, err := inline(b.String())
		if err != nil {
			return err
		}
		m := sheet{SheetMap: &d.Sheets[i], SVG: svg, Kinds: p.kinds(&d.Sheets[i])}
		if i > 0 {
			m.Before = d.Sheets[i-1].ID
		}
		if i+1 < len(d.Sheets) {
			m.After = d.Sheets[i+1].ID
		}
		r.Maps = append(r.Maps, m)
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
	return template.HTML(`<svg role="group" viewBox=` + rest), nil
}

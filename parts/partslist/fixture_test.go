package partslist

import (
	"archive/zip"
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"panelyard/parts/length"
)

const (
	goodDir = "testdata/good"
	badDir  = "testdata/bad"
)

// metric are the options of a job in millimetres.
var metric = Options{Units: length.MM}

// facts writes rows for comparison.
func facts(rows []Row) string {
	var b strings.Builder
	for _, r := range rows {
		fmt.Fprintf(&b, "%d (line %d): %d of %q, %v x %v, %v of %q, grain %q", r.Place.Row, r.Place.Line, r.Quantity, r.Name, r.Length, r.Width, r.Thickness, r.Material, r.Grain)
		for _, e := range r.Edging {
			fmt.Fprintf(&b, ", %s: %q", e.Edge, e.Band)
		}
		fmt.Fprintf(&b, ", note %q, drawing %q\n", r.Note, r.Drawing)
	}
	return b.String()
}

// rowsOf reads a list that has no mistake.
func rowsOf(t *testing.T, name string, src []byte, opt Options) []Row {
	t.Helper()
	l, list := Read(name, src, opt)
	if err := list.Err(); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return l.Rows
}

// workbook makes a workbook whose first sheet has the rows.
func workbook(t testing.TB, change func(f *excelize.File), rows ...[]any) []byte {
	t.Helper()
	f := excelize.NewFile()
	for i, r := range rows {
		if err := f.SetSheetRow("Sheet1", fmt.Sprintf("A%d", i+1), &r); err != nil {
			t.Fatal(err)
		}
	}
	if change != nil {
		change(f)
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// row is a row of cells.
func row(cells ...any) []any { return cells }

// head is a usual heading row.
var head = row("name", "qty", "length", "width")

// must stops a test whose fixture cannot be made.
func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// The least of a workbook, to be spoiled.
const (
	typesXML = `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>`
	rootXML  = `<Relationships><Relationship Id="a" Type="x/officeDocument" Target="xl/workbook.xml"/></Relationships>`
	bookXML  = `<workbook xmlns:r="r"><sheets><sheet name="P" sheetId="1" r:id="r1"/></sheets></workbook>`
	relsXML  = `<Relationships><Relationship Id="r1" Type="x/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`
)

// member is a file of an archive.
type member struct{ name, text string }

// bare makes a workbook by hand with the content of its sheet.
func bare(t testing.TB, sheetData string, more ...member) []byte {
	t.Helper()
	files := append([]member{
		{"[Content_Types].xml", typesXML},
		{"_rels/.rels", rootXML},
		{"xl/workbook.xml", bookXML},
		{"xl/_rels/workbook.xml.rels", relsXML},
		{"xl/worksheets/sheet1.xml", `<worksheet><sheetData>` + sheetData + `</sheetData></worksheet>`},
	}, more...)
	return zipped(t, files...)
}

// zipped makes an archive.
func zipped(t testing.TB, files ...member) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, f := range files {
		o, err := w.Create(f.name)
		must(t, err)
		_, err = o.Write([]byte(f.text))
		must(t, err)
	}
	must(t, w.Close())
	return b.Bytes()
}

// inline writes a row of text cells as XML.
func inline(cells ...string) string {
	var b strings.Builder
	b.WriteString("<row>")
	for _, c := range cells {
		b.WriteString(`<c t="inlineStr"><is><t>` + c + `</t></is></c>`)
	}
	return b.String() + "</row>"
}

// headXML is a usual heading row.
var headXML = inline("name", "qty", "length", "width")

package partslist

import (
	"archive/zip"
	"bytes"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"panelyard/parts/partstest"
)

// withoutLines removes what differs between CSV and XLSX: the line of a row.
func withoutLines(s string) string {
	var b strings.Builder
	for l := range strings.Lines(s) {
		before, after, _ := strings.Cut(l, " (line ")
		_, after, _ = strings.Cut(after, ")")
		b.WriteString(before + after)
	}
	return b.String()
}

// The workbook that LibreOffice 7.4 made of a CSV, kept in testdata, reads as the
// CSV does.
func TestWorkbookOfLibreOffice(t *testing.T) {
	src, err := os.ReadFile(filepath.Join(goodDir, "kiosk.csv"))
	must(t, err)
	want := withoutLines(facts(rowsOf(t, "kiosk.csv", src, metric)))
	book, err := os.ReadFile(filepath.Join(goodDir, "kiosk.xlsx"))
	must(t, err)
	if got := withoutLines(facts(rowsOf(t, "kiosk.xlsx", book, metric))); got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// LibreOffice converts each good CSV, and a workbook without cached values; what it
// writes reads as what went in.
func TestLibreOffice(t *testing.T) {
	soffice := partstest.Tool(t, "soffice")
	dir := t.TempDir()
	convert := func(file, filter string) []byte {
		t.Helper()
		args := []string{
			"-env:UserInstallation=file://" + filepath.ToSlash(filepath.Join(dir, "profile")), "--headless",
			"--infilter=" + filter, "--convert-to", "xlsx", "--outdir", filepath.Join(dir, "out"), file,
		}
		if filter == "" {
			args = append(args[:2], args[3:]...)
		}
		if out, err := exec.Command(soffice, args...).CombinedOutput(); err != nil {
			t.Fatalf("soffice: %v\n%s", err, out)
		}
		base := filepath.Base(file)
		src, err := os.ReadFile(filepath.Join(dir, "out", strings.TrimSuffix(base, filepath.Ext(base))+".xlsx"))
		must(t, err)
		return src
	}
	// Separator, quote, UTF-8, first line, formats, language (1033: English of the
	// US, 1031: German of Germany), quoted cells as numbers too, detect numbers.
	for file, filter := range map[string]string{
		"kiosk.csv":         "CSV:44,34,76,1,,1033,false,true",
		"decimal-comma.csv": "CSV:59,34,76,1,,1031,false,true",
		"units-row.csv":     "CSV:9,34,76,1,,1033,false,false",
	} {
		path := filepath.Join(goodDir, file)
		src, err := os.ReadFile(path)
		must(t, err)
		want := withoutLines(facts(rowsOf(t, file, src, metric)))
		if got := withoutLines(facts(rowsOf(t, file, convert(path, filter), metric))); got != want {
			t.Errorf("%s: got %s, want %s", file, got, want)
		}
	}
	// What is computed here from formulas alone, LibreOffice computes too.
	bare := workbook(t, arithmetic(t), head, row("side", 2), row("shelf", 3, nil, 250.5))
	path := filepath.Join(dir, "bare.xlsx")
	must(t, os.WriteFile(path, bare, 0o600))
	ours := facts(rowsOf(t, "bare.xlsx", bare, metric))
	if theirs := facts(rowsOf(t, "bare.xlsx", convert(path, ""), metric)); theirs != ours {
		t.Errorf("LibreOffice computes %s, we %s", theirs, ours)
	}
}

// arithmetic puts formulas without values into a workbook.
func arithmetic(t *testing.T) func(*excelize.File) {
	return func(f *excelize.File) {
		for cell, formula := range map[string]string{
			"C2": "2*D3+ROUND(0.126,2)", "D2": "MAX(C3:D3,100)", "C3": "SUM($D$3,D3)/2",
			"A4": `A2&" "&"two"`, "B4": "SUM(B2:B3)-4", "C4": "IF(C2>500,C2,1)", "D4": "D2",
		} {
			must(t, f.SetCellFormula("Sheet1", cell, formula))
		}
	}
}

// Formulas without a value are computed, on cells and on each other.
func TestCompute(t *testing.T) {
	src := workbook(t, arithmetic(t), head, row("side", 2), row("shelf", 3, nil, 250.5))
	got := facts(rowsOf(t, "a.xlsx", src, metric))
	for _, want := range []string{
		`2 of "side", 501.13 mm x 250.5 mm`, `3 of "shelf", 250.5 mm x 250.5 mm`, `1 of "side two", 501.13 mm x 250.5 mm`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%s, want %s", got, want)
		}
	}
}

// A cached value is taken as it is, whatever the formula: it is not executed.
func TestCachedValues(t *testing.T) {
	src := bare(t, headXML+`<row><c t="str"><f>WEBSERVICE("x")</f><v>side</v></c><c><f>1/0</f><v>2</v></c><c><f>A1</f><v>600.5</v></c><c t="str"><f>1</f><v>12 in</v></c></row>`)
	if got := facts(rowsOf(t, "a.xlsx", src, metric)); !strings.Contains(got, `2 of "side", 600.5 mm x 304.8 mm`) {
		t.Error(got)
	}
}

// Every kind of cell is read as the xlsx library reads it.
func TestAgainstLibrary(t *testing.T) {
	files := map[string][]byte{}
	book, err := os.ReadFile(filepath.Join(goodDir, "kiosk.xlsx"))
	must(t, err)
	files["kiosk.xlsx"] = book
	files["kinds.xlsx"] = workbook(t, func(f *excelize.File) {
		must(t, f.SetCellRichText("Sheet1", "F2", []excelize.RichTextRun{{Text: "two "}, {Text: "runs"}}))
	}, head, row("side", 12, 600.25, -0.5, true, nil, " blanks ", "ä & <b>"), row(), row(nil, nil, 1e15, 0.1+0.2, false))
	for name, src := range files {
		f, err := excelize.OpenReader(bytes.NewReader(src))
		must(t, err)
		want, err := f.GetRows(f.GetSheetName(0), excelize.Options{RawCellValue: true})
		must(t, err)
		r := &reader{file: name}
		g := r.workbook(src)
		if g == nil {
			t.Fatal(r.list)
		}
		filled := 0
		for i, cells := range want {
			for k, v := range cells {
				got := &cell{}
				if l := g.row(i + 1); l != nil {
					got = l.at(k + 1)
				}
				if v = trim(v); v != "" {
					filled++
				}
				switch got.kind {
				case number:
					v, _ = digits15(v)
				case boolean:
					v = map[string]string{"1": "TRUE", "0": "FALSE"}[v]
				}
				if got.text != v {
					t.Errorf("%s, %s%d: %q, the library has %q", name, letters(k+1), i+1, got.text, v)
				}
			}
		}
		n := 0
		for i := range g.rows {
			n += len(g.rows[i].cells)
		}
		if n != filled || n < 10 {
			t.Errorf("%s: %d cells, the library has %d", name, n, filled)
		}
	}
}

func TestSheets(t *testing.T) {
	src := workbook(t, func(f *excelize.File) {
		for i, name := range []string{"Panels", "Old", "Spare"} {
			_, err := f.NewSheet(name)
			must(t, err)
			must(t, f.SetSheetRow(name, "A1", &[]any{"name", "qty", "length", "width"}))
			must(t, f.SetSheetRow(name, "A2", &[]any{name, 1, 600 + i, 300}))
		}
		must(t, f.SetSheetVisible("Old", false))
	}, row("Kiosk"), row("prices made up"))
	for named, want := range map[string]string{"": "Panels", "old": "Old", " Spare ": "Spare"} {
		l, list := Read("a.xlsx", src, Options{Units: metric.Units, Sheet: named})
		if list.Err() != nil || len(l.Rows) != 1 || l.Rows[0].Name != want || l.Rows[0].Place.Sheet != want || l.Reading.Sheet != want {
			t.Errorf("%q: %v, %v", named, l.Rows, list)
		}
		if strings.Contains(l.Reading.Table(), `"Old"`) != (want == "Old") {
			t.Error(l.Reading.Table())
		}
	}
	for named, want := range map[string]string{"Sheet1": "no row has two known headings", "tides": `name one of "Sheet1", "Panels", "Old", "Spare"`} {
		l, list := Read("a.xlsx", src, Options{Sheet: named})
		if l.Rows != nil || len(list) != 1 || !strings.Contains(list.Error(), want) {
			t.Errorf("%q: %v, want %q", named, list, want)
		}
	}
}

// One value for several rows, where the cells are merged downwards; hidden rows.
func TestMergedAndHidden(t *testing.T) {
	src := workbook(t, func(f *excelize.File) {
		must(t, f.MergeCell("Sheet1", "A1", "E1"))
		must(t, f.MergeCell("Sheet1", "E3", "E5"))
		must(t, f.MergeCell("Sheet1", "F3", "G4"))
		must(t, f.SetRowVisible("Sheet1", 4, false))
		must(t, f.SetColVisible("Sheet1", "C:D", false))
	}, row("Tide-table kiosk"), row("name", "qty", "length", "width", "material", "note"),
		row("side", 2, 600, 300, "birch 18", "for both"), row("shelf", 1, 600, 250), row("back", 1, 600, 250), row("lid", 1, 60, 30))
	l, list := Read("a.xlsx", src, metric)
	if list.Err() != nil || len(l.Rows) != 4 {
		t.Fatal(list)
	}
	for i, want := range []struct{ material, note string }{{"birch 18", "for both"}, {"birch 18", "for both"}, {"birch 18", ""}, {"", ""}} {
		if l.Rows[i].Material != want.material || l.Rows[i].Note != want.note {
			t.Errorf("%+v, want %+v", l.Rows[i], want)
		}
	}
	if s := list.Error(); len(list) != 3 || !strings.Contains(s, `column D "width" is hidden`) || !strings.Contains(s, "the first is row 4") {
		t.Error(list)
	}
}

// The unit that a number format shows is the unit of the number.
func TestNumberFormats(t *testing.T) {
	for code, want := range map[string]format{
		"General": {}, "0.00": {}, "#,##0.0": {}, "# ?/?": {}, `0" mm"`: {unit: metric.Units}, `0.0\ \m\m`: {unit: metric.Units}, `0.0" kg"`: {}, "0.0%": {percent: true}, `0"%"`: {},
		"yyyy-mm-dd": {date: true}, "[h]:mm": {date: true}, "d/m": {date: true}, `[Red]0.0;-0.0`: {}, "[$-409]d mmm": {date: true},
		`0_m;"x"`: {}, "@": {}, "0.0E+00": {}, "": {}, `"`: {}, `\`: {}, "[": {}, `"day" 0`: {},
	} {
		if got := readFormat(code); got != want {
			t.Errorf("%q: %+v, want %+v", code, got, want)
		}
	}
	src := workbook(t, func(f *excelize.File) {
		code := `0.0## "in"`
		s, err := f.NewStyle(&excelize.Style{CustomNumFmt: &code})
		must(t, err)
		must(t, f.SetCellStyle("Sheet1", "C2", "C2", s))
	}, head, row("side", 1, 12.5, 300))
	l, list := Read("a.xlsx", src, metric)
	if list.Err() != nil || l.Rows[0].Length != 12*inch+inch/2 || l.Rows[0].Width != 300*mm {
		t.Error(list, facts(l.Rows))
	}
	if !strings.Contains(l.Reading.Table(), "in, says its number format") {
		t.Error(l.Reading.Table())
	}
}

// Rows beyond the last, empty but formatted, as LibreOffice writes them, cost
// nothing and are not read.
func TestEmptyRows(t *testing.T) {
	src := bare(t, headXML+`<row><c t="inlineStr"><is><t>side</t></is></c><c><v>1</v></c><c><v>600</v></c><c><v>300</v></c></row>`+
		`<row r="1048576" hidden="1"><c r="XFD1048576" s="1"/></row>`)
	if rows := rowsOf(t, "a.xlsx", src, metric); len(rows) != 1 || rows[0].Place != (Place{"P", 2, 2}) {
		t.Error(facts(rows))
	}
}

// repack changes the directory entries of an archive.
func repack(t *testing.T, src []byte, change func(*zip.FileHeader)) []byte {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(src), int64(len(src)))
	must(t, err)
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, f := range z.File {
		h := f.FileHeader
		change(&h)
		o, err := w.CreateRaw(&h)
		must(t, err)
		raw, err := f.OpenRaw()
		must(t, err)
		_, err = io.Copy(o, raw)
		must(t, err)
	}
	must(t, w.Close())
	return b.Bytes()
}

// often makes a workbook of a thousand sheets that are one file.
func often(t *testing.T, sheetData string) []byte {
	var sheets strings.Builder
	for range 1000 {
		sheets.WriteString(`<sheet name="P" r:id="r1"/>`)
	}
	return zipped(t, member{"xl/workbook.xml", `<workbook xmlns:r="r"><sheets>` + sheets.String() + `</sheets></workbook>`},
		member{"xl/_rels/workbook.xml.rels", relsXML}, member{"xl/worksheets/sheet1.xml", `<worksheet><sheetData>` + sheetData + `</sheetData></worksheet>`})
}

// Archives that were made to fill memory, or that are not what they say, are
// refused: by their directory, and by what is unpacked where it lies.
func TestBombs(t *testing.T) {
	zeros := strings.Repeat("\x00", 64<<20)
	large := strings.Repeat(inline("a", "b"), 100_000)
	good := bare(t, headXML+inline("side", "1", "600", "300"))
	var many []member
	for i := range MaxParts {
		many = append(many, member{"docs/" + strconv.Itoa(i), ""})
	}
	for name, c := range map[string]struct {
		src  []byte
		want string
	}{
		"dense":            {bare(t, headXML, member{"xl/media/a.png", zeros}), "unpacks to more than 100 times its size"},
		"dense sheet":      {bare(t, headXML+strings.Repeat(" ", 8<<20)), "unpacks to more than 100 times its size"},
		"says too much":    {repack(t, good, func(h *zip.FileHeader) { h.UncompressedSize64 = 1 << 40 }), "unpacks to more than 128 MiB"},
		"too much in all":  {repack(t, good, func(h *zip.FileHeader) { h.UncompressedSize64, h.CompressedSize64 = 40<<20, 1<<20 }), "unpacks to more than 128 MiB"},
		"says too little":  {repack(t, bare(t, large), func(h *zip.FileHeader) { h.UncompressedSize64 = min(h.UncompressedSize64, 5000) }), "not a valid zip file"},
		"encrypted":        {repack(t, good, func(h *zip.FileHeader) { h.Flags |= 1 }), "encrypted file"},
		"unknown method":   {repack(t, good, func(h *zip.FileHeader) { h.Method = 99 }), "cannot be unpacked"},
		"wrong checksum":   {repack(t, good, func(h *zip.FileHeader) { h.CRC32++ }), "checksum"},
		"two files":        {bare(t, headXML, member{"XL/worksheets/../worksheets/Sheet1.xml", "<a/>"}), "holds two files"},
		"many files":       {bare(t, headXML, many...), "more than 10000"},
		"no sheet":         {repack(t, good, func(h *zip.FileHeader) { h.Name = strings.Replace(h.Name, "sheet1", "sheet2", 1) }), "is missing"},
		"deep":             {bare(t, strings.Repeat("<x>", MaxDepth)+strings.Repeat("</x>", MaxDepth)), "nested more than 64 deep"},
		"very deep":        {bare(t, strings.Repeat("<row>", 200_000)), "nested more than 64 deep"},
		"one sheet often":  {often(t, inline(strings.Repeat("tide ", 100_000), "x")), "unpacks to more than 128 MiB"},
		"entities":         {zipped(t, member{"xl/workbook.xml", `<!DOCTYPE a [<!ENTITY b "cc">]><workbook><sheets><sheet name="&b;"/></sheets></workbook>`}), "invalid character entity"},
		"outside":          {zipped(t, member{"xl/workbook.xml", bookXML}, member{"xl/_rels/workbook.xml.rels", strings.Replace(relsXML, `Target="`, `TargetMode="External" Target="file:///etc/`, 1)}), "without worksheets"},
		"climbs":           {zipped(t, member{"xl/workbook.xml", bookXML}, member{"xl/_rels/workbook.xml.rels", strings.Replace(relsXML, `Target="`, `Target="../../../../etc/`, 1)}), "is missing"},
		"many merged":      {bare(t, headXML+`</sheetData><mergeCells>`+strings.Repeat(`<mergeCell ref="A1:XFD1048576"/>`, 1000)+`</mergeCells><sheetData>`), "columns of merged cells"},
		"merged backwards": {bare(t, headXML+`</sheetData><mergeCells><mergeCell ref="A1:?"/></mergeCells><sheetData>`), "merged cells"},
	} {
		t.Run(name, func(t *testing.T) {
			start := time.Now()
			l, list := Read("bomb.xlsx", c.src, metric)
			if len(l.Rows) > 0 || list.Err() == nil || !strings.Contains(list.Error(), c.want) {
				t.Errorf("%v, want %q", list, c.want)
			}
			if d := time.Since(start); d > 10*time.Second { // a loaded machine
				t.Errorf("took %v", d)
			}
		})
	}
}

package partslist

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// sound checks what holds for every file: rows that can be planned or a mistake,
// findings that say where, what and what to do, and a reading that can be shown.
func sound(t *testing.T, src []byte, opt Options) {
	t.Helper()
	start := time.Now()
	l, list := Read("fuzz", src, opt)
	if (len(l.Rows) > 0) == (list.Err() != nil) {
		t.Fatalf("%d rows, findings %v", len(l.Rows), list)
	}
	last := 0
	for _, r := range l.Rows {
		sized := r.Length > 0 && r.Width > 0
		if r.Name == "" || r.Quantity < 1 || r.Quantity > MaxCopies || !sized && (r.Drawing == "" || r.Length != 0 || r.Width != 0) {
			t.Fatalf("%+v", r)
		}
		if max(r.Length, r.Width, r.Thickness) > length.Max || r.Thickness < 0 || r.Place.Row <= last || r.Pos.Line < 1 {
			t.Fatalf("%+v", r)
		}
		last = r.Place.Row
		for _, s := range []string{r.Name, r.Material, r.Drawing, r.Note} {
			if !utf8.ValidString(s) || strings.ContainsRune(s, 0) {
				t.Fatalf("%+v", r)
			}
		}
	}
	for _, f := range list {
		if f.Fact == "" || f.Remedy == "" || f.Pos.File != "fuzz" || strings.ContainsFunc(f.Part, diag.Unprintable) || len(f.Error()) > 2000 {
			t.Fatalf("%q", f)
		}
	}
	if n := len(list); n > diag.MaxFindings+1 {
		t.Fatalf("%d findings", n)
	}
	table := l.Reading.Table()
	if !strings.HasPrefix(table, "parts list fuzz") || !strings.HasSuffix(table, "\n") || len(table) > 1<<16 {
		t.Fatal(table)
	}
	for _, c := range table {
		if c != '\n' && diag.Unprintable(c) {
			t.Fatalf("%q", table)
		}
	}
	again, second := Read("fuzz", src, opt)
	if facts(again.Rows) != facts(l.Rows) || diag.List(second).Error() != list.Error() || again.Reading.Table() != table {
		t.Fatal("read twice, the file says two things")
	}
	if d := time.Since(start); d > 10*time.Second {
		t.Fatalf("took %v", d)
	}
}

// fuzzOptions gives the options of a number.
func fuzzOptions(n byte) Options {
	units := []length.Unit{length.MM, length.IN, length.M, {}}
	return Options{Units: units[n%4], Decimal: Mark(n / 4 % 3)}
}

// Whatever is in the file: no panic, no long wait, and sound rows or a mistake.
func FuzzCSV(f *testing.F) {
	for _, dir := range []string{goodDir, badDir} {
		files, _ := filepath.Glob(filepath.Join(dir, "*.csv"))
		for i, file := range files {
			if src, err := os.ReadFile(file); err == nil {
				f.Add(src, byte(i))
			}
		}
	}
	f.Fuzz(func(t *testing.T, src []byte, opt byte) { sound(t, src, fuzzOptions(opt)) })
}

// The same for the parts of a workbook that say what its cells hold.
func FuzzXLSX(f *testing.F) {
	const (
		table = `<sst><si><t>name</t></si><si><r><t>le</t></r><r><t>ngth</t></r><rPh><t>x</t></rPh></si></sst>`
		look  = `<styleSheet><numFmts><numFmt numFmtId="164" formatCode="0.0&quot; in&quot;"/></numFmts><cellXfs><xf numFmtId="0"/><xf numFmtId="164"/><xf numFmtId="14"/></cellXfs></styleSheet>`
	)
	side := inline("side", "1", "600", "300")
	f.Add(headXML+side, table, look, byte(0))
	f.Add(`<row r="3"><c r="B3" t="s"><v>0</v></c><c r="D3" t="s"><v>1</v></c><c t="inlineStr"><is><t>width</t></is></c></row>`+
		`<row r="5"><c r="B5"><v>7</v></c><c r="D5" s="1"><v>600.5</v></c><c s="2"><v>46000</v></c></row>`, table, look, byte(1))
	f.Add(headXML+`<row><c t="b"><v>1</v></c><c t="e"><v>#REF!</v></c><c><f>SUM(B1:B2)*2</f></c><c><f>C2+1</f><v/></c></row>`, table, look, byte(2))
	f.Add(headXML+`<row><c t="str"><f>A1&amp;"x"</f></c><c><f>COUNT(A1:D1)+1</f></c><c><f>ROUND(6.66,1)^3</f></c><c><f t="shared" si="0"/></c></row>`, table, look, byte(3))
	f.Add(headXML+side+`</sheetData><mergeCells><mergeCell ref="A2:A3"/><mergeCell ref="C2:D2"/></mergeCells><sheetData>`+`<row hidden="1"><c r="C3"><v>1E2</v></c></row>`, table, look, byte(4))
	const rels = `<Relationships><Relationship Id="r1" Type="x/worksheet" Target="worksheets/sheet1.xml"/>` +
		`<Relationship Id="r2" Type="x/sharedStrings" Target="s.xml"/><Relationship Id="r3" Type="x/styles" Target="l.xml"/></Relationships>`
	f.Fuzz(func(t *testing.T, sheet, shared, styles string, opt byte) {
		sound(t, zipped(t, member{"xl/workbook.xml", bookXML}, member{"xl/_rels/workbook.xml.rels", rels},
			member{"xl/worksheets/sheet1.xml", `<worksheet><sheetData>` + sheet + `</sheetData></worksheet>`},
			member{"xl/s.xml", shared}, member{"xl/l.xml", styles}), fuzzOptions(opt))
	})
}

// And for archives whose bytes are spoiled.
func FuzzArchive(f *testing.F) {
	src, err := os.ReadFile(filepath.Join(goodDir, "kiosk.xlsx"))
	must(f, err)
	f.Add(src)
	f.Add(bare(f, headXML+inline("side", "1", "600", "300")))
	f.Add([]byte(zipMagic))
	f.Fuzz(func(t *testing.T, src []byte) { sound(t, src, metric) })
}

package partslist

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"panelyard/parts/diag"
	"panelyard/parts/partstest"
)

// Each good list has its reading, rows and warnings beside it.
func TestGoodLists(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(goodDir, "*.[cx][sl][vs]*"))
	files = slices.DeleteFunc(files, func(f string) bool { return strings.HasSuffix(f, ".want") })
	if err != nil || len(files) < 4 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			src, err := os.ReadFile(file)
			must(t, err)
			l, list := Read(filepath.Base(file), src, metric)
			if len(l.Rows) == 0 {
				t.Error("no rows")
			}
			partstest.Golden(t, file+".want", l.Reading.Table()+"\n"+facts(l.Rows)+"\n"+list.Error())
		})
	}
}

// Each bad list has its findings beside it: all mistakes of the file, with row,
// cell and heading, fact and remedy. Workbooks are made here, as a maker's program
// would leave them.
func TestBadLists(t *testing.T) {
	type bad struct {
		name string
		src  []byte
	}
	var lists []bad
	files, err := filepath.Glob(filepath.Join(badDir, "*.csv"))
	if err != nil || len(files) < 15 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		src, err := os.ReadFile(file)
		must(t, err)
		lists = append(lists, bad{filepath.Base(file), src})
	}
	sound := workbook(t, nil, head, row("side", 1, 600, 300))
	styled := func(code string, cells ...string) func(f *excelize.File) {
		return func(f *excelize.File) {
			s, err := f.NewStyle(&excelize.Style{CustomNumFmt: &code})
			must(t, err)
			for _, c := range cells {
				must(t, f.SetCellStyle("Sheet1", c, c, s))
			}
		}
	}
	encrypted, err := excelize.Encrypt(sound, &excelize.Options{Password: "tide"})
	must(t, err)
	lists = append(lists,
		bad{"password.xlsx", encrypted},
		bad{"old.xls", []byte(compoundMagic + strings.Repeat("\x00", 504))},
		bad{"open-document.ods", zipped(t, member{"mimetype", "application/vnd.oasis.opendocument.spreadsheet"}, member{"content.xml", "<a/>"})},
		bad{"binary.xlsb", zipped(t, member{"xl/workbook.bin", "x"})},
		bad{"archive.xlsx", zipped(t, member{"tides.txt", "high water 04:12"})},
		bad{"cut-off.xlsx", sound[:len(sound)/2]},
		bad{"no-sheets.xlsx", zipped(t, member{"xl/workbook.xml", "<workbook/>"}, member{"xl/_rels/workbook.xml.rels", "<Relationships/>"})},
		bad{"no-headings.xlsx", workbook(t, nil, row("side", 1, 600, 300))},
		bad{"no-panels.xlsx", workbook(t, nil, head)},
		bad{"broken-xml.xlsx", bare(t, "<row><c><v>1</c></row>")},
		bad{"out-of-order.xlsx", bare(t, `<row r="2"/><row r="1"/>`)},
		bad{"no-string.xlsx", bare(t, headXML+`<row><c t="s"><v>7</v></c><c><v>1</v></c><c><v>600</v></c><c><v>300</v></c></row>`)},
		bad{"no-number.xlsx", bare(t, headXML+`<row><c><v>1</v></c><c><v>0x1p4</v></c><c><v>1e999</v></c><c><v>NaN</v></c></row>`)},
		bad{"bad-type.xlsx", bare(t, headXML+`<row><c><v>1</v></c><c t="tide"><v>7</v></c><c><v>600</v></c><c><v>300</v></c></row>`)},
		bad{"dates.xlsx", workbook(t, styled("yyyy-mm-dd", "A2", "C2", "D3"), head, row(46000, 1, 46024, 300), row("shelf", 1, 600, 46024))},
		bad{"kinds.xlsx", workbook(t, nil, head, row("side", true, 600, 300), row("shelf", 1, false, 300), row("back", 1, "600", "1.200"), row(12.5, 2.5, 0, -3))},
		bad{"errors.xlsx", bare(t, headXML+`<row><c t="inlineStr"><is><t>side</t></is></c><c><v>1</v></c><c t="e"><f>A1/0</f><v>#DIV/0!</v></c><c><v>300</v></c></row>`)},
		bad{"number-format.xlsx", workbook(t, styled(`0.0" in"`, "C2"), row("name", "qty", "length (mm)", "width (mm)"), row("side", 1, 600, 300))},
		bad{"formulas.xlsx", workbook(t, func(f *excelize.File) {
			for cell, formula := range map[string]string{
				"C2": "WEBSERVICE(\"tides\")", "D2": "Stock!A1*2", "C3": "D3", "D3": "C3", "C4": "1/0", "D4": "REPT(\"9\",1000000)",
				"C5": "[1]Sheet1!A1", "D5": "C4+1", "B5": "A2+1", "C6": "SUM(A1:XFD1048576)", "D6": "tide_height",
			} {
				must(t, f.SetCellFormula("Sheet1", cell, formula))
			}
		}, head, row("side", 1), row("shelf", 1), row("back", 1), row("lid"), row("foot", 1))},
		bad{"percent.xlsx", workbook(t, styled("0.0%", "C2"), head, row("side", 1, 0.5, 300))},
		bad{"merged.xlsx", workbook(t, func(f *excelize.File) {
			must(t, f.MergeCell("Sheet1", "B2", "B3"))
			must(t, f.MergeCell("Sheet1", "C4", "D4"))
		}, head, row("side", 2, 600, 300), row("shelf", nil, 600, 300), row("back", 1, 600))},
		bad{"two-sheets.xlsx", workbook(t, func(f *excelize.File) {
			_, err := f.NewSheet("Stock")
			must(t, err)
		}, head, row("side", 1, 600, 0))},
		bad{"hidden.xlsx", workbook(t, func(f *excelize.File) {
			_, err := f.NewSheet("Notes")
			must(t, err)
			f.SetActiveSheet(1)
			must(t, f.SetSheetVisible("Sheet1", false))
		}, head, row("side", 1, 600, 300))},
	)
	for _, b := range lists {
		t.Run(b.name, func(t *testing.T) {
			l, list := Read(b.name, b.src, metric)
			if l.Rows != nil || list.Err() == nil {
				t.Fatal("a bad list was accepted")
			}
			for _, f := range list {
				if f.Fact == "" || f.Remedy == "" || f.Pos.File != b.name {
					t.Errorf("no remedy or place: %v", f)
				}
			}
			partstest.Golden(t, filepath.Join(badDir, b.name+".want"), list.Error())
		})
	}
}

// A file with very many mistakes lists the first of them, warnings last.
func TestManyFindings(t *testing.T) {
	src := "name,length,width\n" + strings.Repeat("side,600,0\n", diag.MaxFindings+50)
	l, list := Read("many.csv", []byte(src), metric)
	mistakes, warnings := list.Split()
	if l.Rows != nil || len(mistakes) != diag.MaxFindings || len(warnings) != 1 || !strings.Contains(warnings[0].Fact, "51 more findings") {
		t.Errorf("%d mistakes, %v", len(mistakes), warnings)
	}
	if mistakes[0].Pos != (diag.Pos{File: "many.csv", Line: 2}) {
		t.Error(mistakes[0])
	}
}

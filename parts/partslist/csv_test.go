package partslist

import (
	"bytes"
	"encoding/binary"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf16"
)

// The same table, in every form it may come in, gives the same rows.
func TestForms(t *testing.T) {
	src, err := os.ReadFile(filepath.Join(goodDir, "decimal-comma.csv"))
	must(t, err)
	want := facts(rowsOf(t, "a.csv", src, metric))
	text := string(src)
	wide := func(order binary.AppendByteOrder) []byte {
		out := order.AppendUint16(nil, 0xfeff)
		for _, u := range utf16.Encode([]rune(text)) {
			out = order.AppendUint16(out, u)
		}
		return out
	}
	for name, form := range map[string][]byte{
		"BOM":           []byte(bom8 + text),
		"CRLF":          []byte(strings.ReplaceAll(text, "\n", "\r\n")),
		"CR":            []byte(strings.ReplaceAll(text, "\n", "\r")),
		"no last line":  []byte(strings.TrimRight(text, "\n")),
		"UTF-16 LE":     wide(binary.LittleEndian),
		"UTF-16 BE":     wide(binary.BigEndian),
		"tabs":          []byte(strings.ReplaceAll(strings.Replace(text, "sep=;\n", "\n", 1), ";", "\t")),
		"tabs, stated":  []byte(strings.ReplaceAll(text, ";", "\t")),
		"all in quotes": []byte(`sep=;` + "\n" + quoted(text)),
	} {
		l, list := Read("a.csv", form, metric)
		if got := facts(l.Rows); got != want || list.Err() != nil {
			t.Errorf("%s: %s\n%v, want %s", name, got, list, want)
		}
	}
}

// quoted puts each cell of a text but its first line in quotes.
func quoted(text string) string {
	_, text, _ = strings.Cut(text, "\n")
	var b strings.Builder
	for l := range strings.Lines(text) {
		b.WriteString(`"` + strings.ReplaceAll(strings.TrimRight(l, "\n"), ";", `";"`) + "\"\n")
	}
	return b.String()
}

// Rows are counted as a spreadsheet counts them, lines as an editor does.
func TestPlaces(t *testing.T) {
	src := "\n\nname,qty,length,width,note\n\n\"side\n\nleft\",1,600,300,\"a\r\nb\"\n\n,,,,\nshelf,1,23 11/16\",12\",\nlid,1,600,0,\n"
	_, list := Read("a.csv", []byte(src), metric)
	if len(list) != 1 || list[0].Pos.Line != 12 || !strings.Contains(list[0].Fact, "D9 ") {
		t.Error(list)
	}
	l, list := Read("a.csv", []byte(strings.Replace(src, "600,0", "600,9", 1)), metric)
	if list.Err() != nil || len(l.Rows) != 3 {
		t.Fatal(list)
	}
	for i, want := range []Place{{Row: 5, Line: 5}, {Row: 8, Line: 11}, {Row: 9, Line: 12}} {
		if l.Rows[i].Place != want || l.Rows[i].Pos.Line != want.Line {
			t.Errorf("%+v, want %+v", l.Rows[i].Place, want)
		}
	}
	if l.Rows[0].Name != "side left" || l.Rows[0].Note != "a\nb" || l.Rows[1].Width != 12*inch {
		t.Error(facts(l.Rows))
	}
}

// A decimal comma outside quotes in a comma-separated row is never read as two cells.
func TestCommaInComma(t *testing.T) {
	for _, r := range []string{"side,1,600,5,300", "side,1,600,5,300,", "side,1,600,300,5,", "side,1,600,5,300,5,", "side,1,600", "side,1,600,300"} {
		l, list := Read("a.csv", []byte("name,qty,length,width,note\n"+r+"\n"), metric)
		if len(list) == 0 || l.Rows != nil && !strings.Contains(list.Error(), "decimal comma outside quotes") {
			t.Errorf("%s: %v, %v", r, l.Rows, list)
		}
	}
	rows := rowsOf(t, "a.csv", []byte("name,qty,length,width,note\nside,1,\"600,5\",300,\n"), metric)
	if rows[0].Length != 600*mm+mm/2 {
		t.Error(facts(rows))
	}
}

// Formulas in CSV are text: nothing is computed.
func TestFormulasInCSV(t *testing.T) {
	rows := rowsOf(t, "a.csv", []byte("name;qty;length;width;note\n=1+1;1;600;300;=HYPERLINK(\"x\")\n"), metric)
	if rows[0].Name != "=1+1" || !strings.HasPrefix(rows[0].Note, "=HYPER") {
		t.Error(facts(rows))
	}
	if _, list := Read("a.csv", []byte("name;qty;length;width\nside;1;=600*2;300\n"), metric); list.Err() == nil {
		t.Error("a formula became a length")
	}
}

func TestNoSheetInCSV(t *testing.T) {
	if _, list := Read("a.csv", []byte("name,qty,length,width\nside,1,600,300\n"), Options{Sheet: "Panels"}); len(list) != 1 || !strings.Contains(list.Error(), "has no sheet") {
		t.Error(list)
	}
}

func TestFilesThatAreNone(t *testing.T) {
	dir := t.TempDir()
	for path, want := range map[string]string{dir: "is a directory", filepath.Join(dir, "none.csv"): "cannot be read", "a\x00b": "cannot be read"} {
		if l, list := ReadFile(path, metric); l == nil || len(list) != 1 || !strings.Contains(list.Error(), want) || list[0].Remedy == "" {
			t.Errorf("%q: %v, want %q", path, list, want)
		}
	}
	file := filepath.Join(dir, "a.csv")
	must(t, os.WriteFile(file, []byte("name,qty,length,width\nside,1,600,300\n"), 0o644))
	if l, list := ReadFile(file, metric); len(l.Rows) != 1 || list != nil {
		t.Error(list)
	}
	large := filepath.Join(dir, "large.csv")
	f, err := os.Create(large)
	must(t, err)
	must(t, f.Truncate(MaxBytes+1))
	must(t, f.Close())
	if _, list := ReadFile(large, metric); len(list) != 1 || !strings.Contains(list.Error(), "larger than 64 MiB") {
		t.Error(list)
	}
	if _, list := Read("a.csv", bytes.Repeat([]byte{'a'}, MaxBytes+1), metric); len(list) != 1 || !strings.Contains(list.Error(), "larger than 64 MiB") {
		t.Error(list)
	}
}

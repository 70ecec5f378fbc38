package partslist

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// The limits, at and beyond, and the time they take.
func TestLimits(t *testing.T) {
	csvRows := func(n int) []byte {
		return []byte("name,qty,length,width\n" + strings.Repeat("p,1,600,300\n", n-1))
	}
	sheet := func(n int) []byte {
		var b strings.Builder
		b.WriteString(headXML)
		for i := 2; i <= n; i++ {
			fmt.Fprintf(&b, `<row r="%d"><c r="A%d" t="inlineStr"><is><t>p%d</t></is></c><c r="B%d"><v>1</v></c><c r="C%d"><v>%d</v></c><c r="D%d"><v>300</v></c></row>`, i, i, i, i, i, 600+i%977, i)
		}
		return bare(t, b.String())
	}
	wide := func(n int) []byte {
		return []byte("name,qty,length,width" + strings.Repeat(",", n-4) + "\nside,1,600,300" + strings.Repeat(",", n-4) + "x\n")
	}
	cells := func(n int) []byte {
		return []byte("name,qty,length,width" + strings.Repeat(",", 196) + "\n" + strings.Repeat("p,1,600,300"+strings.Repeat(",x", 196)+"\n", n))
	}
	formulas := func(n int) []byte {
		var b strings.Builder
		b.WriteString(headXML)
		for range n {
			b.WriteString(`<row><c t="inlineStr"><is><t>p</t></is></c><c><v>1</v></c><c><f>600*2</f></c><c><v>300</v></c></row>`)
		}
		return bare(t, b.String())
	}
	chain := func(n int) []byte {
		var b strings.Builder
		b.WriteString(headXML)
		for i := range n {
			fmt.Fprintf(&b, `<row><c t="inlineStr"><is><t>p</t></is></c><c><v>1</v></c><c><f>C%d+0</f></c><c><v>300</v></c></row>`, i+3)
		}
		return bare(t, b.String()+`<row><c t="inlineStr"><is><t>p</t></is></c><c><v>1</v></c><c><v>600</v></c><c><v>300</v></c></row>`)
	}
	const head = "name,qty,length,width,note\n"
	for _, c := range []struct {
		name string
		src  []byte
		want string
	}{
		{"most rows of CSV", csvRows(MaxRows), ""},
		{"too many rows of CSV", csvRows(MaxRows + 1), "more than 100000 filled rows"},
		{"most rows of XLSX", sheet(MaxRows), ""},
		{"too many rows of XLSX", sheet(MaxRows + 1), "more than 100000 filled rows"},
		{"most columns", wide(MaxColumns), ""},
		{"too many columns", wide(MaxColumns + 1), "more than 256 columns"},
		{"too many cells", cells(MaxCells/200 + 1), "more than 2000000 filled cells"},
		{"longest name", []byte(head + strings.Repeat("ä", MaxName) + ",1,600,300,\n"), ""},
		{"a longer name", []byte(head + strings.Repeat("ä", MaxName+1) + ",1,600,300,\n"), "longer than 200 characters"},
		{"longest note", []byte(head + "side,1,600,300," + strings.Repeat("é", MaxNote) + "\n"), ""},
		{"a longer note", []byte(head + "side,1,600,300," + strings.Repeat("é", MaxNote+1) + "\n"), "longer than 4000 characters"},
		{"most panels", []byte(head + "a,100000,600,300,\nb,100000,600,300,\n"), ""},
		{"too many panels", []byte(head + "a,100000,600,300,\nb,100000,600,300,\nc,1,600,300,\n"), "200001 panels are too many"},
		{"titles", []byte(strings.Repeat("kiosk\n", MaxTitle-1) + head + "a,1,600,300,\n"), ""},
		{"too many titles", []byte(strings.Repeat("kiosk\n", MaxTitle) + head + "a,1,600,300,\n"), "no heading row"},
		{"most formulas", formulas(MaxComputed), ""},
		{"too many formulas", formulas(MaxComputed + 1), "more than 10000 formulas"},
		{"a chain", chain(maxChain), ""},
		{"a longer chain", chain(maxChain + 2), "has no value"},
		{"empty lines", append([]byte(strings.Repeat("\n", 1<<20)), csvRows(2)...), ""},
		{"empty cells", append([]byte(strings.Repeat(",", 1<<20)+"\n"), csvRows(2)...), ""},
		{"open quote", append(csvRows(2), `"`+strings.Repeat("x\n", 1<<20)...), "quotes of a cell that begins here"},
		{"open quotes", append(csvRows(2), strings.Repeat("\"x\"y\n", 1<<18)...), "more findings are not listed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			start := time.Now()
			l, list := Read("a", c.src, metric)
			if c.want == "" && (list.Err() != nil || len(l.Rows) == 0) {
				t.Errorf("refused: %.400s", list.Error())
			}
			if c.want != "" && (l.Rows != nil || !strings.Contains(list.Error(), c.want)) {
				t.Errorf("%.400s, want %q", list.Error(), c.want)
			}
			d := time.Since(start)
			t.Logf("%d bytes in %v", len(c.src), d)
			if d > 20*time.Second { // a loaded machine
				t.Errorf("took %v", d)
			}
		})
	}
}

package xlsx

import (
	"bytes"
	"io"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"

	"panelyard/export"
	"panelyard/parts/length"
)

// A cell in millimetres holds the decimal that is printed elsewhere, to the last
// digit: the float of a length prints back as its exact decimal.
func TestMillimetresExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := length.Length(rapid.Int64Range(-int64(length.Max), int64(length.Max)).Draw(t, "length"))
		c := lengths{}.cell(l)
		if got := strconv.FormatFloat(c.value.(float64), 'f', -1, 64); got != l.Decimal() {
			t.Fatalf("%d units are held as %s, not %s", int64(l), got, l.Decimal())
		}
	})
}

func TestShownLengths(t *testing.T) {
	const mm = length.Millimetre
	for _, c := range []struct {
		in            bool
		l             length.Length
		format, shown string
	}{
		{false, 0, "0.0", "0.0"},
		{false, 664 * mm, "0.0", "664.0"},
		{false, 17700 * length.Micrometre, "0.0", "17.7"},
		{false, 12750 * length.Micrometre, "0.00", "12.75"},
		{false, 12751 * length.Micrometre, "0.000", "12.751"},
		{false, length.Inch / 64, "0.000", "0.397"},        // 0.396875 mm
		{false, 8*length.Micrometre + 1, "0.000", "0.008"}, // 0.008125 mm
		{true, 48 * length.Inch, "0", "48"},
		{true, 0, "0", "0"},
		{true, length.Inch / 2, "# ?/2", "1/2"},
		{true, 23*length.Inch + length.Inch*11/16, "# ??/16", "23 11/16"},
		{true, 23*length.Inch + length.Inch*3/4, "# ?/4", "23 3/4"},
		{true, 7*length.Inch + length.Inch/64, "# ??/64", "7 1/64"},
		{true, 600 * mm, "0.000", "23.622"}, // not a whole number of sixty-fourths
	} {
		got := lengths{inches: c.in}.cell(c.l)
		if got.shown != c.shown || got.look.format != c.format {
			t.Errorf("%v (inches %v): shown %q as %q, want %q as %q", c.l, c.in, got.shown, got.look.format, c.shown, c.format)
		}
	}
}

func TestOnSheets(t *testing.T) {
	sheets := make([]export.SheetMap, 12)
	for i := range sheets {
		sheets[i].ID = "S" + strconv.Itoa(i+1)
	}
	for _, c := range []struct {
		ids  []string
		want string
	}{
		{nil, ""},
		{[]string{"S1"}, "S1"},
		{[]string{"S2", "S1"}, "S1, S2"},
		{[]string{"S1", "S1", "S3"}, "S1 (2), S3"},
		{[]string{"S1", "S2", "S3", "S5"}, "S1 to S3, S5"},
		{[]string{"S9", "S10", "S11", "S9", "S10", "S11", "S12"}, "S9 to S11 (2 each), S12"},
		{[]string{"S4", "", ""}, "S4, NOT PLACED (2)"},
		{[]string{""}, "NOT PLACED (1)"},
	} {
		if got := onSheets(c.ids, newOrder(sheets)); got != c.want {
			t.Errorf("%q: %q, want %q", c.ids, got, c.want)
		}
	}
}

// A column of text is as wide as its text needs or as it may be, and then the
// row is high enough for the lines.
func TestWrapped(t *testing.T) {
	for _, c := range []struct {
		text  string
		width float64
		want  int
	}{
		{"", 10, 1},
		{"aaaa", 4, 1},
		{"aaaa", 3, 2},
		{"aa aa", 4.6, 1},
		{"aa aa", 4.5, 2},
		{"aaaaaaaaaa", 3, 4},
		{"a\nb\nc", 10, 3},
		{"aaaaaaa", 0, 7},
	} {
		if got := wrapped(c.text, c.width); got != c.want {
			t.Errorf("%q in %v digits: %d lines, want %d", c.text, c.width, got, c.want)
		}
	}
	tab := &table{columns: []column{{most: 10}, {}}}
	tab.add(text("eighteen characters"), cell{shown: "1234567890123456", value: 1234567890123456.0})
	w := tab.widths()
	if w[0] > 10+margin+indent+0.01 || w[1] < 16 {
		t.Errorf("widths %v: text wraps at 10, a number never does", w)
	}
	if h := tab.height(&tab.rows[0], w); h < 2*line {
		t.Errorf("height %v holds no two lines", h)
	}
}

// An ampersand in a job's name is no code of a page header.
func TestPlain(t *testing.T) {
	if got := plain("Bill & Ben &P"); got != "Bill && Ben &&P" {
		t.Errorf("%q", got)
	}
}

// The limits that the package comment states.
func TestLimits(t *testing.T) {
	full := &table{name: "Panels", rows: make([]row, excelize.TotalRows+1)}
	if err := workbook(io.Discard, []*table{full}, ""); err == nil || !strings.Contains(err.Error(), "1048577 rows") {
		t.Errorf("a row more than a worksheet holds gave %v", err)
	}
	long := &table{name: "Panels", columns: []column{{most: 20}}}
	long.add(text(strings.Repeat("a", 40_000)))
	var b bytes.Buffer
	if err := workbook(&b, []*table{long}, ""); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if s, err := f.GetCellValue("Panels", "A1"); err != nil || len(s) != 32_767 {
		t.Errorf("a text of 40,000 characters reads back with %d (%v)", len(s), err)
	}
}

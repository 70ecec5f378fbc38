package dxf

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"panelyard/export"
	"panelyard/export/exporttest"
)

// rowsOf returns rows of the cut list with names and keys.
func rowsOf(names ...string) []export.PanelRow {
	rows := make([]export.PanelRow, len(names))
	for i, n := range names {
		rows[i] = export.PanelRow{Name: n, Key: strconv.Itoa(i + 1)}
	}
	return rows
}

func TestFileNames(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"side-left|side-right", "side-left|side-right"},
		{"shelf 1/2|top: left", "shelf-1-2|top-left"},
		{`..\..\x|/etc/y|a.b.`, "x|etc-y|a-b"},
		{`"door"|it's|a_b|--x--`, "door|it-s|a_b|x"},
		{"🪵 shelf|لوح|🪵", "shelf|panel-2|panel-3"},
		{"Rückwand|Tür", "Ruckwand|Tur"},
		{"con|Aux|COM1|lpt9.txt|nul|COM10", "panel-con|panel-Aux|panel-COM1|lpt9-txt|panel-nul|COM10"},
		{"Shelf|shelf|SHELF|shelf-2", "Shelf|shelf-2|SHELF-3|shelf-2-2"},
		{"a|a|a-2|a-3|a", "a|a-2|a-2-2|a-3|a-4"},
		{"panel-3|con|🪵|panel-con", "panel-3|panel-con|panel-3-2|panel-con-2"},
		{strings.Repeat("long name ", 20), "long-name-long-name-long-name-long-name-long-name-long-name-l"},
	} {
		got := strings.Join(FileNames(rowsOf(strings.Split(c.in, "|")...)), "|")
		if got != c.want {
			t.Errorf("%s: %s, want %s", c.in, got, c.want)
		}
	}
}

// Any names give names that are safe and differ in more than capitals. The devices
// are those of published rules for names of files, from memory.
func TestFileNamesAny(t *testing.T) {
	safe := regexp.MustCompile(`^[A-Za-z0-9_]+(-[A-Za-z0-9_]+)*$`)
	device := regexp.MustCompile(`(?i)^(con|prn|aux|nul|com[0-9]|lpt[0-9])$`)
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.OneOf(rapid.String(), rapid.SampledFrom(exporttest.Nasty),
			rapid.StringMatching(`(?i)(con|com1|nul|panel-con|panel-1|a|ä| |-|2){1,3}`))
		rows := rowsOf(rapid.SliceOfN(name, 0, 30).Draw(t, "names")...)
		got := FileNames(rows)
		seen := map[string]bool{}
		for i, n := range got {
			if !safe.MatchString(n) || device.MatchString(n) || len(n) > maxFileName+20 {
				t.Fatalf("%q is called %q", rows[i].Name, n)
			}
			if low := strings.ToLower(n); seen[low] {
				t.Fatalf("two files are called %q", n)
			} else {
				seen[low] = true
			}
		}
		if !slices.Equal(got, FileNames(rows)) {
			t.Fatal("two runs differ")
		}
	})
}

// Thousands of panels of one name take no time.
func TestFileNamesLadder(t *testing.T) {
	start := time.Now()
	names := FileNames(rowsOf(slices.Repeat([]string{"shelf"}, 20_000)...))
	if names[19_999] != "shelf-20000" {
		t.Errorf("the last is %s", names[19_999])
	}
	if d := time.Since(start); d > 5*time.Second { // a loaded machine
		t.Errorf("took %v", d)
	}
}

package dxf

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// file joins the lines of a file.
func file(rows ...string) string { return strings.Join(rows, "\n") + "\n" }

// entities makes a file in millimetres of the lines of its entities.
func entities(rows ...string) string {
	return file("0", "SECTION", "2", "HEADER", "9", "$INSUNITS", "70", "4", "0", "ENDSEC", "0", "SECTION", "2", "ENTITIES") +
		file(rows...) + file("0", "ENDSEC", "0", "EOF")
}

// withBlocks puts a section of blocks before the entities.
func withBlocks(blocks string, rows ...string) string {
	return file("0", "SECTION", "2", "BLOCKS") + blocks + file("0", "ENDSEC") + entities(rows...)
}

// blockOf makes a block.
func blockOf(name string, rows ...string) string {
	s := file("0", "BLOCK", "2", name, "10", "0", "20", "0")
	if len(rows) > 0 {
		s += file(rows...)
	}
	return s + file("0", "ENDBLK")
}

func insertOf(name string, more ...string) []string {
	return append([]string{"0", "INSERT", "2", name, "10", "0", "20", "0"}, more...)
}

// The limits, at and beyond, and the time they take.
func TestLimits(t *testing.T) {
	line := file("0", "LINE", "8", "A", "10", "0", "20", "0", "11", "1", "21", "1")
	lines := func(n int) string { return entities(strings.TrimSuffix(strings.Repeat(line, n), "\n")) }
	circle := []string{"0", "CIRCLE", "10", "0", "20", "0", "40", "1"}
	deep := func(n int) string {
		var b strings.Builder
		b.WriteString(blockOf("B0", circle...))
		for i := 1; i < n; i++ {
			b.WriteString(blockOf(fmt.Sprintf("B%d", i), insertOf(fmt.Sprintf("B%d", i-1))...))
		}
		return withBlocks(b.String(), insertOf(fmt.Sprintf("B%d", n-1))...)
	}
	tenfold := func(inner ...string) string {
		var b strings.Builder
		b.WriteString(blockOf("B0", inner...))
		for i := 1; i <= 12; i++ {
			var rows []string
			for range 10 {
				rows = append(rows, insertOf(fmt.Sprintf("B%d", i-1))...)
			}
			b.WriteString(blockOf(fmt.Sprintf("B%d", i), rows...))
		}
		return withBlocks(b.String(), insertOf("B12")...)
	}
	array := func(columns, rows int) string {
		return withBlocks(blockOf("B", circle...), insertOf("B", "70", fmt.Sprint(columns), "71", fmt.Sprint(rows), "44", "3", "45", "3")...)
	}
	vertices := func(n int) []string {
		rows := []string{"0", "LWPOLYLINE", "70", "1"}
		for i := range n {
			rows = append(rows, "10", fmt.Sprint(i), "20", fmt.Sprint(i%2))
		}
		return rows
	}
	var segments []string
	for range 101 {
		segments = append(segments, vertices(10_000)...)
	}
	for _, c := range []struct {
		name, src, want string
	}{
		{"most entities", lines(MaxEntities), ""},
		{"too many entities", lines(MaxEntities + 1), "more than 100000 entities"},
		{"most entities of blocks", withBlocks(blockOf("B", strings.TrimSuffix(strings.Repeat(line, MaxEntities), "\n")), insertOf("B")...), ""},
		{"too many entities of blocks", withBlocks(blockOf("B", strings.TrimSuffix(strings.Repeat(line, MaxEntities+1), "\n"))), "more than 100000 entities"},
		{"largest array", array(1000, 100), ""},
		{"a larger array", array(1000, 101), "more than 100000 entities when blocks are inserted"},
		{"an array of arrays", withBlocks(blockOf("B", circle...)+blockOf("C", insertOf("B", "70", "30000", "71", "30000")...), insertOf("C", "70", "30000", "71", "30000")...), "more than 100000 entities when"},
		{"array with a wild count", array(1<<30, 1<<30), "more than 100000 entities when"},
		{"array without count", withBlocks(blockOf("B", circle...), insertOf("B", "70", "-5", "71", "0")...), ""},
		{"ten to the twelfth", tenfold(circle...), "more than 100000 entities when"},
		{"ten to the twelfth, empty", tenfold(), "more than 100000 entities when"},
		{"ten to the twelfth, faulty", tenfold("0", "LINE", "10", "x"), "more than 100000 entities when"},
		{"deepest", deep(MaxDepth), ""},
		{"deeper", deep(MaxDepth + 1), "is inserted more than 16 blocks deep"},
		{"too many segments", entities(segments...), "more than 1000000 segments"},
		{"a curve with too many points", entities("0", "SPLINE", "71", "2", "40", "0", "40", "0", "40", "0", "40", "1", "40", "1", "40", "1",
			"10", "0", "20", "0", "10", "3e4", "20", "1e300", "10", "3e4", "20", "0"), "needs more than 10000 points"},
		{"a wild spline", entities(wild(20_000)...), "needs more than 10000 points"},
		{"a long line", entities("0", "LINE", "8", strings.Repeat("A", 1<<20), "10", "0", "20", "0", "11", strings.Repeat("9", 1<<20), "21", "1"), "not a number"},
		{"only zeros", strings.Repeat("0\n", 1<<20), "a section begins with"},
		{"open POLYLINE", entities("0", "POLYLINE", "66", "1") + strings.Repeat(file("0", "VERTEX", "10", "1"), 1000), "has less than two corners"},
	} {
		t.Run(c.name, func(t *testing.T) {
			start := time.Now()
			d, list := Read("a", []byte(c.src), Options{})
			if e := time.Since(start); e > 20*time.Second { // a loaded machine
				t.Errorf("took %v", e)
			}
			t.Logf("%d bytes in %v", len(c.src), time.Since(start))
			if c.want == "" && (list.Err() != nil || len(d.Pieces) == 0) {
				t.Errorf("refused: %.500s", list.Error())
			}
			if c.want != "" && !strings.Contains(list.Error(), c.want) {
				t.Errorf("%.500s, want %q", list.Error(), c.want)
			}
		})
	}
}

// wild is a spline of n control points that swings up and down.
func wild(n int) []string {
	rows := []string{"0", "SPLINE", "71", "1", "40", "0"}
	for i := range n {
		rows = append(rows, "40", fmt.Sprint(i), "10", fmt.Sprint(i), "20", fmt.Sprint(1000*(i%2)))
	}
	return append(rows, "40", fmt.Sprint(n))
}

// 64 MiB, at and beyond, without keeping the file.
func TestSize(t *testing.T) {
	name := filepath.Join(t.TempDir(), "large.dxf")
	src := entities("0", "CIRCLE", "10", "0", "20", "0", "40", "1")
	if err := os.WriteFile(name, []byte(strings.Repeat("999\n\n", (MaxBytes-len(src))/5)+src), 0o644); err != nil {
		t.Fatal(err)
	}
	if d, list := ReadFile(name, Options{}); list.Err() != nil || len(d.Pieces) != 1 {
		t.Error(list)
	}
	if err := os.Truncate(name, MaxBytes+1); err != nil {
		t.Fatal(err)
	}
	if _, list := ReadFile(name, Options{}); !strings.Contains(list.Error(), "is larger than 64 MiB") {
		t.Error(list)
	}
	if _, list := ReadFile(filepath.Dir(name), Options{}); !strings.Contains(list.Error(), "cannot be read") {
		t.Error(list)
	}
	if _, list := Read("a", make([]byte, MaxBytes+1), Options{}); !strings.Contains(list.Error(), "is larger than 64 MiB") {
		t.Error(list)
	}
}

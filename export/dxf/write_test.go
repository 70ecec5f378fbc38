package dxf

import (
	"bytes"
	"errors"
	"strconv"
	"strings"
	"testing"

	"panelyard/export/exporttest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

func TestWriterFails(t *testing.T) {
	d := Panel(dossiers(t)["router"], 2)
	for f := range flavours {
		whole := document(t, d, f)
		for n := range whole {
			if err := Write(&exporttest.Failing{Left: n}, d, f); !errors.Is(err, exporttest.ErrFull) {
				t.Fatalf("%v: a disk full after %d of %d bytes gave %v", f, n, len(whole), err)
			}
		}
		if err := Write(&exporttest.Failing{Left: len(whole)}, d, f); err != nil {
			t.Errorf("%v: %v", f, err)
		}
		if !bytes.Equal(whole, document(t, d, f)) {
			t.Errorf("%v: two runs differ", f)
		}
	}
}

func TestUnit(t *testing.T) {
	for _, u := range []length.Unit{{}, length.M, length.FT} {
		var b bytes.Buffer
		if err := Write(&b, Drawing{Units: u}, R12); err == nil || b.Len() > 0 {
			t.Errorf("unit %q: %v, %d bytes written", u.Name, err, b.Len())
		}
	}
}

// group is a code and its value.
type group struct {
	code  int
	value string
}

// groupsOf splits a file into groups, each of two lines of printable ASCII.
func groupsOf(t *testing.T, doc []byte) []group {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(string(doc), "\r\n"), "\r\n")
	if len(lines)%2 != 0 {
		t.Fatalf("%d lines", len(lines))
	}
	var list []group
	for i := 0; i < len(lines); i += 2 {
		code, err := strconv.Atoi(strings.TrimSpace(lines[i]))
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range []byte(lines[i+1]) {
			if c < ' ' || c > '~' {
				t.Fatalf("group %d: %q", code, lines[i+1])
			}
		}
		list = append(list, group{code, lines[i+1]})
	}
	if list[len(list)-1] != (group{0, "EOF"}) {
		t.Errorf("ends with %v", list[len(list)-1])
	}
	return list
}

// In R2000 every handle is there once, every owner and every other handle that is
// referred to exists, and the seed is beyond all. The rules are those of the DXF
// reference, from memory; R12 has no handles.
func TestHandles(t *testing.T) {
	dossier := dossiers(t)["router"]
	for _, d := range []Drawing{Sheet(dossier, 0), Panel(dossier, 0), {Units: length.IN}} {
		handles := map[int]int{}
		var referred []int
		seed, largest := 0, 0
		last := group{}
		for _, g := range groupsOf(t, document(t, d, R2000)) {
			n, err := strconv.ParseInt(g.value, 16, 32)
			switch g.code {
			case 5, 105, 330, 340, 350, 390:
				if err != nil {
					t.Fatalf("group %d is %q", g.code, g.value)
				}
			}
			switch {
			case g.code == 5 && last == group{9, "$HANDSEED"}:
				seed = int(n)
			case g.code == 5 || g.code == 105:
				handles[int(n)]++
				largest = max(largest, int(n))
			case g.code == 330 || g.code == 340 || g.code == 350 || g.code == 390:
				referred = append(referred, int(n))
			}
			last = g
		}
		if handles[0] > 0 || len(handles) < 40+len(d.Entities) || seed <= largest {
			t.Errorf("%d handles for %d entities, seed %d, the largest is %d", len(handles), len(d.Entities), seed, largest)
		}
		for h, n := range handles {
			if n > 1 {
				t.Errorf("handle %X is there %d times", h, n)
			}
		}
		for _, h := range referred {
			if h != noOwner && handles[h] == 0 {
				t.Errorf("handle %X is referred to, and nothing has it", h)
			}
		}
		for _, g := range groupsOf(t, document(t, d, R12)) {
			if g.code == 5 || g.code == 330 || g.code == 100 {
				t.Errorf("R12 has the group %v", g)
			}
		}
	}
}

// Numbers have a point, no exponent, and no more digits than they need.
func TestNumbers(t *testing.T) {
	for _, c := range []struct {
		x    length.Length
		unit length.Unit
		want string
	}{
		{0, length.MM, "0.0"},
		{600 * mm, length.MM, "600.0"},
		{1, length.MM, "0.000125"},
		{-1, length.MM, "-0.000125"},
		{length.Max, length.MM, "33554.432"},
		{length.Inch * 23 / 64, length.IN, "0.359375"},
		{1, length.IN, "0.0000049213"}, // 1/203200
		{-mm, length.IN, "-0.0393700787"},
	} {
		d := Drawing{Units: c.unit}
		d.Add(Drill, Point{geom.Pt(c.x, 0)})
		all := groupsOf(t, document(t, d, R12))
		for i, g := range all {
			if g == (group{0, "POINT"}) {
				if got := all[i+2]; got != (group{10, c.want}) {
					t.Errorf("%v in %s: %v, want %s", c.x, c.unit.Name, got, c.want)
				}
			}
		}
	}
}

package diag

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestPos(t *testing.T) {
	for _, c := range []struct {
		name string
		p    Pos
		want string
	}{
		{"no place", Pos{}, ""},
		{"file", Pos{File: "kiosk.yaml"}, "kiosk.yaml"},
		{"file and line", Pos{"kiosk.yaml", 12, 0}, "kiosk.yaml:12"},
		{"all", Pos{"kiosk.yaml", 12, 5}, "kiosk.yaml:12:5"},
		{"a column without a line is not known", Pos{"kiosk.yaml", 0, 5}, "kiosk.yaml"},
		{"no file", Pos{"", 12, 5}, "line 12:5"},
		{"no file, no column", Pos{"", 12, 0}, "line 12"},
	} {
		if got := c.p.String(); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func TestFindingError(t *testing.T) {
	at := Pos{"kiosk.yaml", 12, 5}
	for _, c := range []struct {
		name string
		f    Finding
		want string
	}{
		{"all", Finding{Pos: at, Part: `panel "shelf"`, Fact: "the width is missing", Remedy: "add width:"}, `kiosk.yaml:12:5: panel "shelf": the width is missing`},
		{"no part", Finding{Pos: at, Fact: "an empty file"}, "kiosk.yaml:12:5: an empty file"},
		{"no place", Finding{Part: `panel "shelf"`, Fact: "too long"}, `panel "shelf": too long`},
		{"fact alone", Finding{Fact: "too long"}, "too long"},
		{"warning", Finding{Pos: at, Severity: Warning, Part: `sheet "ply"`, Fact: "no price"}, `kiosk.yaml:12:5: warning: sheet "ply": no price`},
	} {
		if got := c.f.Error(); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, c.want)
		}
	}
}

func TestListError(t *testing.T) {
	var l List
	l.Add(Pos{"kiosk.yaml", 9, 3}, `panel "door"`, "no material", "add material:")
	l.Warn(Pos{"kiosk.yaml", 2, 1}, "", "no currency", "")
	l.Add(Pos{"kiosk.yaml", 4, 1}, `sheet "ply"`, "the length is 0", "")
	l.Sort()
	want := "kiosk.yaml:2:1: warning: no currency\n" +
		"kiosk.yaml:4:1: sheet \"ply\": the length is 0\n" +
		"kiosk.yaml:9:3: panel \"door\": no material\n" +
		"    remedy: add material:"
	if diff := cmp.Diff(want, l.Error()); diff != "" {
		t.Error(diff)
	}
}

func TestErr(t *testing.T) {
	if err := List(nil).Err(); err != nil {
		t.Errorf("a nil list has the error %v", err)
	}
	var warned List
	warned.Warn(Pos{"a", 1, 1}, "", "doubtful", "")
	if err := warned.Err(); err != nil {
		t.Errorf("a list of warnings has the error %v", err)
	}

	l := List{
		{Pos: Pos{"a", 7, 1}, Fact: "second"},
		{Pos: Pos{"a", 1, 1}, Severity: Warning, Fact: "a warning"},
		{Pos: Pos{"a", 3, 1}, Fact: "first", Err: fmt.Errorf("open: %w", fs.ErrNotExist)},
	}
	before := slices.Clone(l)
	err := l.Err()
	if err == nil || err.Error() != "a:3:1: first\na:7:1: second" {
		t.Fatalf("Err = %v, want the mistakes in order", err)
	}
	if !slices.Equal(l, before) {
		t.Error("Err changed the order of the list")
	}
	// The caller's usual ways to a finding and to its cause.
	wrapped := fmt.Errorf("reading: %w", err)
	var f Finding
	if !errors.As(wrapped, &f) || f.Fact != "first" {
		t.Errorf("errors.As gives the finding %+v", f)
	}
	var list List
	if !errors.As(wrapped, &list) || len(list) != 2 {
		t.Errorf("errors.As gives a list of %d", len(list))
	}
	if !errors.Is(wrapped, fs.ErrNotExist) {
		t.Error("errors.Is does not reach the cause of a finding")
	}
	if errors.Is(wrapped, fs.ErrExist) {
		t.Error("errors.Is finds a cause that is not there")
	}
}

// TestSort: the order is by file, line and column, nothing is lost, and findings
// at one place keep the order in which they were found.
func TestSort(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var l List
		for i := range rapid.IntRange(0, 30).Draw(t, "findings") {
			l.Add(Pos{
				rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, "file"),
				rapid.IntRange(0, 3).Draw(t, "line"), rapid.IntRange(0, 3).Draw(t, "column"),
			}, "", fmt.Sprintf("%03d", i), "")
		}
		n := len(l)
		l.Sort()
		seen := map[string]bool{}
		for i, f := range l {
			seen[f.Fact] = true
			if i == 0 {
				continue
			}
			p, q := l[i-1].Pos, f.Pos
			key := func(p Pos, fact string) string { return fmt.Sprintf("%s %d %d %s", p.File, p.Line, p.Col, fact) }
			if key(p, l[i-1].Fact) >= key(q, f.Fact) {
				t.Fatalf("%v (%s) before %v (%s)", p, l[i-1].Fact, q, f.Fact)
			}
		}
		if len(seen) != n {
			t.Fatalf("%d of %d findings left", len(seen), n)
		}
	})
}

func TestSplit(t *testing.T) {
	l := List{{Fact: "1"}, {Fact: "2", Severity: Warning}, {Fact: "3"}, {Fact: "4", Severity: Warning}}
	m, w := l.Split()
	facts := func(l List) (s string) {
		for _, f := range l {
			s += f.Fact
		}
		return s
	}
	if facts(m) != "13" || facts(w) != "24" {
		t.Errorf("Split = %s and %s, want 13 and 24", facts(m), facts(w))
	}
}

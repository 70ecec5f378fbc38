package diag

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestReadFile(t *testing.T) {
	dir := t.TempDir()
	const most = 1 << 20
	for name, n := range map[string]int{"least": 0, "most": most, "more": most + 1} {
		file := filepath.Join(dir, name)
		if err := os.WriteFile(file, []byte(strings.Repeat("x", n)), 0o666); err != nil {
			t.Fatal(err)
		}
		src, err := ReadFile(file, most)
		switch {
		case n > most:
			if !errors.Is(err, TooLarge(most)) || err.Error() != "is larger than 1 MiB" || src != nil {
				t.Errorf("%s: %d bytes, %v", name, len(src), err)
			}
		case err != nil || len(src) != n:
			t.Errorf("%s: %d bytes, %v", name, len(src), err)
		}
	}
	if _, err := ReadFile(dir, most); !errors.Is(err, ErrDirectory) {
		t.Errorf("a directory: %v", err)
	}
	_, err := ReadFile(filepath.Join(dir, "none"), most)
	if !errors.Is(err, os.ErrNotExist) || !strings.HasPrefix(err.Error(), "cannot be read: ") || strings.Contains(err.Error(), dir) {
		t.Errorf("no file: %v", err)
	}
}

// What is listed begins with mistakes when there are too many findings.
func TestListed(t *testing.T) {
	var l List
	for line := range 2 * MaxFindings {
		l.Warn(Pos{"a", line + 1, 0}, "", "odd", "")
	}
	l.Add(Pos{"a", 3 * MaxFindings, 0}, "", "wrong", "")
	got := l.Listed("a")
	if len(got) != MaxFindings+1 || got.Err() == nil || !strings.Contains(got.Error(), "201 more findings") {
		t.Errorf("%d findings: %v", len(got), got[len(got)-1])
	}
	if got := l[:MaxFindings].Listed("a"); len(got) != MaxFindings {
		t.Errorf("%d findings of %d", len(got), MaxFindings)
	}
}

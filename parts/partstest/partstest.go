// Package partstest holds what tests of several packages share: golden files, and
// outside tools that may be missing.
package partstest

import (
	"flag"
	"os"
	"os/exec"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// Golden compares a text with a file, or writes the file with -update. Both end in
// one line break.
func Golden(t *testing.T, file, got string) {
	t.Helper()
	got = strings.TrimRight(got, "\n") + "\n"
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// Need skips a test whose outside tool is missing, which err says, or fails it where
// all tools are demanded.
func Need(t *testing.T, tool string, err error) {
	t.Helper()
	if err == nil {
		return
	}
	if os.Getenv("PANELYARD_NEED_TOOLS") != "" {
		t.Fatalf("%s is needed: %v", tool, err)
	}
	t.Skipf("%s is not installed: %v", tool, err)
}

// Tool returns the path of a program the test needs; see [Need].
func Tool(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	Need(t, name, err)
	return path
}

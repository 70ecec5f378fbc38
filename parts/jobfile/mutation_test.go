package jobfile

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"panelyard/parts/diag"
)

// odd are values that do not fit somewhere.
var odd = []string{
	"0", "-1", "1", "7", "300", "600", "599.999875", "1e400", "0x10", ".nan", "33554.432", "33554.433", "1/64 in", "4'", "40 m", "1,5",
	"yes", "no", "out", "in", "length", "width", "free", "good", "either", "all", "top", "lower right", "birch 18", "mdf 12", "ply 15", "back", "side",
	"''", "~", "[]", "{}", "[1, 2]", "{a: b}", "&a b", "*a", "!!str b", `"M0 0 H9 V9 Z"`, `"\u202e"`, "|",
}

// Good jobs with one to three words or numbers exchanged: never a panic, findings
// with a place and a remedy, and what is still read as a job is sound.
func TestMutations(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(goodDir, "*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	token := regexp.MustCompile(`[A-Za-z_]+|[0-9][0-9./]*`)
	rng := rand.New(rand.NewPCG(2, 4))
	good, bad := 0, 0
	for _, file := range append(files, "../../cmd/panelyard/demo/kiosk.yaml") {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for range 60 {
			src := string(text)
			for range 1 + rng.IntN(3) {
				all := token.FindAllStringIndex(src, -1)
				at := all[rng.IntN(len(all))]
				with := odd[rng.IntN(len(odd))]
				if rng.IntN(2) == 0 { // a word of another place
					other := all[rng.IntN(len(all))]
					with = src[other[0]:other[1]]
				}
				src = src[:at[0]] + with + src[at[1]:]
			}
			job, list := Read("a.yaml", []byte(src))
			if job != nil {
				good++
				sound(t, []byte(src), job)
			} else {
				bad++
			}
			for _, f := range list {
				whole := strings.Contains(f.Fact, "too many") // of the file, not of a line
				if f.Fact == "" || f.Remedy == "" || f.Pos.Line == 0 && !whole {
					t.Errorf("finding %+v", f)
				}
			}
			if !slices.IsSortedFunc(list, func(a, b diag.Finding) int { return a.Pos.Line - b.Pos.Line }) {
				t.Errorf("not in order: %v", list)
			}
			if t.Failed() {
				t.Fatalf("%s:\n%s", file, src)
			}
		}
	}
	if good < 40 || bad < 40 {
		t.Errorf("%d good and %d bad are no fair test", good, bad)
	}
}

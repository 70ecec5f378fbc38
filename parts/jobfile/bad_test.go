package jobfile

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"panelyard/parts/diag"
	"panelyard/parts/partstest"
)

const (
	badDir  = "../../testdata/jobs/bad"
	goodDir = "../../testdata/jobs/good"
)

// Each bad job has its findings beside it: all mistakes of the file, with place,
// fact and remedy.
func TestBadJobs(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(badDir, "*.yaml"))
	if err != nil || len(files) < 20 {
		t.Fatalf("%d bad jobs, %v", len(files), err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			src, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			job, list := newReader(filepath.Base(file), beside(filepath.Dir(file))).read(src)
			if job != nil || list.Err() == nil {
				t.Fatal("a bad job was accepted")
			}
			for _, f := range list {
				if f.Severity == diag.Mistake && (f.Fact == "" || f.Remedy == "") {
					t.Errorf("no remedy: %v", f)
				}
			}
			partstest.Golden(t, strings.TrimSuffix(file, ".yaml")+".want", list.Error())
		})
	}
}

// fails reads a file and wants one mistake that says something.
func fails(t *testing.T, file, want string) {
	t.Helper()
	start := time.Now()
	job, list := ReadFile(file)
	if job != nil || len(list) != 1 || !strings.Contains(list.Error(), want) {
		t.Errorf("%s: %v, want one mistake with %q", file, list, want)
	}
	if d := time.Since(start); d > time.Second {
		t.Errorf("%s: took %v", file, d)
	}
}

func TestFilesThatAreNone(t *testing.T) {
	dir := t.TempDir()
	fails(t, dir, "is a directory")
	fails(t, filepath.Join(dir, "none.yaml"), "cannot be read")
	// 50 MB, without writing them.
	large := filepath.Join(dir, "large.yaml")
	f, err := os.Create(large)
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Truncate(50_000_000); err != nil {
		t.Fatal(err)
	}
	f.Close()
	fails(t, large, "is larger than 4 MiB")
	zeros := filepath.Join(dir, "zeros.yaml")
	if err := os.WriteFile(zeros, make([]byte, 1000), 0o644); err != nil {
		t.Fatal(err)
	}
	fails(t, zeros, "control character")
}

// The limits, at and beyond.
func TestLimits(t *testing.T) {
	head := "job: Big\nmaterials: [{name: mdf, thickness: 12}]\nstock: [{name: s, length: 2440, width: 1220}]\npanels:\n"
	panels := func(n int) string {
		return head + strings.Repeat("  - {name: pX, length: 600, width: 300}\n", n)
	}
	number := func(s string) string {
		var b strings.Builder
		for i, p := range strings.Split(s, "pX") {
			if i > 0 {
				b.WriteString("p" + strings.Repeat("i", i%50) + string(rune('a'+i/50%26)) + string(rune('a'+i/1300)))
			}
			b.WriteString(p)
		}
		return b.String()
	}
	vertices := func(n int) string {
		var b strings.Builder
		b.WriteString(head + "  - name: comb\n    outline:\n      profile:\n        - {at: [0, 0]}\n")
		for i := 1; i < n-1; i++ {
			y := "100"
			if i%2 == 0 {
				y = "200"
			}
			b.WriteString("        - {at: [" + itoa(i) + ", " + y + "]}\n")
		}
		b.WriteString("        - {at: [" + itoa(n-2) + ", 0]}\n")
		return b.String()
	}
	for _, c := range []struct {
		name, src, want string
	}{
		{"most panels", number(panels(MaxEntries)), ""},
		{"too many panels", number(panels(MaxEntries + 1)), "is too long"},
		{"most vertices", vertices(MaxVertices), ""},
		{"too many vertices", vertices(MaxVertices + 1), "more than 10000"},
		{"most copies", head + "  - {name: a, quantity: 100000, length: 6, width: 3}\n  - {name: b, quantity: 100000, length: 6, width: 3}\n", ""},
		{"too many copies", head + "  - {name: a, quantity: 100000, length: 6, width: 3}\n  - {name: b, quantity: 100000, length: 6, width: 3}\n  - {name: c, length: 6, width: 3}\n", "panels are too many"},
		{"deep", strings.Repeat("- ", 5000) + "a\n", "nested"},
		{"deep keys", strings.Repeat("{a: ", 3000) + strings.Repeat("}", 3000), "nested"},
	} {
		t.Run(c.name, func(t *testing.T) {
			start := time.Now()
			job, list := Read("big.yaml", []byte(c.src))
			if c.want == "" && job == nil {
				t.Errorf("refused: %v", list)
			}
			if c.want != "" && (job != nil || !strings.Contains(list.Error(), c.want)) {
				t.Errorf("%v, want %q", list, c.want)
			}
			if d := time.Since(start); d > 5*time.Second {
				t.Errorf("took %v", d)
			}
		})
	}
}

func itoa(i int) string {
	if i < 10 {
		return string(rune('0' + i))
	}
	return itoa(i/10) + string(rune('0'+i%10))
}

package jobfile

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// Files made to stall or to exhaust a parser: refused, and soon. Time must grow
// with the file, not with its square.
func TestHostile(t *testing.T) {
	const n = 60_000
	repeat := func(s string) string { return strings.Repeat(s, n/len(s)) }
	var keys strings.Builder
	for i := 0; keys.Len() < n; i++ {
		fmt.Fprintf(&keys, "k%d: 1\n", i)
	}
	panels := "job: a\nmaterials: [{name: a, thickness: 1}]\nstock: [{name: a, length: 9, width: 9, trim: 0}]\npanels:\n"
	for name, src := range map[string]string{
		"entries":             repeat("- a: 1\n"),
		"keys":                keys.String(),
		"keys in braces":      "{" + strings.ReplaceAll(keys.String(), "\n", ",") + "}",
		"dashes":              repeat("- "),
		"question marks":      repeat("? "),
		"colons":              repeat("a: "),
		"brackets":            repeat("["),
		"braces":              repeat("{a: "),
		"numbers":             "a: [" + repeat("1,") + "1]",
		"anchors":             repeat("&a "),
		"aliases":             repeat("*a "),
		"tags":                repeat("!a "),
		"documents":           repeat("---\n"),
		"bars":                repeat("|\n"),
		"quotes":              repeat("'a' "),
		"open quote":          `"` + repeat("x"),
		"spaces":              "job: " + repeat(" ") + "x",
		"long word":           "job: " + repeat("x"),
		"long key":            repeat("x") + ": a",
		"laughing aliases":    "a: &a [x,x,x,x,x,x,x,x,x]\n" + "b: &b [*a,*a,*a,*a,*a,*a,*a,*a,*a]\nc: &c [*b,*b,*b,*b,*b,*b,*b,*b,*b]\njob: *c\n",
		"long path":           panels + "  - {name: a, outline: {path: \"M0 0" + repeat("h1v1") + "Z\"}}",
		"curves without end":  panels + "  - {name: a, outline: {path: \"M0 0" + repeat("Q 30000 30000 1 0 ") + "Z\"}}",
		"arcs without end":    panels + "  - {name: a, outline: {path: \"M0 0" + repeat("a 9000 9000 0 1 1 1 0 ") + "Z\"}}",
		"copies of a comb":    panels + "  - {name: a, outline: {path: \"M0 0" + strings.Repeat("v1h1v-1h1", 2400) + "v9H0z\"}}\n" + copies(3000),
		"copies of copies":    panels + "  - {name: c0, length: 600, width: 300}\n" + chain(4000),
		"copies with rounds":  panels + "  - {name: c0, same_as: c3999}\n" + chain(4000),
		"findings everywhere": panels + repeat("  - {nme: a}\n"),
	} {
		t.Run(name, func(t *testing.T) {
			start := time.Now()
			job, list := Read("hostile.yaml", []byte(src))
			if good := name == "copies of copies"; (job != nil) != good {
				t.Errorf("job %v, %.300s", job != nil, list.Error())
			}
			if d := time.Since(start); d > 4*time.Second { // a loaded machine
				t.Errorf("took %v", d)
			}
		})
	}
}

// copies gives mirrored copies of panel a.
func copies(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "  - {name: c%d, same_as: a, mirror: yes}\n", i)
	}
	return b.String()
}

// chain gives panels each of which is the same as the one before.
func chain(n int) string {
	var b strings.Builder
	for i := 1; i < n; i++ {
		fmt.Fprintf(&b, "  - {name: c%d, same_as: c%d}\n", i, i-1)
	}
	return b.String()
}

// The limits of text, depth and size, at and one beyond.
func TestLimitsOfText(t *testing.T) {
	job := func(name, note string) string {
		return "job: " + name + "\nnote: \"" + note + "\"\nmaterials: [{name: mdf, thickness: 12}]\nstock: [{name: s, length: 2440, width: 1220}]\npanels: [{name: lid, length: 60, width: 30}]\n"
	}
	small := job("a", "")
	deep := func(n int) string {
		return small + "extra: " + strings.Repeat("[", n) + strings.Repeat("]", n) + "\n"
	}
	for _, c := range []struct {
		name, src, want string
	}{
		{"longest name", job(strings.Repeat("ä", MaxName), ""), ""},
		{"a longer name", job(strings.Repeat("ä", MaxName+1), ""), "longer than 200 characters"},
		{"longest note", job("a", strings.Repeat("é", MaxNote)), ""},
		{"a longer note", job("a", strings.Repeat("é", MaxNote+1)), "longer than 4000 characters"},
		{"largest file", small + strings.Repeat("#", MaxBytes-len(small)), ""},
		{"a larger file", small + strings.Repeat("#", MaxBytes-len(small)+1), "larger than 4 MiB"},
		// The unknown key is the mistake; the depth is allowed, or is the mistake.
		{"deepest", deep(MaxDepth - 1), `unknown key "extra"`},
		{"deeper", deep(MaxDepth), "nested more than 32 deep"},
		{"brackets in text are no nesting", job("a", strings.Repeat("[", 100)), ""},
	} {
		j, list := Read("a.yaml", []byte(c.src))
		if (j != nil) != (c.want == "") || !strings.Contains(list.Error(), c.want) || len(list) > 1 {
			t.Errorf("%s: %v, want %q", c.name, list, c.want)
		}
	}
}

// Files that cannot be opened.
func TestUnreadable(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "a.yaml")
	if err := os.WriteFile(file, []byte("job: a\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	fails(t, filepath.Join(file, "below.yaml"), "cannot be read")
	fails(t, filepath.Join(dir, strings.Repeat("x", 300)), "cannot be read")
	fails(t, "a\x00b", "cannot be read")
}

func TestNoPermission(t *testing.T) {
	file := filepath.Join(t.TempDir(), "a.yaml")
	if err := os.WriteFile(file, []byte("job: a\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(file, 0); err != nil {
		t.Fatal(err)
	}
	if f, err := os.Open(file); err == nil {
		f.Close()
		t.Skip("this user may read every file")
	}
	fails(t, file, "cannot be read")
}

package jobfile

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"panelyard/parts/partstest"
)

// What each variant of a job is, beside the job as written.
func TestVariants(t *testing.T) {
	file := filepath.Join(goodDir, "variants.yaml")
	plain, list := ReadFile(file)
	if plain == nil || plain.Variant != "" || !slices.Equal(plain.Variants, []string{"narrow", "open", "other board"}) {
		t.Fatalf("%+v, %v", plain, list)
	}
	var all strings.Builder
	for _, name := range plain.Variants {
		job, list := ReadVariant(file, name)
		if job == nil || job.Variant != name || len(list) != 0 {
			t.Fatalf("%s: %v", name, list)
		}
		all.WriteString("== " + name + "\n" + facts(job))
	}
	partstest.Golden(t, strings.TrimSuffix(file, ".yaml")+".variants.want", all.String())
	if job, list := ReadVariant(file, "wide"); job != nil || !strings.Contains(list.Error(), "its variants: narrow, open, other board") {
		t.Errorf("an unknown variant: %v", list)
	}
}

// Examine reads every variant; what is wrong with one names it.
func TestExamine(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "job.yaml")
	src := `job: a
materials: [{name: board, thickness: 18}]
stock: [{name: sheet, material: board, length: 2440, width: 1220}]
panels: [{name: side, length: 800, width: 300}]
variants:
  - {name: flat, panels: [{name: side, width: 0}]}
  - {name: more, panels: [{name: foot, length: 60}]}
  - {name: none, without: [side]}
`
	if err := os.WriteFile(file, []byte(src), 0o644); err != nil {
		t.Fatal(err)
	}
	job, _, list := Examine(file)
	if job != nil {
		t.Fatal("a job with faulty variants was accepted")
	}
	want := []string{
		`job.yaml:6:47: variant "flat": panel "side": width: 0 must be greater than zero`,
		`job.yaml:7:28: variant "more": panel "foot": has no width`,
		`job.yaml:4:9: variant "none": panels is empty`,
	}
	got := list.Error()
	for _, w := range want {
		if !strings.Contains(got, w) {
			t.Errorf("no %q in\n%s", w, got)
		}
	}
	if mistakes, _ := list.Split(); len(mistakes) != len(want) {
		t.Errorf("%d mistakes, want %d:\n%s", len(mistakes), len(want), got)
	}
	if job, _ := ReadFile(file); job == nil {
		t.Error("the job as written is not read")
	}
}

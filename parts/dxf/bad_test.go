package dxf

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"panelyard/parts/drawing"
)

var update = flag.Bool("update", false, "rewrite the golden findings")

const badDir = "testdata/bad"

// Each bad drawing has its findings beside it, those of the reader and, where it
// reads the file, those of joining: each with a place and a remedy.
func TestBadFiles(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(badDir, "*.dxf"))
	if err != nil || len(files) < 20 {
		t.Fatalf("%d bad drawings, %v", len(files), err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			src, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			d, list := Read(filepath.Base(file), src, Options{})
			if (d == nil) != (list.Err() != nil) {
				t.Fatal("a drawing and a mistake")
			}
			if d != nil {
				panels, more := drawing.Panels(d, drawing.Options{})
				if list = append(list, more...); panels != nil || list.Err() == nil {
					t.Fatal("a bad drawing was accepted")
				}
			}
			for _, f := range list {
				if f.Fact == "" || f.Remedy == "" || f.Pos.File == "" {
					t.Errorf("no remedy or no place: %v", f)
				}
			}
			golden(t, strings.TrimSuffix(file, ".dxf")+".want", list.Error())
		})
	}
}

// golden compares a text with a file.
func golden(t *testing.T, file, got string) {
	t.Helper()
	got += "\n"
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

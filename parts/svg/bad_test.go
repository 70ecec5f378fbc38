package svg

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"panelyard/parts/drawing"
	"panelyard/parts/partstest"
)

const badDir = "testdata/bad"

// Each bad drawing has its findings beside it, those of the reader and, where it
// reads the file, those of joining: each with a place and a remedy.
func TestBadFiles(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(badDir, "*.svg"))
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
			partstest.Golden(t, strings.TrimSuffix(file, ".svg")+".want", list.Error())
		})
	}
}

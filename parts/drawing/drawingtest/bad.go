// Package drawingtest holds what the tests of the readers of drawings share.
package drawingtest

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"panelyard/parts/diag"
	"panelyard/parts/drawing"
	"panelyard/parts/partstest"
)

// Bad reads the bad drawings of a folder, those with an extension. Each has its
// findings beside it, those of the reader and, where it reads the file, those of
// joining: each with a place and a remedy.
func Bad(t *testing.T, dir, extension string, read func(name string, src []byte) (*drawing.Drawing, diag.List)) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*"+extension))
	if err != nil || len(files) < 20 {
		t.Fatalf("%d bad drawings, %v", len(files), err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			src, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			d, list := read(filepath.Base(file), src)
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
			partstest.Golden(t, strings.TrimSuffix(file, extension)+".want", list.Error())
		})
	}
}

package svg

import (
	"testing"

	"panelyard/parts/diag"
	"panelyard/parts/drawing"
	"panelyard/parts/drawing/drawingtest"
)

const badDir = "testdata/bad"

func TestBadFiles(t *testing.T) {
	drawingtest.Bad(t, badDir, ".svg", func(name string, src []byte) (*drawing.Drawing, diag.List) { return Read(name, src, Options{}) })
}

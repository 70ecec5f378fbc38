package svg

import (
	"bytes"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"panelyard/parts/outline"
	"panelyard/parts/partstest"
)

// The area that librsvg (a program that we did not write) paints is that of the pieces
// as they are read: a pixel of 1/96 in is 0.26 mm, so to a third of a pixel all around.
func TestAgainstRaster(t *testing.T) {
	convert := partstest.Tool(t, "rsvg-convert")
	for i, body := range []string{
		`<rect x="10" y="20" width="100" height="50" rx="20" ry="10"/>`,
		`<circle cx="150" cy="150" r="90"/>`,
		`<ellipse cx="150" cy="150" rx="120" ry="40" transform="rotate(25 150 150)"/>`,
		`<polygon points="20,20 180,40 150,200 90,120"/>`,
		`<path d="M40 40h200v60a40 70 20 0 1 -60 90t-40 -30q-60 10 -70 -60s-20 -40 -30 -60z"/>`,
		`<path d="M100 100a80,80 0 1 1 120 60v60z"/>`,
		`<path d="M40 200c30-150 150-150 180 0S300 260 330 200V295H40z"/>`,
		`<g transform="translate(200 20) skewX(20) scale(1.5 0.7) rotate(12)"><rect width="90" height="120" rx="15"/></g>`,
		`<g transform="matrix(-0.8 0.3 0.3 0.8 300 40)"><path d="M0 0h150a75 75 0 0 1 0 150h-150z"/></g>`,
		`<defs><path id="a" d="M0 0h40v20a20 20 0 0 1-40 0z"/></defs><use href="#a" x="30" y="40" transform="scale(3 2)"/>`,
		`<symbol id="s" viewBox="0 0 100 50" preserveAspectRatio="xMaxYMin meet"><ellipse cx="50" cy="25" rx="50" ry="25"/></symbol><use href="#s" x="20" y="30" width="300" height="100"/>`,
		`<svg x="50" y="40" width="200" height="200" viewBox="0 0 100 50" preserveAspectRatio="xMidYMax"><rect width="100" height="50" rx="20"/></svg>`,
	} {
		d, said := read(t, page(body))
		if said != "" || len(d.Pieces) != 1 {
			t.Fatalf("%s: %d pieces, %s", body, len(d.Pieces), said)
		}
		o := outline.Outline(d.Pieces[0].Path)
		file := filepath.Join(t.TempDir(), "a.svg")
		if err := os.WriteFile(file, []byte(page(body)), 0o644); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command(convert, file).Output()
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(bytes.NewReader(out))
		if err != nil {
			t.Fatal(err)
		}
		b := img.Bounds()
		if math.Abs(float64(b.Dx())-400/px) > 1 {
			t.Fatalf("the picture is %d px wide, 400 mm are %.1f", b.Dx(), 400/px)
		}
		ink, sx, sy := 0.0, 0.0, 0.0
		for y := b.Min.Y; y < b.Max.Y; y++ {
			for x := b.Min.X; x < b.Max.X; x++ {
				_, _, _, a := img.At(x, y).RGBA()
				v := float64(a) / 0xffff
				ink += v
				sx += v * (float64(x) + 0.5)
				sy += v * (float64(y) + 0.5)
			}
		}
		want, got := ink*px*px, math.Abs(o.AreaMM2())
		if slack := o.Perimeter().MM() * px / 3; math.Abs(got-want) > slack {
			t.Errorf("%d: area %.1f mm2, painted %.1f", i, got, want)
		}
		// And it lies where it is painted: the middle of its ink is in its box, which
		// has as much ink as there is.
		box := o.Box()
		cx, cy := sx/ink*px, 300-sy/ink*px
		if cx < box.Min.X.MM() || cx > box.Max.X.MM() || cy < box.Min.Y.MM() || cy > box.Max.Y.MM() {
			t.Errorf("%d: the ink's middle (%.1f, %.1f) is not on %v", i, cx, cy, box)
		}
	}
}

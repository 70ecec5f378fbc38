package template

import (
	"image/color"
	"image/png"
	"os"
	"testing"
)

// pngPicture reads a picture in shades of grey.
func pngPicture(t *testing.T, path string, scale float64) *picture {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	b := img.Bounds()
	p := &picture{w: b.Dx(), h: b.Dy(), grey: make([]byte, b.Dx()*b.Dy()), scale: scale}
	for y := range p.h {
		for x := range p.w {
			p.grey[y*p.w+x] = color.GrayModel.Convert(img.At(b.Min.X+x, b.Min.Y+y)).(color.Gray).Y
		}
	}
	return p
}

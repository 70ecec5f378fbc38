package svg

import (
	"bytes"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"panelyard/parts/drawing"
	"panelyard/parts/outline"
	"panelyard/parts/partstest"
)

// What librsvg paints, a library that we did not write, has the area and the place of
// the panels that are made of the drawing: every element, command and transform.
func TestAgainstRaster(t *testing.T) {
	convert := partstest.Tool(t, "rsvg-convert")
	for _, c := range []struct{ name, body string }{
		{"rect", `<rect x="10" y="20" width="200" height="150"/>`},
		{"round rect", `<rect x="10" y="20" width="200" height="150" rx="60" ry="20"/>`},
		{"radii too large", `<rect x="10" y="20" width="200" height="150" rx="160" ry="20"/>`},
		{"circle", `<circle cx="150" cy="150" r="90"/>`},
		{"ellipse", `<ellipse cx="150" cy="150" rx="120" ry="40" transform="rotate(25 150 150)"/>`},
		{"polygon", `<polygon points="20,20 180,40 150,200 90,120"/>`},
		{"polyline", `<polyline points="20,20 180,40 150,200 90,120 20 20"/>`},
		{"lines and curves", `<path d="M40 40h200v60l-20 90c-60 10-60 60-120 20s-20-60-60-60q-30-20 0-40t0-40z"/>`},
		{"the same, relative and absolute", `<path d="M40,40H240V100L220,190C160,200 160,250 100,210S80,150 40,150Q10,130 40,110T40,70Z"/>`},
		{"arcs, small and clockwise", `<path d="M100 150a80 60 20 0 1 120 40z"/>`},
		{"arcs, large and clockwise", `<path d="M100 150a80 60 20 1 1 120 40z"/>`},
		{"arcs, small and back", `<path d="M100 150a80 60 20 0 0 120 40z"/>`},
		{"arcs, large and back", `<path d="M100 150a80 60 20 1 0 120 40z"/>`},
		{"round arcs", `<path d="M60 100a80 80 0 1 1 120 60v60z"/>`},
		{"arcs scaled up", `<path d="M100 150a10 5 20 1 1 120 40z"/>`},
		{"a hair from whole", `<path d="M200 50a90 90 0 1 1-.01 0z"/>`},
		{"openings", `<path fill-rule="evenodd" d="M20 20h300v200h-300zM50 50v100h100v-100zM250 100a30 30 0 1 0 .001 0z"/>`},
		{"two panels", `<rect x="10" y="10" width="50" height="40"/><circle cx="200" cy="100" r="40"/>`},
		{"translate and rotate", `<rect width="100" height="60" rx="9" transform="translate(150 40)rotate(40)"/>`},
		{"rotate about a centre", `<rect x="100" y="100" width="100" height="60" rx="9" transform="rotate(-70,150,130)"/>`},
		{"scale and mirror", `<path d="M0 0h80a30 30 0 0 1 0 60h-80z" transform="translate(300 50) scale(-1.5 1.5)"/>`},
		{"uneven", `<path d="M0 0h80a30 30 0 0 1 0 60h-80z" transform="translate(20 50) scale(2.5 1.2)"/>`},
		{"skewX", `<circle cx="100" cy="100" r="60" transform="skewX(25)"/>`},
		{"skewY", `<circle cx="100" cy="100" r="60" transform="skewY(25)"/>`},
		{"matrix", `<path d="M0 0h150a75 75 0 0 1 0 150h-150z" transform="matrix(-.8 .3 .3 .8 300 40)"/>`},
		{"many", `<g transform="translate(200 20) skewX(20)"><g transform="scale(1.5 .7) rotate(12)"><rect width="90" height="120" rx="15"/></g></g>`},
		{"use", `<defs><path id="a" d="M0 0h40v20a20 20 0 0 1-40 0z"/></defs><use href="#a" x="30" y="40" transform="scale(3 2)"/>`},
		{"use of a group in a use", `<defs><g id="a" transform="rotate(10)"><rect width="40" height="20"/></g><g id="b"><use href="#a" x="9"/></g></defs><use href="#b" y="40" transform="scale(3)"/>`},
		{"symbol", `<symbol id="s" viewBox="0 0 100 50" preserveAspectRatio="xMaxYMin meet"><ellipse cx="50" cy="25" rx="50" ry="25"/></symbol><use href="#s" x="20" y="30" width="300" height="100"/>`},
		{"nested svg", `<svg x="50" y="40" width="200" height="200" viewBox="-10 -10 120 70" preserveAspectRatio="xMidYMax"><rect width="100" height="50" rx="20"/></svg>`},
		{"nested svg, sliced", `<svg x="50" y="40" width="200" height="100" viewBox="0 0 100 100" preserveAspectRatio="xMinYMid slice"><rect y="30" width="100" height="40" rx="20"/></svg>`},
		{"nested svg, stretched", `<svg x="50" y="40" width="200" height="100" viewBox="0 0 100 100" preserveAspectRatio="none"><rect y="30" width="100" height="40" rx="20"/></svg>`},
		{"nested svg in percent", `<svg x="10%" y="10%" width="50%" height="50%"><rect width="100%" height="50%"/></svg>`},
		{"units", `<g transform="scale(.5)"><rect x="1cm" y="10mm" width="2in" height="72pt"/></g>`},
		{"hidden", `<rect width="40" height="50"/><g display="none"><circle cx="200" cy="100" r="40"/></g><g visibility="hidden"><circle cx="300" cy="100" r="40"/></g>`},
	} {
		t.Run(c.name, func(t *testing.T) {
			src := sheet(c.body)
			panels, list := drawing.Panels(read(t, src, Options{}), drawing.Options{KeepSegments: true})
			if len(panels) == 0 {
				t.Fatal(list)
			}
			area, around := 0.0, 0.0
			left, right, bottom, top := math.Inf(1), 0.0, math.Inf(1), 0.0
			for _, p := range panels {
				b := p.Outline.Box()
				left, bottom = min(left, b.Min.X.MM()), min(bottom, b.Min.Y.MM())
				right, top = max(right, b.Max.X.MM()), max(top, b.Max.Y.MM())
				area += p.Outline.AreaMM2()
				around += p.Outline.Perimeter().MM()
				for _, o := range p.Openings {
					area -= outline.Outline(o.Outline).AreaMM2()
					around += o.Outline.Perimeter().MM()
				}
			}
			file := filepath.Join(t.TempDir(), "a.svg")
			if err := os.WriteFile(file, []byte(src), 0o644); err != nil {
				t.Fatal(err)
			}
			const scale = 2 // pixels a millimetre
			out, err := exec.Command(convert, "-w", "800", "-h", "600", file).Output()
			if err != nil {
				t.Fatal(err)
			}
			img, err := png.Decode(bytes.NewReader(out))
			if err != nil {
				t.Fatal(err)
			}
			// Its box may be cut off at the edges of the sheet, that of the panels is not.
			ink := 0.0
			l, r, b, u := math.Inf(1), 0.0, math.Inf(1), 0.0
			for y := range 600 {
				for x := range 800 {
					_, _, _, a := img.At(x, y).RGBA()
					if ink += float64(a) / 0xffff; a > 0x7fff {
						l, r = min(l, float64(x)/scale), max(r, float64(x+1)/scale)
						b, u = min(b, 300-float64(y+1)/scale), max(u, 300-float64(y)/scale)
					}
				}
			}
			const pixel = 1.0 / scale
			// Alpha is the share of a pixel that is covered, in steps.
			if painted := ink * pixel * pixel; math.Abs(painted-area) > around*pixel/8 {
				t.Errorf("painted %.2f mm2, read %.2f; %.0f mm around", painted, area, around)
			}
			for _, d := range []float64{left - l, right - r, bottom - b, top - u} {
				// An end that is a tip paints no pixel by half.
				if math.Abs(d) > 3*pixel {
					t.Errorf("painted from (%.2f, %.2f) to (%.2f, %.2f), read (%.2f, %.2f) to (%.2f, %.2f)", l, b, r, u, left, bottom, right, top)
					break
				}
			}
		})
	}
}

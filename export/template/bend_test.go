package template

import (
	"math"
	"slices"
	"strings"
	"testing"

	"panelyard/export/exporttest"
	"panelyard/parts"
	"panelyard/parts/arc"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// The kerfs of a bend of 90 degrees to 300 mm outside, in board of 18 mm with a web of 2
// mm and a saw of 3.2 mm, are 9, every pi/2 x 299 / 9 mm from 200 mm on: bend A of the
// trade notes of this project. On the cut outline, without a band of 1 mm, they lie 1 mm
// nearer to the edge; mirrored, from the other side; and they go from edge to edge.
func TestKerfsOfBend(t *testing.T) {
	b := &parts.Bend{
		Outer: arc.Arc{Radius: 300 * mm, Angle: 90 * arc.Degree}, Thickness: 18 * mm, Web: 2 * mm,
		From: 200 * mm, To: 100 * mm, Along: parts.AlongLength,
	}
	flat, err := b.Kerfed(0).Flat()
	if err != nil {
		t.Fatal(err)
	}
	b.Flat = flat
	for _, along := range []parts.Axis{parts.AlongLength, parts.AlongWidth} {
		b.Along = along
		job := exporttest.Job()
		job.Materials[0].Measured = 18 * mm
		job.Saw.Kerf = 3200 * length.Micrometre
		o := outline.Rectangle(300*mm+flat, 400*mm)
		if along == parts.AlongWidth {
			o = outline.Rectangle(400*mm, 300*mm+flat)
		}
		job.Panels = append(job.Panels, parts.Panel{
			Name: "skirt", Quantity: 1, Material: "birch 18", Outline: o, Bend: b, Edging: []string{"oak 1", "oak 1", "oak 1", "oak 1"},
		})
		for _, finished := range []bool{false, true} {
			for _, mirrored := range []bool{false, true} {
				x := templateOf(t, job, "skirt", finished, mirrored)
				if len(x.kerfs) != 9 || !strings.HasPrefix(x.bend, "9 kerfs by a saw of 3.2 mm, 16 mm deep, in the back") {
					t.Fatalf("%d kerfs: %s", len(x.kerfs), x.bend)
				}
				size := x.Outline.Box().Size()
				for i, k := range x.kerfs {
					at, side, from, to := k.from.X, size.Y, k.from.Y, k.to.Y
					if along == parts.AlongWidth {
						at, side, from, to = k.from.Y, size.X, min(k.from.X, k.to.X), max(k.from.X, k.to.X)
					}
					want := 200 + math.Pi/2*299/9*(float64(i)+0.5)
					if !finished {
						want--
					}
					if mirrored && along == parts.AlongLength {
						want = size.X.MM() - want
					}
					if math.Abs(at.MM()-want) > 0.001 || from != 0 || to != side {
						t.Errorf("%v, finished %v, mirrored %v: kerf %d at %v from %v to %v of %v, want at %.3f", along, finished, mirrored, i+1, at, from, to, side, want)
					}
				}
				dashed := len(x.kerfPen().Dash) > 0
				if dashed == mirrored {
					t.Errorf("mirrored %v: dashed %v", mirrored, dashed)
				}
				if !slices.Contains(classes(Sheet(x).Drawing), "kerf") {
					t.Error("the kerfs are not drawn")
				}
			}
		}
	}
}

// classes returns what lines are.
func classes(list []Item) (s []string) {
	for _, x := range list {
		if l, ok := x.(Lines); ok {
			s = append(s, l.Class)
		}
	}
	return s
}

package svgmap

import (
	"bytes"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/partstest"
)

// A shared blank is drawn once, with two panels in it, whose labels and lines of the key
// say that it is shared.
func TestSharedBlanks(t *testing.T) {
	d := dossiers(t)["stands"]
	shared, alone := 0, 0
	for i := range d.Sheets {
		doc := drawMap(t, d, i)
		m := &d.Sheets[i]
		blanks, on := 0, 0
		for k := range m.Placements {
			pl := &m.Placements[k]
			if pl.With != nil {
				on++
			} else if pl.Row.Shaped {
				alone++
			}
			if pl.Row.Shaped && !pl.Second {
				blanks++
			}
		}
		shared += on
		// Dashes of these lengths are drawn for blanks, at any scale, and in the legend.
		want := blanks
		if blanks > 0 {
			want++
		}
		if n := bytes.Count(doc, []byte("fill:none;stroke:"+soft+";stroke-width:")); n != want {
			t.Errorf("%s: %d dashed blanks, want %d", m.ID, n, want)
		}
		if n := bytes.Count(doc, []byte(`class="panel"`)); n != len(m.Placements) {
			t.Errorf("%s: %d panels drawn of %d", m.ID, n, len(m.Placements))
		}
		if on > 0 != bytes.Contains(doc, []byte("parted first where two share it")) {
			t.Errorf("%s: the legend does not say what is on the map", m.ID)
		}
		p := layout(d, i, Look{})
		for _, r := range p.keyRows() {
			for k := range m.Placements {
				pl := &m.Placements[k]
				if pl.Row.Key != r.key || !pl.Row.Shaped {
					continue
				}
				if line := "blank " + p.write.Size(pl.BlankSize()); !strings.Contains(r.tail, line) || pl.With != nil && !strings.Contains(r.tail, line+", shared by two") {
					t.Errorf("%s: %q in the key does not name the blank of copy %d", m.ID, r.tail, pl.Copy)
				}
			}
		}
	}
	if shared == 0 || alone == 0 {
		t.Errorf("%d panels share a blank, %d do not: the test shows nothing", shared, alone)
	}
}

// rsvg-convert draws shared blanks: board where both panels are, none in the
// middle of the blank, where two copies that are turned half around leave waste.
func TestSharedRendered(t *testing.T) {
	convert := partstest.Tool(t, "rsvg-convert")
	d := dossiers(t)["stands"]
	seen := 0
	for i := range d.Sheets {
		file := filepath.Join(t.TempDir(), "map.svg")
		if err := os.WriteFile(file, drawMap(t, d, i), 0o644); err != nil {
			t.Fatal(err)
		}
		const wide = 1188 // 4 dots a mm: the waste between gussets is a little more than one
		out, err := exec.Command(convert, "-w", "1188", file).Output()
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(bytes.NewReader(out))
		if err != nil {
			t.Fatal(err)
		}
		p := layout(d, i, Look{})
		grey := func(q geom.Point) uint32 {
			r, _, _, _ := img.At(int(p.x(q.X)*wide/A4.W), int(p.y(q.Y)*wide/A4.W)).RGBA()
			return r >> 8
		}
		for k := range p.m.Placements {
			pl := &p.m.Placements[k]
			if pl.With == nil || len(pl.Shape.Outer) != 3 {
				continue
			}
			r := pl.Shape.Outer
			for w := length.Length(2); w < 30; w++ { // from the middle to the corner, off what is written
				q := geom.Pt((w*r[0].X+r[1].X+r[2].X)/(w+2), (w*r[0].Y+r[1].Y+r[2].Y)/(w+2))
				if !p.free(rect{p.x(q.X) - 0.5, p.y(q.Y) - 0.5, 1, 1}) {
					continue
				}
				seen++
				if got := grey(q); got < 0xe0 || got > 0xf4 {
					t.Errorf("%s: grey %#x on %s copy %d, want the board's", p.m.ID, got, pl.Row.Name, pl.Copy)
				}
				break
			}
			middle := pl.Blank.Min.Add(pl.Blank.Max)
			if got := grey(geom.Pt(middle.X/2, middle.Y/2)); got != 0xff {
				t.Errorf("%s: grey %#x in the middle of a shared blank", p.m.ID, got)
			}
		}
	}
	if seen == 0 {
		t.Error("no panel was looked at")
	}
}

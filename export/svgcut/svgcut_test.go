package svgcut_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"panelyard/export"
	"panelyard/export/dxf"
	"panelyard/export/exporttest"
	"panelyard/export/svgcut"
	"panelyard/kerf"
	"panelyard/parts/drawing"
	"panelyard/parts/length"
	"panelyard/parts/outline"
	"panelyard/parts/partstest"
	"panelyard/parts/svg"
)

func plan(t *testing.T) *export.Dossier {
	t.Helper()
	return exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), kerf.Router)
}

const title = "<S1> & \"more\""

func write(t *testing.T, d dxf.Drawing) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := svgcut.Write(&b, title, d); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Read back by our reader of SVG, which shares nothing with the writer, every sheet
// has the edges it should: areas equal to the last square millimetre.
func TestReadBack(t *testing.T) {
	d := plan(t)
	for i := range d.Sheets {
		m := &d.Sheets[i]
		got, list := svg.Read("sheet.svg", write(t, dxf.Sheet(d, i)), svg.Options{})
		if err := list.Err(); err != nil {
			t.Fatal(err)
		}
		want, sum, paths, way, runs := 0.0, 0.0, 0, 0.0, 0.0
		for k := range m.Placements {
			p := &m.Placements[k]
			want += p.Outline.AreaMM2()
			for _, o := range p.Openings {
				want += o.AreaMM2()
			}
		}
		for _, p := range got.Pieces {
			switch p.Layer {
			case "OUTLINE", "OPENING":
				sum += area(t, p)
			case "PATH":
				paths++
				runs += outline.Outline(p.Path).AreaMM2()
			}
		}
		if math.Abs(sum-want) > 0.5 {
			t.Errorf("%s: areas of outlines and openings are %.2f mm2, want %.2f", m.ID, sum, want)
		}
		for k := range m.Paths {
			way += outline.Outline(m.Paths[k].Line).AreaMM2()
		}
		if paths != len(m.Paths) || math.Abs(runs-way) > 0.5 {
			t.Errorf("%s: %d paths round %.2f mm2, want %d round %.2f", m.ID, paths, runs, len(m.Paths), way)
		}
	}
}

// area returns that of a closed piece.
func area(t *testing.T, p drawing.Piece) float64 {
	t.Helper()
	if !p.Closed {
		t.Errorf("an open path on %s", p.Layer)
	}
	return outline.Outline(p.Path).AreaMM2()
}

// At 10 pixels a mm a panel's picture is as wide as the way of the bit round it with its rim, drawn by a
// program that we did not write, and its ink begins where it should.
func TestTrueSize(t *testing.T) {
	rsvg := partstest.Tool(t, "rsvg-convert")
	d := plan(t)
	dir := t.TempDir()
	file := filepath.Join(dir, "panel.svg")
	if err := os.WriteFile(file, write(t, dxf.Panel(d, 0)), 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(rsvg, "--dpi-x", "254", "--dpi-y", "254", file, "-o", filepath.Join(dir, "panel.png")).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	f, err := os.Open(filepath.Join(dir, "panel.png"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img := decode(t, f)
	size := d.Panels[0].Cut
	bit := d.Job.Router.Bit // half of it all round, where its middle runs
	for _, c := range []struct {
		what string
		got  int
		want length.Length
	}{{"wide", img.Bounds().Dx(), size.X}, {"high", img.Bounds().Dy(), size.Y}} {
		if want := ((c.want + bit).MM() + 2) * 10; math.Abs(float64(c.got)-want) > 1 {
			t.Errorf("%d pixels %s, want %.0f", c.got, c.what, want)
		}
	}
}

// The file is well-formed whatever the title holds, and a layer is a group.
func TestLayers(t *testing.T) {
	src := write(t, dxf.Sheet(plan(t), 0))
	dec := xml.NewDecoder(bytes.NewReader(src))
	for {
		if _, err := dec.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
	for _, id := range []string{"OUTLINE", "OPENING", "SHEET", "PATH", "LEAD", "TAB"} {
		if !strings.Contains(string(src), `id="`+id+`"`) {
			t.Errorf("no layer %s", id)
		}
	}
	if strings.Contains(string(src), "<text") {
		t.Error("a machine would cut the texts")
	}
}

func TestWriterFails(t *testing.T) {
	dr := dxf.Panel(plan(t), 2)
	for n := range len(write(t, dr)) {
		if err := svgcut.Write(&exporttest.Failing{Left: n}, title, dr); !errors.Is(err, exporttest.ErrFull) {
			t.Fatalf("a disk full after %d bytes gave %v", n, err)
		}
	}
}

func decode(t *testing.T, r io.Reader) image.Image {
	t.Helper()
	img, err := png.Decode(r)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

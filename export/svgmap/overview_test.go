package svgmap_test

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"panelyard/export/exporttest"
	"panelyard/export/svgmap"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/partstest"
)

// The overview shows every sheet and every panel, on each paper.
func TestOverview(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), kerf.Saw)
	for _, paper := range []svgmap.Paper{{}, svgmap.A4, svgmap.A3, svgmap.Letter} {
		var b bytes.Buffer
		if err := svgmap.Overview(&b, d, paper); err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(b.String(), "fill:#bbb"); n != d.Totals.Panels {
			t.Errorf("%s: %d panels drawn of %d", paper.Name, n, d.Totals.Panels)
		}
		for i := range d.Sheets {
			if !strings.Contains(b.String(), d.Sheets[i].ID+"  ") {
				t.Errorf("%s: no sheet %s", paper.Name, d.Sheets[i].ID)
			}
		}
	}
	empty := exporttest.Job()
	empty.Panels = nil
	if err := svgmap.Overview(&bytes.Buffer{}, exporttest.Dossier(t, empty, kerf.Saw), svgmap.A4); err != nil {
		t.Error(err)
	}
}

// A program that we did not write can draw it.
func TestOverviewDrawn(t *testing.T) {
	rsvg := partstest.Tool(t, "rsvg-convert")
	var b bytes.Buffer
	if err := svgmap.Overview(&b, exporttest.Dossier(t, exporttest.Job(), kerf.Router), svgmap.Letter); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "overview.svg")
	if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(rsvg, file, "-o", file+".png").CombinedOutput(); err != nil {
		t.Errorf("%v: %s", err, out)
	}
}

func TestOverviewWriterFails(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Saw)
	var b bytes.Buffer
	if err := svgmap.Overview(&b, d, svgmap.A4); err != nil {
		t.Fatal(err)
	}
	for left := 0; left < b.Len(); left += 1 + b.Len()/60 {
		if err := svgmap.Overview(&exporttest.Failing{Left: left}, d, svgmap.A4); !errors.Is(err, exporttest.ErrFull) {
			t.Fatalf("after %d bytes: %v", left, err)
		}
	}
}

// The mirrored map says so, and is the other view of a saw that cuts face down.
func TestMirroredMap(t *testing.T) {
	for _, c := range []struct {
		kind     parts.SawKind
		mirrored bool
		want     string
	}{
		{parts.TableSaw, false, "seen from the good face"},
		{parts.TableSaw, true, "MIRRORED: seen from the back"},
		{parts.TrackSaw, false, "seen from the back, good face down"},
		{parts.TrackSaw, true, "seen from the good face"},
	} {
		j := exporttest.Job()
		j.Saw = parts.DefaultSaw(c.kind)
		var b bytes.Buffer
		if err := svgmap.Write(&b, exporttest.Dossier(t, j, kerf.Saw), 0, svgmap.Look{Paper: svgmap.A3, Mirrored: c.mirrored}); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(b.String(), c.want+", lower left is the origin") || !strings.Contains(b.String(), `width="420.000mm"`) {
			t.Errorf("%v, mirrored %v: not %q on A3", c.kind, c.mirrored, c.want)
		}
	}
}

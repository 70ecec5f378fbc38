package dxf

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"panelyard/parts/diag"
	"panelyard/parts/drawing"
	"panelyard/parts/length"
)

// FuzzRead reads any bytes: no panic, no hang, a drawing or a mistake, findings
// with a place and a remedy, points within the lengths of a job.
func FuzzRead(f *testing.F) {
	for _, dir := range []string{goodDir, badDir} {
		files, err := filepath.Glob(filepath.Join(dir, "*.dxf"))
		if err != nil {
			f.Fatal(err)
		}
		for _, file := range files {
			src, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			if len(src) < 10_000 { // the others are tables for the greater part
				f.Add(src)
			}
		}
	}
	f.Add([]byte(entities("0", "SPLINE", "71", "2", "40", "0", "40", "0", "40", "0", "40", "1", "40", "1", "40", "1",
		"41", "1", "41", "2", "41", "1", "10", "0", "20", "0", "10", "5", "20", "9", "10", "9", "20", "0", "0", "ELLIPSE", "10", "0", "20", "0", "11", "4", "21", "1", "40", ".5")))
	f.Fuzz(func(t *testing.T, src []byte) {
		start := time.Now()
		d, list := Read("fuzz", src, Options{})
		if (d == nil) != (list.Err() != nil) {
			t.Fatalf("%v, %v", d, list)
		}
		for _, x := range list {
			if x.Fact == "" || x.Remedy == "" || x.Pos.File != "fuzz" {
				t.Fatalf("%+v", x)
			}
		}
		if len(list) > diag.MaxFindings+1 {
			t.Fatalf("%d findings", len(list))
		}
		if d != nil {
			for _, p := range d.Pieces {
				for _, v := range p.Path {
					if max(v.At.X.Abs(), v.At.Y.Abs()) > length.Max || v.Bulge != v.Bulge {
						t.Fatalf("%+v", p)
					}
				}
				if len(p.Path) < 2 || p.Layer == "" || p.Entity == "" || p.Line < 1 {
					t.Fatalf("%+v", p)
				}
			}
			drawing.Panels(d, drawing.Options{})
		}
		if e := time.Since(start); e > 20*time.Second {
			t.Fatalf("took %v", e)
		}
	})
}

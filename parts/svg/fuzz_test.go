package svg

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
	files, err := filepath.Glob(filepath.Join(badDir, "*.svg"))
	if err != nil {
		f.Fatal(err)
	}
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(src)
	}
	for _, body := range []string{
		`<rect width="100" height="50" rx="10"/><circle r="3"/><ellipse rx="3" ry="4"/><line x2="3"/><polyline points="0 0 1 1"/>`,
		`<path d="M0 0c1 2 3 4 5 6s1 1 2 2q1 1 2 0t3 3a1 2 30 0 1 4 4z"/><g transform="matrix(1 2 3 4 5 6) skewX(3)rotate(1 2 3)"><use href="#a" x="1" width="9"/></g>`,
		`<symbol id="a" viewBox="0 0 1 1"><text x="1 2">a<tspan dy="3">b</tspan></text></symbol><svg width="50%" viewBox="0 0 1 1" preserveAspectRatio="xMinYMax slice"><circle r="10%"/></svg>`,
		`<g id="layer1" p:label="CUT" style="display:inline;fill:none"><title>x</title><switch><a><path id="p1" d="m0,0h1v1-1z"/></a></switch></g><style/><image/>`,
	} {
		f.Add([]byte(sheet(body)))
	}
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
					if max(v.At.X.Abs(), v.At.Y.Abs()) > length.Max || v.Bulge-v.Bulge != 0 {
						t.Fatalf("%+v", p)
					}
				}
				if len(p.Path) < 2 || p.Entity == "" || p.Line < 1 || !p.Closed && p.Path[len(p.Path)-1].Bulge != 0 {
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

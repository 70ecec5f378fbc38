package jobfile

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"

	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/length"
	"panelyard/parts/partstest"
)

// Each good job has beside it what is read from it, and the warnings.
func TestGoodJobs(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(goodDir, "*.yaml"))
	if err != nil || len(files) < 6 {
		t.Fatalf("%d good jobs, %v", len(files), err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			src, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			job, list := newReader(filepath.Base(file), beside(filepath.Dir(file))).read(src)
			if job == nil {
				t.Fatal(list)
			}
			partstest.Golden(t, strings.TrimSuffix(file, ".yaml")+".want", facts(job)+readings(job)+list.Error())
			areas(t, job)
		})
	}
}

// The demo's job is read without a finding; its panels are looked at where it
// lives.
func TestDemoJob(t *testing.T) {
	job, list := ReadFile("../../cmd/panelyard/demo/kiosk.yaml")
	if job == nil || len(list) > 0 {
		t.Fatal(list)
	}
	areas(t, job)
}

// beside reads files of a folder, wherever the job says it is.
func beside(dir string) func(string, int) ([]byte, error) {
	return func(path string, most int) ([]byte, error) { return diag.ReadFile(filepath.Join(dir, path), most) }
}

// readings writes what was understood of other files.
func readings(j *parts.Job) string {
	var b strings.Builder
	for _, r := range j.Readings {
		fmt.Fprintf(&b, "-- %s\n%s", r.File, r.Text)
	}
	return b.String()
}

// facts writes a job for comparison, lengths in millimetres.
func facts(j *parts.Job) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("job %q, note %q, unit %s, currency %q, tolerance %v", j.Name, j.Note, j.Units.Name, j.Currency, j.Tolerance)
	line("saw: kerf %v, allowance %v; router: bit %v, gap %v, margin %v; keep %v x %v", j.Saw.Kerf, j.Saw.Allowance,
		j.Router.Bit, j.Router.Gap, j.Router.Margin, j.Keep.Short, j.Keep.Long)
	for _, m := range j.Materials {
		turns := ""
		if m.Turn != parts.ByGrain {
			turns = ", turns " + parts.TurnWord(m.Turn)
		}
		line("material %q: %v, measured %v, %g kg/m3, grained %v, good faces %d%s", m.Name, m.Nominal, m.Measured, m.Density, m.Grained, m.GoodFaces, turns)
	}
	for _, s := range j.Stock {
		line("stock %q of %q: %v x %v, grain %v, price %v (given %v), available %d, offcut %v, trim %v %v %v %v", s.Name, s.Material,
			s.Length, s.Width, s.Grain, s.Price, s.Priced, s.Available, s.Offcut, s.Trim.Left, s.Trim.Right, s.Trim.Bottom, s.Trim.Top)
	}
	if j.Figures != (parts.Figures{}) {
		line("figures: %s, fraction 1/%d, comma %v, thousands %q", j.Figures.Unit.Name, j.Figures.Fraction, j.Figures.Comma, j.Figures.Thousands)
	}
	for _, y := range j.Yards {
		line("yard %q: %v a drop of %d sheets, %g kg", y.Name, y.Drop, y.Sheets, y.KG)
	}
	for _, s := range j.Stock {
		if s.Yard != "" || s.Breaks != nil {
			line("stock %q from %q, breaks %v", s.Name, s.Yard, s.Breaks)
		}
	}
	if j.Spare > 0 {
		line("%d to spare", j.Spare)
	}
	for _, e := range j.Bands {
		line("band %q: %v, price %v", e.Name, e.Thickness, e.Price)
	}
	for i := range j.Components {
		c := &j.Components[i]
		o, f := c.Opening(), c.Footprint().Box().Size()
		line("component %q: opening %v x %v, covers %v x %v, needs %v, %d holes, note %q", c.Name, o.X, o.Y, f.X, f.Y, c.Room(), len(c.Holes), c.Note)
	}
	for i := range j.Panels {
		p := &j.Panels[i]
		line("panel %q: %d of %q, grain %v, either face %v, %v x %v, area %.2f mm2, perimeter %s mm, hand %q, mirrored %v, pair of %q, note %q",
			p.Name, p.Quantity, p.Material, p.Grain, p.EitherFace, p.Size().X, p.Size().Y, p.Outline.AreaMM2(), p.Outline.Perimeter().Fixed(3),
			p.Hand, p.Mirrored, p.PairOf, p.Note)
		for _, w := range p.Workings {
			line("    %s", w)
		}
		if b := p.Bend; b != nil {
			line("    bent along its %v: %s from %v, flat %v, to %v; facets %v, open %v, of %v", b.Along, b.Outer.Radius.Fixed(3), b.From, b.Flat.Fixed(3), b.To, b.Facet, b.Open, b.Thickness)
		}
		for k, v := range p.Outline {
			kind := "line"
			if v.Bulge != 0 {
				kind = fmt.Sprintf("arc of radius %.3f, bulge %.4f", p.Outline.Radius(k)/float64(mm), v.Bulge)
			}
			if k < 12 {
				line("    (%s, %s) edge %q band %q %s", v.At.X.Fixed(3), v.At.Y.Fixed(3), v.Edge, p.Edging[k], kind)
			}
		}
		if n := len(p.Outline); n > 12 {
			line("    and %d more", n-12)
		}
		for _, o := range p.Openings {
			box := o.Outline.Box()
			line("    opening %q: (%s, %s) to (%s, %s), area %.2f mm2", o.Name, box.Min.X.Fixed(3), box.Min.Y.Fixed(3), box.Max.X.Fixed(3), box.Max.Y.Fixed(3), o.Outline.AreaMM2())
		}
	}
	return b.String()
}

// areas compares the area of every panel and opening with what simplefeatures
// computes from points within 0.001 mm of the outline, validity included, and
// with the openings as holes.
func areas(t *testing.T, j *parts.Job) {
	t.Helper()
	for i := range j.Panels {
		p := &j.Panels[i]
		ring := func(pts [][2]float64) sf.LineString {
			var xy []float64
			for k := 0; k <= len(pts); k++ {
				q := pts[k%len(pts)]
				xy = append(xy, q[0]/float64(mm), q[1]/float64(mm))
			}
			return sf.NewLineString(sf.NewSequence(xy, sf.DimXY))
		}
		want := p.Outline.AreaMM2()
		rings := []sf.LineString{ring(p.Outline.Points(length.Micrometre))}
		slack := float64(p.Outline.Perimeter()) / float64(mm) * 0.001
		for _, o := range p.Openings {
			want -= o.Outline.AreaMM2()
			rings = append(rings, ring(o.Outline.Points(length.Micrometre)))
			slack += float64(o.Outline.Perimeter()) / float64(mm) * 0.001
		}
		polygon := sf.NewPolygon(rings)
		if err := polygon.Validate(); err != nil {
			t.Errorf("%s: simplefeatures says %v", p.Name, err)
		}
		if got := polygon.Area(); math.Abs(got-want) > slack+1e-6 {
			t.Errorf("%s: %.3f mm2, simplefeatures says %.3f", p.Name, want, got)
		}
	}
}

// The areas of the forms of curves.yaml by their formulas.
func TestFormulas(t *testing.T) {
	j, list := ReadFile(filepath.Join(goodDir, "curves.yaml"))
	if j == nil {
		t.Fatal(list)
	}
	pi := math.Pi
	segment := func(r, theta float64) float64 { return r * r / 2 * (theta - math.Sin(theta)) }
	lens := 300*300/(2*80.0) + 80/2.0 // radius of chord 600, rise 80
	moon := 150*150/(2*50.0) + 50/2.0 // radius of chord 300, rise 50
	for name, want := range map[string]float64{
		"lid":  600*400 - (4-pi)*50*50,
		"tray": 600*400 - (1-pi/4)*(30*30+60*60+200*200),
		"disc": pi * 200 * 200,
		"seat": pi / 4 * (700*700 - 300*300),
		"fin":  2 * segment(lens, 2*math.Asin(300/lens)),
		// The larger part of a disc of radius 80, cut by a chord of 100.
		"keyhole": 100*300 + segment(80, 2*pi-2*math.Asin(50/80.0)),
		"moon":    pi*150*150/2 - segment(moon, 2*math.Asin(150/moon)),
		"wave":    400*200 + pi*100*100/2 - pi*100*100/2,
		"front":   900 * 500,
	} {
		found := false
		for i := range j.Panels {
			if p := &j.Panels[i]; p.Name == name {
				found = true
				// A micrometre along the outline is what rounding to the grid may cost.
				if got := p.Outline.AreaMM2(); math.Abs(got-want) > 0.001*float64(p.Outline.Perimeter())/float64(mm) {
					t.Errorf("%s: %.4f mm2, want %.4f", name, got, want)
				}
			}
		}
		if !found {
			t.Errorf("no panel %q", name)
		}
	}
}

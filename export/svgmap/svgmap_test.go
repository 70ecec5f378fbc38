package svgmap

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/tdewolff/canvas"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

const mm = length.Millimetre

// many is a job with a hundred small panels on a sheet.
func many() *parts.Job {
	j := exporttest.Job()
	for i := range 20 {
		size := length.Length(60+7*i) * mm
		o := outline.Rectangle(size, 60*mm)
		j.Panels = append(j.Panels, parts.Panel{
			Name: fmt.Sprintf("drawer front with a rather long name %d", i), Quantity: 6, Material: "birch 18",
			Outline: o, Edging: make([]string, 4),
		})
	}
	tiny := outline.Rectangle(14*mm, 9*mm)
	j.Panels = append(j.Panels, parts.Panel{Name: "plug", Quantity: 8, Material: "birch 18", Outline: tiny, Edging: make([]string, 4)})
	return j
}

// dossiers are the plans all drawing tests look at.
func dossiers(t *testing.T) map[string]*export.Dossier {
	once.Do(func() {
		plans = map[string]*export.Dossier{
			"saw":    exporttest.Dossier(t, exporttest.Job(), kerf.Saw),
			"router": exporttest.Dossier(t, exporttest.Job(), kerf.Router),
			"nasty":  exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), kerf.Saw),
			"many":   exporttest.Dossier(t, many(), kerf.Saw),
		}
	})
	return plans
}

var (
	once  sync.Once
	plans map[string]*export.Dossier
)

func draw(t *testing.T, d *export.Dossier, i int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, d, i); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// No two texts, and no text and no number of a cut, lie on each other, and all
// are on the page.
func TestNothingOverlaps(t *testing.T) {
	for name, d := range dossiers(t) {
		for i := range d.Sheets {
			p := layout(d, i)
			boxes := map[string]rect{}
			for k, l := range p.labels {
				boxes[fmt.Sprintf("label %d %q", k, l.lines)] = l.box
				if l.leader != nil && name != "many" {
					t.Errorf("%s %s: %q found no room in its panel", name, d.Sheets[i].ID, l.lines)
				}
			}
			for _, n := range p.nums {
				boxes[fmt.Sprintf("cut %d", n.n)] = rect{n.x - circle, n.y - circle, 2 * circle, 2 * circle}
			}
			for a, r := range boxes {
				if r.x < 0 || r.y < 0 || r.x+r.w > pageW || r.y+r.h > pageH {
					t.Errorf("%s %s: %s is off the page: %v", name, d.Sheets[i].ID, a, r)
				}
				for b, q := range boxes {
					if a < b && r.overlaps(q) {
						t.Errorf("%s %s: %s lies on %s", name, d.Sheets[i].ID, a, b)
					}
				}
			}
			want := len(d.Sheets[i].Cuts) * 9 / 10
			if name == "many" {
				want /= 2 // of two hundred cuts between small panels
			}
			if got := len(p.nums); got < want {
				t.Errorf("%s %s: %d of %d cuts are numbered", name, d.Sheets[i].ID, got, want)
			}
			for _, r := range p.rows {
				if r.x+textWidth(r.text, 2.4) > pageW-margin+1 || r.y > pageH-margin-footH+1 {
					t.Errorf("%s %s: the key runs off: %q", name, d.Sheets[i].ID, r.text)
				}
			}
			if p.sheet.x+p.sheet.w > pageW-margin+1 || p.sheet.y+p.sheet.h+dimH > pageH-margin-footH+1 {
				t.Errorf("%s %s: the sheet runs off the page: %v", name, d.Sheets[i].ID, p.sheet)
			}
		}
	}
}

// element is a drawn path, read back.
type element struct {
	D string `xml:"d,attr"`
}

// The path data of the panels, read by a library we did not write, has the areas
// of the panels: arcs are arcs, openings are holes.
func TestPathsAreThePanels(t *testing.T) {
	for _, name := range []string{"saw", "router"} {
		d := dossiers(t)[name]
		for i := range d.Sheets {
			p := layout(d, i)
			var paths []string
			dec := xml.NewDecoder(bytes.NewReader(draw(t, d, i)))
			for {
				tok, err := dec.Token()
				if err == io.EOF {
					break
				}
				if err != nil {
					t.Fatal(err)
				}
				if s, ok := tok.(xml.StartElement); ok && s.Name.Local == "path" {
					var e element
					if err := dec.DecodeElement(&e, &s); err != nil {
						t.Fatal(err)
					}
					paths = append(paths, e.D)
				}
			}
			if len(paths) != len(d.Sheets[i].Placements) {
				t.Fatalf("%s: %d paths, %d panels", name, len(paths), len(d.Sheets[i].Placements))
			}
			for k, s := range paths {
				q, err := canvas.ParseSVGPath(s)
				if err != nil {
					t.Fatal(err)
				}
				area := 0.0
				for n, loop := range q.Flatten(0.00001).Split() {
					a := math.Abs(shoelace(loop.Coords()))
					if n > 0 {
						a = -a
					}
					area += a
				}
				area *= p.scale * p.scale
				if want := d.Sheets[i].Placements[k].Row.AreaMM2; math.Abs(area-want) > 0.0005*want {
					t.Errorf("%s %s, %s: %.2f mm2 drawn, %.2f in the list", name, d.Sheets[i].ID, d.Sheets[i].Placements[k].Row.Name, area, want)
				}
			}
		}
	}
}

func shoelace(p []canvas.Point) float64 {
	sum := 0.0
	for i, a := range p {
		b := p[(i+1)%len(p)]
		sum += a.X*b.Y - a.Y*b.X
	}
	return sum / 2
}

// Every map is well-formed, says what it must, and comes out the same again.
func TestContent(t *testing.T) {
	for name, d := range dossiers(t) {
		for i := range d.Sheets {
			b := draw(t, d, i)
			var text strings.Builder
			dec := xml.NewDecoder(bytes.NewReader(b))
			for {
				tok, err := dec.Token()
				if err == io.EOF {
					break
				}
				if err != nil {
					t.Fatalf("%s: %v", name, err)
				}
				if c, ok := tok.(xml.CharData); ok {
					text.Write(c)
					text.WriteByte('\n')
				}
			}
			for _, want := range []string{"scale 1:", "good face", "sheet " + d.Sheets[i].ID, plain(d.Sheets[i].Stock.Name)} {
				if !strings.Contains(text.String(), want) {
					t.Errorf("%s %s does not say %q", name, d.Sheets[i].ID, want)
				}
			}
			if !bytes.Equal(b, draw(t, d, i)) {
				t.Errorf("%s %s: drawn twice, different bytes", name, d.Sheets[i].ID)
			}
		}
	}
}

// rsvg-convert draws every map; the picture is not blank.
func TestRendered(t *testing.T) {
	tool, err := exec.LookPath("rsvg-convert")
	if err != nil {
		if os.Getenv("PANELYARD_NEED_TOOLS") != "" {
			t.Fatal("rsvg-convert is missing")
		}
		t.Skip("rsvg-convert is not installed")
	}
	for name, d := range dossiers(t) {
		if name == "nasty" {
			continue // the names are tried in TestContent; drawing them costs fonts
		}
		for i := range d.Sheets {
			file := filepath.Join(t.TempDir(), "map.svg")
			if err := os.WriteFile(file, draw(t, d, i), 0o644); err != nil {
				t.Fatal(err)
			}
			out, err := exec.Command(tool, "-w", "900", file).Output()
			if err != nil {
				t.Fatalf("%s %s: %v", name, d.Sheets[i].ID, err)
			}
			img, err := png.Decode(bytes.NewReader(out))
			if err != nil {
				t.Fatal(err)
			}
			dark := 0
			b := img.Bounds()
			for y := b.Min.Y; y < b.Max.Y; y++ {
				for x := b.Min.X; x < b.Max.X; x++ {
					if r, _, _, _ := img.At(x, y).RGBA(); r < 0x6000 {
						dark++
					}
				}
			}
			if share := float64(dark) / float64(b.Dx()*b.Dy()); share < 0.005 || share > 0.5 {
				t.Errorf("%s %s: %.1f %% of the picture is ink", name, d.Sheets[i].ID, 100*share)
			}
		}
	}
}

type failing struct{ n int }

var errFull = errors.New("disk full")

func (f *failing) Write(p []byte) (int, error) {
	if len(p) > f.n {
		n := f.n
		f.n = 0
		return n, errFull
	}
	f.n -= len(p)
	return len(p), nil
}

func TestWriterFails(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Saw)
	size := len(draw(t, d, 0))
	for n := 0; n < size; n += 97 {
		if err := Write(&failing{n}, d, 0); !errors.Is(err, errFull) {
			t.Fatalf("a disk full after %d of %d bytes gave %v", n, size, err)
		}
	}
}

func TestFast(t *testing.T) {
	d := exporttest.Dossier(t, many(), kerf.Saw)
	start := time.Now()
	const n = 40
	for range n {
		draw(t, d, 0)
	}
	if each := time.Since(start) / n; each > 150*time.Millisecond {
		t.Errorf("a map of %d panels takes %v: 200 would take over 30 s", len(d.Sheets[0].Placements), each)
	}
}

func TestShorten(t *testing.T) {
	if got := shorten("a very long name indeed", 2, 20); textWidth(got, 2) > 20 || !strings.HasSuffix(got, "…") {
		t.Errorf("%q is %.1f wide", got, textWidth(got, 2))
	}
	if got := shorten("short", 2, 20); got != "short" {
		t.Errorf("%q", got)
	}
}

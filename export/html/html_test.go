package html_test

import (
	"bytes"
	"context"
	"errors"
	"html"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"panelyard/export"
	"panelyard/export/exporttest"
	report "panelyard/export/html"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/jobfile"
	"panelyard/parts/length"
	"panelyard/parts/outline"
	"panelyard/parts/partstest"
)

func write(t *testing.T, d *export.Dossier) string {
	t.Helper()
	var b bytes.Buffer
	if err := report.Write(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// Names are text whatever is in them.
func TestNames(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), kerf.Saw)
	d.Job.Name = `<b>"kiosk" & sons</b>`
	s := write(t, d)
	if strings.Contains(s, `<script>alert`) || strings.Contains(s, "<b>\"kiosk\"") {
		t.Error("a name became markup")
	}
	text := html.UnescapeString(s)
	for _, n := range exporttest.Nasty {
		if !strings.Contains(text, n) {
			t.Errorf("the page does not show %q", n)
		}
	}
}

func TestUnplacedAndEmpty(t *testing.T) {
	j := exporttest.Job()
	for i := range j.Stock {
		j.Stock[i].Available = 0
	}
	s := write(t, exporttest.Dossier(t, j, kerf.Saw))
	if !strings.Contains(s, "Panels without a place") || !strings.Contains(s, "<bdi>side-left</bdi>: stock ran out") {
		t.Error("unplaced panels are not named")
	}
	j.Panels = nil
	if s := write(t, exporttest.Dossier(t, j, kerf.Saw)); !strings.Contains(s, "No sheets.") {
		t.Error("an empty plan does not say so")
	}
}

// browse has Chromium do something with a page, off the network, and returns what
// it prints.
func browse(t *testing.T, page string, args ...string) []byte {
	t.Helper()
	browser := partstest.Tool(t, "chromium")
	dir := t.TempDir()
	file := filepath.Join(dir, "report.html")
	if err := os.WriteFile(file, []byte(page), 0o644); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	all := append([]string{
		"--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
		"--disable-component-update", "--disable-sync", "--user-data-dir=" + filepath.Join(dir, "profile"),
	}, args...)
	out, err := exec.CommandContext(ctx, browser, append(all, "file://"+file)...).Output()
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Chromium shows the page with the figures of the dossier.
func TestChromium(t *testing.T) {
	t.Parallel()
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Saw)
	dom := string(browse(t, write(t, d), "--dump-dom"))
	for _, want := range []string{d.Totals.Cost.String() + " EUR", d.Bound.Text, "shelf", "S1"} {
		if !strings.Contains(html.UnescapeString(dom), want) {
			t.Errorf("the browser does not show %q", want)
		}
	}
	if n := strings.Count(dom, "<svg"); n < len(d.Sheets)+1 {
		t.Errorf("%d drawings in the browser, want %d maps and the bar", n, len(d.Sheets))
	}
}

// On a screen the page is not blank, and no wider than the window even with the
// longest names.
func TestScreenshot(t *testing.T) {
	t.Parallel()
	shot := filepath.Join(t.TempDir(), "page.png")
	page := write(t, exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), kerf.Saw))
	browse(t, page, "--window-size=1200,2400", "--hide-scrollbars", "--screenshot="+shot)
	f, err := os.Open(shot)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	b := img.Bounds()
	if b.Dx() != 1200 {
		t.Errorf("the picture is %d wide", b.Dx())
	}
	dark, margin := 0, 0
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			if r, _, _, _ := img.At(x, y).RGBA(); r < 0x8000 {
				dark++
				if x >= b.Max.X-8 {
					margin++
				}
			}
		}
	}
	if share := float64(dark) / float64(b.Dx()*b.Dy()); share < 0.01 || share > 0.3 {
		t.Errorf("%.1f %% of the page is ink", 100*share)
	}
	if margin > 0 {
		t.Errorf("%d dark dots in the right margin: something sticks out", margin)
	}
}

// Edges are told one by one, or as all when one band is on every edge.
func TestEdges(t *testing.T) {
	for _, c := range []struct {
		edging []string
		want   string
	}{
		{[]string{"oak 1", "oak 1", "oak 1", "oak 1"}, "all: oak 1"},
		{[]string{"oak 1", "", "", "oak 1"}, "bottom: oak 1|left: oak 1"},
		{[]string{"oak 1", "oak 2", "oak 1", "oak 1"}, "bottom: oak 1|right: oak 2|top: oak 1|left: oak 1"},
		{[]string{"", "", "", ""}, ""},
	} {
		j := exporttest.Job()
		j.Bands = append(j.Bands, j.Bands[0])
		j.Bands[1].Name = "oak 2"
		j.Panels = j.Panels[3:4]
		j.Panels[0].Edging = c.edging
		s := write(t, exporttest.Dossier(t, j, kerf.Saw))
		row := s[strings.Index(s, `<tr id="panel-1"`):]
		row = row[:strings.Index(row, "</tr>")]
		var got []string
		for _, m := range regexp.MustCompile(`<bdi>([^<]*: [^<]*)</bdi>`).FindAllStringSubmatch(row, -1) {
			got = append(got, m[1])
		}
		if g := strings.Join(got, "|"); g != c.want {
			t.Errorf("%q: the page says %q, want %q", c.edging, g, c.want)
		}
	}
}

// A job in inches has its report in inches.
func TestInches(t *testing.T) {
	j := exporttest.Job()
	j.Units = length.IN
	j.Panels = j.Panels[3:4]
	j.Panels[0].Outline = outline.Rectangle(20*length.Inch+length.Inch/4, 10*length.Inch)
	j.Panels[0].Edging = make([]string, 4)
	s := write(t, exporttest.Dossier(t, j, kerf.Saw))
	for _, want := range []string{"Sizes in inches", "20 1/4 × 10<"} {
		if !strings.Contains(s, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
}

func TestWriterFails(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Router)
	for _, n := range []int{0, 10, 5000} {
		if err := report.Write(&exporttest.Failing{Left: n}, d); !errors.Is(err, exporttest.ErrFull) {
			t.Errorf("a disk full after %d bytes gave %v", n, err)
		}
	}
}

// The page says where the openings are, what the bit does not enter, and measures of
// kerfs finer than its fractions.
func TestOpeningsAndKerfs(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Saw)
	s := write(t, d)
	for _, want := range []string{
		`<a href="#openings">Openings</a>`, `<section id="openings">`,
		`<bdi>display</bdi></td><td>rectangle, corners of radius 8</td><td class="k">500 × 280</td><td class="k">100; 180</td><td class="k"></td>`,
		`<bdi>loudspeaker left</bdi></td><td>round</td><td class="k">⌀ 90</td><td class="k">80; 50</td><td class="k">125; 95</td>`,
	} {
		if !strings.Contains(s, want) {
			t.Errorf("no %s", want)
		}
	}
	if strings.Contains(s, `id="router"`) {
		t.Error("notes of a router in a plan for the saw")
	}
	j := exporttest.Job()
	for _, x := range []length.Length{37, 69} {
		hole := outline.Circle(5 * length.Millimetre).Translate(geom.Pt(x*length.Millimetre, 20*length.Millimetre))
		j.Panels[3].Openings = append(j.Panels[3].Openings, parts.Opening{Name: "pin", Outline: hole})
	}
	s = write(t, exporttest.Dossier(t, j, kerf.Router))
	_, notes, _ := strings.Cut(s, `<section id="router">`)
	notes, _, _ = strings.Cut(notes, "</section>")
	want := `4 <bdi>shelf</bdi></td><td class="k">drill</td><td class="k">⌀ 5</td><td class="n">2</td><td class="n">3</td><td class="n">6</td><td><span class="k">(39.5; 21.5)</span>, <span class="k">(71.5; 21.5)</span></td>`
	if !strings.Contains(notes, want) {
		t.Errorf("no %s in %s", want, notes)
	}
	if n := strings.Count(s, "<td>does not enter: drill</td>"); n != 2 {
		t.Errorf("%d openings are marked, want 2", n)
	}
	j.Panels[3].Openings = nil
	j.Panels[2].Openings = nil
	if s := write(t, exporttest.Dossier(t, j, kerf.Saw)); strings.Contains(s, "openings\"") {
		t.Error("openings where there are none")
	}
	bends, list := jobfile.ReadVariant("../../testdata/jobs/good/bends.yaml", "")
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	bends.Figures = parts.Figures{Unit: length.IN, Fraction: 16}
	d = exporttest.Dossier(t, bends, kerf.Saw)
	s = write(t, d)
	n, w := 0, d.Lengths()
	for i := range d.Panels {
		if b := d.Panels[i].Item.Bend; b != nil {
			n++
			want := `<td class="n">` + w.Exact(b.Depth) + `</td><td class="n">` + w.Exact(b.Pitch) + `</td><td class="n">` + w.Exact(b.Gap) + `</td><td class="w">` + w.Exact(d.Panels[i].KerfsAt()[0]) + "; "
			if !strings.Contains(s, want) {
				t.Errorf("no %s", want)
			}
		}
	}
	if n == 0 || !strings.Contains(s, "saw, kerf "+w.Exact(d.Demand.Kerf)+" in") {
		t.Errorf("%d bends, or no kerf", n)
	}
}

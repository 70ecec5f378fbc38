package html_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"html"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"panelyard/export"
	"panelyard/export/exporttest"
	report "panelyard/export/html"
	"panelyard/kerf"
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

// The page is one file: no script, nothing from elsewhere, every id once, every
// link inside it has its end.
func TestSelfContained(t *testing.T) {
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		s := write(t, exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), cut))
		for _, not := range []string{"<script", "src=", "@import", "<link"} {
			if strings.Contains(s, not) {
				t.Errorf("%v: the page holds %q", cut, not)
			}
		}
		for _, m := range regexp.MustCompile(`(?:href|url)\s*[=(]\s*"?(https?:[^")]*)`).FindAllStringSubmatch(s, -1) {
			t.Errorf("%v: the page refers to %s", cut, m[1])
		}
		ids := map[string]int{}
		for _, m := range regexp.MustCompile(` id="([^"]*)"`).FindAllStringSubmatch(s, -1) {
			if ids[m[1]]++; ids[m[1]] > 1 {
				t.Errorf("%v: the id %q is given twice", cut, m[1])
			}
		}
		for _, m := range regexp.MustCompile(`(?:href="|url\()#([^")]*)`).FindAllStringSubmatch(s, -1) {
			if ids[m[1]] == 0 {
				t.Errorf("%v: a link leads to %q, which is not there", cut, m[1])
			}
		}
	}
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

// Printed, every map has a page to itself, at the scale it states: it is as wide
// as A4.
func TestPrint(t *testing.T) {
	t.Parallel()
	totext := partstest.Tool(t, "pdftotext")
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Saw)
	pdf := filepath.Join(t.TempDir(), "page.pdf")
	browse(t, write(t, d), "--no-pdf-header-footer", "--print-to-pdf="+pdf)
	out, err := exec.Command(totext, "-bbox", pdf, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	pages := strings.Split(string(out), "<page ")[1:]
	maps := 0
	word := regexp.MustCompile(`<word xMin="([\d.]+)" yMin="[\d.]+" xMax="([\d.]+)"`)
	for i, p := range pages {
		if !strings.Contains(p, ">scale<") || !strings.Contains(p, ">A4<") {
			continue
		}
		maps++
		if strings.Contains(p, ">Fence<") || strings.Contains(p, ">Finished<") {
			t.Errorf("page %d holds more than a map", i+1)
		}
		// The first and the last letters stand at the margins of the map, 9 mm from
		// the edges of A4.
		left, right := math.Inf(1), 0.0
		for _, m := range word.FindAllStringSubmatch(p, -1) {
			from, err1 := strconv.ParseFloat(m[1], 64)
			to, err2 := strconv.ParseFloat(m[2], 64)
			if err1 != nil || err2 != nil {
				t.Fatal(err1, err2)
			}
			left, right = min(left, from*25.4/72), max(right, to*25.4/72)
		}
		if math.Abs(left-9) > 0.6 || math.Abs(right-288) > 0.6 {
			t.Errorf("page %d: the map runs from %.2f to %.2f mm, want 9 to 288: it is not printed at its scale", i+1, left, right)
		}
	}
	if maps != len(d.Sheets) {
		t.Errorf("%d pages hold a map, want %d", maps, len(d.Sheets))
	}
}

// Two hundred sheets with more than two thousand panels take seconds.
func TestLarge(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), kerf.Saw)
	one := d.Sheets[0]
	d.Sheets = nil
	panels := 0
	for i := range 200 {
		one.ID = fmt.Sprintf("S%d", i+1)
		d.Sheets = append(d.Sheets, one)
		panels += len(one.Placements)
	}
	start := time.Now()
	s := write(t, d)
	took := time.Since(start)
	t.Logf("200 sheets, %d panels: %v, %.1f MB", panels, took, float64(len(s))/1e6)
	if took > 15*time.Second {
		t.Errorf("200 sheets with %d panels take %v", panels, took)
	}
	if n := strings.Count(s, `<section class="sheet"`); n != 200 {
		t.Errorf("%d maps, want 200", n)
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
		row := s[strings.Index(s, "<tbody><tr><td class=\"k\">"):]
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

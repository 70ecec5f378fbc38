package html_test

import (
	"bytes"
	"context"
	"errors"
	"html"
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
	if !strings.Contains(s, "Panels without a place") || !strings.Contains(s, "side-left: stock ran out") {
		t.Error("unplaced panels are not named")
	}
	j.Panels = nil
	if s := write(t, exporttest.Dossier(t, j, kerf.Saw)); !strings.Contains(s, "No sheets.") {
		t.Error("an empty plan does not say so")
	}
}

// Chromium shows the page with the figures of the dossier.
func TestChromium(t *testing.T) {
	tool, err := exec.LookPath("chromium")
	if err != nil {
		if os.Getenv("PANELYARD_NEED_TOOLS") != "" {
			t.Fatal("chromium is missing")
		}
		t.Skip("chromium is not installed")
	}
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Saw)
	dir := t.TempDir()
	file := filepath.Join(dir, "report.html")
	if err := os.WriteFile(file, []byte(write(t, d)), 0o644); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	out, err := exec.CommandContext(ctx, tool, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--disable-sync",
		"--user-data-dir="+filepath.Join(dir, "profile"), "--dump-dom", "file://"+file).Output()
	if err != nil {
		t.Fatal(err)
	}
	dom := string(out)
	for _, want := range []string{d.Totals.Cost.String() + " EUR", d.Bound.Text, "shelf", "S1"} {
		if !strings.Contains(html.UnescapeString(dom), want) {
			t.Errorf("the browser does not show %q", want)
		}
	}
	if n := strings.Count(dom, "<svg"); n < len(d.Sheets)+1 {
		t.Errorf("%d drawings in the browser, want %d maps and the bar", n, len(d.Sheets))
	}
}

type failing struct{ n int }

var errFull = errors.New("disk full")

func (f *failing) Write(p []byte) (int, error) {
	if len(p) > f.n {
		return f.n, errFull
	}
	f.n -= len(p)
	return len(p), nil
}

func TestWriterFails(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Router)
	for _, n := range []int{0, 10, 5000} {
		if err := report.Write(&failing{n}, d); !errors.Is(err, errFull) {
			t.Errorf("a disk full after %d bytes gave %v", n, err)
		}
	}
}

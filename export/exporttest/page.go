package exporttest

import (
	"context"
	"encoding/xml"
	"errors"
	"html"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"panelyard/parts/partstest"
)

// PageText returns the text of a page. It is an error when the page needs anything from
// elsewhere, is not well-formed, or holds what a template puts in place of what it refuses.
func PageText(tb testing.TB, page []byte) string {
	tb.Helper()
	for _, bad := range []string{"<script", "http:", "https:", "src=", "@import", "url(", "ZgotmplZ", "NaN"} {
		if strings.Contains(string(page), bad) {
			tb.Errorf("the page holds %q", bad)
		}
	}
	d := xml.NewDecoder(strings.NewReader(string(page)))
	var text strings.Builder
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return text.String()
		}
		if err != nil {
			tb.Fatalf("not well-formed: %v", err)
		}
		if s, ok := tok.(xml.CharData); ok {
			text.Write(s)
		}
	}
}

// InBrowser returns what Chromium, off the network, makes of a page, unescaped. The test
// is skipped where there is none.
func InBrowser(t *testing.T, page []byte) string {
	t.Helper()
	browser := partstest.Tool(t, "chromium")
	file := filepath.Join(t.TempDir(), "page.html")
	if err := os.WriteFile(file, page, 0o644); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	out, err := exec.CommandContext(ctx, browser, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
		"--disable-component-update", "--disable-sync", "--user-data-dir="+filepath.Join(t.TempDir(), "profile"), "--dump-dom", "file://"+file).Output()
	if err != nil {
		t.Fatal(err)
	}
	return html.UnescapeString(string(out))
}

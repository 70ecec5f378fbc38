package page

import (
	"bytes"
	"encoding/xml"
	"errors"
	"html/template"
	"strings"
	"testing"

	"panelyard/export/exporttest"
)

const source = `<html><head><style>{{style}}</style></head><body>{{shout .}}{{swatch 1}}</body></html>`

func funcs() template.FuncMap { return template.FuncMap{"shout": strings.ToUpper, "swatch": Swatch} }

// A page has its style and its text, escaped.
func TestWrite(t *testing.T) {
	var b bytes.Buffer
	if err := Write(&b, source, funcs(), "<b>ash & oak"); err != nil {
		t.Fatal(err)
	}
	if text := exporttest.PageText(t, b.Bytes()); !strings.HasSuffix(text, "<B>ASH & OAK") {
		t.Errorf("text %q", text)
	}
	if !strings.Contains(b.String(), "break-inside: avoid") || !strings.Contains(b.String(), Shade(1)) {
		t.Error("no style, or no shade")
	}
}

// A document is written whole or the error is said.
func TestFails(t *testing.T) {
	if err := Write(&exporttest.Failing{Left: 10}, source, funcs(), "x"); !errors.Is(err, exporttest.ErrFull) {
		t.Errorf("page: %v", err)
	}
	if err := JSON(&exporttest.Failing{Left: 1}, []int{1, 2}); !errors.Is(err, exporttest.ErrFull) {
		t.Errorf("JSON: %v", err)
	}
	for _, bad := range []string{"{{", "{{.None}}"} {
		var b bytes.Buffer
		if err := Write(&b, bad, nil, "x"); err == nil || b.Len() > 0 {
			t.Errorf("%q: %v, %d bytes", bad, err, b.Len())
		}
	}
}

// Text stays as it is, and numbers have no exponent.
func TestJSON(t *testing.T) {
	var b bytes.Buffer
	if err := JSON(&b, map[string]any{"name": "<ash & oak>", "n": Number(1e-7, 4)}); err != nil {
		t.Fatal(err)
	}
	if want := "{\n  \"n\": 0.0000,\n  \"name\": \"<ash & oak>\"\n}\n"; b.String() != want {
		t.Errorf("%q", b.String())
	}
}

// The segments of a bar lie side by side on one scale, those of nothing are left out,
// and the label is text.
func TestBar(t *testing.T) {
	got := Bar(`5 & "6"`, Segment{Share: 0.25}, Segment{}, Segment{Share: -1}, Segment{Share: 0.5, Shade: 3, Dashed: true})
	var svg struct {
		Label string `xml:"aria-label,attr"`
		Rects []struct {
			X     float64 `xml:"x,attr"`
			Width float64 `xml:"width,attr"`
			Fill  string  `xml:"fill,attr"`
			Dash  string  `xml:"stroke-dasharray,attr"`
		} `xml:"rect"`
	}
	if err := xml.Unmarshal([]byte(got), &svg); err != nil {
		t.Fatalf("%v\n%s", err, got)
	}
	if svg.Label != `5 & "6"` || len(svg.Rects) != 2 {
		t.Fatalf("%+v", svg)
	}
	if a, b := svg.Rects[0], svg.Rects[1]; a.X != 0 || a.Width != 250 || a.Fill != Shade(0) || a.Dash != "" || b.X != 250 || b.Width != 500 || b.Fill != Shade(3) || b.Dash == "" {
		t.Errorf("%+v", svg.Rects)
	}
	if strings.Contains(string(Swatch(3)), "dash") || !strings.Contains(string(DashedSwatch(3)), "dash") {
		t.Error("swatches")
	}
}

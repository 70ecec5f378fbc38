package html_test

import (
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/export/svgmap"
	"panelyard/kerf"
)

// pages are dossiers of all kinds: for both tools, with names that break careless
// writers, with shared blanks, good face down.
func pages(t *testing.T) map[string]*export.Dossier {
	t.Helper()
	down := exporttest.Job()
	down.Saw.FaceDown = true
	return map[string]*export.Dossier{
		"saw":       exporttest.Dossier(t, exporttest.Job(), kerf.Saw),
		"router":    exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), kerf.Router),
		"nasty":     exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), kerf.Saw),
		"stands":    exporttest.Dossier(t, exporttest.Stands(), kerf.Saw),
		"face down": exporttest.Dossier(t, down, kerf.Saw),
	}
}

// node is an element of a page that was read again.
type node struct{ *html.Node }

// parse reads a page by golang.org/x/net/html, as browsers do.
func parse(t *testing.T, page string) node {
	t.Helper()
	n, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	return node{n}
}

// attr returns an attribute, or nothing.
func (n node) attr(name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

// all returns the elements in n of a name, or of any.
func (n node) all(name string) []node {
	var list []node
	for d := range n.Descendants() {
		if d.Type == html.ElementNode && (name == "" || d.Data == name) {
			list = append(list, node{d})
		}
	}
	return list
}

// text returns what is written in n.
func (n node) text() string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
	}
	return strings.TrimSpace(b.String())
}

// within returns the nearest element around n that has an attribute.
func (n node) within(attr string) node {
	for p := n.Parent; p != nil; p = p.Parent {
		if q := (node{p}); q.attr(attr) != "" {
			return q
		}
	}
	return node{&html.Node{}}
}

// ids returns the elements by their ids, each of which must be given once.
func ids(t *testing.T, name string, root node) map[string]node {
	t.Helper()
	m := map[string]node{}
	for _, e := range root.all("") {
		id := e.attr("id")
		if id == "" {
			continue
		}
		if _, twice := m[id]; twice {
			t.Errorf("%s: the id %q is given twice", name, id)
		}
		m[id] = e
	}
	return m
}

// Every element that is opened is closed, in order; HTML Standard, 13.1.2: void
// elements are not closed, those of SVG may close themselves.
func TestWellFormed(t *testing.T) {
	void := []string{"meta", "input", "br", "link", "img", "hr"}
	for name, d := range pages(t) {
		z := html.NewTokenizer(strings.NewReader(write(t, d)))
		var open []string
		for {
			kind := z.Next()
			if kind == html.ErrorToken {
				if z.Err() != io.EOF {
					t.Errorf("%s: %v", name, z.Err())
				}
				break
			}
			tag, _ := z.TagName()
			switch kind {
			case html.StartTagToken:
				if !slices.Contains(void, string(tag)) {
					open = append(open, string(tag))
				}
			case html.EndTagToken:
				if len(open) == 0 || open[len(open)-1] != string(tag) {
					t.Fatalf("%s: %q is closed within %q", name, tag, open)
				}
				open = open[:len(open)-1]
			}
		}
		if len(open) > 0 {
			t.Errorf("%s: not closed: %q", name, open)
		}
	}
}

// The page is one file: nothing in it comes from elsewhere, the one script is ours and
// the one it allows, and no element does anything by an attribute.
func TestSelfContained(t *testing.T) {
	script, err := os.ReadFile("report.js")
	if err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(script)
	for name, d := range pages(t) {
		root := parse(t, write(t, d))
		scripts := root.all("script")
		if len(scripts) != 1 || len(scripts[0].Attr) > 0 || scripts[0].FirstChild.Data != string(script) {
			t.Errorf("%s: %d scripts, or not the one of the file", name, len(scripts))
		}
		policy := ""
		for _, e := range root.all("") {
			if e.attr("http-equiv") == "Content-Security-Policy" {
				policy = e.attr("content")
			}
			if slices.Contains([]string{"link", "img", "iframe", "object", "embed", "base", "form", "image", "foreignObject"}, e.Data) {
				t.Errorf("%s: the page holds <%s>", name, e.Data)
			}
			for _, a := range e.Attr {
				loads := a.Key == "src" || a.Key == "href" && !strings.HasPrefix(a.Val, "#") || strings.HasPrefix(a.Key, "on")
				if loads || strings.Contains(a.Val, "url(") && !strings.Contains(a.Val, "url(#") {
					t.Errorf("%s: <%s %s=%q>", name, e.Data, a.Key, a.Val)
				}
			}
		}
		for _, want := range []string{"default-src 'none';", "script-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "';"} {
			if !strings.Contains(policy, want) {
				t.Errorf("%s: the policy %q lacks %q", name, policy, want)
			}
		}
		style := root.all("style")[0].text()
		if strings.Contains(style, "url(") || strings.Contains(style, "@import") {
			t.Errorf("%s: the style loads something", name)
		}
	}
}

// Every link and reference has its end, every row links to all of its panels, and every
// panel links to its row.
func TestLinks(t *testing.T) {
	for name, d := range pages(t) {
		root := parse(t, write(t, d))
		at := ids(t, name, root)
		to := map[string][]string{} // ids that a row leads to
		for _, e := range root.all("") {
			for _, a := range e.Attr {
				_, ref, _ := strings.Cut(a.Val, "url(#")
				ref, _, _ = strings.Cut(ref, ")")
				if a.Key == "href" {
					ref = a.Val[1:]
				}
				if _, there := at[ref]; ref != "" && !there {
					t.Errorf("%s: a link leads to %q, which is not there", name, ref)
				}
			}
			if row := e.within("data-panel"); e.Data == "a" && row.Data == "tr" {
				to[row.attr("id")] = append(to[row.attr("id")], e.attr("href")[1:])
			}
		}
		panels := 0
		for i := range d.Sheets {
			m := &d.Sheets[i]
			for k := range m.Placements {
				pl := &m.Placements[k]
				row, kind := svgmap.RowID(pl.Row), svgmap.KindID(m.ID, pl.Row)
				panel, there := at[svgmap.CopyID(m.ID, pl.Row, pl.Copy)]
				if !there || panel.Data != "path" {
					t.Errorf("%s %s: %s copy %d is not on the map", name, m.ID, pl.Row.Name, pl.Copy)
					continue
				}
				panels++
				place := node{panel.Parent}
				if place.attr("id") != kind || place.attr("href") != "#"+row || place.attr("data-panel") != pl.Row.Key || place.attr("class") != "place" {
					t.Errorf("%s %s: the panel %s is in %v", name, m.ID, pl.Row.Name, place.Attr)
				}
				if !strings.Contains(place.all("title")[0].text(), pl.Row.Key+"  ") {
					t.Errorf("%s %s: the link of %s has no title", name, m.ID, pl.Row.Name)
				}
				if sheet := place.within("aria-label"); sheet.attr("aria-label") != "Map of sheet "+m.ID {
					t.Errorf("%s: a panel of %s is in %v", name, m.ID, sheet.Attr)
				}
				if !slices.Contains(to[row], kind) {
					t.Errorf("%s: the row of %s does not lead to %s", name, pl.Row.Name, m.ID)
				}
				if at[row].attr("data-panel") != pl.Row.Key || !strings.Contains(at[row].text(), pl.Row.Name) {
					t.Errorf("%s: the row of %s is %q", name, pl.Row.Name, at[row].text())
				}
			}
		}
		if panels != d.Totals.Panels || panels == 0 {
			t.Errorf("%s: %d panels on the maps of %d", name, panels, d.Totals.Panels)
		}
	}
}

// The row says how many copies are on which sheet, and the sheet what is on it.
func TestPlaces(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Stands(), kerf.Saw)
	root := parse(t, write(t, d))
	at := ids(t, "stands", root)
	for i := range d.Panels {
		r := &d.Panels[i]
		cells := at[svgmap.RowID(r)].all("td")
		var want []string
		for _, id := range export.Once(r.Sheets) {
			n := 0
			for _, s := range r.Sheets {
				if s == id {
					n++
				}
			}
			says := id
			if n > 1 {
				says += fmt.Sprintf("\u00a0×%d", n)
			}
			want = append(want, says)
			if on := at[id].text(); !strings.Contains(on, strings.Replace(says, id, r.Key+" "+r.Name, 1)) {
				t.Errorf("sheet %s does not say %q", id, says)
			}
		}
		if got := cells[len(cells)-1].text(); got != strings.Join(want, " ") {
			t.Errorf("%s is on %q, want %q", r.Name, got, want)
		}
	}
}

// Controls have names, the sizes of a map a choice of their own, and what is drawn a
// title: Web Content Accessibility Guidelines 2.2, 1.1.1 and 4.1.2.
func TestNamed(t *testing.T) {
	for name, d := range pages(t) {
		root := parse(t, write(t, d))
		for _, e := range root.all("button") {
			if e.text() == "" || e.attr("type") != "button" {
				t.Errorf("%s: a button %v says %q", name, e.Attr, e.text())
			}
		}
		chosen := map[string]int{}
		for _, e := range root.all("input") {
			if e.Parent.Data != "label" || (node{e.Parent}).text() == "" {
				t.Errorf("%s: %v has no label", name, e.Attr)
			}
			if slices.ContainsFunc(e.Attr, func(a html.Attribute) bool { return a.Key == "checked" }) {
				chosen[e.attr("name")]++
			}
		}
		for i := range d.Sheets {
			if id := d.Sheets[i].ID; chosen["size-"+id] != 1 {
				t.Errorf("%s: %d sizes of the map of %s are chosen", name, chosen["size-"+id], id)
			}
		}
		for _, e := range root.all("a") {
			if strings.HasPrefix(e.attr("href"), "#") && e.within("aria-hidden").Node.Data == "g" {
				t.Errorf("%s: the link %v is hidden", name, e.Attr)
			}
		}
		for _, e := range root.all("svg") {
			if e.attr("role") == "img" && len(e.all("a")) > 0 {
				t.Errorf("%s: links in a drawing that is read out as one thing", name)
			}
			if e.attr("aria-hidden") == "" && e.attr("aria-label") == "" && len(e.all("title")) == 0 {
				t.Errorf("%s: a drawing has no title", name)
			}
		}
		for _, e := range root.all("th") {
			if e.attr("scope") == "" {
				t.Errorf("%s: the header %q does not say of what", name, e.text())
			}
		}
		if root.all("html")[0].attr("lang") == "" || len(root.all("main")) != 1 || len(root.all("h1")) != 1 {
			t.Errorf("%s: no language, or not one main part and one headline", name)
		}
	}
}

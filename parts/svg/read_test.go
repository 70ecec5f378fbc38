package svg

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"panelyard/parts/drawing"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

const mm = length.Millimetre

// page is a drawing of 400 x 300 mm with a unit of 1 mm.
func page(body string) string {
	return `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="400mm" height="300mm" viewBox="0 0 400 300">` + body + `</svg>`
}

// read reads a drawing that has no mistake.
func read(t *testing.T, src string) (*drawing.Drawing, string) {
	t.Helper()
	d, list := Read("a.svg", []byte(src), Options{})
	if d == nil {
		t.Fatalf("%v in %s", list, src)
	}
	return d, list.Error()
}

// Areas by closed formulas, in mm2, and how many true arcs there are.
func TestShapes(t *testing.T) {
	for _, c := range []struct {
		body string
		area float64
		arcs int
	}{
		{`<rect x="10" y="20" width="100" height="50"/>`, 5000, 0},
		{`<rect width="100" height="50" rx="10"/>`, 5000 - (4-math.Pi)*100, 4},
		{`<rect width="100" height="50" rx="60"/>`, 50 * math.Pi * 25, 0}, // rx is cut to 50, ry follows: to 25
		{`<rect width="100" height="50" rx="20" ry="10"/>`, 5000 - (4-math.Pi)*200, 0},
		{`<circle cx="50" cy="50" r="40"/>`, math.Pi * 1600, 2},
		{`<ellipse cx="50" cy="50" rx="40" ry="20"/>`, math.Pi * 800, 0},
		{`<polygon points="0,0 100,0 100,50"/>`, 2500, 0},
		{`<polygon points="0 0,100 0 , 100 50"/>`, 2500, 0},
		{`<path d="M10 10h100v50h-100z"/>`, 5000, 0},
		{`<path d="M0 50A50 50 0 0 1 100 50Z"/>`, math.Pi * 1250, 1},
		{`<path d="M0 50A50 50 0 0 0 100 50Z"/>`, math.Pi * 1250, 1},
		{`<path d="M0 50a50,50 0 01100,0z"/>`, math.Pi * 1250, 1}, // flags without separators
		{`<path d="M0 0Q50 100 100 0Z"/>`, 100 * 100 / 3., 0},     // two thirds of the triangle's box: 2/3 * 100 * 50
		{`<path d="M0 0C0 100 100 100 100 0Z"/>`, 6000, 0},        // 3/5 of the box of the control points
		{`<g transform="translate(10,10) rotate(30) scale(2)"><circle r="20"/></g>`, math.Pi * 1600, 2},
		{`<g transform="rotate(90 50 50)"><rect width="100" height="50"/></g>`, 5000, 0},
		{`<g transform="scale(-1 1) translate(-200 0)"><path d="M0 50A50 50 0 0 1 100 50Z"/></g>`, math.Pi * 1250, 1},
		{`<g transform="scale(2 1)"><circle r="20" cx="40" cy="40"/></g>`, math.Pi * 800, 0},
		{`<g transform="skewX(30)"><rect width="100" height="50"/></g>`, 5000, 0},
		{`<g transform="skewY(20)"><rect width="100" height="50"/></g>`, 5000, 0},
		{`<g transform="matrix(0 1 -1 0 100 0)"><rect width="100" height="50" rx="10"/></g>`, 5000 - (4-math.Pi)*100, 4},
		{`<defs><rect id="r" width="100" height="50"/></defs><use href="#r" x="5" y="5"/>`, 5000, 0},
		{`<defs><circle id="c" r="10"/></defs><use xlink:href="#c" x="50" y="50" transform="scale(3)"/>`, math.Pi * 900, 2},
		{`<symbol id="s" viewBox="0 0 10 10"><rect width="10" height="10"/></symbol><use href="#s" width="80" height="40"/>`, 1600, 0},
		{`<symbol id="s" viewBox="0 0 10 10" preserveAspectRatio="none"><rect width="10" height="10"/></symbol><use href="#s" width="80" height="40"/>`, 3200, 0},
		{`<svg x="10" y="10" width="200" height="100" viewBox="0 0 20 20"><rect width="10" height="10"/></svg>`, 2500, 0},
		{`<rect width="25%" height="50%"/>`, 15000, 0},
		{`<rect width="96" height="48pt" transform="scale(1 1)"/>`, 96 * 64, 0},
		{`<g style="stroke:#000; display : inline"><rect width="10" height="10"/></g>`, 100, 0},
	} {
		d, said := read(t, page(c.body))
		if len(d.Pieces) != 1 || said != "" {
			t.Errorf("%s: %d pieces, %s", c.body, len(d.Pieces), said)
			continue
		}
		p := d.Pieces[0]
		arcs := 0
		for _, v := range p.Path {
			if v.Bulge != 0 {
				arcs++
			}
		}
		o := outline.Outline(p.Path)
		got := math.Abs(o.AreaMM2())
		slack := 1e-3 * math.Sqrt(c.area)
		if p.Within > 0 {
			slack = o.Perimeter().MM() * DefaultTolerance.MM()
		}
		if !p.Closed || math.Abs(got-c.area) > slack || arcs != c.arcs {
			t.Errorf("%s: closed %v, area %.4f, want %.4f; %d arcs, want %d", c.body, p.Closed, got, c.area, arcs, c.arcs)
		}
	}
}

// Sizes of pictures: units of CSS, viewBox, what is told when there is none.
func TestUnits(t *testing.T) {
	for _, c := range []struct {
		head  string
		opt   Options
		width float64 // of a rectangle of 96 units, in mm
		warns bool
	}{
		{`width="400mm" height="300mm" viewBox="0 0 400 300"`, Options{}, 96, false},
		{`width="40cm" height="30cm" viewBox="0 0 400 300"`, Options{}, 96, false},
		{`width="10in" height="10in" viewBox="0 0 10 10"`, Options{}, 96 * 25.4, false},
		{`width="960" height="960"`, Options{}, 25.4, false},
		{`width="960px" height="960px" viewBox="0 0 96 96"`, Options{}, 254, false},
		{`width="72pt" height="72pt" viewBox="0 0 96 96"`, Options{}, 25.4, false},
		{`width="6pc" height="6pc" viewBox="0 0 96 96"`, Options{}, 25.4, false},
		{`width="400mm" viewBox="0 0 400 300"`, Options{}, 96, false},
		{`width="400mm" height="600mm" viewBox="0 0 400 300"`, Options{}, 96, false}, // meet
		{`width="400mm" height="600mm" viewBox="0 0 400 300" preserveAspectRatio="xMidYMid slice"`, Options{}, 192, false},
		{`viewBox="0 0 400 300"`, Options{}, 25.4, true},
		{`width="100%" height="100%" viewBox="0 0 400 300"`, Options{}, 25.4, true},
		{``, Options{}, 25.4, true},
		{`viewBox="0 0 400 300"`, Options{Unit: length.MM}, 96, false},
		{``, Options{Unit: length.IN}, 96 * 25.4, false},
	} {
		d, list := Read("a.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" `+c.head+`><rect width="96" height="10"/></svg>`), c.opt)
		if d == nil {
			t.Errorf("%s: %v", c.head, list)
			continue
		}
		if got := d.Box().Dx().MM(); math.Abs(got-c.width) > 0.001 || (len(list) > 0) != c.warns {
			t.Errorf("%s: %.4f mm wide, want %.4f; %v", c.head, got, c.width, list)
		}
	}
}

// y points up from the bottom of the picture, and texts stand where they begin.
func TestPlaces(t *testing.T) {
	d, _ := read(t, page(`<rect x="10" y="20" width="100" height="50"/><text x="30" y="40">lid</text>
		<g transform="translate(5 5)"><text><tspan x="10" y="12">two</tspan> <tspan>words</tspan></text></g>`))
	b := d.Box()
	if b.Min.X != 10*mm || b.Min.Y != 230*mm || b.Max.Y != 280*mm {
		t.Errorf("the rectangle lies on %v", b)
	}
	if len(d.Texts) != 2 || d.Texts[0].At.X != 30*mm || d.Texts[0].At.Y != 260*mm || d.Texts[0].Content != "lid" {
		t.Fatalf("texts %+v", d.Texts)
	}
	if x := d.Texts[1]; x.At.X != 15*mm || x.At.Y != 283*mm || x.Content != "two words" {
		t.Errorf("text %+v", x)
	}
}

// Panels get their names from texts, titles and ids that a person wrote; layers from
// the group around them.
func TestNames(t *testing.T) {
	d, _ := read(t, page(`
		<g id="layer1" xmlns:x="urn:x" x:label="cut">
		  <rect id="side" x="0" y="0" width="90" height="50"/>
		  <rect id="rect42" x="100" y="0" width="90" height="50"/>
		  <rect id="p" x="200" y="0" width="90" height="50"><title>back  panel</title></rect>
		  <rect id="named" x="0" y="100" width="90" height="50"/>
		  <circle id="hole" cx="20" cy="20" r="5"/>
		</g>
		<g id="notes"><text x="10" y="120">lid</text></g>`))
	if len(d.Layers) != 1 || d.Layers[0].Name != "cut" || d.Texts[0].Layer != "notes" {
		t.Errorf("layers %v, text on %q", d.Layers, d.Texts[0].Layer)
	}
	panels, list := drawing.Panels(d, drawing.Options{})
	var names []string
	for _, p := range panels {
		names = append(names, p.Name)
	}
	if got := strings.Join(names, ", "); got != "side, panel 1, back panel, lid" || list.Err() != nil {
		t.Errorf("panels %s; %v", got, list)
	}
	if len(panels[0].Openings) != 1 || panels[0].Openings[0].Name != "hole" {
		t.Errorf("openings %+v", panels[0].Openings)
	}
}

// What is not read is told, once a kind; what is hidden is left out.
func TestNotRead(t *testing.T) {
	d, said := read(t, page(`<style>rect{display:none}</style><image href="a.png"/><image href="b.png"/>
		<g display="none"><rect width="10" height="10"/></g>
		<g visibility="hidden"><rect width="10" height="10"/><rect visibility="visible" width="20" height="20"/></g>
		<rect width="30" height="30" clip-path="url(#c)"/><foreignObject/>
		<clipPath id="c"><rect width="5" height="5"/></clipPath>`))
	if len(d.Pieces) != 2 {
		t.Errorf("%d pieces, want 2", len(d.Pieces))
	}
	for _, want := range []string{"style sheets are not read", "image is not read (2 in the file)", "not displayed", "hidden", "clip-path is not read", "foreignObject is not read"} {
		if !strings.Contains(said, want) {
			t.Errorf("nothing of %q in\n%s", want, said)
		}
	}
}

// What is wrong with a file: one line each, with its place and a remedy.
func TestBad(t *testing.T) {
	deep := strings.Repeat("<g>", 70) + strings.Repeat("</g>", 70)
	var laugh strings.Builder
	laugh.WriteString(`<defs><g id="g0"><rect width="1" height="1"/></g>`)
	for i := 1; i < 12; i++ {
		fmt.Fprintf(&laugh, `<g id="g%d">%s</g>`, i, strings.Repeat(fmt.Sprintf(`<use href="#g%d"/>`, i-1), 10))
	}
	laugh.WriteString(`</defs><use href="#g11"/>`)
	for _, c := range []struct{ src, want string }{
		{"", "is empty"},
		{"\x1f\x8b\x08", "compressed"},
		{"\xff\xfe<\x00", "not UTF-8"},
		{"<svg", "a.svg:1: cannot be understood as XML"},
		{"<html/>", "no svg element"},
		{"<!DOCTYPE svg [<!ENTITY a \"b\">]><svg/>", "defines entities"},
		{"<svg>&a;</svg>", "cannot be understood as XML"},
		{page(deep), "nested more than 64 deep"},
		{page(`<use href="#no"/>`), `use: uses "#no", which is not in the file`},
		{page(`<g id="a"><use href="#a"/></g>`), "in which it is itself"},
		{page(`<symbol id="a"><use href="#b"/></symbol><symbol id="b"><use href="#a"/></symbol><use href="#a"/>`), "in which it is itself"},
		{page(laugh.String()), "more than 100000 elements, repeated ones counted"},
		{page(`<rect id="x" width="3 furlong" height="1"/>`), `rect "x": width "3 furlong"`},
		{page(`<rect width="3foo" height="1"/>`), "a unit that is not known"},
		{page(`<path d="M0 0 L1"/>`), "path: its outline"},
		{page(`<path d="nonsense"/>`), "path: its outline"},
		{page(`<g transform="turn(3)"/>`), "turn with 1 numbers is no transformation"},
		{page(`<g transform="rotate(1 2"/>`), "is no transformation"},
		{page(`<g transform="scale(0)"><rect width="1" height="1"/></g>`), "leaves nothing of it"},
		{page(`<polygon points="0 0 1"/>`), "no pairs of numbers"},
		{page(`<rect width="1e9" height="1"/>`), "33.5 m"},
		{page(`<rect width="1e999" height="1"/>`), "is no length"},
		{`<svg width="-3mm" height="4mm"/>`, "is no size of a picture"},
		{`<svg viewBox="0 0 0 0"/>`, `viewBox "0 0 0 0" is none`},
	} {
		d, list := Read("a.svg", []byte(c.src), Options{})
		if d != nil || !strings.Contains(list.Error(), c.want) {
			t.Errorf("%.80s: %v, want %q", c.src, list, c.want)
			continue
		}
		for _, f := range list {
			if f.Remedy == "" || f.Pos.File == "" {
				t.Errorf("%.80s: no remedy or place: %v", c.src, f)
			}
		}
	}
	// All mistakes at once.
	if _, list := Read("a.svg", []byte(page("<rect width='a' height='b'/>\n<use href='#x'/>\n<path d='M'/>")), Options{}); len(list) < 4 {
		t.Errorf("%d findings: %v", len(list), list)
	}
}

// Whatever is in the file: no panic, and a drawing or a mistake.
func FuzzRead(f *testing.F) {
	for _, s := range []string{
		page(`<rect width="100" height="50" rx="10"/><circle r="3"/><ellipse rx="3" ry="4"/><line x2="3"/><polyline points="0 0 1 1"/>`),
		page(`<path d="M0 0c1 2 3 4 5 6s1 1 2 2q1 1 2 0t3 3a1 2 30 0 1 4 4z"/>`),
		page(`<g transform="matrix(1 2 3 4 5 6) skewX(3)"><use href="#a"/></g><symbol id="a" viewBox="0 0 1 1"><text x="1">a</text></symbol>`),
		`<?xml version="1.0" encoding="ISO-8859-1"?><svg/>`, "<svg", "",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		d, list := Read("a.svg", src, Options{})
		if (d == nil) != (list.Err() != nil) {
			t.Fatalf("drawing %v and %v", d, list)
		}
		if d == nil {
			return
		}
		for _, p := range d.Pieces {
			if len(p.Path) < 2 {
				t.Fatalf("a piece of %d vertices", len(p.Path))
			}
			for _, v := range p.Path {
				if math.IsNaN(v.Bulge) || math.IsInf(v.Bulge, 0) {
					t.Fatalf("bulge %v", v.Bulge)
				}
			}
		}
	})
}

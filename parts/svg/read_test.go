package svg

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"panelyard/parts/drawing"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// sheet is a drawing of 400 by 300 mm whose user unit is a millimetre.
func sheet(body string) string {
	return `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" xmlns:p="urn:example:program"
	width="400mm" height="300mm" viewBox="0 0 400 300">` + body + `</svg>`
}

// read reads a drawing without mistakes.
func read(t *testing.T, src string, opt Options) *drawing.Drawing {
	t.Helper()
	d, list := Read("a.svg", []byte(src), opt)
	if d == nil {
		t.Fatalf("%s\n%v", src, list)
	}
	return d
}

// Areas by closed formulas, and what stays a true arc.
func TestAreas(t *testing.T) {
	const pi = math.Pi
	rounded := 100*50 - (4-pi)*10*10
	for _, c := range []struct {
		name, body string
		area       float64 // mm2 of all closed pieces
		arcs       int
		flat       bool // something became lines
	}{
		{"rectangle", `<rect x="10" y="20" width="100" height="50"/>`, 5000, 0, false},
		{"round corners", `<rect width="100" height="50" rx="10"/>`, rounded, 4, false},
		{"one radius stands for both", `<rect width="100" height="50" ry="10" rx="auto"/>`, rounded, 4, false},
		{"radii no more than half the sides", `<rect width="100" height="50" rx="90" ry="25"/>`, pi * 50 * 25, 0, true},
		{"a lozenge", `<rect width="100" height="50" rx="25"/>`, 50*50 + pi*25*25, 4, false},
		{"elliptical corners", `<rect width="100" height="50" rx="20" ry="10"/>`, 5000 - (4-pi)*20*10, 0, true},
		{"circle", `<circle cx="5" cy="7" r="50"/>`, pi * 2500, 2, false},
		{"ellipse", `<ellipse cx="5" cy="7" rx="50" ry="20"/>`, pi * 1000, 0, true},
		{"an ellipse that is round", `<ellipse rx="50"/>`, pi * 2500, 2, false},
		{"polygon", `<polygon points="0,0 100-0 100,100"/>`, 5000, 0, false},
		{"path with an arc", `<path d="M0 0h100a50 50 0 0 1 0 100h-100z"/>`, 10000 + pi*2500/2, 1, false},
		{"three quarters", `<path d="M0 0L50 0A50 50 0 1 1 0-50z"/>`, pi * 2500 * 3 / 4, 2, false},
		{"a full circle but for a hair", `<path d="M100 100A50 50 0 1 1 100.00001 100z"/>`, pi * 2500, 2, false},
		{"two half arcs", `<path d="M0 0A50 50 0 0 0 100 0 50 50 0 0 0 0 0z"/>`, pi * 2500, 2, false},
		{"half axes scaled up", `<path d="M0 0A1 1 0 0 0 100 0z"/>`, pi * 2500 / 2, 1, false},
		{"half an ellipse", `<path d="M0 0A50 20 0 0 0 100 0z"/>`, pi * 1000 / 2, 0, true},
		// Over the chord a parabola has two thirds of its triangle, which is half of
		// what the control points have (Archimedes); a cubic with control points
		// straight above its ends 3/5 of the rectangle.
		{"quadratic", `<path d="M0 0Q50 120 100 0z"/>`, 100 * 120 / 2 * 2.0 / 3, 0, true},
		{"cubic", `<path d="M0 0C0 100 100 100 100 0z"/>`, 6000, 0, true},
		{"turned", `<rect width="100" height="50" rx="10" transform="rotate(33 7 8)"/>`, rounded, 4, false},
		{"turned, by six decimals", `<rect width="100" height="50" rx="10" transform="matrix(.838671 .544639 -.544639 .838671 0 0)"/>`, rounded, 4, false},
		{"mirrored", `<g transform="scale(-1 1) rotate(20)"><rect width="100" height="50" rx="10"/></g>`, rounded, 4, false},
		{"scaled", `<g transform="scale(1.5)"><rect width="100" height="50" rx="10"/></g>`, 2.25 * rounded, 4, false},
		{"uneven", `<g transform="scale(2 .5)"><circle r="50"/></g>`, pi * 2500, 0, true},
		{"uneven and back", `<g transform="scale(2 .5)"><circle r="50" transform="scale(.5 2)"/></g>`, pi * 2500, 2, false},
		{"skewed", `<g transform="skewX(30)skewY(10)"><path d="M0 0h100a50 50 0 0 1 0 100h-100z"/></g>`, 10000 + pi*2500/2, 0, true},
		{"percentages", `<rect width="25%" height="10%"/>`, 100 * 30, 0, false},
		{"a radius in percent", `<circle r="10%"/>`, pi * 0.01 * (400*400 + 300*300) / 2, 2, false},
		{"units", `<g transform="scale(.26458333333333333)"><rect width="100mm" height="2in"/></g>`, 100 * 50.8, 0, false},
		{"nested svg", `<svg x="10" y="10" width="100" height="100" viewBox="0 0 50 20"><rect width="50" height="20"/></svg>`, 100 * 40, 0, false},
		{"nested svg, stretched", `<svg width="100" height="100" viewBox="0 0 50 20" preserveAspectRatio="none"><rect width="50" height="20"/></svg>`, 100 * 100, 0, false},
		{"nested svg, sliced", `<svg width="100" height="100" viewBox="0 0 50 20" preserveAspectRatio="xMinYMin slice"><rect width="50" height="20"/></svg>`, 250 * 100, 0, false},
		{"percentages of a viewBox", `<svg width="100" height="100" viewBox="0 0 50 50"><rect width="50%" height="100%"/></svg>`, 50 * 100, 0, false},
		{"used", `<defs><rect id="a" width="10" height="10"/></defs><use href="#a"/><use xlink:href="#a" x="20" transform="scale(2)"/>`, 500, 0, false},
		{"href goes before xlink:href", `<defs><rect id="a" width="10" height="10"/></defs><use href="#a" xlink:href="#b"/>`, 100, 0, false},
		{"symbol", `<symbol id="s" viewBox="0 0 10 10"><rect width="10" height="10"/></symbol><use href="#s" width="40" height="30"/>`, 900, 0, false},
		{"a symbol without viewBox", `<symbol id="s"><rect width="10" height="10"/></symbol><use href="#s" width="40" height="30"/>`, 100, 0, false},
		{"a group used within another", `<g id="a"><rect width="10" height="10"/></g><g id="b" transform="translate(50)"><use href="#a" x="10"/></g><use href="#b" y="50"/>`, 300, 0, false},
		{"switch", `<switch><foreignObject requiredExtensions="urn:x"/><g><rect width="10" height="10"/></g><g><rect width="90" height="90"/></g></switch>`, 100, 0, false},
		{"link", `<a href="x"><rect width="10" height="10"/></a>`, 100, 0, false},
		{"not displayed", `<rect width="10" height="10"/><g style="fill:red;display: none !important"><rect width="90" height="90"/></g>`, 100, 0, false},
		{"not visible but for one", `<g visibility="hidden"><rect width="90" height="90"/><rect width="10" height="10" style="visibility:visible"/></g>`, 100, 0, false},
		{"what is not drawn where it stands", `<rect width="10" height="10"/><defs><rect width="90" height="90"/></defs><symbol><rect width="90" height="90"/></symbol>` +
			`<clipPath><rect width="90" height="90"/></clipPath><mask><circle r="9"/></mask><pattern><circle r="9"/></pattern><marker><circle r="9"/></marker>`, 100, 0, false},
		{"other namespaces", `<rect width="10" height="10"/><p:rect width="90" height="90"/><p:g><rect width="90" height="90"/></p:g>`, 100, 0, false},
		{"several loops in a path", `<path d="M0 0h100v100h-100zM10 10h10v10h-10z"/>`, 10100, 0, false},
		{"far out scales", `<g transform="scale(1e-9)"><rect width="1e11" height="1e11" rx="1e10"/></g>`, 10000 - (4-pi)*100, 4, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := read(t, sheet(c.body), Options{})
			area, around, arcs, flat := 0.0, 0.0, 0, false
			for _, p := range d.Pieces {
				o := outline.Outline(p.Path)
				area, around, flat = area+o.AreaMM2(), around+o.Perimeter().MM(), flat || p.Within > 0
				for _, v := range o {
					if v.Bulge != 0 {
						arcs++
					}
				}
				if !p.Closed {
					t.Errorf("%s is open", p.Entity)
				}
			}
			slack := around * 0.0002 // the grid
			if c.flat {
				slack = around * DefaultTolerance.MM()
			}
			if math.Abs(area-c.area) > slack || arcs != c.arcs || flat != c.flat {
				t.Errorf("area %.4f, want %.4f within %.4f; %d arcs, want %d; lines %v", area, c.area, slack, arcs, c.arcs, flat)
			}
		})
	}
}

// The size of a drawing: 96 user units across, by the units of CSS Values and Units
// Level 3, section 6.2, and the rules of SVG 2, section 8.2.
func TestSizes(t *testing.T) {
	for _, c := range []struct {
		head  string
		unit  length.Unit
		width float64 // mm
		warns string
	}{
		{`width="400mm" height="300mm" viewBox="0 0 400 300"`, length.Unit{}, 96, ""},
		{`width="40cm" height="30cm" viewBox="0 0 400 300"`, length.Unit{}, 96, ""},
		{`width="10in" height="10in" viewBox="0 0 960 960"`, length.Unit{}, 25.4, ""},
		{`width="72pt" height="72pt" viewBox="0 0 96 96"`, length.Unit{}, 25.4, ""},
		{`width="6pc" height="6pc" viewBox="0 0 96 96"`, length.Unit{}, 25.4, ""},
		{`width="40Q" height="40Q" viewBox="0 0 96 96"`, length.Unit{}, 10, ""},
		{`width="192px" height="192px" viewBox="0 0 96 96"`, length.Unit{}, 50.8, ""},
		{`width="400mm" height="300mm"`, length.Unit{}, 25.4, ""},
		{`width="400mm" viewBox="0 0 400 300"`, length.Unit{}, 96, ""},
		{`height="300mm" viewBox="0 0 400 300"`, length.MM, 96, ""},
		{`width="100%" height="300mm" viewBox="0 0 400 300"`, length.IN, 96, ""},
		{`width="400mm" height="900mm" viewBox="0 0 400 300"`, length.Unit{}, 96, ""},
		{`width="400mm" height="900mm" viewBox="0 0 400 300" preserveAspectRatio="xMinYMax slice"`, length.Unit{}, 288, ""},
		{`width="800mm" height="300mm" viewBox="0 0 400 300" preserveAspectRatio="none"`, length.Unit{}, 192, ""},
		{``, length.Unit{}, 25.4, "the drawing has no width and height; with px at 96 per inch it is 25.4 mm by 2.645875 mm"},
		{`viewBox="0 0 400 300"`, length.Unit{}, 25.4, "has no width and height"},
		{`width="100%" height="100%" viewBox="0 0 400 300"`, length.Unit{}, 25.4, `has no unit of length (width "100%", height "100%")`},
		{`width="960" height="960"`, length.Unit{}, 25.4, `has no unit of length (width "960", height "960")`},
		{`width="192" height="192" viewBox="0 0 96 96"`, length.Unit{}, 50.8, "has no unit of length"},
		{``, length.MM, 96, ""},
		{`viewBox="0 0 400 300"`, length.CM, 960, ""},
		{`width="192" height="192" viewBox="0 0 96 96"`, length.MM, 192, ""},
	} {
		d, list := Read("a.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" `+c.head+`><rect width="96" height="10"/></svg>`), Options{Unit: c.unit})
		if d == nil {
			t.Errorf("%s: %v", c.head, list)
			continue
		}
		if got := d.Box().Dx().MM(); math.Abs(got-c.width) > 0.0002 || (len(list) > 0) != (c.warns != "") || !strings.Contains(list.Error(), c.warns) {
			t.Errorf("%s: %v mm, want %v; %v", c.head, got, c.width, list)
		}
	}
	// A length with a unit is that long, whatever a user unit is.
	d := read(t, `<svg xmlns="http://www.w3.org/2000/svg"><rect width="20mm" height="1in"/></svg>`, Options{Unit: length.CM})
	if b := d.Box(); b.Dx() != 20*length.Millimetre || b.Dy() != length.Inch || d.Unit.Name != "cm" {
		t.Errorf("%v by %v, in %s", b.Dx(), b.Dy(), d.Unit.Name)
	}
}

// y is up from the bottom, and texts stand where their first character does.
func TestPlaces(t *testing.T) {
	d := read(t, sheet(`<rect x="10" y="20" width="100" height="50"/>
		<text x="30 40" y="40">lid</text>
		<g transform="translate(5 5)"><text> <tspan x="10" y="12">two</tspan> words<tspan x="10" dy="9">and a <tspan>line</tspan></tspan></text></g>
		<text x="1e9" y="0">far</text><text x="3"> </text><text display="none">hidden</text><text visibility="hidden">hidden</text>`), Options{})
	const mm = length.Millimetre
	if b := d.Box(); b.Min.X != 10*mm || b.Min.Y != 230*mm || b.Max.Y != 280*mm {
		t.Errorf("the rectangle lies at %v", b)
	}
	got := ""
	for _, x := range d.Texts {
		got += fmt.Sprintf("%q %v %v\n", x.Content, x.At.X, x.At.Y)
	}
	if want := "\"lid\" 30 mm 260 mm\n\"two words\\nand a line\" 15 mm 283 mm\n"; got != want {
		t.Errorf("texts\n%s, want\n%s", got, want)
	}
}

// What pieces are called and where they lie.
func TestNames(t *testing.T) {
	d := read(t, sheet(`
	<rect width="1" height="1" id="side" stroke="red" fill="blue"/>
	<g id="g12" fill="#abc"><rect width="1" height="1" id="rect7"/>
		<g p:label="CUT" id="layer1"><rect width="1" height="1"><title>back
			panel</title></rect>
			<g id="g-3.4"><rect width="1" height="1" id="shelf2" p:label="shelf two" style="stroke: none; fill: inherit"/></g>
			<g><title>HOLES</title><circle r="1" id="foot" style="stroke:url(#x)"/><text x="1">lid</text></g>
		</g>
	</g>
	<g id="parts"><use href="#foot" id="knob" x="3"/><use href="#foot" id="use9"/><use href="#g-3.4" id="all"/></g>
	<path id="frame" d="M1 1h2v2h-2zM0 0h9v9h-9z"/>`), Options{})
	got := ""
	for _, p := range d.Pieces {
		got += fmt.Sprintf("%s | %s | %s | %s\n", p.Entity, p.Name, p.Layer, p.Colour)
	}
	want := `rect, id side | side |  | red
rect, id rect7 |  | g12 | #abc
rect | back panel | CUT | #abc
rect, id shelf2 | shelf two | CUT | #abc
circle, id foot | foot | HOLES | url(#x)
circle, id foot, used in line 11 | knob | parts | url(#x)
circle, id foot, used in line 11 | foot | parts | url(#x)
rect, id shelf2, used in line 11 | shelf two | parts | 
path, id frame |  |  | 
path, id frame | frame |  | 
`
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if len(d.Texts) != 1 || d.Texts[0].Layer != "HOLES" || d.Texts[0].Line != 8 {
		t.Errorf("texts %+v", d.Texts)
	}
}

// Which ids look as if a program had made them up.
func TestGenerated(t *testing.T) {
	for id, want := range map[string]bool{
		"path1234": true, "g12-3": true, "rect_7": true, "p1": true,
		"side": false, "": false, "shelf2a": false, "1234": false, "left-side": false, "a-": false,
	} {
		if generated(id) != want {
			t.Errorf("%q: %v", id, !want)
		}
	}
}

// What is not read is told once a kind, and nothing else.
func TestNotes(t *testing.T) {
	_, list := Read("a.svg", []byte(`<?xml-stylesheet href="a.css"?>`+sheet(`<style>rect{display:none}</style>
	<image/><image/><foreignObject><p>rect</p></foreignObject><g display="none"><rect/></g><rect width="1" height="1" visibility="collapse"/>
	<rect width="9" height="9" clip-path="url(#a)"><animate/></rect><circle/><path/><polyline points="1 1"/><set/><switch/><title>x</title><metadata/><linearGradient/>`)), Options{})
	got := list.Error()
	for _, want := range []string{
		"a.svg:1: warning: styles of a style element or another file are not read (2 in the drawing)",
		"a.svg:3: warning: image is not read (2 ", "a.svg:3: warning: foreignObject is not read (1 ",
		"a.svg:3: warning: what is not displayed (display: none) is ignored (1 ", "a.svg:3: warning: what is not visible (visibility) is ignored (1 ",
		"a.svg:4: warning: clip-path and mask are not applied", "a.svg:4: warning: animations are not read (1 ",
		"a.svg:4: warning: shapes without a size draw nothing (3 ", "a.svg:4: warning: of a switch the first part",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("nothing of %q in\n%s", want, got)
		}
	}
	if len(list) != 9 {
		t.Errorf("%d findings:\n%s", len(list), got)
	}
	for _, f := range list {
		if f.Remedy == "" {
			t.Errorf("no remedy: %v", f)
		}
	}
}

// The characters of a file.
func TestCharacters(t *testing.T) {
	const name = "Tür"
	latin, err := charmap.ISO8859_1.NewEncoder().String(name)
	if err != nil {
		t.Fatal(err)
	}
	wide := func(order unicode.Endianness, bom unicode.BOMPolicy, s string) string {
		out, err := unicode.UTF16(order, bom).NewEncoder().String(s)
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	body := func(name string) string {
		return `<svg xmlns="http://www.w3.org/2000/svg" width="9mm"><text>` + name + `</text></svg>`
	}
	for what, src := range map[string]string{
		"UTF-8":                       body(name),
		"UTF-8 with a mark":           "\ufeff" + body(name),
		"said to be UTF-8":            `<?xml version="1.0" encoding="utf-8"?>` + body(name),
		"ISO-8859-1":                  `<?xml version="1.0" encoding="ISO-8859-1"?>` + body(latin),
		"windows-1252":                `<?xml version="1.0" encoding="windows-1252"?>` + body(latin),
		"UTF-16 little, with a mark":  wide(unicode.LittleEndian, unicode.UseBOM, `<?xml version="1.0" encoding="UTF-16"?>`+body(name)),
		"UTF-16 big, with a mark":     wide(unicode.BigEndian, unicode.UseBOM, body(name)),
		"UTF-16 little, without":      wide(unicode.LittleEndian, unicode.IgnoreBOM, `<?xml version="1.0" encoding="UTF-16"?>`+body(name)),
		"UTF-16 big, without":         wide(unicode.BigEndian, unicode.IgnoreBOM, body(name)),
		"character references":        body("T&#252;r"),
		"a document type without any": `<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">` + body(name),
	} {
		d, list := Read("a.svg", []byte(src), Options{})
		if d == nil || len(d.Texts) != 1 || d.Texts[0].Content != name || len(list) > 0 || !IsSVG([]byte(src)) {
			t.Errorf("%s: %+v, %v", what, d, list)
		}
	}
	if IsSVG([]byte("  0\nSECTION\n")) || IsSVG(nil) || !IsSVG([]byte("\x1f\x8b")) {
		t.Error("another kind of file is taken for SVG")
	}
}

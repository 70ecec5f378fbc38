package dxf

import (
	"math"
	"strings"
	"testing"

	"panelyard/parts/drawing"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

const mm = length.Millimetre

// read reads a file that has no mistake.
func read(t *testing.T, src string) (*drawing.Drawing, string) {
	t.Helper()
	d, list := Read("a", []byte(src), Options{})
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	return d, list.Error()
}

// Lines, arcs and bulges are exact: ends on the grid, bulges tan(angle/4) by the
// definition of the format.
func TestExact(t *testing.T) {
	d, said := read(t, entities(
		"0", "LINE", "5", "2F", "8", "CUT", "62", "3", "10", "1.5", "20", "-2", "11", "1e2", "21", "0.001",
		"0", "CIRCLE", "420", "16711680", "10", "10", "20", "20", "40", "5",
		"0", "ARC", "10", "0", "20", "0", "40", "10", "50", "0", "51", "90",
		"0", "ARC", "10", "0", "20", "0", "40", "10", "50", "350", "51", "270",
		"0", "LWPOLYLINE", "70", "0", "10", "0", "20", "0", "42", "0.25", "10", "10", "20", "0", "42", "9",
		"0", "LWPOLYLINE", "70", "1", "210", "0", "220", "0", "230", "-1", "10", "0", "20", "0", "42", "0.25", "10", "10", "20", "0",
	))
	if said != "" {
		t.Error(said)
	}
	p := d.Pieces
	if len(p) != 6 {
		t.Fatalf("%d pieces", len(p))
	}
	if l := p[0]; l.Source.String() != "LINE, handle 2F, line 16" || l.Layer != "CUT" || l.Colour != "3" || l.Closed || l.Within != 0 ||
		l.Path[0].At != geom.Pt(12000, -2*mm) || l.Path[1].At != geom.Pt(100*mm, 8) {
		t.Errorf("%+v", l)
	}
	if c := p[1]; !c.Closed || len(c.Path) != 2 || c.Path[0].At != geom.Pt(15*mm, 20*mm) || c.Path[1].At != geom.Pt(5*mm, 20*mm) ||
		math.Abs(c.Path[0].Bulge-1) > 1e-12 || c.Colour != "#ff0000" || c.Layer != "0" {
		t.Errorf("%+v", c)
	}
	if a := p[2]; a.Closed || len(a.Path) != 2 || a.Path[0].At != geom.Pt(10*mm, 0) || a.Path[1].At != geom.Pt(0, 10*mm) ||
		math.Abs(a.Path[0].Bulge-math.Tan(math.Pi/8)) > 1e-12 || a.Path[1].Bulge != 0 {
		t.Errorf("%+v", a)
	}
	// 280 degrees are two arcs of 140.
	if a := p[3]; len(a.Path) != 3 || math.Abs(a.Path[0].Bulge-math.Tan(35*math.Pi/180)) > 1e-12 || a.Path[2].At != geom.Pt(0, -10*mm) {
		t.Errorf("%+v", a)
	}
	if l := p[4]; l.Closed || l.Path[0].Bulge != 0.25 || l.Path[1].Bulge != 0 {
		t.Errorf("%+v", l)
	}
	if l := p[5]; !l.Closed || l.Path[0].Bulge != -0.25 || l.Path[1].At != geom.Pt(-10*mm, 0) {
		t.Errorf("%+v", l)
	}
}

// In a block layer 0 and the colour BYBLOCK are those of the INSERT, and findings
// say where the block was inserted.
func TestBlocks(t *testing.T) {
	d, _ := read(t, withBlocks(
		blockOf("In", "0", "CIRCLE", "8", "0", "62", "0", "10", "0", "20", "0", "40", "1", "0", "CIRCLE", "8", "HOLE", "10", "5", "20", "0", "40", "1")+
			blockOf("OUT", insertOf("IN", "62", "0")...),
		insertOf("out", "8", "CUT", "62", "5")...))
	if len(d.Pieces) != 2 {
		t.Fatal(d.Pieces)
	}
	a, b := d.Pieces[0], d.Pieces[1]
	if a.Layer != "CUT" || a.Colour != "5" || a.Entity != `CIRCLE in block "In" inserted in line 74` || b.Layer != "HOLE" || b.Colour != "" {
		t.Errorf("%+v, %+v", a, b)
	}
}

// What is read although something is odd, and what is said of it.
func TestOddFiles(t *testing.T) {
	line := []string{"0", "LINE", "8", "A", "10", "0", "20", "0", "11", "1", "21", "1"}
	section := func(rows ...string) string {
		return file("0", "SECTION", "2", "ENTITIES") + file(rows...) + file("0", "ENDSEC", "0", "EOF")
	}
	for _, c := range []struct {
		name, src string
		pieces    int
		says      string
	}{
		{"CRLF", strings.ReplaceAll(entities(line...), "\n", "\r\n"), 1, ""},
		{"byte order mark", "\ufeff" + entities(line...), 1, ""},
		{"blanks about codes", strings.ReplaceAll(entities(line...), "\n8\n", "\n  8 \n"), 1, ""},
		{"comments", "999\nmade for a test\n" + entities(append([]string{"999", "a line"}, line...)...), 1, ""},
		{"no last line end", strings.TrimSuffix(entities(line...), "\n"), 1, ""},
		{"after the end", entities(line...) + "junk\n", 1, ""},
		{"no unit", section(line...), 1, "a: warning: the drawing tells no unit ($INSUNITS); read in mm it is 1 mm by 1 mm"},
		{"at a height", entities(append(line, "30", "18")...), 1, "a:16: warning: LINE: lies at a height, as 1 in all do"},
		{"paper space only", entities("0", "LINE", "67", "1", "10", "0"), 0, "all 1 entities are on paper space"},
		{"invisible", entities("0", "LINE", "60", "1", "10", "0"), 0, ""},
		{"other kinds", entities("0", "POINT", "10", "0", "0", "POINT", "0", "3DSOLID", "0", "POLYLINE", "70", "16", "0", "VERTEX", "10", "1", "0", "SEQEND"), 0, "POINT is not read (2 in the file)"},
		{"unknown sections", file("0", "SECTION", "2", "THUMBNAILIMAGE", "90", "3", "310", "0A", "0", "ENDSEC") + entities(line...), 1, ""},
		{"attached data", entities(append(line, "102", "{APP", "10", "99", "102", "}", "1001", "APP", "1010", "5")...), 1, ""},
		{"POLYLINE without end", entities(append([]string{"0", "POLYLINE", "0", "VERTEX", "10", "0", "20", "0", "0", "VERTEX", "10", "5", "20", "0"}, line...)...), 2, ""},
		{"fit and control points", entities("0", "SPLINE", "71", "1", "40", "0", "40", "0", "40", "1", "40", "1", "10", "0", "20", "0", "10", "5", "20", "5", "11", "0", "21", "0"), 1, ""},
		{"a layer that cannot be read", file("0", "SECTION", "2", "TABLES", "0", "TABLE", "2", "LAYER", "0", "LAYER", "2", "A", "70", "x", "0", "ENDTAB", "0", "ENDSEC") + entities(line...), 1, "the layer cannot be read"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, said := read(t, c.src)
			if len(d.Pieces) != c.pieces || !strings.Contains(said, c.says) || c.says == "" && said != "" {
				t.Errorf("%d pieces, %q", len(d.Pieces), said)
			}
		})
	}
}

// The units of the header (the published reference, from memory) and of the caller.
func TestUnits(t *testing.T) {
	with := func(code string) string {
		return strings.Replace(entities("0", "LINE", "10", "0", "20", "0", "11", "1", "21", "0"), "\n4\n", "\n"+code+"\n", 1)
	}
	for code, want := range map[string]length.Length{
		"1": length.Inch, "2": length.Foot, "4": mm, "5": length.Centimetre, "6": length.Metre, "10": 3 * length.Foot, "13": length.Micrometre, "14": 100 * mm, "0": length.Inch,
	} {
		d, list := Read("a", []byte(with(code)), Options{Unit: length.IN})
		if list.Err() != nil || d.Pieces[0].Path[1].At.X != want || d.Unit.Size != want {
			t.Errorf("unit %s: %+v %v, want %v", code, d, list, want)
		}
		if len(list) != 0 {
			t.Errorf("unit %s, and the caller says one: %v", code, list)
		}
		if _, list := Read("a", []byte(with(code)), Options{}); (len(list) != 0) != (code == "0") {
			t.Errorf("unit %s: %v", code, list)
		}
	}
	for _, code := range []string{"3", "7", "-1", "99", "mm", ""} {
		if d, list := Read("a", []byte(with(code)), Options{}); d != nil || !strings.Contains(list.Error(), "$INSUNITS, the unit of the drawing, is") {
			t.Errorf("unit %q: %v", code, list)
		}
	}
}

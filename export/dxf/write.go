package dxf

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"

	"panelyard/parts/length"
)

// Flavour is a version of the format.
type Flavour int

// The flavours; see the package comment.
const (
	R12 Flavour = iota
	R2000
	flavours // their number
)

// flavourTable has what the header says of each flavour.
var flavourTable = [flavours]struct{ name, version, codePage string }{
	R12:   {"R12", "AC1009", "ascii"},
	R2000: {"R2000", "AC1015", "ANSI_1252"},
}

// String returns R12 or R2000.
func (f Flavour) String() string { return flavourTable[f].name }

// Write writes a drawing. The error is the writer's first, or says that the drawing
// is in another unit than millimetres or inches, and then nothing is written. The
// same drawing gives the same bytes. Cost: linear in the vertices.
func Write(w io.Writer, d Drawing, f Flavour) error {
	codes, ok := unitTable[d.Units.Name]
	if !ok {
		return fmt.Errorf("a DXF file is in mm or in, not in %q", d.Units.Name)
	}
	p := &pen{w: bufio.NewWriter(w), flavour: f, unit: float64(d.Units.Size), handle: firstHandle}
	p.header(d, codes)
	if f == R2000 {
		p.section("CLASSES", p.classes)
	}
	p.section("TABLES", func() { p.tables(d) })
	if f == R2000 {
		p.section("BLOCKS", p.blocks)
	}
	p.section("ENTITIES", func() {
		for _, e := range d.Entities {
			e.Shape.write(p, e.Layer)
		}
	})
	if f == R2000 {
		p.section("OBJECTS", p.objects)
	}
	p.text(0, "EOF")
	return p.w.Flush() // the first error, if there was one
}

// units are the codes of a unit in the header.
type units struct{ insUnits, measurement int }

// unitTable has the codes by the names of the units.
var unitTable = map[string]units{length.MM.Name: {4, 1}, length.IN.Name: {1, 0}}

// pen writes groups: a code and a value, each on its line. An error is kept by its
// buffer and comes out of Flush.
type pen struct {
	w       *bufio.Writer
	flavour Flavour
	unit    float64 // of the file, in ours
	handle  int     // the next that is free; R2000 only
}

func (p *pen) text(code int, value string) { fmt.Fprintf(p.w, "%3d\r\n%s\r\n", code, value) }

func (p *pen) whole(code, value int) { p.text(code, strconv.Itoa(value)) }

func (p *pen) hex(code, handle int) { p.text(code, strconv.FormatInt(int64(handle), 16)) }

// decimals are those of a coordinate; the package comment says what they give.
const decimals = 10

// number writes a number with a point and no exponent, which some readers do not
// know.
func (p *pen) number(code int, v float64) {
	s := strings.TrimRight(strconv.FormatFloat(v, 'f', decimals, 64), "0")
	if s == "-0." {
		s = "0."
	}
	if strings.HasSuffix(s, ".") {
		s += "0"
	}
	p.text(code, s)
}

// size writes a length, given in our units, in those of the file.
func (p *pen) size(code int, units float64) { p.number(code, units/p.unit) }

// place writes x, y and z of a point given in our units; z is 0.
func (p *pen) place(code int, x, y float64) {
	p.size(code, x)
	p.size(code+10, y)
	p.number(code+20, 0)
}

// flat writes x and y of a point given in our units.
func (p *pen) flat(code int, x, y float64) {
	p.size(code, x)
	p.size(code+10, y)
}

// bulge writes a bulge with all its digits.
func (p *pen) bulge(v float64) { p.text(42, strconv.FormatFloat(v, 'f', -1, 64)) }

// section writes a section.
func (p *pen) section(name string, content func()) {
	p.text(0, "SECTION")
	p.text(2, name)
	content()
	p.text(0, "ENDSEC")
}

// header writes the header variables.
func (p *pen) header(d Drawing, codes units) {
	b := extent(d)
	variable := func(name string) { p.text(9, name) }
	p.section("HEADER", func() {
		variable("$ACADVER")
		p.text(1, flavourTable[p.flavour].version)
		if p.flavour == R2000 {
			variable("$HANDSEED")
			p.hex(5, firstHandle+len(d.Entities))
		}
		variable("$DWGCODEPAGE")
		p.text(3, flavourTable[p.flavour].codePage)
		variable("$INSUNITS")
		p.whole(70, codes.insUnits)
		variable("$MEASUREMENT")
		p.whole(70, codes.measurement)
		variable("$EXTMIN")
		p.place(10, b.x0, b.y0)
		variable("$EXTMAX")
		p.place(10, b.x1, b.y1)
	})
}

// extent returns the box of all entities; the zero box when there is none.
func extent(d Drawing) box {
	if len(d.Entities) == 0 {
		return box{}
	}
	b := d.Entities[0].Shape.box()
	for _, e := range d.Entities[1:] {
		b = b.union(e.Shape.box())
	}
	return b
}

// tables writes the tables: first those that both flavours need.
func (p *pen) tables(d Drawing) {
	p.table("VPORT", tableVPort, 1)
	p.viewport(extent(d))
	p.text(0, "ENDTAB")

	lines := []string{"CONTINUOUS"}
	if p.flavour == R2000 {
		lines = []string{"ByBlock", "ByLayer", "Continuous"}
	}
	p.table("LTYPE", tableLType, len(lines))
	for i, name := range lines {
		p.record("LTYPE", "AcDbLinetypeTableRecord", tableLType, handleLines+i, name)
		p.text(3, "")
		p.whole(72, 'A')
		p.whole(73, 0)
		p.number(40, 0)
	}
	p.text(0, "ENDTAB")

	p.table("LAYER", tableLayer, int(layers)+1)
	p.layer(handleLayers, "0", 7)
	for l := range layers {
		p.layer(handleLayers+1+int(l), l.String(), layerTable[l].colour)
	}
	p.text(0, "ENDTAB")

	p.table("STYLE", tableStyle, 1)
	p.record("STYLE", "AcDbTextStyleTableRecord", tableStyle, handleStyle, styleName)
	p.number(40, 0) // height: each text has its own
	p.number(41, 1) // width of letters
	p.number(50, 0)
	p.whole(71, 0)
	p.size(42, float64(textHeights[0]))
	p.text(3, "txt")
	p.text(4, "")
	p.text(0, "ENDTAB")

	if p.flavour == R2000 {
		p.moreTables()
	}
}

// styleName is the one style of texts.
const styleName = "STANDARD"

// layer writes a layer of the table.
func (p *pen) layer(handle int, name string, colour int) {
	p.record("LAYER", "AcDbLayerTableRecord", tableLayer, handle, name)
	p.whole(62, colour)
	p.text(6, "CONTINUOUS")
	if p.flavour == R2000 {
		p.hex(390, handlePlotStyle)
	}
}

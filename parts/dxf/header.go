package dxf

import (
	"fmt"
	"strconv"
	"strings"

	"golang.org/x/text/encoding/charmap"

	"panelyard/parts/drawing"
	"panelyard/parts/length"
)

// header is what is read of the header.
type header struct {
	version string // of the format, as AC1032
	page    string
	units   int // $INSUNITS; 0 is none
	line    int // of the units
}

// readHeader reads the section of header variables: a name with code 9, then its
// values.
func (r *reader) readHeader(g *groups) error {
	name := ""
	for {
		h, err := g.next()
		if err != nil {
			return err
		}
		value := strings.TrimSpace(h.value)
		switch {
		case h.code == 0 && strings.EqualFold(value, "ENDSEC"):
			return nil
		case h.code == 0:
			return fmt.Errorf("the header has no ENDSEC before %q", clip(value))
		case h.code == 9:
			name = strings.ToUpper(value)
		case name == "$ACADVER":
			r.header.version = strings.ToUpper(value)
		case name == "$DWGCODEPAGE":
			r.header.page = value
		case name == "$INSUNITS":
			r.header.line = h.line
			if r.header.units, err = strconv.Atoi(value); err != nil {
				r.header.units = none
			}
		}
	}
}

// none is the code of a unit that is no number.
const none = -1

// characters settles how the texts are coded; valid says that the file is valid
// UTF-8.
func (r *reader) characters(valid bool) {
	r.settled = true
	const utf8Since = "AC1021"
	if valid && (r.header.version >= utf8Since || !wide(r.header.page)) {
		return
	}
	r.page = codePage(r.header.page)
	if r.page == nil {
		r.page = charmap.Windows1252
		if !valid {
			r.list.Warn(r.pos(0), "", fmt.Sprintf("the code page %q of the texts is not known; it is taken for ANSI_1252", clip(r.header.page)), "save the drawing as 2007 or later, whose texts are UTF-8")
		}
	}
}

// wide reports whether a code page has characters of two bytes: two of them may
// look like UTF-8.
func wide(page string) bool {
	for _, n := range []string{"932", "936", "949", "950"} {
		if strings.HasSuffix(page, n) {
			return true
		}
	}
	return false
}

// units are the lengths of $INSUNITS in grid units (the published DXF reference,
// from memory). Those that are no whole number of grid units, or far too large for
// a panel, are not among them.
func units(code int) (length.Unit, bool) {
	switch code {
	case 1:
		return length.IN, true
	case 2:
		return length.FT, true
	case 4:
		return length.MM, true
	case 5:
		return length.CM, true
	case 6:
		return length.M, true
	case 10:
		return length.Unit{Name: "yd", Size: 3 * length.Foot}, true
	case 13:
		return length.Unit{Name: "um", Size: length.Micrometre}, true
	case 14:
		return length.Unit{Name: "dm", Size: 10 * length.Centimetre}, true
	}
	return length.Unit{}, false
}

// unit returns the unit of the drawing and reports one that cannot be read.
func (r *reader) unit() length.Unit {
	if r.header.units == 0 {
		return r.opt.Unit
	}
	u, ok := units(r.header.units)
	if !ok {
		r.list.Add(r.pos(r.header.line), "", fmt.Sprintf("$INSUNITS, the unit of the drawing, is %d, which is not read", r.header.units),
			"save the drawing in millimetres (4) or inches (1)")
		return length.MM
	}
	return u
}

// sayUnit warns when the file tells no unit, and says how large the drawing is in
// the one that is taken.
func (r *reader) sayUnit(d *drawing.Drawing) {
	if r.header.units != 0 || r.told || len(d.Pieces) == 0 {
		return
	}
	box := d.Box()
	r.list.Warn(r.pos(r.header.line), "", fmt.Sprintf("the drawing tells no unit ($INSUNITS); read in %s it is %s by %s", d.Unit.Name, box.Dx(), box.Dy()),
		"set the unit in the drawing program, or say which it is")
}

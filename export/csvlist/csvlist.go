// Package csvlist writes the panels as comma-separated values for other
// programs.
//
//	*export.Dossier -> cutlist.csv
//
// The file is UTF-8 without a byte order mark: a header row, then a row a panel
// in the order of the job, quoted as RFC 4180 says but with line feeds as line
// ends. Decimals have a point. Lengths are millimetres, exact; areas square
// metres with six decimals and masses kilograms with three, of one panel as cut;
// an unknown mass is empty.
//
// # Text
//
// Spreadsheets take a text that begins with one of = + - @, a tab or a line
// break for a formula. Such a text is written with an apostrophe before it, and
// so is one that begins with an apostrophe, so that a reader gets every text back
// by removing one leading apostrophe.
//
// # Blanks
//
// The size of a blank is that of panels that have one of their own, and empty where
// all copies share one with another panel. The last column says what is sawn for
// those: "2 of 406 x 310.6 for two each", or "... with 3 gusset" for another panel.
package csvlist

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"panelyard/export"
	"panelyard/parts"
)

// header names the columns; the names are relied on by other programs.
var header = [...]string{
	"key", "panel", "hand", "copies", "placed", "material", "thickness_mm",
	"finished_length_mm", "finished_width_mm", "cut_length_mm", "cut_width_mm", "blank_length_mm", "blank_width_mm",
	"shaped", "openings", "grain", "edging", "area_m2", "mass_kg", "sheets", "note", "shared_blanks",
}

// Write writes the panels of d. The error is the writer's. Cost: the copies of
// all panels.
func Write(w io.Writer, d *export.Dossier) error {
	c := csv.NewWriter(w)
	// An error is kept by the csv writer and comes out of Error.
	_ = c.Write(header[:])
	for i := range d.Panels {
		_ = c.Write(record(d, &d.Panels[i]))
	}
	c.Flush()
	return c.Error()
}

func record(d *export.Dossier, p *export.PanelRow) []string {
	placed := 0
	sheets := make([]string, len(p.Sheets))
	for i, id := range p.Sheets {
		sheets[i] = id
		if id == "" {
			sheets[i] = "none"
			continue
		}
		placed++
	}
	mass := ""
	if p.MassKG != 0 {
		mass = strconv.FormatFloat(p.MassKG, 'f', 3, 64)
	}
	edging := make([]string, len(p.Edging))
	for i, e := range p.Edging {
		edging[i] = e.Edge + ": " + e.Band + " (" + e.Length.String() + ")"
	}
	blankLength, blankWidth := p.Blank.X.Decimal(), p.Blank.Y.Decimal()
	if p.Sharing == p.Copies {
		blankLength, blankWidth = "", ""
	}
	return []string{
		p.Key, safe(p.Name), p.Hand.String(), strconv.Itoa(p.Copies), strconv.Itoa(placed), safe(p.Material), p.Thickness.Decimal(),
		p.Finished.X.Decimal(), p.Finished.Y.Decimal(), p.Cut.X.Decimal(), p.Cut.Y.Decimal(), blankLength, blankWidth,
		yesNo(p.Shaped), strconv.Itoa(p.Openings), grain(p.Grain), safe(strings.Join(edging, "; ")),
		strconv.FormatFloat(p.AreaMM2/1e6, 'f', 6, 64), mass, strings.Join(sheets, " "), safe(p.Note),
		shared(d, p),
	}
}

// shared says what is sawn for the copies of a panel that share blanks.
func shared(d *export.Dossier, p *export.PanelRow) string {
	var list []string
	for i := range d.Shared {
		r := &d.Shared[i]
		for k, q := range r.Panels {
			if q != p || k == 1 && r.Panels[0] == p {
				continue
			}
			s := strconv.Itoa(r.Count) + " of " + r.Blank[k].X.Decimal() + " x " + r.Blank[k].Y.Decimal()
			if other := r.Panels[1-k]; other == p {
				list = append(list, s+" for two each")
			} else {
				list = append(list, s+" with "+other.Key+" "+other.Name)
			}
		}
	}
	return strings.Join(list, "; ")
}

// safe keeps a spreadsheet from taking a text for a formula. The characters are
// those of OWASP's page on CSV injection (from memory), full-width forms
// included.
func safe(s string) string {
	first, _ := utf8.DecodeRuneInString(s)
	if s != "" && strings.ContainsRune("=+-@\t\r\n＝＋－＠'", first) {
		return "'" + s
	}
	return s
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// grain says along what the grain of a panel runs: length, width or either.
func grain(a parts.Axis) string {
	if a == parts.NoAxis {
		return "either"
	}
	return a.String()
}

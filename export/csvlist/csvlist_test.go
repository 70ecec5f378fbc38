package csvlist_test

import (
	"bytes"
	"encoding/csv"
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"panelyard/export"
	"panelyard/export/csvlist"
	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/parts/length"
)

// rows writes d and reads it back, a map of column names a row.
func rows(t *testing.T, d *export.Dossier) []map[string]string {
	t.Helper()
	var b bytes.Buffer
	if err := csvlist.Write(&b, d); err != nil {
		t.Fatal(err)
	}
	if !utf8.Valid(b.Bytes()) {
		t.Error("the file is not UTF-8")
	}
	all, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var list []map[string]string
	for _, r := range all[1:] {
		m := map[string]string{}
		for i, name := range all[0] {
			m[name] = r[i]
		}
		list = append(list, m)
	}
	return list
}

// Every figure comes back as the dossier has it; lengths come back exactly.
func TestReadBack(t *testing.T) {
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		d := exporttest.Dossier(t, exporttest.Job(), cut)
		got := rows(t, d)
		if len(got) != len(d.Panels) {
			t.Fatalf("%v: %d rows, want %d", cut, len(got), len(d.Panels))
		}
		for i := range d.Panels {
			p, m := &d.Panels[i], got[i]
			for column, want := range map[string]length.Length{
				"thickness_mm": p.Thickness, "finished_length_mm": p.Finished.X, "finished_width_mm": p.Finished.Y,
				"cut_length_mm": p.Cut.X, "cut_width_mm": p.Cut.Y, "blank_length_mm": p.Blank.X, "blank_width_mm": p.Blank.Y,
			} {
				if l, err := length.Parse(m[column], length.MM); err != nil || l != want {
					t.Errorf("%v, %s, %s: %q, want %v", cut, p.Name, column, m[column], want)
				}
			}
			for column, want := range map[string]string{
				"key": p.Key, "panel": p.Name, "hand": p.Hand.String(), "material": p.Material, "note": p.Note,
				"copies": strconv.Itoa(p.Copies), "openings": strconv.Itoa(p.Openings), "sheets": strings.Join(p.Sheets, " "),
			} {
				if m[column] != want {
					t.Errorf("%v, %s, %s: %q, want %q", cut, p.Name, column, m[column], want)
				}
			}
			area, err := strconv.ParseFloat(m["area_m2"], 64)
			if err != nil || math.Abs(area-p.AreaMM2/1e6) > 5e-7 {
				t.Errorf("%v, %s: area %q, want %v mm2", cut, p.Name, m["area_m2"], p.AreaMM2)
			}
		}
	}
}

// The words of a plain job, as a person would check them.
func TestWords(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Saw)
	got := rows(t, d)
	for _, c := range []struct {
		row          int
		column, want string
	}{
		{0, "hand", "left"},
		{0, "shaped", "yes"},
		{0, "grain", "length"},
		{1, "hand", "right"},
		{2, "openings", "3"},
		{2, "grain", "width"},
		{2, "shaped", "no"},
		{3, "edging", "bottom: oak 1 (664 mm)"},
		{3, "copies", "3"},
		{3, "placed", "3"},
		{3, "finished_width_mm", "280"},
		{3, "cut_width_mm", "279"}, // 280 less 1 mm of band
		{4, "grain", "either"},
		{4, "mass_kg", "2.511"}, // 0.88 x 0.58 x 0.006 m at 820 kg/m3 = 2.5112 kg
	} {
		if got[c.row][c.column] != c.want {
			t.Errorf("row %d, %s: %q, want %q", c.row+1, c.column, got[c.row][c.column], c.want)
		}
	}
}

// No cell of text begins like a formula, and every name is had back by taking
// one apostrophe off.
func TestNastyNames(t *testing.T) {
	names := append([]string{"'quoted", "''", "\tx", "＝1+1", "new\nline", `"`, `a,"b"`}, exporttest.Nasty...)
	d := exporttest.Dossier(t, exporttest.Job(names...), kerf.Saw)
	got := rows(t, d)
	own := got[len(got)-len(names):]
	for i, name := range names {
		for _, column := range []string{"panel", "note"} {
			cell := own[i][column]
			if strings.TrimPrefix(cell, "'") != name {
				t.Errorf("%q in column %s reads %q", name, column, cell)
			}
			if strings.ContainsAny(cell[:1], "=+-@\t\r\n") || strings.HasPrefix(cell, "＝") {
				t.Errorf("%q in column %s begins like a formula: %q", name, column, cell)
			}
		}
	}
	if own[2]["panel"] != "'\tx" || own[4]["panel"] != "new\nline" {
		t.Errorf("guards: %q, %q", own[2]["panel"], own[4]["panel"])
	}
}

func TestEmptyAndUnplaced(t *testing.T) {
	j := exporttest.Job()
	j.Panels = nil
	if got := rows(t, exporttest.Dossier(t, j, kerf.Saw)); len(got) != 0 {
		t.Errorf("no panels gave %d rows", len(got))
	}
	j = exporttest.Job()
	for i := range j.Stock {
		j.Stock[i].Available = 0
	}
	for _, m := range rows(t, exporttest.Dossier(t, j, kerf.Saw)) {
		if m["placed"] != "0" || !strings.HasPrefix(m["sheets"], "none") {
			t.Errorf("%s: placed %s on %q, but there is no sheet", m["panel"], m["placed"], m["sheets"])
		}
	}
}

func TestWriterFails(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), kerf.Saw)
	var whole bytes.Buffer
	if err := csvlist.Write(&whole, d); err != nil {
		t.Fatal(err)
	}
	for n := range whole.Len() {
		if err := csvlist.Write(&exporttest.Failing{Left: n}, d); !errors.Is(err, exporttest.ErrFull) {
			t.Fatalf("a disk full after %d of %d bytes gave %v", n, whole.Len(), err)
		}
	}
	var again bytes.Buffer
	if err := csvlist.Write(&again, d); err != nil || !bytes.Equal(whole.Bytes(), again.Bytes()) {
		t.Errorf("two runs differ (%v)", err)
	}
}

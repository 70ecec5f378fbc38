package export_test

import (
	"testing"

	"panelyard/export"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// The papers write lengths in the unit of the job, without idle zeros.
func TestLengths(t *testing.T) {
	const um, in = length.Micrometre, length.Inch
	for _, c := range []struct {
		unit        length.Unit
		l           length.Length
		text, short string
	}{
		{length.MM, 0, "0", "0"},
		{length.MM, 600 * length.Millimetre, "600", "600"},
		{length.CM, 17700 * um, "17.7", "17.7"},
		{length.M, 17750 * um, "17.75", "17.8"},
		{length.MM, in / 64, "0.4", "0.4"}, // 0.396875
		{length.MM, 99999 * um, "100", "100"},
		{length.IN, 0, "0", "0"},
		{length.IN, 20 * in, "20", "20"},
		{length.IN, 23*in + in*11/16, "23 11/16", "23 11/16"},
		{length.FT, in / 64, "1/64", "1/64"},
		{length.IN, 600 * length.Millimetre, "23.622", "23.62"}, // 23.6220…
		{length.FT, 254 * um, "0.01", "0.01"},
	} {
		w := (&export.Dossier{Job: &parts.Job{Units: c.unit}}).Lengths()
		if got := w.Text(c.l); got != c.text {
			t.Errorf("%s: Text(%v) = %q, want %q", c.unit.Name, c.l, got, c.text)
		}
		if got := w.Short(c.l); got != c.short {
			t.Errorf("%s: Short(%v) = %q, want %q", c.unit.Name, c.l, got, c.short)
		}
	}
	w := (&export.Dossier{Job: &parts.Job{Units: length.FT}}).Lengths()
	if got := w.Size(geom.Pt(8*length.Foot, in/2)); got != "96 × 1/2" || w.Unit() != "in" || w.Word() != "inches" {
		t.Errorf("%q %s %s", got, w.Unit(), w.Word())
	}
	if w := (export.Lengths{}); w.Unit() != "mm" || w.Word() != "millimetres" {
		t.Errorf("%s %s", w.Unit(), w.Word())
	}
}

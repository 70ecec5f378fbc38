package parts

import (
	"slices"
	"testing"

	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

func TestWords(t *testing.T) {
	for a, want := range map[Axis]string{NoAxis: "none", AlongLength: "length", AlongWidth: "width"} {
		if got := a.String(); got != want {
			t.Errorf("axis %d is %q, want %q", int(a), got, want)
		}
	}
	for h, want := range map[Hand]string{NoHand: "", Left: "left", Right: "right"} {
		if got := h.String(); got != want {
			t.Errorf("hand %d is %q, want %q", int(h), got, want)
		}
	}
}

func TestByName(t *testing.T) {
	j := Job{
		Materials: []Material{{Name: "birch ply 18"}, {Name: "mdf 12"}},
		Bands:     []Band{{Name: "oak 2"}, {Name: "birch 1"}},
	}
	for _, name := range []string{"birch ply 18", "mdf 12"} {
		if m := j.Material(name); m == nil || m.Name != name {
			t.Errorf("Material(%q) = %v", name, m)
		}
	}
	for _, name := range []string{"oak 2", "birch 1"} {
		if b := j.Band(name); b == nil || b.Name != name {
			t.Errorf("Band(%q) = %v", name, b)
		}
	}
	if m := j.Material("oak 2"); m != nil {
		t.Errorf("a band is found among the materials: %v", m)
	}
	if b := j.Band(""); b != nil {
		t.Errorf("a band without a name is found: %v", b)
	}
	// The job itself is given, not a copy.
	j.Material("mdf 12").Nominal = length.Millimetre
	if j.Materials[1].Nominal != length.Millimetre {
		t.Error("Material gives a copy")
	}
}

func TestSize(t *testing.T) {
	const mm = length.Millimetre
	bulge, err := outline.BulgeFromRise(geom.Pt(600*mm, 400*mm), geom.Pt(0, 400*mm), 50*mm)
	if err != nil {
		t.Fatal(err)
	}
	arched := outline.Rectangle(600*mm, 400*mm)
	arched[2].Bulge = bulge
	for _, c := range []struct {
		name string
		o    outline.Outline
		want geom.Point
	}{
		{"square", outline.Rectangle(600*mm, 400*mm), geom.Pt(600*mm, 400*mm)},
		{"the top of an arch counts", arched, geom.Pt(600*mm, 450*mm)},
		{"wherever it is drawn", arched.Translate(geom.Pt(-70*mm, 9*mm)), geom.Pt(600*mm, 450*mm)},
	} {
		p := Panel{Outline: c.o}
		if got := p.Size(); got != c.want {
			t.Errorf("%s: Size = %v, want %v", c.name, got, c.want)
		}
	}
}

// TestTurns checks the table of turns against what it means: the grain of the
// panel, turned, lies along the grain of the sheet, where both have one.
func TestTurns(t *testing.T) {
	axes := []Axis{NoAxis, AlongLength, AlongWidth}
	for _, panel := range axes {
		for _, sheet := range axes {
			var want []int
			for deg := 0; deg < 360; deg += 90 {
				lies := panel
				if panel != NoAxis && deg%180 != 0 {
					lies = AlongLength + AlongWidth - panel
				}
				if panel == NoAxis || sheet == NoAxis || lies == sheet {
					want = append(want, deg)
				}
			}
			if got := Turns(panel, sheet); !slices.Equal(got, want) {
				t.Errorf("a panel of grain %v on a sheet of grain %v: turns %v, want %v", panel, sheet, got, want)
			}
		}
	}
}

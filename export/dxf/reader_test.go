package dxf

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/parts/diag"
	"panelyard/parts/drawing"
	reader "panelyard/parts/dxf"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// Our own reader, which shares no code with the writer, finds every outline and
// opening again, corner by corner on the grid, in both flavours and units, and the
// name on each panel.
func TestOwnReader(t *testing.T) {
	all := maps.Clone(dossiers(t))
	all["jig"] = exporttest.Dossier(t, jig(), kerf.Router)
	for _, job := range all {
		for f := range flavours {
			for i := range job.Sheets {
				m := &job.Sheets[i]
				var want []outline.Outline
				for _, pl := range m.Placements {
					want = append(append(want, pl.Outline), pl.Openings...)
				}
				panels := reread(t, Sheet(job, i), f)
				if len(panels) != len(m.Placements) {
					t.Fatalf("%v: %d panels, want %d", f, len(panels), len(m.Placements))
				}
				sameLoops(t, loops(panels), want)
			}
			for i := range job.Panels {
				r := &job.Panels[i]
				panels := reread(t, Panel(job, i), f)
				if len(panels) != 1 {
					t.Fatalf("%v, %s: %d panels", f, r.Name, len(panels))
				}
				sameLoops(t, loops(panels), append([]outline.Outline{r.Item.CutOutline}, r.Item.CutOpenings...))
				// Names of panels have single blanks and no control characters; what the
				// reader makes of ^I and of the halves of UTF-16 is another matter.
				want := strings.TrimSpace(r.Name)
				if got := panels[0].Name; got != want && !strings.ContainsAny(want, "\t\u202e🪵") {
					t.Errorf("%v: name %q, want %q", f, got, want)
				}
			}
		}
	}
}

// Percent signs and what looks like a code come back from our own reader; ezdxf 0.18
// does not know the first.
func TestPercent(t *testing.T) {
	for _, want := range []string{"%%d", "100%%", "%%%", "50 %", `a\U+0041b`} {
		d := Drawing{Units: length.MM}
		d.Add(Label, Text{Height: mm, Content: want})
		got, list := reader.Read("a.dxf", document(t, d, R2000), reader.Options{})
		if err := list.Err(); err != nil || got.Texts[0].Content != want {
			t.Errorf("%q, want %q (%v)", got.Texts[0].Content, want, err)
		}
	}
}

// reread writes a drawing and reads its panels back.
func reread(t *testing.T, d Drawing, f Flavour) []drawing.Panel {
	t.Helper()
	got, list := reader.Read("a.dxf", document(t, d, f), reader.Options{})
	// A hole that the bit drills is a point of its path, which is no edge.
	list = slices.DeleteFunc(list, func(f diag.Finding) bool { return f.Fact == "POINT is not read (1 in the file)" })
	if len(list) > 0 {
		t.Fatal(list)
	}
	if got.Unit != d.Units {
		t.Errorf("unit %v, want %v", got.Unit, d.Units)
	}
	panels, list := drawing.Panels(got, drawing.Options{KeepSegments: true, Layers: []drawing.Rule{
		{Pattern: "OUTLINE", Role: drawing.Outline},
		{Pattern: "OPENING", Role: drawing.Opening},
		{Pattern: "DRILL", Role: drawing.Opening},
	}})
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	return panels
}

func loops(panels []drawing.Panel) []outline.Outline {
	var list []outline.Outline
	for _, p := range panels {
		list = append(list, p.Outline)
		for _, o := range p.Openings {
			list = append(list, o.Outline)
		}
	}
	return list
}

// sameLoops compares outlines, whatever their order and their first corners. A
// circle has its ends somewhere else after it was one entity: its box counts.
func sameLoops(t *testing.T, got, want []outline.Outline) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%d outlines, want %d", len(got), len(want))
	}
	got, want = ordered(got), ordered(want)
	for i, o := range want {
		if len(o) == 2 && len(got[i]) == 2 {
			b, c := got[i].Box(), o.Box()
			for _, d := range []length.Length{b.Min.X - c.Min.X, b.Min.Y - c.Min.Y, b.Max.X - c.Max.X, b.Max.Y - c.Max.Y} {
				if d.Abs() > 1 {
					t.Errorf("circle in %v, want %v", b, c)
				}
			}
			continue
		}
		same := len(got[i]) == len(o)
		for k := 0; same && k < len(o); k++ {
			same = got[i][k].At == o[k].At && math.Abs(got[i][k].Bulge-o[k].Bulge) < 1e-12
		}
		if !same {
			t.Errorf("outline %v, want %v", got[i], o)
		}
	}
}

// ordered returns outlines that begin at their least corner, ordered by their boxes.
func ordered(list []outline.Outline) []outline.Outline {
	out := make([]outline.Outline, len(list))
	for i, o := range list {
		first := 0
		for k := range o {
			if o[k].At.Less(o[first].At) {
				first = k
			}
		}
		out[i] = append(slices.Clone(o[first:]), o[:first]...)
	}
	slices.SortFunc(out, func(a, b outline.Outline) int {
		// The boxes of turned circles differ by a unit when they are read back.
		p, q := a.Box().Min, b.Box().Min
		const coarse = mm / 10
		return cmp.Or(cmp.Compare((p.X+coarse/2)/coarse, (q.X+coarse/2)/coarse), cmp.Compare((p.Y+coarse/2)/coarse, (q.Y+coarse/2)/coarse))
	})
	return out
}

package export_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// pieces cuts a sheet as a shop does, one piece at a time, and returns the pieces
// there are after each cut.
func pieces(m *export.SheetMap, kerf length.Length) [][]geom.Box {
	now := []geom.Box{geom.BoxFromSize(geom.Point{}, geom.Pt(m.Stock.Length, m.Stock.Width))}
	var all [][]geom.Box
	for _, c := range m.Cuts {
		var next []geom.Box
		for _, b := range now {
			lower, upper := b, b
			var through bool
			if c.From.X == c.To.X {
				through = min(c.From.Y, c.To.Y) == b.Min.Y && max(c.From.Y, c.To.Y) == b.Max.Y &&
					c.From.X+kerf/2 > b.Min.X && c.From.X-kerf/2 < b.Max.X
				lower.Max.X, upper.Min.X = c.From.X-kerf/2, c.From.X+kerf/2
			} else {
				through = min(c.From.X, c.To.X) == b.Min.X && max(c.From.X, c.To.X) == b.Max.X &&
					c.From.Y+kerf/2 > b.Min.Y && c.From.Y-kerf/2 < b.Max.Y
				lower.Max.Y, upper.Min.Y = c.From.Y-kerf/2, c.From.Y+kerf/2
			}
			if !through {
				next = append(next, b)
				continue
			}
			for _, p := range []geom.Box{lower, upper} {
				if !p.Empty() {
					next = append(next, p)
				}
			}
		}
		now = next
		all = append(all, append([]geom.Box(nil), now...))
	}
	return all
}

// What a step is said to do is what a replay of the cuts does, for every kind of saw:
// the piece in hand is there, it becomes the two parts, and what comes free is a piece
// of its own from then on.
func TestSteps(t *testing.T) {
	for _, kind := range []parts.SawKind{parts.TableSaw, parts.TrackSaw, parts.BeamSaw} {
		j := exporttest.Job(exporttest.Nasty...)
		j.Saw = parts.DefaultSaw(kind)
		d := exporttest.Dossier(t, j, kerf.Saw)
		panels, offcuts, resets := 0, 0, 0
		for i := range d.Sheets {
			m := &d.Sheets[i]
			replay := pieces(m, d.Demand.Kerf)
			if len(m.Steps) != len(m.Cuts) {
				t.Fatalf("%s: %d cuts, %d steps", m.ID, len(m.Cuts), len(m.Steps))
			}
			before := []geom.Box{geom.BoxFromSize(geom.Point{}, geom.Pt(m.Stock.Length, m.Stock.Width))}
			for k := range m.Steps {
				s := &m.Steps[k]
				if !slices.Contains(before, s.Piece) {
					t.Errorf("%s, step %d: %v is not there to be cut", m.ID, s.N, s.Piece)
				}
				for _, b := range []geom.Box{s.Fenced, s.Rest} {
					if !b.Empty() && !slices.Contains(replay[k], b) {
						t.Errorf("%s, step %d: %v does not come of it", m.ID, s.N, b)
					}
				}
				if size := s.Fenced.Size(); size.X != s.Fence && size.Y != s.Fence {
					t.Errorf("%s, step %d: set to %v, the part at the fence is %v", m.ID, s.N, s.Fence, size)
				}
				for _, p := range s.Panels {
					if p.Blank != s.Fenced && p.Blank != s.Rest {
						t.Errorf("%s, step %d: %v does not come free", m.ID, s.N, p.Blank)
					}
					if !p.Second {
						panels++
					}
				}
				for _, o := range s.Offcuts {
					if !s.Fenced.Contains(o.Box) && !s.Rest.Contains(o.Box) {
						t.Errorf("%s, step %d: %v does not come free", m.ID, s.N, o.Box)
					}
					offcuts++
				}
				if s.Reset {
					resets++
				}
				before = replay[k]
			}
		}
		if panels != d.Totals.Panels {
			t.Errorf("%v: %d panels come free, %d are on sheets", kind, panels, d.Totals.Panels)
		}
		if offcuts == 0 || resets != d.Totals.Fences || resets == 0 {
			t.Errorf("%v: %d offcuts, %d settings of %d", kind, offcuts, resets, d.Totals.Fences)
		}
	}
}

// A panel as large as its sheet comes free with no cut.
func TestNoSteps(t *testing.T) {
	d := exporttest.Dossier(t, oneSheet(1000*mm, 400*mm, 6*mm, 500), kerf.Saw)
	if m := &d.Sheets[0]; len(m.Placements) != 1 || len(m.Steps) != 0 {
		t.Errorf("%d panels, %d steps", len(m.Placements), len(m.Steps))
	}
}

// words returns the steps of the first sheet in short.
func words(d *export.Dossier) string {
	var b strings.Builder
	for _, s := range d.Sheets[0].Steps {
		fmt.Fprintf(&b, "%v %v from %s, kerf %s", s.Kind, s.Fence.MM(), s.Edge, s.Kerf)
		for _, w := range s.Warnings {
			fmt.Fprintf(&b, ", %v", w)
		}
		b.WriteString("\n")
	}
	return b.String()
}

// Two strips on a sheet, worked by hand, at three saws.
func TestStepWords(t *testing.T) {
	const strip = "rip 400 from bottom, kerf above\n"
	for _, c := range []struct {
		saw  parts.Saw
		size geom.Point
		want string
	}{
		{parts.Saw{}, geom.Pt(1000*mm, 400*mm), strip + strip},
		{parts.Saw{Fence: 300 * mm}, geom.Pt(1000*mm, 450*mm), "rip 450 from bottom, kerf above, beyond the fence: guided hand saw\n" +
			"rip 450 from bottom, kerf above, beyond the fence: guided hand saw\n"},
		{parts.Saw{Fence: 300 * mm}, geom.Pt(1000*mm, 440*mm), "rip 440 from bottom, kerf above, beyond the fence: guided hand saw\n" +
			"rip 108 from top, kerf below, push stick, trapped offcut\n"},
		{parts.Saw{}, geom.Pt(1000*mm, 130*mm), strings.Repeat("rip 130 from bottom, kerf above, push stick\n", 2)},
		{parts.Saw{}, geom.Pt(1000*mm, 30*mm), strings.Repeat("rip 30 from bottom, kerf above, sled or jig\n", 2)},
		{parts.Saw{Kind: parts.TrackSaw, Support: 180 * mm}, geom.Pt(1000*mm, 130*mm), strings.Repeat("rip 130 from bottom, kerf above\n", 2)},
		{parts.Saw{Kind: parts.TrackSaw, Support: 800 * mm}, geom.Pt(1000*mm, 490*mm), strings.Repeat("rip 490 from bottom, kerf above, support the rail\n", 1) +
			"rip 490 from bottom, kerf above, support the rail\n"},
	} {
		j := oneSheet(1000*mm, 994*mm, 6*mm, 500)
		j.Saw = c.saw
		j.Saw.Kerf = 3 * mm
		j.Panels = []parts.Panel{j.Panels[0]}
		j.Panels[0].Quantity = 2
		j.Panels[0].Outline = outline.Rectangle(c.size.X, c.size.Y)
		if got := words(exporttest.Dossier(t, j, kerf.Saw)); got != c.want {
			t.Errorf("%+v, strips of %v:\n%swant\n%s", c.saw, c.size, got, c.want)
		}
	}
}

// Turned over, a sheet is the same from its other side: sizes stay, left and right
// change places, and turned over twice it is as it was.
func TestMirrored(t *testing.T) {
	j := exporttest.Job()
	j.Saw = parts.DefaultSaw(parts.TrackSaw)
	d := exporttest.Dossier(t, j, kerf.Saw)
	if !d.FaceDown() {
		t.Fatal("a track saw cuts with the good face up")
	}
	for i := range d.Sheets {
		m := &d.Sheets[i]
		q := d.Seen(i)
		for k := range m.Placements {
			a, b := &m.Placements[k], &q.Placements[k]
			if a.Blank.Size() != b.Blank.Size() || a.Blank.Min.X+b.Blank.Max.X != m.Stock.Length || a.Blank.Min.Y != b.Blank.Min.Y {
				t.Errorf("%s: blank %v is %v from the back", m.ID, a.Blank, b.Blank)
			}
			if !b.Blank.Contains(b.Outline.Box()) || b.Outline.AreaMM2() != a.Outline.AreaMM2() && a.Outline.Straight() {
				t.Errorf("%s: the outline of %s left its blank", m.ID, a.Row.Name)
			}
		}
		again := q.Mirrored()
		for k := range m.Placements {
			if !slices.Equal(again.Placements[k].Shape.Outer, m.Placements[k].Shape.Outer) || again.Placements[k].Blank != m.Placements[k].Blank {
				t.Errorf("%s: turned over twice, %s is elsewhere", m.ID, m.Placements[k].Row.Name)
			}
		}
		if !slices.Equal(again.Cuts, m.Cuts) || !slices.Equal(again.Offcuts, m.Offcuts) {
			t.Errorf("%s: turned over twice, cuts or offcuts differ", m.ID)
		}
		for k := range m.Steps {
			s := &m.Steps[k]
			atRight := s.Fenced.Min.X == s.Piece.Min.X // where x is least, seen from the back
			if s.From.X == s.To.X && (s.Edge == "right") != atRight {
				t.Errorf("%s, step %d: the fence is said to be %s, seen from the back", m.ID, s.N, s.Edge)
			}
		}
	}
}

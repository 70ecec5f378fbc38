package xlsx_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/jobfile"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

func vertex(p geom.Point) outline.Vertex { return outline.Vertex{At: p} }

// fitted is a job with a loudspeaker of four mounting holes in two of three panels, a
// part that no panel uses, and an opening that is for none.
func fitted(names ...string) *parts.Job {
	j := exporttest.Job(names...)
	j.Components = []parts.Component{
		{
			Name: "loudspeaker", Note: "with grille", Body: geom.Pt(93200*length.Micrometre, 93200*length.Micrometre), Round: true, Depth: 44 * mm,
			Clearance: mm, Whole: true, Flange: geom.Pt(112*mm, 112*mm), RoundFlange: true,
			Holes: []parts.MountingHole{{At: geom.Pt(52*mm, 0), Diameter: 4 * mm}, {At: geom.Pt(-52*mm, 0), Diameter: 4 * mm}},
		},
		{Name: "spare switch", Body: geom.Pt(20*mm, 30*mm)},
	}
	front := &j.Panels[2]
	front.Quantity = 2
	speaker := func(at geom.Point) []parts.Opening {
		hole := func(x length.Length, n int) parts.Opening {
			return parts.Opening{Name: fmt.Sprint("hole ", n), Outline: outline.Circle(4 * mm).Translate(at.Add(geom.Pt(x, 46*mm))), Component: "loudspeaker"}
		}
		return []parts.Opening{{Name: "loudspeaker", Outline: j.Components[0].Shape().Translate(at), Component: "loudspeaker"}, hole(-6*mm, 1), hole(98*mm, 2)}
	}
	front.Openings = slices.Concat(front.Openings[:1], speaker(geom.Pt(80*mm, 40*mm)), speaker(geom.Pt(530*mm, 40*mm)))
	return j
}

// The components of the job with their quantities over all copies, what goes into their
// holes, openings that are for none, and bands.
func TestHardware(t *testing.T) {
	d := exporttest.Dossier(t, fitted(), kerf.Saw)
	f := open(t, write(t, d))
	s := read(t, f, "Hardware")
	for i, want := range []map[string]string{
		{"Item": "loudspeaker", "Kind": "component", "Quantity": "4", "Body width (mm)": "93.2", "Depth (mm)": "44", "Opening width (mm)": "96", "Opening height (mm)": "", "Flange width (mm)": "112", "In panels": "3 front (4)"},
		{"Item": "screws for loudspeaker", "Kind": "fixing", "Quantity": "8", "Note": "2 mounting holes of 4 mm each"},
		{"Item": "spare switch", "Kind": "component", "Quantity": "0", "Body height (mm)": "30", "Flange width (mm)": "", "Depth (mm)": "", "In panels": ""},
		{"Item": "display", "Kind": "opening", "Quantity": "2", "Opening width (mm)": "500", "Opening height (mm)": "280"},
		{"Item": "oak 1", "Kind": "edge band", "Quantity": strconv.FormatFloat(float64(d.Bands[0].Length)/float64(length.Metre), 'f', -1, 64), "Unit": "m"},
	} {
		for title, w := range want {
			if got := s.at(i, title); got != w {
				t.Errorf("row %d, %s: %q, want %q", i+2, title, got, w)
			}
		}
	}
	all := fmt.Sprint(s.rows)
	for _, w := range []string{"with grille; clearance 1 mm a side", "no panel of this plan has an opening for it", "Note of panel 3 front: display opening lines up with the shelf"} {
		if !strings.Contains(all, w) {
			t.Errorf("%q is missing", w)
		}
	}
	recalculated(t, f)

	j := exporttest.Job()
	j.Bands, j.Panels = nil, j.Panels[4:]
	if all := fmt.Sprint(read(t, open(t, write(t, exporttest.Dossier(t, j, kerf.Saw))), "Hardware").rows); !strings.Contains(all, "names no components and no edge bands") || !strings.Contains(all, "No panel has a note.") {
		t.Errorf("an empty list does not say so: %s", all)
	}
}

// Both units, side by side; the fraction shown is worked out here by hand: 700 mm is
// 27.5591 in, 27 and 35.8 sixty-fourths.
func TestSizes(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Saw)
	f := open(t, write(t, d))
	s := read(t, f, "Sizes")
	for i := range d.Panels {
		p := &d.Panels[i]
		for title, want := range map[string]float64{
			"Finished length (mm)": p.Finished.X.MM(), "Finished width (in)": p.Finished.Y.MM() / 25.4,
			"Cut length (in)": p.Cut.X.MM() / 25.4, "Cut width (mm)": p.Cut.Y.MM(),
			"Blank length (in)": p.Blank.X.MM() / 25.4, "Blank width (mm)": p.Blank.Y.MM(),
		} {
			if got := number(t, s.at(i, title)); math.Abs(got-want) > 1e-9 {
				t.Errorf("%s, %s: %v, want %v", p.Name, title, got, want)
			}
		}
	}
	column := slices.Index(s.titles, "Finished length (in)")
	id, err := f.GetCellStyle("Sizes", string(rune('A'+column))+"4")
	if err != nil {
		t.Fatal(err)
	}
	style, err := f.GetStyle(id)
	if err != nil {
		t.Fatal(err)
	}
	if got := *style.CustomNumFmt; got != "# ??/16" { // 36/64 are 9/16
		t.Errorf("700 mm is shown as %q", got)
	}
}

// The paths of a router in their order.
func TestPaths(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Router)
	f := open(t, write(t, d))
	s, row := read(t, f, "Paths"), 0
	for i := range d.Sheets {
		m := &d.Sheets[i]
		for k := range m.Paths {
			p := &m.Paths[k]
			for title, want := range map[string]string{
				"Sheet": m.ID, "Path": strconv.Itoa(k + 1), "What is cut": export.What(p), "Held by": export.Held(p),
				"Passes": strconv.Itoa(len(p.Depths)), "Deepest (mm)": export.Deepest(p).Decimal(),
				"Starts at x (mm)": p.Start().X.Decimal(), "Starts at y (mm)": p.Start().Y.Decimal(),
			} {
				if got := s.at(row, title); got != want {
					t.Errorf("%s, path %d, %s: %q, want %q", m.ID, k+1, title, got, want)
				}
			}
			if !strings.HasSuffix(s.at(row, "Panel"), " "+p.Panel) {
				t.Errorf("%s, path %d is of %q, want %q", m.ID, k+1, s.at(row, "Panel"), p.Panel)
			}
			row++
		}
	}
	if row == 0 {
		t.Error("no paths: the test shows nothing")
	}
	if slices.Contains(f.GetSheetList(), "Cuts") {
		t.Error("a router has no straight cuts to list")
	}
	if all := fmt.Sprint(read(t, f, "Summary").rows); !strings.Contains(all, export.Minutes(d.Totals.Effort.Time())) {
		t.Error("the time of the router is missing")
	}
}

// The edges add up to the bands to buy.
func TestEdges(t *testing.T) {
	for _, units := range []length.Unit{length.MM, length.IN} {
		j := exporttest.Job()
		j.Units = units
		d := exporttest.Dossier(t, j, kerf.Saw)
		f := open(t, write(t, d))
		s := read(t, f, "Edges")
		if s.at(0, "Panel") != "4 shelf" || s.at(0, "Edge") != "bottom" || s.at(0, "Band") != "oak 1" || s.at(0, "Qty") != "3" {
			t.Errorf("the first edge is %q", s.rows[0])
		}
		if got, want := number(t, s.at(1, "Length of all (m)")), d.Bands[0].Length.MM()/1000; math.Abs(got-want) > 1e-9 {
			t.Errorf("%v m of edges, %v m of band to buy", got, want)
		}
		recalculated(t, f)
	}
}

// bentJob is the reception of the museum, with kerfed panels.
func bentJob(t *testing.T) *parts.Job {
	t.Helper()
	j, list := jobfile.ReadFile("../../testdata/jobs/good/bends.yaml")
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	return j
}

// Bent panels have a worksheet, and a single mirrored panel says so.
func TestBends(t *testing.T) {
	j := exporttest.Job()
	if slices.Contains(open(t, write(t, exporttest.Dossier(t, j, kerf.Saw))).GetSheetList(), "Bends") {
		t.Error("a worksheet of bends where there are none")
	}
	d := exporttest.Dossier(t, bentJob(t), kerf.Saw)
	f := open(t, write(t, d))
	s := read(t, f, "Bends")
	row := 0
	for i := range d.Panels {
		p := &d.Panels[i]
		if p.Item.Bend == nil {
			continue
		}
		for title, want := range map[string]string{
			"Panel": p.Key + " " + p.Name, "Kerfs": strconv.Itoa(p.Item.Bend.Count), "Deep (mm)": p.Item.Bend.Depth.Decimal(), "Pitch (mm)": p.Item.Bend.Pitch.Decimal(),
		} {
			if got := s.at(row, title); got != want {
				t.Errorf("%s, %s: %q, want %q", p.Name, title, got, want)
			}
		}
		if got := strings.Count(s.at(row, "Middles of the kerfs from the left or bottom end (mm)"), ";") + 1; got != p.Item.Bend.Count {
			t.Errorf("%s: %d places of %d kerfs", p.Name, got, p.Item.Bend.Count)
		}
		if got := read(t, f, "Panels").at(i, "Shape"); got != fmt.Sprintf("bent by %d kerfs", p.Item.Bend.Count) {
			t.Errorf("%s: shape %q", p.Name, got)
		}
		row++
	}
	if row == 0 {
		t.Error("nothing is bent: the test shows nothing")
	}
	hands := map[string]bool{}
	for i := range s.rows {
		hands[s.at(i, "Hand")] = true
	}
	if !hands["left"] || !hands["right"] || !hands["mirrored"] {
		t.Errorf("hands %v", hands)
	}
}

// Measures of kerfs are shown finer than the fractions of the papers.
func TestBendsExact(t *testing.T) {
	j := bentJob(t)
	j.Figures = parts.Figures{Unit: length.IN, Fraction: 16}
	d := exporttest.Dossier(t, j, kerf.Saw)
	f := open(t, write(t, d))
	s := read(t, f, "Bends")
	w := d.Lengths()
	row := 0
	for i := range d.Panels {
		p := &d.Panels[i]
		if p.Item.Bend == nil {
			continue
		}
		var at []string
		for _, l := range p.KerfsAt() {
			at = append(at, w.Exact(l))
		}
		if got := s.at(row, "Middles of the kerfs from the left or bottom end (in)"); got != strings.Join(at, "; ") {
			t.Errorf("%s: kerfs at %s, want %s", p.Name, got, at)
		}
		for k, title := range s.titles {
			for begin, l := range map[string]length.Length{"Kerf (": d.Demand.Kerf, "Deep": p.Item.Bend.Depth, "Pitch": p.Item.Bend.Pitch} {
				if !strings.HasPrefix(title, begin) {
					continue
				}
				shown, err := f.GetCellValue("Bends", cellName(t, k+1, row+2))
				if err != nil {
					t.Fatal(err)
				}
				if want := strconv.FormatFloat(l.Inches(), 'f', 3, 64); shown != want {
					t.Errorf("%s, %s: %q is shown, want %q", p.Name, title, shown, want)
				}
			}
		}
		row++
	}
	if row == 0 {
		t.Error("nothing is bent: the test shows nothing")
	}
}

func cellName(t *testing.T, column, row int) string {
	t.Helper()
	s, err := excelize.CoordinatesToCellName(column, row)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Openings have a worksheet with their sizes and places, and what a bit does not enter;
// a job without any has none.
func TestOpenings(t *testing.T) {
	j := fitted()
	d := exporttest.Dossier(t, j, kerf.Router)
	s := read(t, open(t, write(t, d)), "Openings")
	if len(s.rows) != len(d.Openings)+2 { // and two notes
		t.Errorf("%d rows for %d openings", len(s.rows), len(d.Openings))
	}
	// Two loudspeakers in each of two fronts have two holes each.
	if got, want := s.rows[len(s.rows)-1][0], "in all copies: 8."; !strings.Contains(got, want) {
		t.Errorf("the note is %q, want %q", got, want)
	}
	for i, want := range []map[string]string{
		{"Panel": "3 front", "Panels": "2", "Opening": "display", "For": "", "What it is": "rectangle", "Length (mm)": "500", "Width (mm)": "280", "Corner radius (mm)": "8", "Left edge x (mm)": "100", "Lower edge y (mm)": "180", "Centre x (mm)": "", "Depth": "through", "Bit": ""},
		{"Opening": "loudspeaker", "For": "loudspeaker", "What it is": "round", "Length (mm)": "96", "Width (mm)": "", "Left edge x (mm)": "80", "Lower edge y (mm)": "40", "Centre x (mm)": "128", "Centre y (mm)": "88", "Bit": ""},
		{"Opening": "hole 1", "For": "loudspeaker", "Length (mm)": "4", "Left edge x (mm)": "74", "Centre x (mm)": "76", "Centre y (mm)": "88", "Bit": "does not enter: drill"},
	} {
		for title, w := range want {
			if got := s.at(i, title); got != w {
				t.Errorf("row %d, %s: %q, want %q", i, title, got, w)
			}
		}
	}
	s = read(t, open(t, write(t, exporttest.Dossier(t, j, kerf.Saw))), "Openings")
	if slices.Contains(s.titles, "Bit") {
		t.Error("a saw has no bit")
	}
	j.Panels[2].Openings = nil
	if slices.Contains(open(t, write(t, exporttest.Dossier(t, j, kerf.Saw))).GetSheetList(), "Openings") {
		t.Error("a worksheet of openings where there are none")
	}
}

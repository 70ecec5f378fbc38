package tolerance

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"

	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/money"
	"panelyard/parts/outline"
)

const mm = length.Millimetre

// doors returns a job of two doors of a length and 700 wide on boards of 2440 x 1220 with
// a trim, cut with a kerf of 4: they lie behind each other, as they are too wide to lie
// side by side, and too long to be turned.
func doors(long, trim length.Length) *parts.Job {
	j := exporttest.Job()
	j.Name, j.Bands = "Chart case", nil
	j.Materials = []parts.Material{{Name: "board", Nominal: 18 * mm, Measured: 18 * mm, GoodFaces: 2, Grained: true}}
	j.Stock = []parts.Stock{{
		Name: "sheet", Material: "board", Length: 2440 * mm, Width: 1220 * mm, Grain: parts.AlongLength,
		Trim:  parts.Trim{Left: trim, Right: trim, Bottom: trim, Top: trim},
		Price: 40 * money.One, Priced: true, Available: parts.Unlimited,
	}}
	j.Saw.Kerf = 4 * mm
	j.Panels = []parts.Panel{{
		Name: "door", Quantity: 2, Material: "board", Grain: parts.AlongLength, Outline: outline.Rectangle(long, 700*mm), Edging: make([]string, 4),
	}}
	return j
}

func report(t *testing.T, job *parts.Job, cut kerf.Cut, standards ...string) *Report {
	t.Helper()
	by, err := ReadStandards(standards, job)
	if err != nil {
		t.Fatal(err)
	}
	r, err := New(exporttest.Dossier(t, job, cut), by, "1 round a plan")
	if err != nil {
		t.Fatal(err)
	}
	r.Advise()
	return r
}

// Solved by hand. By EN 315 the worst sheet of 2440 x 1220 leaves 2440 - 3.5 - 1.22 =
// 2435.28 of its length and 1216.5 of its width. Two doors and a kerf of 4, with trims of
// 5, take of the length
//
//	2 x 1210   + 4 + 10 = 2434      fits, and the kerf has 2430 - 2420 = 10
//	2 x 1212.5 + 4 + 10 = 2439      more than 2435.28, but untrimmed it is 2429: less trim
//	2 x 1216 + 4 without a trim = 2436: does not fit
//	2 x 1218 + 4 without a trim = 2440: a perfect sheet
func TestByHand(t *testing.T) {
	for _, c := range []struct {
		name       string
		long, trim length.Length
		least      length.Length
		eaten      length.Length
		extra      length.Length
		verdict    Verdict
		advice     string
	}{
		{"fits", 1210 * mm, 5 * mm, 2434 * mm, 0, 6 * mm, Fits, "Every sheet of the plan comes out of the smallest that EN 315 allows, with its trim."},
		{"by its trim", 1212500 * length.Micrometre, 5 * mm, 2439 * mm, 3720 * length.Micrometre, 1 * mm, ByTrim, "Only when less is trimmed: S1."},
		{"too short", 1216 * mm, 0, 2436 * mm, 720 * length.Micrometre, 4 * mm, TooLess, "Only out of sheets that are larger than the smallest that EN 315 allows: S1. Measure them before the first cut."},
		{"perfect", 1218 * mm, 0, 2440 * mm, 4720 * length.Micrometre, 0, TooLess, "Only out of a perfect sheet, of its full size and square: S1."},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := report(t, doors(c.long, c.trim), kerf.Saw)
			if len(r.Sheets) != 1 {
				t.Fatalf("%d sheets", len(r.Sheets))
			}
			s := &r.Sheets[0]
			if s.Worst != geom.Pt(2435280*length.Micrometre, 1216500*length.Micrometre) || s.Standard != "EN 315" {
				t.Errorf("worst %v by %s", s.Worst, s.Standard)
			}
			if s.Room.Least.X != c.least || s.Eaten.X != c.eaten || s.Verdict != c.verdict || s.Extra != c.extra {
				t.Errorf("least %v, eaten %v, %v, kerf wider by %v, want %+v", s.Room.Least.X, s.Eaten.X, s.Verdict, s.Extra, c)
			}
			if !slices.Contains(r.Advice, c.advice) {
				t.Errorf("advice %q lacks %q", r.Advice, c.advice)
			}
			if r.Small() != (c.verdict != Fits) || (r.Tight() == 0) != (c.extra > 0) {
				t.Errorf("small %v, tight %v", r.Small(), r.Tight())
			}
		})
	}
}

// Planned again, the perfect sheet's doors need a sheet each: two of the worst. The job
// itself stays as it was.
func TestAgain(t *testing.T) {
	job := doors(1218*mm, 0)
	// Neither a dearer sheet of the size nor one that is too small is of help.
	dear, small := job.Stock[0], job.Stock[0]
	dear.Name, dear.Price = "dear", 90*money.One
	small.Name, small.Length, small.Width = "small", 3*mm, 3*mm
	job.Stock = append(job.Stock, dear, small)
	r := report(t, job, kerf.Saw)
	if d := exporttest.Dossier(t, r.SmallJob(), kerf.Saw); d.Totals.Sheets != 2 {
		t.Errorf("%d small sheets", d.Totals.Sheets)
	}
	if d := exporttest.Dossier(t, r.WideJob(r.Tight()), kerf.Saw); d.Totals.Sheets != 2 || d.Demand.Kerf != 4100*length.Micrometre {
		t.Errorf("%d sheets with a kerf of %v", d.Totals.Sheets, d.Demand.Kerf)
	}
	if job.Stock[0].Length != 2440*mm || job.Saw.Kerf != 4*mm {
		t.Error("the job was changed")
	}
	r.Again = []Again{{What: "small sheets", Sheets: 2}, {What: "thin boards", Missing: 3}, {What: "thick ones", Reason: "no such luck"}, {What: "others", Sheets: 1}}
	r.Advise()
	want := []string{
		"Planned again for small sheets: 2 sheets instead of 1.", "Planned again for thin boards: 3 panels have no place.",
		"Planned again for thick ones: no such luck.", "Planned again for others: as many sheets, 1.",
	}
	if got := r.Advice[len(r.Advice)-4:]; !slices.Equal(got, want) {
		t.Errorf("advice %q", got)
	}
}

// A plan that has no place for two of four doors says so first, and what is planned again
// is held against that, not against a plan of all.
func TestUnplaced(t *testing.T) {
	job := doors(1210*mm, 0)
	job.Stock[0].Available, job.Panels[0].Quantity = 1, 4
	job.Panels[0].Outline = outline.Rectangle(1210*mm, 1000*mm)
	r := report(t, job, kerf.Saw)
	r.Again = []Again{{What: "a", Sheets: 1, Missing: 1}, {What: "b", Sheets: 1, Missing: 2}, {What: "c", Missing: 5}, {What: "d", Sheets: 2}}
	r.Advise()
	if r.Advice[0] != "2 panels have no place in the plan; what follows is about the others." {
		t.Errorf("advice begins with %q", r.Advice[0])
	}
	want := []string{
		"Planned again for a: 1 panel has no place, 1 fewer than in the plan.",
		"Planned again for b: 2 panels have no place, as many as in the plan.",
		"Planned again for c: 5 panels have no place, 3 more than in the plan.",
		"Planned again for d: every panel has a place, on 2 sheets.",
	}
	if got := r.Advice[len(r.Advice)-4:]; !slices.Equal(got, want) {
		t.Errorf("advice %q", got)
	}
}

// A piece from the rack was measured; another standard holds for all that are bought.
func TestStandards(t *testing.T) {
	job := doors(1210*mm, 0)
	job.Stock[0].Offcut, job.Stock[0].Available = true, 1
	if r := report(t, job, kerf.Saw); r.Sheets[0].Standard != "" || r.Sheets[0].Worst != r.Sheets[0].Size || !strings.HasPrefix(r.Advice[0], "All sheets are from the rack") {
		t.Errorf("rack: %+v, %q", r.Sheets[0], r.Advice)
	}
	if r := report(t, doors(1210*mm, 0), kerf.Saw, "en622-1"); r.Sheets[0].Standard != "EN 622-1" || r.Sheets[0].Worst.X != 2432680*length.Micrometre {
		t.Errorf("%+v", r.Sheets[0])
	}
	if r := report(t, doors(1210*mm, 0), kerf.Saw, "PS 1", "board = EN 622-1"); r.Sheets[0].Standard != "EN 622-1" {
		t.Errorf("that of the material: %+v", r.Sheets[0])
	}
	for _, c := range []struct{ list, want string }{
		{"EN 1", `--standard "EN 1": use "PS 1", "EN 315", "EN 622-1"`},
		{"oak=EN 315", `the job has no material "oak"`},
		{"PS 1|en 315", "says again"},
		{"board=EN 315|board=PS 1", "says again"},
	} {
		if _, err := ReadStandards(strings.Split(c.list, "|"), job); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %s", c.list, err, c.want)
		}
	}
}

// Boards at the ends of their thickness: a panel that is 600 less two thicknesses long is
// 564 at 18. EN 315 gives 18 the span 17.06 to 18.74: 565.88 and 562.52, by hand.
func TestMeasure(t *testing.T) {
	r := report(t, doors(1210*mm, 5*mm), kerf.Saw)
	r.Measure(func(at map[string]length.Length) (*parts.Job, diag.List) {
		j := doors(1210*mm, 5*mm)
		j.Panels[0].Outline = outline.Rectangle(600*mm-2*at["board"], 700*mm)
		return j, nil
	})
	if len(r.Boards) != 1 || len(r.Boards[0].Changes) != 1 || !r.Depends() {
		t.Fatalf("%+v", r.Boards)
	}
	c := r.Boards[0].Changes[0]
	if c.Thin.X != 565880*length.Micrometre || c.Thick.X != 562520*length.Micrometre || c.Made.X != 1210*mm {
		t.Errorf("%+v", c)
	}
	thin, thick := r.Ends()
	if thin["board"] != 17060*length.Micrometre || thick["board"] != 18740*length.Micrometre {
		t.Errorf("ends %v, %v", thin, thick)
	}
	r.Measure(func(map[string]length.Length) (*parts.Job, diag.List) {
		return nil, diag.List{{Part: `panel "door"`, Fact: "too thick"}}
	})
	r.Advise()
	if text := strings.Join(r.Advice, "\n"); !strings.Contains(text, `the job cannot be read so: at 17.06: panel "door": too thick; at 18.74: `) {
		t.Errorf("advice %q", text)
	}
}

// nasty returns a report with names that would break a careless writer.
func nasty(t *testing.T) *Report {
	t.Helper()
	job := doors(1218*mm, 0)
	job.Name, job.Stock[0].Name = exporttest.Nasty[0], strings.Join(exporttest.Nasty, " ")
	job.Panels[0].Name = exporttest.Nasty[len(exporttest.Nasty)-1]
	d := exporttest.Dossier(t, job, kerf.Saw)
	r, err := New(d, nil, "1 round a plan")
	if err != nil {
		t.Fatal(err)
	}
	r.Measure(func(at map[string]length.Length) (*parts.Job, diag.List) {
		j := *job
		j.Panels = slices.Clone(job.Panels)
		j.Panels[0].Outline = outline.Rectangle(600*mm-at["board"], 700*mm)
		return &j, nil
	})
	r.Again = []Again{{What: exporttest.Nasty[0], Reason: exporttest.Nasty[0]}}
	r.Advise()
	return r
}

var writers = []struct {
	name  string
	write func(io.Writer, *Report) error
}{{"HTML", HTML}, {"JSON", JSON}}

func written(t *testing.T, write func(io.Writer, *Report) error, r *Report) []byte {
	t.Helper()
	var text bytes.Buffer
	if err := write(&text, r); err != nil {
		t.Fatal(err)
	}
	return text.Bytes()
}

func TestWriterFails(t *testing.T) {
	r := nasty(t)
	for _, w := range writers {
		t.Run(w.name, func(t *testing.T) {
			whole := written(t, w.write, r)
			for n := 0; n < len(whole); n += 1 + len(whole)/40 {
				if err := w.write(&exporttest.Failing{Left: n}, r); !errors.Is(err, exporttest.ErrFull) {
					t.Fatalf("a disk full after %d of %d bytes gave %v", n, len(whole), err)
				}
			}
			if !bytes.Equal(whole, written(t, w.write, r)) {
				t.Error("two runs differ")
			}
		})
	}
}

// The page needs nothing from elsewhere, is well-formed, and shows every name as it is.
func TestHTML(t *testing.T) {
	r := nasty(t)
	text := exporttest.PageText(t, written(t, HTML, r))
	for _, s := range append([]string{r.Dossier.Title(), r.Sheets[0].Stock.Name, r.Boards[0].Changes[0].Panel}, r.Advice...) {
		if !strings.Contains(text, s) {
			t.Errorf("%q is not on the page", s)
		}
	}
}

// The JSON is read back.
func TestJSON(t *testing.T) {
	r := nasty(t)
	var d document
	dec := json.NewDecoder(bytes.NewReader(written(t, JSON, r)))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&d); err != nil {
		t.Fatal(err)
	}
	if d.Format != Format || d.Version != Version || len(d.Sheets) != 1 || len(d.Boards) != 1 || len(d.Again) != 1 {
		t.Fatalf("%+v", d)
	}
	if s := &d.Sheets[0]; s.Worst.Length != "2435.28" || s.Least.Length != "2440" || s.Extra == nil || *s.Extra != "0" || s.Verdict != "does not fit" {
		t.Errorf("%+v", s)
	}
}

// Chromium, off the network, shows the page with its advice.
func TestChromium(t *testing.T) {
	r := report(t, doors(1218*mm, 0), kerf.Router)
	if !strings.Contains(exporttest.InBrowser(t, written(t, HTML, r)), r.Advice[0]) {
		t.Error("the page in Chromium has no advice")
	}
}

// A tenth of a millimetre is 0.0039 in: no fraction of an inch shows it.
func TestStep(t *testing.T) {
	job := doors(1218*mm, 0)
	for unit, want := range map[length.Unit]string{length.MM: "0.1 mm", length.IN: "0.004 in"} {
		job.Figures = parts.Figures{Unit: unit}
		if unit == length.IN {
			job.Figures.Fraction = 16
		}
		if got := report(t, job, kerf.Saw).Step(mm / 10); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

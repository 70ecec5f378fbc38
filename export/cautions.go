package export

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"panelyard/kerf"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// The levels at which the papers warn.
const (
	heavyKG     = 25  // two people
	veryHeavyKG = 50  // ask the yard to cut it
	narrowMM    = 150 // push stick: 6 in
	tooNarrowMM = 40  // not by hand
	shortMM     = 300 // 12 in
	smallMM2    = 1e5 // a routed panel that vacuum or friction does not hold: 0.1 m2
	leastTrimMM = 3   // what a legal sheet may lack or be out of square
)

// The sources of the cautions.
const (
	commonPractice = "common practice, no source"
	sourceLifting  = "25 kg is the filter of UK HSE guidance L23 and INDG143 (from memory), not a legal limit; NIOSH 94-110 starts from 23 kg"
	sourcePush     = "29 CFR 1910.213(s)(9); UK HSE circular saw bench guidance WIS16: stick of 450 mm or longer, always for the last 300 mm"
	sourceGuard    = "29 CFR 1910.213(c)(1) and (d)(1)"
	sourceDust     = "EH40 (UK): hardwood dust 3 mg/m3; Directive (EU) 2017/2398: 2 mg/m3; OSHA wood dust page: 15 total, 5 respirable mg/m3"
	sourceSheet    = "EN 315 (values from memory): plywood may be 3.5 mm short and 1 mm/m out of square"
)

// cautions returns what the shop must know before cutting, general things last.
func cautions(x *Dossier) []Caution {
	if len(x.Sheets) == 0 {
		return nil
	}
	list := lifting(x)
	if x.Demand.Cut == kerf.Saw {
		list = append(list, sawing(x)...)
	} else {
		list = append(list, routing(x)...)
	}
	list = append(list, trimming(x)...)
	list = append(list, sparing(x)...)
	return append(list,
		Caution{
			Topic: "dust", Source: sourceDust,
			Text: "extract dust at the machine and wear a fitting mask; treat MDF and unknown mixtures as hardwood",
		},
		Caution{
			Topic: "measure first", Source: commonPractice,
			Text: "measure thickness, size and squareness of the sheets that arrive and the kerf of your own tool on scrap, " +
				"correct the job file and plan again before the first cut",
		},
		Caution{
			Topic: "your machine", Source: commonPractice,
			Text: "these papers do not replace the manual of your machine, the rules of your workshop or local law; where they differ, follow those",
		},
	)
}

// lifting warns of sheets too heavy for one person.
func lifting(x *Dossier) []Caution {
	var heavy, very []string
	most := 0.0
	for i := range x.Sheets {
		s := &x.Sheets[i]
		most = max(most, s.MassKG)
		switch {
		case s.MassKG > veryHeavyKG:
			very = append(very, s.ID)
		case s.MassKG > heavyKG:
			heavy = append(heavy, s.ID)
		}
	}
	var list []Caution
	if len(very) > 0 {
		list = append(list, Caution{
			Topic: "very heavy sheet", Sheets: very, Source: sourceLifting,
			Text: fmt.Sprintf("a sheet weighs up to %.0f kg: use a trolley or a lift, or ask the yard to make the first cuts", most),
		})
	}
	if len(heavy) > 0 {
		list = append(list, Caution{
			Topic: "heavy sheet", Sheets: heavy, Source: sourceLifting,
			Text: fmt.Sprintf("a sheet weighs more than %d kg: two people lift and carry it", heavyKG),
		})
	}
	return list
}

// atSteps are the warnings of single steps, in the order in which they are printed.
var atSteps = [...]struct {
	warning       Warning
	topic, source string
	text          string
}{
	{TooNarrow, "too narrow to rip by hand", commonPractice, "strips under {40 mm|1 1/2 in}: use a sled or a jig, or cut them from a wider piece with another tool"},
	{Narrow, "narrow rip", sourcePush, "less than {150 mm|6 in} lies between fence and blade: use a push stick, hands never beside the blade"},
	{
		Short, "short piece", "29 CFR 1910.213(s)(9); saw manuals: shorter than 12 in",
		"pieces shorter than {300 mm|12 in} pass the blade: use a push block or a mitre gauge with a stop, not the fence alone",
	},
	{
		Trapped, "trapped offcut", commonPractice,
		"an offcut is caught between fence and blade: stand aside, keep the riving knife on and push it clear with a stick",
	},
	{Heavy, "heavy piece", sourceLifting, "pieces of more than 25 kg are cut here: two people, or more support"},
	{BeyondFence, "beyond the fence", commonPractice, "the fence cannot be set so wide: mark the cut and make it with a guided hand saw"},
	{Unsupported, "rail without support", commonPractice, "neither side of the cut is as wide as the rail: lay a board of the same thickness beside it and clamp both"},
}

// measure writes a length with its unit.
func (x *Dossier) measure(l length.Length) string {
	w := x.Lengths()
	return w.Exact(l) + " " + w.Unit()
}

// twoUnits are round measures in a text, in millimetres and in inches.
var twoUnits = regexp.MustCompile(`\{([^|}]*)\|([^}]*)\}`)

// inUnit returns a text with the measures of the papers' unit.
func (x *Dossier) inUnit(s string) string {
	if x.Lengths().Unit() == length.IN.Name {
		return twoUnits.ReplaceAllString(s, "$2")
	}
	return twoUnits.ReplaceAllString(s, "$1")
}

// sawing warns of what is hard or dangerous at the saw.
func sawing(x *Dossier) []Caution {
	list := []Caution{{
		Topic: "guards", Source: sourceGuard,
		Text: "saw with guard and riving knife in place; support a full sheet on both sides of the cut",
	}}
	for _, w := range atSteps {
		var ids []string
		for i := range x.Sheets {
			s := &x.Sheets[i]
			if slices.ContainsFunc(s.Steps, func(st Step) bool { return slices.Contains(st.Warnings, w.warning) }) {
				ids = append(ids, s.ID)
			}
		}
		if len(ids) > 0 {
			list = append(list, Caution{Topic: w.topic, Sheets: ids, Source: w.source, Text: x.inUnit(w.text)})
		}
	}
	if ids := brokenDown(x); len(ids) > 0 {
		list = append(list, Caution{
			Topic: "break down", Sheets: ids, Source: "workshop advice, no one source",
			Text: "the first cuts of these sheets are made where they lie, on battens at a height you can reach, with a guided saw and a fine blade: " +
				"their edges are edges of panels; a hand-held circular saw tears the upper face",
		})
	}
	if shaped(x) {
		list = append(list, Caution{
			Topic: "shaped panels", Source: commonPractice,
			Text: fmt.Sprintf("blanks of curved panels are %s larger on each side that is shaped; saw the blank, then shape it to a template",
				x.measure(x.Job.Saw.Allowance)),
		})
	}
	if ids := sharing(x); len(ids) > 0 {
		list = append(list, Caution{
			Topic: "shared blanks", Sheets: ids, Source: commonPractice,
			Text: "two panels come out of one blank here: part them with a jigsaw or a band saw on the waste between them before shaping; " +
				"an edge that does not lie on an edge of the blank has not been sawn to size",
		})
	}
	face := "the good face lies up at this saw; maps are seen from it"
	if x.FaceDown() {
		face = "the good face lies down at this saw: maps and lists of cuts are mirrored, as the sheet is seen from its back"
	}
	return append(list, Caution{Topic: "good face", Source: commonPractice, Text: face})
}

// brokenDown returns the sheets that are broken down before they go to the saw.
func brokenDown(x *Dossier) []string {
	var ids []string
	for i := range x.Sheets {
		s := &x.Sheets[i]
		if slices.ContainsFunc(s.Steps, func(st Step) bool { return st.Kind == BreakDown }) {
			ids = append(ids, s.ID)
		}
	}
	return ids
}

// sharing returns the sheets with shared blanks.
func sharing(x *Dossier) []string {
	var ids []string
	for i := range x.Sheets {
		s := &x.Sheets[i]
		if slices.ContainsFunc(s.Placements, func(p PlacedPanel) bool { return p.With != nil }) {
			ids = append(ids, s.ID)
		}
	}
	return ids
}

func shaped(x *Dossier) bool {
	for i := range x.Panels {
		if x.Panels[i].Shaped {
			return true
		}
	}
	return false
}

// routing warns of panels that come loose.
func routing(x *Dossier) []Caution {
	var small []string
	for i := range x.Sheets {
		s := &x.Sheets[i]
		for k := range s.Placements {
			if s.Placements[k].Row.AreaMM2 < smallMM2 {
				small = append(small, s.ID)
				break
			}
		}
	}
	list := []Caution{{
		Topic: "hold-down", Source: commonPractice,
		Text: fmt.Sprintf("fix every sheet within its margin of %s and keep screws and clamps out of the bit's way",
			x.measure(x.Job.Router.Margin)),
	}}
	if len(small) > 0 {
		list = append(list, Caution{
			Topic: "small panels", Sheets: small, Source: commonPractice,
			Text: "panels under 0.1 m2 come loose when they are cut free: leave tabs or a thin skin, and cut them before their neighbours",
		})
	}
	return append(list, Caution{
		Topic: "inside corners", Source: "geometry: a round bit leaves 0.414 of its radius",
		Text: fmt.Sprintf("a bit of %s leaves inside corners rounded to a radius of %s",
			x.measure(x.Job.Router.Bit), x.measure(x.Job.Router.Bit/2)),
	})
}

// trimming warns of a plan that counts on perfect sheets.
func trimming(x *Dossier) []Caution {
	var bare []string
	for i := range x.Sheets {
		s := &x.Sheets[i]
		const least = leastTrimMM * length.Millimetre
		size := geom.Pt(s.Stock.Length, s.Stock.Width)
		if s.Usable.Min.X+size.X-s.Usable.Max.X < 2*least || s.Usable.Min.Y+size.Y-s.Usable.Max.Y < 2*least {
			if !s.Stock.Offcut {
				bare = append(bare, s.ID)
			}
		}
	}
	if len(bare) == 0 {
		return nil
	}
	return []Caution{{
		Topic: "little trim", Sheets: bare, Source: sourceSheet,
		Text: x.inUnit("less than {3 mm|1/8 in} an edge is trimmed: check that these sheets are full size and square before cutting"),
	}}
}

// String writes a caution on one line: topic, sheets, text.
func (c Caution) String() string {
	if len(c.Sheets) == 0 {
		return c.Topic + ": " + c.Text
	}
	ids := c.Sheets
	if len(ids) > 8 {
		ids = append(append([]string{}, ids[:8]...), fmt.Sprintf("and %d more", len(ids)-8))
	}
	return fmt.Sprintf("%s (%s): %s", c.Topic, strings.Join(ids, ", "), c.Text)
}

// sparing warns of materials of which there is no sheet to spare though it was asked for.
func sparing(x *Dossier) []Caution {
	spare := map[string]int{}
	var materials []string
	for i := range x.Buy {
		r := &x.Buy[i]
		if r.Stock.Offcut {
			continue
		}
		if _, seen := spare[r.Stock.Material]; !seen {
			materials = append(materials, r.Stock.Material)
		}
		spare[r.Stock.Material] += r.Spare
	}
	materials = slices.DeleteFunc(materials, func(m string) bool { return spare[m] >= x.Job.Spare })
	if len(materials) == 0 {
		return nil
	}
	return []Caution{{
		Topic: "no spare sheet", Source: commonPractice,
		Text: "of " + strings.Join(materials, ", ") + " there are not as many more sheets as are to be spare: what is spoiled has to be bought elsewhere",
	}}
}

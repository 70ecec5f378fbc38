package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"panelyard/export"
	"panelyard/kerf"
	"panelyard/parts"
)

// summary prints a plan in about ten lines: what to buy, what it costs, yield,
// bound, where to look.
func summary(s streams, d *export.Dossier, out string) {
	t := &d.Totals
	w := d.Lengths()
	tool := "saw, kerf"
	if d.Demand.Cut == kerf.Router {
		tool = "router, bit"
	}
	tool += " " + w.Exact(d.Demand.Kerf) + " " + w.Unit()
	s.say("%s: %s on %s (%s)", d.Title(), count(t.Panels, "panel"), count(t.Sheets, "sheet"), tool)
	bought := 0
	for _, b := range d.Buy {
		verb := "buy "
		if b.Stock.Offcut {
			verb = "take"
		} else {
			bought += b.Count
		}
		price := "no price given"
		if b.Stock.Priced || b.Stock.Offcut {
			price = d.Money(b.Cost)
		}
		spare := ""
		if b.Spare > 0 {
			spare = fmt.Sprintf(", %d of them to spare", b.Spare)
		}
		s.say("  %s %3d x %s (%s%s)  %s", verb, b.Count+b.Spare, b.Stock.Name, b.Stock.Material, spare, price)
	}
	for _, drop := range d.Drops {
		s.say("  pay    %s by %s  %s", count(drop.Count, "drop"), drop.Yard.Name, d.Money(drop.Cost))
	}
	for _, b := range d.Bands {
		price := "no price given"
		if b.Band.Priced {
			price = d.Money(b.Cost)
		}
		s.say("  buy    %s m of edge band %s  %s", w.Metres(b.Length, 1), b.Band.Name, price)
	}
	if d.Done != nil {
		s.say("  done   %s cut before", count(len(d.Done), "panel"))
		if bought == 0 {
			s.say("  buy    no sheet: what is there is enough")
		} else {
			s.say("  buy    %s MORE than was planned", count(bought, "sheet"))
		}
	}
	if t.Priced {
		s.say("  cost   %s", d.Money(t.Cost))
	} else if t.Cost > 0 {
		s.say("  cost   %s and what has no price", d.Money(t.Cost))
	}
	if t.Areas.Sheet > 0 {
		of := func(v float64) string { return w.Decimal(100*v/t.Areas.Sheet, 1) }
		s.say("  yield  %s %% panels, %s %% kerf and trim, %s %% kept offcuts, %s %% waste",
			of(t.Areas.Panels), of(t.Areas.KerfTrim), of(t.Areas.Kept), of(t.Areas.Waste))
	}
	if d.Demand.Cut == kerf.Saw && t.Sheets > 0 {
		work := fmt.Sprintf("%s m of cuts at a %v, %s", w.Metres(t.CutLength, 1), d.Job.Saw.Kind, count(t.Fences, "setting"))
		if d.Job.Saw.Kind == parts.BeamSaw {
			work += ", " + count(t.Stages, "stage")
		}
		s.say("  work   %s", work)
	}
	if e := t.Effort; e.Passes > 0 {
		feed := d.Job.Router.Filled().Feed
		s.say("  work   %s m of paths in %d passes, about %s at %s m a minute", w.Metres(e.Run, 1), e.Passes, export.Minutes(e.Time()), w.Metres(feed, 1))
	}
	s.say("  bound  %s", d.Bound.Text)
	for _, u := range d.Unplaced {
		s.say("  WITHOUT A PLACE: %d x %s: %s", u.Copies, u.Row.Name, u.Reason)
	}
	if topics := topics(d); topics != "" {
		s.say("  mind   %s", topics)
	}
	if out != "" {
		s.say("  look   %s", filepath.Join(out, "report.html"))
	} else {
		s.say("  --out DIR writes the sheet maps, the cut list and the report")
	}
}

// topics names the cautions that concern particular sheets.
func topics(d *export.Dossier) string {
	var list []string
	for _, c := range d.Cautions {
		if len(c.Sheets) > 0 {
			list = append(list, c.Topic)
		}
	}
	return strings.Join(list, ", ")
}

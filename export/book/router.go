package book

import (
	"fmt"
	"strings"

	"panelyard/parts"
)

// router writes what the router is set to, and what the bit leaves.
func (b *book) router() {
	r := b.d.Job.Router.Filled()
	unit := b.w.Unit()
	a := func(what, value string) []cell { return row(what, value) }
	minute := " " + unit + " a minute"
	rows := [][]cell{
		a("bit", b.w.Exact(r.Bit)+" "+unit),
		a("between panels", b.w.Exact(b.d.Demand.Gap)+" "+unit+"; "+b.w.Text(r.Margin)+" "+unit+" kept free along the edges of a sheet"),
		a("feed", b.w.Text(r.Feed)+minute+b.spindle(&r)),
		a("plunge, rapid", b.w.Text(r.Plunge)+", "+b.w.Text(r.Rapid)+minute),
		a("deepest pass", b.w.Exact(r.Pass)+" "+unit),
		a("last pass", b.through(&r)),
		a("direction", r.Direction.String()+", for a spindle that turns clockwise seen from above"),
		a("held by", b.hold(&r)+"; the waste of an opening is not held and may come loose"),
	}
	if len(r.Screws) > 0 {
		var at []string
		for _, s := range r.Screws {
			at = append(at, fmt.Sprintf("%s, %s (head %s)", b.w.Text(s.At.X), b.w.Text(s.At.Y), b.w.Text(s.Diameter)))
		}
		rows = append(rows, a("screws", "in every sheet, from its lower left corner: "+strings.Join(at, "; ")))
	}
	columns := []column{{"What", 3, left}, {"How", 17, left}}
	b.section("Router notes", "Starting values: those of the machine's and the bit's makers come first, try them on scrap", columns, rows)
	b.shut()
	rows = nil
	for _, f := range b.d.Warnings {
		what := f.Fact
		if f.Part != "" {
			what = f.Part + ": " + what
		}
		rows = append(rows, row(tick, what, f.Remedy))
	}
	b.table("What the bit leaves, and what is in its way", []column{{"", 0.8, left}, {"What", 13, left}, {"What to do", 7, left}}, rows)
}

// spindle says what the feed follows from.
func (b *book) spindle(r *parts.Router) string {
	if r.RPM == 0 || r.Flutes == 0 || r.ChipLoad == 0 {
		return ""
	}
	return fmt.Sprintf(", for %s turns a minute of %s and chips of %s", b.w.Count(r.RPM), b.count(r.Flutes, "flute", "flutes"), b.w.Exact(r.ChipLoad))
}

// through says how far the last pass goes.
func (b *book) through(r *parts.Router) string {
	if r.Overcut <= 0 {
		return "to the thickness of the board"
	}
	return b.w.Exact(r.Overcut) + " " + b.w.Unit() + " into the spoilboard"
}

// hold says how panels are held until the end.
func (b *book) hold(r *parts.Router) string {
	tabs := "tabs of " + b.w.Exact(r.Tabs.Length) + " " + b.w.Unit()
	if r.Tabs.Height > 0 {
		tabs += ", " + b.w.Exact(r.Tabs.Height) + " high"
	} else {
		tabs += ", a quarter of the thickness high"
	}
	skin := "a skin of " + b.w.Exact(r.Skin) + " " + b.w.Unit() + " until the last pass"
	switch r.Hold {
	case parts.HoldTabs:
		return tabs
	case parts.HoldSkin:
		return skin
	case parts.HoldNone:
		return "nothing: by your clamps or vacuum alone"
	}
	return skin + " for small and narrow panels, and " + tabs + " for others"
}

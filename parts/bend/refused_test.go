package bend

import (
	"errors"
	"strings"
	"testing"

	"panelyard/parts/arc"
	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// What cannot be bent is refused with the measure that is to blame, all at once.
func TestRefused(t *testing.T) {
	good := func() Bend {
		return Bend{Thickness: 18 * mm, Web: 2 * mm, Kerf: 3 * mm, Outer: arc.Arc{Radius: 300 * mm, Angle: 90 * arc.Degree}}
	}
	for _, c := range []struct {
		name   string
		change func(*Bend)
		parts  string // of the findings, in order
		fact   string
	}{
		{"no thickness", func(b *Bend) { b.Thickness = 0 }, "thickness", "no thickness"},
		{"thick", func(b *Bend) { b.Thickness, b.Outer.Radius = 1001*mm, 2000*mm }, "thickness", "is none"},
		{"no web", func(b *Bend) { b.Web = 0 }, "web", "cut the board through"},
		{"negative web", func(b *Bend) { b.Web = -1 }, "web", "cut the board through"},
		{"web as thick as the board", func(b *Bend) { b.Web = 18 * mm }, "web", "leaves nothing to saw"},
		{"no kerf", func(b *Bend) { b.Kerf = 0 }, "kerf", "takes no wood"},
		{"wide kerf", func(b *Bend) { b.Kerf = 1001 * mm }, "kerf", "is none"},
		{"radius of the board", func(b *Bend) { b.Outer.Radius = 18 * mm }, "radius", "nothing is left for the inner face"},
		{"no radius", func(b *Bend) { b.Outer.Radius = 0 }, "radius", "no radius"},
		{"long", func(b *Bend) { b.Outer.Radius = 30 * length.Metre }, "radius", "longer than"},
		{"short", func(b *Bend) {
			b.Thickness, b.Web, b.Outer = 4, 1, arc.Arc{Radius: 5, Angle: 1}
		}, "radius", "shorter than"},
		{"huge", func(b *Bend) { b.Outer.Radius = arc.MaxRadius + 1 }, "radius", "longer than"},
		{"straight", func(b *Bend) { b.Outer.Angle = 0 }, "angle", "is none"},
		{"full circle", func(b *Bend) { b.Outer.Angle = arc.FullCircle }, "angle", "is none"},
		{"negative facet", func(b *Bend) { b.Facet = -1 }, "facet", "negative"},
		{"negative count", func(b *Bend) { b.Count = -1 }, "count", "negative"},
		{"open, nothing said", func(b *Bend) { b.Open = true }, "facet", "how many open kerfs"},
		{"too few to close", func(b *Bend) { b.Count = 8 }, "count", "8 kerfs of 3 mm close before the bend is made"},
		{"too few for the facet", func(b *Bend) { b.Count, b.Facet = 10, mm/4 }, "count", "10 kerfs leave facets higher than 0.25 mm"},
		{"too few for both", func(b *Bend) { b.Count, b.Facet = 8, mm/4 }, "count count", ""},
		{"crowded by count", func(b *Bend) { b.Count = 79 }, "count", "less than 3 mm"},
		{"crowded by facet", func(b *Bend) { b.Facet = mm / 200 }, "facet", "less than 3 mm"},
		{"crowded by closing", func(b *Bend) { b.Outer.Radius = 25 * mm }, "radius", "less than 3 mm"},
		{"kerf as wide as the bend", func(b *Bend) { b.Kerf = 500 * mm }, "radius", "less than 3 mm"},
		{"many", func(b *Bend) { *b = Bend{Facet: -1, Count: -1} }, "thickness web angle radius kerf facet count", ""},
		{"a facet of one unit", func(b *Bend) { b.Facet, b.Outer = 1, arc.Arc{Radius: 20 * length.Metre, Angle: 90 * arc.Degree} }, "facet", "5736 kerfs"},
		{"the finest", func(b *Bend) { b.Kerf = 1 }, "radius", "less than 3 mm"},
	} {
		b := good()
		c.change(&b)
		_, err := Solve(b)
		var list diag.List
		errors.As(err, &list)
		var names []string
		for _, f := range list {
			names = append(names, f.Part)
			if f.Fact == "" || f.Remedy == "" {
				t.Errorf("%s: no remedy: %v", c.name, f)
			}
		}
		if got := strings.Join(names, " "); got != c.parts || err != nil && !strings.Contains(err.Error(), c.fact) {
			t.Errorf("%s: %q: %v\nwant %q with %q", c.name, got, err, c.parts, c.fact)
		}
		if flat, err := b.Flat(); err == nil && flat < 1 {
			t.Errorf("%s: flat length %v", c.name, flat)
		}
	}
}

// At the limits: the last count that leaves MinWood, and the one after it.
func TestLeastWood(t *testing.T) {
	b := Bend{Thickness: 18 * mm, Web: 2 * mm, Kerf: 3 * mm, Outer: arc.Arc{Radius: 300 * mm, Angle: 90 * arc.Degree}, Count: 78}
	c, err := Solve(b)
	if err != nil || c.Pitch-b.Kerf < MinWood { // 469.67 / 78 = 6.02
		t.Errorf("%+v, %v", c, err)
	}
}

func TestDoubts(t *testing.T) {
	for _, c := range []struct {
		web  length.Length
		want int
	}{{in / 64, 0}, {in/64 - 1, 1}, {9 * mm, 0}, {9*mm + 1, 1}} {
		if got := (Bend{Thickness: 18 * mm, Web: c.web}).Doubts(); len(got) != c.want {
			t.Errorf("web %v: %v", c.web, got)
		}
	}
}

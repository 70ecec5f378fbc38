package toolpath

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// Passes of half the bit through 18 mm and 0.3 mm of the spoilboard; with a skin the
// last pass goes through it.
func TestDepths(t *testing.T) {
	for _, c := range []struct {
		thickness, overcut, pass, skin length.Length
		n                              int
	}{
		{18 * unit, 300 * length.Micrometre, 3 * unit, 0, 7},
		{18 * unit, 0, 3 * unit, 0, 6},
		{18 * unit, 300 * length.Micrometre, 3 * unit, unit / 2, 7},
		{3 * unit, 0, 10 * unit, 0, 1},
		{unit, 0, 3 * unit, 2 * unit, 1}, // a skin thicker than the board is none
		{30 * unit * 1000, 0, 1, 0, MaxPasses},
	} {
		list := Depths(c.thickness, c.overcut, c.pass, c.skin)
		if len(list) != c.n || list[len(list)-1] != c.thickness+c.overcut || !slices.IsSorted(list) {
			t.Errorf("%+v: %v", c, list)
		}
		if c.skin > 0 && c.skin < c.thickness && list[len(list)-2] != c.thickness-c.skin {
			t.Errorf("%+v: %v leaves no skin", c, list)
		}
		for i := 1; i < len(list) && c.n < MaxPasses && c.skin == 0; i++ {
			if step := list[i] - list[i-1]; step > c.pass {
				t.Errorf("%+v: a step of %v", c, step)
			}
		}
	}
}

// Tabs lie on straight pieces, apart from each other, four or more; small panels have
// a skin (trade notes 2.5, common practice).
func TestHold(t *testing.T) {
	r := bit(6)
	for _, c := range []struct {
		name string
		o    outline.Outline
		hold parts.Hold
		tabs int
		skin bool
	}{
		{"large", rect(0, 0, 800, 400), parts.HoldAuto, 5, false},
		{"small", rect(0, 0, 200, 150), parts.HoldAuto, 0, true},
		{"strip", rect(0, 0, 2000, 80), parts.HoldAuto, 0, true},
		{"disc", circle(400, 400, 800), parts.HoldAuto, 0, true},
		{"disc with tabs", circle(400, 400, 800), parts.HoldTabs, 0, true},
		{"small with tabs", rect(0, 0, 200, 150), parts.HoldTabs, 4, false},
		{"none", rect(0, 0, 200, 150), parts.HoldNone, 0, false},
		{"bowed", loopOf(0, 0, 0, 900, 0, 0, 900, 500, 0.3, 0, 500, 0), parts.HoldTabs, 5, false},
	} {
		r.Hold = c.hold
		ps := mustOf(t, named{c.name, item(parts.NoRelief, c.o), r})
		p := ps.List[len(ps.List)-1]
		if len(p.Tabs) != c.tabs || (p.Skin > 0) != c.skin {
			t.Errorf("%s: %d tabs, skin %v", c.name, len(p.Tabs), p.Skin)
		}
		// No tab reaches onto an arc or into a corner.
		total := length.Length(0)
		for i, v := range p.Line {
			l := asOutline(p.Line).SegmentLength(i)
			for _, tab := range p.Tabs {
				if tab.From < total+l && tab.To > total && (v.Bulge != 0 || tab.From < total || tab.To > total+l) {
					t.Errorf("%s: the tab at %v reaches beyond its edge", c.name, tab.From)
				}
			}
			total += l
		}
		for i, tab := range p.Tabs {
			if tab.To-tab.From != 12*unit || tab.Depth != 15*unit {
				t.Errorf("%s: tab %+v, want 6 mm and the bit, 3 mm high", c.name, tab)
			}
			if i > 0 && tab.From <= p.Tabs[i-1].To {
				t.Errorf("%s: tabs overlap", c.name)
			}
		}
		// Where a tab is comes from its distance: its ends are its length apart. Flipped,
		// they change places.
		flipped := ps.Place(true, 0, at(0, 0), 1).List[len(ps.List)-1]
		for k, tab := range p.Tabs {
			from, to := p.At(tab.From), p.At(tab.To)
			if d := exactly(to).to(exactly(from)) - float64(tab.To-tab.From); math.Abs(d) > 2 {
				t.Errorf("%s: the tab from %v to %v is not %v long", c.name, from, to, tab.To-tab.From)
			}
			other := flipped.At(flipped.Tabs[len(p.Tabs)-1-k].To)
			if d := exactly(geom.Pt(-other.X, other.Y)).to(exactly(from)); d > 4 {
				t.Errorf("%s: flipped, the tab at %v is off by %v", c.name, from, d)
			}
		}
	}
	r.Hold, r.Tabs.Count = parts.HoldTabs, 50
	if _, list := Of(item(parts.NoRelief, rect(0, 0, 200, 150)), r, 18*unit); !strings.Contains(list.Error(), "50 are asked for") {
		t.Errorf("%v", list)
	}
	r.Tabs = parts.Tabs{Height: 20 * unit}
	if _, list := Of(item(parts.NoRelief, rect(0, 0, 200, 150)), r, 18*unit); !strings.Contains(list.Error(), "as high as the board") {
		t.Errorf("%v", list)
	}
}

func TestTabHeight(t *testing.T) {
	for _, c := range [][2]float64{{18, 3}, {12, 3}, {9, 2.25}, {6, 1.5}, {4, 1.5}, {2, 1}} {
		if got := TabHeight(length.Length(c[0] * float64(unit))).MM(); got != c[1] {
			t.Errorf("%v mm: %v, want %v", c[0], got, c[1])
		}
	}
}

// The order: what lies in an opening before the opening, openings before outlines,
// small before large, and a way that no exchange of two makes shorter.
func TestOrder(t *testing.T) {
	name := func(ps Paths, name string) Paths {
		for i := range ps.List {
			ps.List[i].Panel = name
		}
		return ps
	}
	r := bit(6)
	frame := name(mustOf(t, named{item: item(parts.NoRelief, rect(0, 0, 900, 600), rect(200, 100, 500, 400))}.with(r)), "frame")
	large := name(mustOf(t, named{item: item(parts.NoRelief, rect(0, 0, 900, 500), circle(100, 100, 40), circle(800, 100, 40))}.with(r)), "large")
	small := name(mustOf(t, named{item: item(parts.NoRelief, rect(0, 0, 200, 150), circle(60, 60, 40))}.with(r)), "small")
	sheet := []Paths{
		frame.Place(false, 0, at(20, 20), 1),
		large.Place(false, 0, at(20, 640), 1),
		small.Place(false, 0, at(1000, 20), 1),
		small.Place(true, 90, at(600, 300), 2), // in the frame
	}
	var got []string
	for _, p := range Order(sheet) {
		got = append(got, p.Panel+" "+p.Kind.String())
		if p.Panel == "frame" && p.Kind == Opening && (p.Lead != nil || p.Ramp == 0) {
			t.Error("the lead of the frame's opening would run into the panel in it")
		}
		if p.Panel == "large" && p.Kind == Opening && p.Lead == nil {
			t.Error("an opening with nothing in it lost its lead")
		}
	}
	if want := "small opening, small outline"; strings.Join(got[:2], ", ") != want {
		t.Errorf("first %v, want %s", got[:2], want)
	}
	rest := strings.Join(got[2:], ", ")
	if !strings.HasSuffix(rest, "small outline, frame outline, large outline") || strings.Count(rest, "opening") != 4 {
		t.Errorf("then %s", rest)
	}
	if again := Order(sheet); len(again) != len(got) {
		t.Error("another order")
	}
}

func (c named) with(r parts.Router) named { c.router = r; return c }

// A tour of a grid of holes: 2-opt leaves no pair of stretches to exchange, and the
// way is within a tenth of the shortest, which for an even grid is known: n steps.
func TestTour(t *testing.T) {
	var list []Path
	for i := range 36 {
		list = append(list, Path{Line: []outline.Vertex{{At: at(float64(i*7%36%6)*100, float64(i*7%36/6)*100)}}})
	}
	done := tour(geom.Point{}, list)
	if len(done) != 36 {
		t.Fatalf("%d of 36", len(done))
	}
	way := 0.0
	for i := 1; i < len(done); i++ {
		way += far(done[i-1].Start(), done[i].Start()) / float64(unit)
	}
	if way < 3500-1 || way > 3500*1.1 {
		t.Errorf("a way of %.0f mm, the shortest is 3500", way)
	}
}

// The worked example of the trade notes 2.7: 24 m in 3 passes at 5400 mm/min take
// 13.33 minutes; and 18000 rpm x 2 flutes x 0.1 mm is 3600 mm/min, 10000 x 2 x 0.005
// in is 100 in/min.
func TestEstimate(t *testing.T) {
	p := Path{Line: []outline.Vertex{{At: at(0, 0)}, {At: at(24000, 0)}}, Depths: []length.Length{3 * unit, 6 * unit, 9 * unit}}
	e := Estimate([]Path{p}, parts.Router{Bit: 6 * unit, Feed: 5400 * unit, Plunge: 900 * unit, Rapid: 6000 * unit}, 1)
	if got := e.CutTime.Minutes(); math.Abs(got-13.333) > 0.001 {
		t.Errorf("cutting takes %.3f min, want 13.333", got)
	}
	if e.Run != 24000*unit || e.Cut != 72000*unit || e.Passes != 3 || e.Down != 9*unit || e.DownTime != 600*time.Millisecond || e.ChangeTime != Change {
		t.Errorf("%+v", e)
	}
	if want := 24000*unit + 2*Lift; e.Rapid != want {
		t.Errorf("rapids %v, want %v", e.Rapid, want)
	}
	if e.Time() != e.CutTime+e.DownTime+e.RapidTime+e.ChangeTime || e.Add(e).Time() != 2*e.Time() {
		t.Error("the sum is not the sum")
	}
	if f := (parts.Router{RPM: 18000, Flutes: 2, ChipLoad: unit / 10}).Filled().Feed; f != 3600*unit {
		t.Errorf("feed %v", f)
	}
	if f := (parts.Router{RPM: 10000, Flutes: 2, ChipLoad: 5 * length.Inch / 1000}).Filled().Feed; f != 100*length.Inch {
		t.Errorf("feed %v", f)
	}
}

// A screw within the bit's radius and the margin of a path is named, a farther one
// is not; rectangles as well.
func TestCrossings(t *testing.T) {
	ps := mustOf(t, named{"", item(parts.NoRelief, rect(0, 0, 400, 300)), bit(6)}).Place(false, 0, at(100, 100), 1)
	// The left run of the path is at x = 97, its outer edge at 94.
	for _, c := range []struct {
		x, d float64
		want bool
	}{{85, 8, false}, {88.1, 8, true}, {97, 4, true}, {300, 8, false}, {110, 8, false}, {106, 8, false}, {104, 8, true}} {
		r := parts.Router{Screws: []parts.Screw{{At: at(c.x, 250), Diameter: at(c.d, 0).X}}}
		list := Crossings("S1", ps.List, Screws(r), ps.Bit, ScrewMargin)
		if (len(list) == 1) != c.want {
			t.Errorf("screw at %v: %v", c.x, list)
		}
		if len(list) == 1 && !strings.Contains(list[0].Fact, "on sheet S1") {
			t.Errorf("%v", list)
		}
	}
	for x, want := range map[float64]bool{80: false, 91: false, 92.5: true, 120: false} {
		z := Zone{Name: "clamp", Box: geom.BoxFromSize(at(x-40, 200), at(40, 40))}
		if x == 120 {
			z.Box = geom.BoxFromSize(at(105.5, 200), at(40, 40))
		}
		if list := Crossings("S1", ps.List, []Zone{z}, ps.Bit, ScrewMargin); (len(list) == 1) != want {
			t.Errorf("clamp to %v: %v", x, list)
		}
	}
}

// A router without overcut stops at the thickness, filled in once or twice.
func TestNoOvercut(t *testing.T) {
	r := bit(6)
	r.Overcut = parts.NoOvercut
	for _, r := range []parts.Router{r, r.Filled(), r.Filled().Filled()} {
		p := mustOf(t, named{item: item(parts.NoRelief, rect(0, 0, 300, 200)), router: r}).List[0]
		if last := p.Depths[len(p.Depths)-1]; last != 18*unit || len(p.Depths) != 6 {
			t.Errorf("%v", p.Depths)
		}
	}
}
